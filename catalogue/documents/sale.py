"""The sheet on which a painting is offered: what a catalogue says of it, its condition, what to ask first.

It is for dealer and buyer: the price asked stands on it where it may be told, what the owner is to
have never does.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from catalogue.argument.borders import Advice, Journey, before_it_travels, standing_text
from catalogue.argument.offers import price_said
from catalogue.documents.entry import glossary, headline, labels_and_stamps, written
from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Paragraph,
    Pictures,
    Table,
)
from catalogue.documents.provenance import (
    certifies_nothing,
    exhibited,
    literature,
    the_chain,
    what_was_asked,
    years,
)
from catalogue.documents.seen import photo_said
from catalogue.documents.statement import condition_told, disclosed
from catalogue.documents.words import capital, day_said, told, words
from catalogue.record import Offer, Photo, Work
from catalogue.terms import concept, label

CREDIT = "note/credit-line"
_CODE = re.compile("[A-Z]{3}")
"""The form of a code of ISO 4217, which each currency carries among its other names."""


def sale_sheet(given: Given) -> Document:
    """The sheet of one painting; without an offer on file it is the same, and says nothing of a price."""
    work, said = given.work, words("sale")
    offer = given.offer()
    blocks = (
        *headline(given),
        *_pictures(given),
        *_offered(offer),
        *written(given),
        *labels_and_stamps(given),
        *the_chain(given, "public"),
        *exhibited(given),
        *literature(given),
        *condition_told(given),
        *disclosed(given),
        *years(given),
        *what_was_asked(given, "public"),
        *_to_ask(given, offer),
        certifies_nothing(),
        *glossary(given),
        Paragraph(said["accuracy"], "small"),
        Paragraph(words("every")["advice"], "small"),
    )
    return given.document("sale", work.number or "", None, blocks)


# --- the offer -------------------------------------------------------------------------------------


def _offered(offer: Offer | None) -> Iterator[Block]:
    """How it stands and what is asked for it, where that is told."""
    if offer is None:
        return
    said = words("sale")
    until = said["until"].format(day=day_said(offer.until)) if offer.until else ""
    yield Heading(said["offer"])
    yield Facts(
        told(
            (
                (said["stands"], capital(label(offer.status))),
                (said["asked"], price_said(offer)),
                (said["terms"], offer.terms or ""),
                (said["since"], day_said(offer.since)),
                (said["holds"], until),
            )
        )
    )


# --- pictures --------------------------------------------------------------------------------------


def _pictures(given: Given) -> Iterator[Block]:
    """The whole of both sides, and who is to be named beside them."""
    said = words("sale")
    shown = [given.shown(each, photo_said(each)) for each in _sides(given.work)]
    there = tuple(each for each in shown if each)
    if not there:
        yield Paragraph(said["no_pictures"], "small")
        return
    yield Pictures(there)
    lines = [each.text for each in given.work.notes if each.kind == CREDIT]
    credit = "; ".join(lines) or next(iter(given.letterhead), "")
    if credit:
        yield Paragraph(said["credit"].format(who=credit), "small")


def _sides(work: Work) -> list[Photo]:
    """The last photograph of each side as a whole, in light that shows its colours."""
    found = []
    for face in ("face/front", "face/back"):
        of_face = [
            each
            for each in work.photos
            if each.face == face
            and each.view == "view/whole"
            and not each.mirrored
            and each.light in ("light/normal", "light/daylight")
        ]
        found += of_face[-1:]
    return found


# --- what to ask -----------------------------------------------------------------------------------


def _to_ask(given: Given, offer: Offer | None) -> Iterator[Block]:
    """Licences, protected species, rights: questions with the facts that they rest on."""
    said = words("sale")
    maker = given.work.attribution()
    artist = given.party(maker.artist) if maker and maker.artist else None
    found = before_it_travels(
        given.work,
        _journey(given, offer),
        maker=given.name_of(maker.artist) if maker else "",
        died=artist.ended if artist else None,
    )
    yield Heading(said["ask"])
    yield Table(
        (said["question"], said["says"], said["rests"]),
        (_export(given), *map(_asked, found)),
        (5, 9, 6),
    )
    yield Paragraph(standing_text(), "small")


def _export(given: Given) -> tuple[str, str, str]:
    """That a licence is to be asked for; how old the work is at least decides in many countries."""
    said = words("sale")
    latest = given.work.made.latest if given.work.made else None
    years = given.today.year - latest.year if latest else None
    age = said["age"].format(years=years) if years is not None and years > 0 else said["no_age"]
    return said["export"], said["export_says"].format(age=age), said["export_rests"]


def _asked(advice: Advice) -> tuple[str, str, str]:
    because = "\n".join(advice.because)
    rests = advice.source + (f" ({advice.version})" if advice.version else "")
    return advice.question, f"{capital(advice.answered)}.\n{because}", rests


def _journey(given: Given, offer: Offer | None) -> Journey:
    """A sale at the price asked, where it is told, in money that has a code of three letters today."""
    if offer is None or not offer.told or offer.asked is None or offer.currency is None:
        return Journey(on=given.today)
    code = next(filter(_CODE.fullmatch, concept(offer.currency).alternatives), None)
    if code is None:
        return Journey(on=given.today)
    return Journey(on=given.today, value=Decimal(str(offer.asked)), currency=code)
