"""A work as structured data for a dealer's web page: schema.org's VisualArtwork as JSON-LD.

Two files a work: the data, and the same as a script for the head of a page. Search engines want the
context as `https://schema.org` and know it by heart; they fetch nothing. A maker stands as `creator`
only where the work is by them, a date as `dateCreated` only where it is exact: everything that is
less certain is told in words, for the terms have no place for doubt. There is none for provenance either.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

from catalogue.exchange.outgoing import Content, Files, Leaving, Sender
from catalogue.exchange.schema_org.told import described, qualified
from catalogue.linked.addresses import address_of
from catalogue.linked.text import Node, write_readable
from catalogue.places import table
from catalogue.record import Photo, Work
from catalogue.record.offer import Offer
from catalogue.record.rules import is_address
from catalogue.terms import label, within

SAYS = "schema.org: what a dealer's web page tells search engines, with the offer where there is one."

_EXACT = re.compile(r"\d{4}(-\d\d(-\d\d)?)?")
_CENTIMETRE = "CMT"
_KINDS = {"Person": "Person", "Group": "Organization"}


def write(leaving: Leaving, sender: Sender) -> Files:
    """`<stem>.schema-org.jsonld`, the same as `.html`, and the pictures that it names."""
    record = leaving.record
    if not isinstance(record, Work):
        return
    pictures = list(_pictures(record, sender))
    images = [_image(photo, leaving.stem) for photo, _ in pictures]
    told = artwork(record, sender, sender.offer(record.document), images)
    data = write_readable(told)
    yield f"{leaving.stem}.schema-org.jsonld", data
    yield f"{leaving.stem}.schema-org.html", as_script(data)
    for photo, picture in pictures:
        yield _file_name(photo, leaving.stem), picture


def as_script(data: bytes) -> bytes:
    r"""The data as an element for the head of a page; no text in it can end the element.

    >>> as_script(b'{"name": "</script> & more"}')
    b'<script type="application/ld+json">\n{"name": "\\u003c/script\\u003e \\u0026 more"}\n</script>\n'
    """
    for letter in b"<>&":
        data = data.replace(bytes([letter]), rb"\u%04x" % letter)
    return b'<script type="application/ld+json">\n' + data.strip() + b"\n</script>\n"


def artwork(
    work: Work, sender: Sender, offer: Offer | None, images: Sequence[Node] = ()
) -> Node:
    """The node of a work, with the offer under which it is for sale, and the images that come along."""
    words = table("schema_org.toml")
    where = address_of(work.document, work.document, sender.base)
    name, *others = [each.text for each in work.titles] or [work.title()]
    said: dict[str, Any] = {
        "@context": words["context"],
        "@type": "VisualArtwork",
        "@id": where,
        "name": name,
        "alternateName": others,
        "artform": words["words"]["artform"],
        "creator": _creator(work, sender),
        "dateCreated": _exact_date(work),
        "artMedium": work.medium or _of(work, "media"),
        "artworkSurface": _of(work, "surfaces"),
        **_size(work),
        "description": described(work, sender),
        "creditText": _noted(work, "credit"),
        "copyrightNotice": _noted(work, "rights"),
        "identifier": _identifiers(work),
        "image": list(images),
        "url": where if sender.base else None,
        "subjectOf": _record(where) if sender.base else None,
        "offers": _offer(offer, sender) if offer and offer.stands else None,
    }
    return {key: held for key, held in said.items() if held not in (None, "", [], {})}


def _creator(work: Work, sender: Sender) -> Node | None:
    """Whoever painted it, where the attribution to show says just that."""
    shown = work.attribution()
    if shown is None or shown.artist is None or qualified(shown):
        return None
    if is_address(shown.artist):
        return {"@type": "Person", "@id": shown.artist}
    kind, name = sender.labels(shown.artist)
    where = address_of(shown.artist, shown.artist, sender.base)
    return {"@type": _KINDS.get(kind, "Person"), "@id": where, "name": name}


def _exact_date(work: Work) -> str | None:
    """A year, month or day as EDTF has it, which is ISO 8601; None for anything less certain."""
    edtf = work.made.edtf if work.made else ""
    return edtf if _EXACT.fullmatch(edtf) else None


def _of(work: Work, which: str) -> list[str]:
    wanted = table("schema_org.toml")[which]
    return [label(key) for key in work.materials if within(key, *wanted)]


def _size(work: Work) -> Node:
    """The size that a buyer looks for, in centimetres (UN/CEFACT code CMT)."""
    for wanted in table("schema_org.toml")["sizes"]:
        for size in work.sizes:
            if size.what == wanted:
                measures = {
                    "height": size.height_mm or size.diameter_mm,
                    "width": size.width_mm or size.diameter_mm,
                    "depth": size.depth_mm,
                }
                return {name: _centimetres(mm) for name, mm in measures.items() if mm}
    return {}


def _centimetres(mm: float) -> Node:
    value = round(mm / 10, 4)
    return {
        "@type": "QuantitativeValue",
        "value": int(value) if value == int(value) else value,
        "unitCode": _CENTIMETRE,
        "unitText": "cm",
    }


def _noted(work: Work, which: str) -> str:
    kinds = table("schema_org.toml")[which]
    return " ".join(each.text for each in work.notes if each.kind in kinds)


def _identifiers(work: Work) -> list[Node]:
    own = [(label("number/studio"), work.number)] if work.number else []
    every = [*own, *((label(each.kind), each.text) for each in work.numbers)]
    return [
        {"@type": "PropertyValue", "propertyID": kind, "value": number}
        for kind, number in every
    ]


def _record(where: str) -> Node:
    return {
        "@type": "DataDownload",
        "name": table("schema_org.toml")["words"]["record"],
        "encodingFormat": "application/ld+json",
        "contentUrl": where,
    }


def _pictures(work: Work, sender: Sender) -> Iterator[tuple[Photo, Content]]:
    """The photographs of which there is a copy that may leave."""
    for photo in work.photos:
        copy = sender.picture(photo)
        if copy is not None:
            yield photo, copy.read_bytes()


def _file_name(photo: Photo, stem: str) -> str:
    return f"{stem}-{photo.number or photo.id}.jpg"


def _image(photo: Photo, stem: str) -> Node:
    words = table("schema_org.toml")["words"]
    how = words["picture" if photo.face else "picture_whole"]
    told = how.format(
        view=label(photo.view), face=label(photo.face or ""), light=label(photo.light)
    )
    return {
        "@type": "ImageObject",
        "contentUrl": _file_name(photo, stem),
        "encodingFormat": "image/jpeg",
        "caption": told,
    }


def _offer(offer: Offer, sender: Sender) -> Node:
    code = _codes().get(offer.currency or "")
    price = offer.asked if offer.told and code else None
    stands = table("schema_org.toml")["availability"].get(offer.status)
    said: dict[str, Any] = {
        "@type": "Offer",
        "price": price,
        "priceCurrency": code if price is not None else None,
        "availability": f"https://schema.org/{stands}" if stands else None,
        "validFrom": offer.since.iso if offer.since else None,
        "priceValidUntil": offer.until.iso if offer.until and price is not None else None,
        "availabilityEnds": offer.until.iso if offer.until and price is None else None,
        "description": offer.terms,
        "seller": {"@type": "ArtGallery", "name": sender.studio} if sender.studio else None,
    }
    return {key: held for key, held in said.items() if held is not None}


@cache
def _codes() -> dict[str, str]:
    """The three letters of ISO 4217 for each currency that has them, of those that are money today."""
    return {
        f"currency/{row['term']}": code
        for code, row in table("money.toml")["currency"].items()
        if re.fullmatch("[A-Z]{3}", code) and "not_after" not in row
    }
