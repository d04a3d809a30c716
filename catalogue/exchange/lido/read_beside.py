"""What a LIDO record keeps beside the thing, as values: related works, books, papers, rights, pictures."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Iterator
from typing import Any

from catalogue.exchange.lido.source import Piece, of_word
from catalogue.exchange.lido.taken import Taking
from catalogue.exchange.lido.terms import said
from catalogue.linked.addresses import uuid_in
from catalogue.measure import Day
from catalogue.record import Citation, Note, Photo, Relation

_NI = re.compile(r"ni:///sha-256;([A-Za-z0-9_-]{43})")
_ADDRESS = re.compile(r"https?://\S+$|urn:\S+$")


def related(
    taking: Taking, metadata: Piece
) -> tuple[tuple[Relation, ...], tuple[Citation, ...]]:
    """The works it belongs with, by their addresses, and the books that speak of it."""
    relations: list[Relation] = []
    citations: list[Citation] = []
    for each in metadata.each("objectRelationWrap", "relatedWorksWrap", "relatedWorkSet"):
        shown = each.one("displayRelatedWork")
        if taking.ours and shown and shown.analog()[0] == "Paper":
            # its file does not come along: told, not taken
            continue
        found = _book(taking, each) or _relation(taking, each)
        if isinstance(found, Citation):
            citations.append(found)
        elif found is not None and found.to != f"work/{taking.uuid}":
            relations.append(found)
    return tuple(relations), tuple(citations)


def _book(taking: Taking, piece: Piece) -> Citation | None:
    typed = piece.one("relatedWorkRelType")
    kind = typed.concept("citation") if typed else None
    if kind is None:
        return None
    shown = piece.one("displayRelatedWork")
    words = shown.text() if shown else ""
    fields = {
        note.analog()[0].partition(".")[2]: note.text()
        for note in piece.each("relatedWork", "object", "objectNote")
        if taking.ours and note.analog()[0].startswith("Citation.")
    }
    names = [*fields.values(), words, piece.told("relatedWork", "object", "objectNote")]
    text = fields.get("text") or next(filter(None, names), "")
    if not text:
        return None
    return Citation(
        id=taking.id_of(shown, "citation", text),
        kind=kind,
        text=text,
        pages=fields.get("pages"),
        illustrated=True if taking.ours and words.endswith(said("illustrated")) else None,
    )


def _relation(taking: Taking, piece: Piece) -> Relation | None:
    """Another work, where the record says under which address its own record stands."""
    typed = piece.one("relatedWorkRelType")
    ids = list(piece.each("relatedWork", "object", "objectID"))
    links = [*ids, *piece.each("relatedWork", "object", "objectWebResource")]
    for each in links:
        where = (each.element.text or "").strip()
        if not _ADDRESS.match(where):
            continue
        own = uuid_in(where, taking.base) if taking.ours else None
        to = f"{taking.kinds(own) or 'work'}/{own}" if own else where
        shown = piece.one("displayRelatedWork")
        notes = [
            note
            for each_note in piece.each("relatedWork", "object", "objectNote")
            if (note := taking.note(each_note))
        ]
        words = shown.text() if shown else ""
        names = piece.every("relatedWork", "object", "objectName", "appellationValue")
        if not taking.ours:
            told = [text for text in dict.fromkeys((words, *names)) if text]
            notes += [Note(id=taking.ids.of("note", text), text=text) for text in told]
        kind = (typed.concept("relation") if typed else None) or "relation/other"
        each.whole()
        return Relation(
            id=taking.id_of(shown, "relation", to), kind=kind, to=to, notes=tuple(notes)
        )
    return None


def rights(taking: Taking, metadata: Piece) -> Iterator[Note]:
    """What is said of rights in the work, and its line of credit."""
    for each in metadata.each("rightsWorkWrap", "rightsWorkSet"):
        for line in each.each("creditLine"):
            if note := taking.note(line, "note/credit-line"):
                yield note
        words = [
            *(typed.words() for typed in each.each("rightsType")),
            *each.every("rightsHolder", "legalBodyName", "appellationValue"),
        ]
        told = ", ".join(filter(None, words))
        if told:
            yield Note(id=taking.ids.of("rights", told), kind="note/rights", text=told)


def pictures(taking: Taking, metadata: Piece) -> Iterator[Photo]:
    """The photographs: by their digest, or by where they lie, for nothing is ever fetched."""
    for each in metadata.each("resourceWrap", "resourceSet"):
        link = each.one("resourceRepresentation", "linkResource")
        where = link.text() if link else ""
        if not where:
            continue
        known_as = each.one("resourceID")
        number = known_as.text() if known_as else ""
        perspective = each.one("resourcePerspective")
        view = perspective.concept("view") if perspective else None
        yield Photo(
            id=taking.id_of(known_as, "photo", where),
            number=number if taking.ours and re.fullmatch(r"P[1-9]\d*", number) else None,
            sha256=_digest(where),
            file_name=None if _digest(where) else where,
            media_type=(link.attribute("formatResource") or None) if link else None,
            view=view or "view/whole",
            taken=_taken(taking, each),
            **_pixels(each),
            **_described(taking, each),
        )


def _taken(taking: Taking, piece: Piece) -> Day | None:
    """The day, where it was one."""
    date = taking.date(piece.one("resourceDateTaken"))
    return date.earliest if date and date.earliest == date.latest else None


def _described(taking: Taking, piece: Piece) -> dict[str, Any]:
    """What is seen on it: of ours by our terms, of others as notes."""
    for kind in piece.each("resourceType"):
        if kind.concept("object"):
            kind.whole()
    words = piece.every("resourceDescription")
    if not taking.ours:
        notes = (Note(id=taking.ids.of("note", each), text=each) for each in words)
        return {"notes": tuple(notes)}
    found: dict[str, Any] = {}
    for word in (word for each in words for word in each.split(", ")):
        for group in ("face", "light", "stage"):
            if key := of_word(word, group):
                found.setdefault(group, key)
    return found


def _pixels(piece: Piece) -> dict[str, Any]:
    """Width and height in pixels."""
    found: dict[str, Any] = {}
    for each in piece.each("resourceRepresentation", "resourceMeasurementsSet"):
        kind, unit, value = (
            each.one(name)
            for name in ("measurementType", "measurementUnit", "measurementValue")
        )
        if not (kind and unit and value):
            continue
        dimension = kind.concept("dimension")
        name = (dimension or "").partition("/")[2] or kind.words().casefold()
        figure = (value.element.text or "").strip()
        in_pixels = unit.concept("unit") == "unit/pixel" or unit.words().casefold() in _PIXELS
        if name in ("width", "height") and in_pixels and figure.isdecimal() and int(figure):
            found[name] = int(figure)
            kind.whole()
            unit.whole()
            value.whole()
        else:
            for untold in (kind, unit, value):
                untold.read.discard(untold.element)
    return found


_PIXELS = ("pixel", "pixels", "px")


def _digest(where: str) -> str | None:
    """The digest that an address by digest (RFC 6920) stands for, None for any other address."""
    found = _NI.fullmatch(where)
    if not found:
        return None
    try:
        return base64.urlsafe_b64decode(found[1] + "=").hex()
    except (ValueError, binascii.Error):
        return None
