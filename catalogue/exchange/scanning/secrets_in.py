"""What stays in the house, as one commission or one party says it: found once, whoever is written to.

It is read from the stored documents as they lie, so that what dorse does not understand of them is guarded
as well. What of it is a secret depends on what leaves, and is decided in `guarded.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue.exchange.scanning.words_in_files import words_of
from catalogue.linked import concepts
from catalogue.linked.documents import from_jsonld
from catalogue.linked.node import written_out
from catalogue.linked.text import Node, parse
from catalogue.places import table
from catalogue.record import Consent, Party

_E_MAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
_NUMBER = re.compile(r"(?<![\w.-])\+?\(?\d[\d ()./\u00a0-]{3,}\d(?![\w-])")
_PATH = re.compile(r"(?:[A-Za-z]:\\|\\\\|/(?:home|Users|media|mnt|srv|Volumes)/)[^\s\"'<>]{3,}")
_NO_SECRET = re.compile(
    r"\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./]\d{1,2}[./]\d{2,4}|1\d{3}\s?[-/]\s?[12]\d{3}"
    r"|\d{4}-\d{3,}(?:/\w+)?"
)
"""A day, a span of years, a number that the studio gave out."""

_DRAWN = re.compile(r"(?:POINT|LINESTRING|POLYGON) \(+[\d ,.-]+\)+")
"""A place on a painting, drawn in millimetres: what stands in it are no telephone numbers."""

_NAMELESS = ("id", "@id", "@context", "type", "_label")
_ROLES = (b"role/client", b"role/owner")


@dataclass(frozen=True, slots=True)
class Secret:
    """Something that stays in the house: its kind, how it is written, the record that it stands in.

    `of` is the party whose name it is: whoever allows one of their names allows the others.
    """

    kind: str
    text: str
    stands_in: str
    of: str = ""


@dataclass(frozen=True, slots=True)
class InCommission:
    """What a commission says: whom it is for, which works it names, what of it may be a secret.

    Beside each secret stands whether it is a price asked, which is none where that is told.
    """

    people: tuple[str, ...]
    works: frozenset[str]
    secrets: tuple[tuple[Secret, bool], ...]


@dataclass(frozen=True, slots=True)
class InParty:
    """What a party says: whether its role makes it a client or owner, its names, how to reach it.

    `told` are the words of each address in its open part, with that part's visibility.
    """

    is_client: bool
    names: tuple[str, ...]
    visibility: str
    is_maker: bool
    consents: tuple[Consent, ...]
    contacts: tuple[Secret, ...]
    told: tuple[tuple[str, frozenset[bytes]], ...]


@cache
def settings() -> dict[str, Any]:
    """What a curator may change: vocab/last_scan.toml."""
    return table("last_scan.toml")


def in_commission(document_id: str, body: bytes) -> InCommission:
    """What one commission says."""
    document = parse(body)
    people = dict.fromkeys(
        str(actor.get("id", ""))
        for key in settings()["people"]
        for actor in written_out(document, key)
    )
    works = frozenset(
        str(each.get("id"))
        for part in written_out(document, "part")
        for each in written_out(part, "used_specific_object")
    )
    return InCommission(tuple(people), works, tuple(_of_commission(document, document_id)))


def in_party(document_id: str, body: bytes) -> InParty:
    """What one party says."""
    document = parse(body)
    party = from_jsonld(document, document_id=document_id) if "consents" in document else None
    roles = concepts.all_of(document, "classified_as", "role")
    return InParty(
        is_client=any(role in body for role in _ROLES),
        names=tuple(
            name["content"]
            for name in written_out(document, "identified_by")
            if name.get("type") == "Name" and isinstance(name.get("content"), str)
        ),
        visibility=concepts.recognise_visibility(document),
        is_maker=bool(set(roles) & set(settings()["makers"])),
        consents=party.consents if isinstance(party, Party) else (),
        contacts=tuple(
            secret
            for contact in written_out(document, "contact")
            for secret in _of_contact(contact, document_id)
        ),
        told=tuple(
            (
                concepts.recognise_visibility(stay),
                frozenset(
                    word
                    for _, text in _leaves(stay.get("took_place_at"))
                    for word in words_of(str(text))
                ),
            )
            for stay in written_out(document, "carried_out")
        ),
    )


def _of_commission(document: Node, document_id: str) -> Iterator[tuple[Secret, bool]]:
    """What may be a secret, and whether it is a price asked."""
    rules = settings()
    for key, value in _leaves(document):
        asked = key == rules["asked"]
        if (asked or key in rules["sums"]) and not isinstance(value, str):
            yield Secret("sum", str(value), document_id), asked
        elif isinstance(value, str):
            if key in rules["places"]:
                yield Secret("place", value, document_id), False
            for secret in _within(value, document_id):
                yield secret, False


def _of_contact(contact: Node, document_id: str) -> Iterator[Secret]:
    for reach in written_out(contact, "part"):
        kinds = {
            str(each.get("id")).rpartition("#")[2]
            for each in written_out(reach, "classified_as")
        }
        text = reach.get("content")
        if not isinstance(text, str) or kinds & set(settings()["not_secret"]):
            continue
        found = [*_within(text, document_id)]
        yield from found
        if not found or kinds & {"reach/post"}:
            yield from _of_address(text, document_id)
    for note in written_out(contact, "referred_to_by"):
        for _, value in _leaves(note):
            if isinstance(value, str):
                yield from _within(value, document_id)


def _of_address(text: str, document_id: str) -> Iterator[Secret]:
    """The whole of it, and the line with the house's number: a town alone is no secret."""
    yield Secret("address", text, document_id)
    lines = [each.strip() for each in re.split(r"[\n,;]", text)]
    street = next((each for each in lines if any(map(str.isdecimal, each))), None)
    if street and street != text:
        yield Secret("address", street, document_id)


def _within(text: str, document_id: str) -> Iterator[Secret]:
    """What a sentence holds of e-mails, long numbers and places of files.

    >>> [each.text for each in _within("Ring 0115 496 0011, or b.noll@post.example", "party/1")]
    ['b.noll@post.example', '0115 496 0011']
    >>> [*_within("POLYGON ((96 424, 376 424, 376 500, 96 500, 96 424))", "job/1")]
    []
    """
    if _DRAWN.fullmatch(text):
        return
    for found in _E_MAIL.findall(text):
        yield Secret("e-mail", found, document_id)
    for found in _NUMBER.findall(text):
        if not _NO_SECRET.fullmatch(found.strip()):
            yield Secret("number", found, document_id)
    for found in _PATH.findall(text):
        yield Secret("path", found, document_id)


def _leaves(value: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Every text and number of a document with the key that it stands under; addresses are left out."""
    if isinstance(value, dict):
        for inner, held in value.items():
            if inner not in _NAMELESS:
                yield from _leaves(held, inner)
    elif isinstance(value, list):
        for each in value:
            yield from _leaves(each, key)
    elif value is not None and not isinstance(value, bool):
        yield key, value
