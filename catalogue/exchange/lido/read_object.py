"""What a LIDO record says of the thing itself, as values: titles, numbers, where it is kept, notes."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido.source import Piece
from catalogue.exchange.lido.taken import Taking, term_of
from catalogue.places import table
from catalogue.record import Movement, Note, Number, Title


def titles(taking: Taking, wrap: Piece) -> Iterator[Title]:
    """The titles, each translation a title of its own."""
    preferred = table("lido.toml")["terminology"]["preferred"]
    for each in wrap.each("titleWrap", "titleSet"):
        kind = term_of(each.attribute("type"), "title") or "title/given"
        shown = each.attribute("pref") in preferred
        for value in each.each("appellationValue"):
            text = value.text()
            if not text or value.attribute("label") == "none":
                continue
            yield Title(
                id=taking.id_of(value, "title", kind, text),
                text=text,
                kind=kind,
                language=value.language,
                preferred=shown or value.attribute("pref") in preferred,
            )


def numbers(taking: Taking, wrap: Piece) -> tuple[str | None, tuple[Number, ...]]:
    """Our own number where the record is of ours, and all numbers that it has elsewhere."""
    own: str | None = None
    found: list[Number] = []
    for each in wrap.each("repositoryWrap", "repositorySet", "workID"):
        text = each.text()
        if not text:
            continue
        if taking.ours and each.analog()[0] == "Work.number":
            own = text
            continue
        kind = term_of(each.attribute("type"), "number") or "number/inventory"
        found.append(Number(id=taking.id_of(each, "number", kind, text), kind=kind, text=text))
    return own, tuple(found)


def keepers(taking: Taking, wrap: Piece) -> Iterator[Movement]:
    """Where the thing is kept, as far as the record says: it stays in the house like any whereabouts."""
    for each in wrap.each("repositoryWrap", "repositorySet"):
        name = each.told("repositoryName", "legalBodyName", "appellationValue")
        place = each.told("repositoryLocation", "namePlaceSet", "appellationValue")
        shown = each.told("displayRepository")
        told = ", ".join(dict.fromkeys(filter(None, (name or shown, place))))
        if told:
            yield Movement(id=taking.ids.of("keeper", told), to=told)


def descriptions(taking: Taking, wrap: Piece) -> Iterator[Note]:
    """The notes about the whole."""
    for each in wrap.each("objectDescriptionWrap", "objectDescriptionSet"):
        kind = term_of(each.attribute("type"), "note") or "note/description"
        for value in each.each("descriptiveNoteValue"):
            if note := taking.note(value, kind):
                yield note
