"""What the index of words holds of a record: an entry for the whole, and one for each statement."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from catalogue.indexes.told import Names, told
from catalogue.indexes.words import Entry
from catalogue.measure import DateSpan
from catalogue.record import Inscription, Job, Note, Party, Record, Reference, Work
from catalogue.record.rules import OPEN, values_within
from catalogue.terms import label


def entries(record: Record, names: Names) -> tuple[Entry, ...]:
    """The entries of a record, the one for the whole first. Commissions are not searched by words."""
    match record:
        case Work():
            return tuple(_of_work(record, names))
        case Party():
            return tuple(_of_party(record))
        case Reference():
            whole = _entry(record.document, "", _first(record.labels), record.id, "reference")
            return (replace(whole, text="; ".join(record.labels)),)
        case Job():
            return ()


def _of_work(work: Work, names: Names) -> Iterator[Entry]:
    artists = [name for each in work.attributions if each.artist for name in names(each.artist)]
    earliest, latest = _days(work.made)
    base = replace(
        _entry(work.document, work.number or "", work.title(), work.id, "work"),
        artist=" · ".join(artists),
        earliest=earliest,
        latest=latest,
    )
    materials = ", ".join(label(each) for each in work.materials)
    summary = [
        work.title(),
        _first(artists),
        work.made.written if work.made else "",
        work.medium or materials,
    ]
    yield replace(
        base,
        text=". ".join(part for part in summary if part),
        words=" ".join(
            [*artists, materials, work.number or "", *(each.text for each in work.numbers)]
        ),
    )
    for title in work.titles:
        yield replace(base, value=title.id, kind="title", where=label(title.kind), text=title.text,
                      private=_private(title.visibility))  # fmt: skip
    for each in work.attributions:
        said = each.written or " ".join(
            filter(None, (_qualifier(each.qualifier), _first(names(each.artist or ""))))
        )
        yield replace(base, value=each.id, kind="artist", where="artist", text=said,
                      words=" ".join(names(each.artist or "")), private=_private(each.visibility))  # fmt: skip  # noqa: E501
    parts = {part.id: label(part.kind) for part in work.parts}
    for inscription in work.inscriptions:
        yield from _of_inscription(inscription, base, parts)
    for kind, values in _HISTORY.items():
        for value in getattr(work, values):
            yield _of_value(value, kind, base, names)
    for note in work.notes:
        yield _of_note(note, base, "note")


_HISTORY = {
    "layer": "layers",
    "check": "checks",
    "finding": "findings",
    "repair": "repairs",
    "test": "tests",
    "treatment": "treatments",
    "provenance": "provenance",
    "exhibition": "exhibitions",
    "citation": "citations",
    "relation": "relations",
    "movement": "movements",
    "inquiry": "inquiries",
    "paper": "papers",
}
"""What an entry of each kind is made from; each is told whole, with the values within it."""


def _of_value(value: Any, kind: str, base: Entry, names: Names) -> Entry:
    """One entry for a value and all that is within it: private as soon as anything in it is."""
    within = tuple(values_within(value))
    what = getattr(value, "kind", None)
    where = " ".join(
        filter(None, (getattr(value, "number", None), label(what) if what else kind))
    )
    marks = (getattr(each, "visibility", OPEN) for each in within)
    return replace(base, value=value.id, kind=kind, where=where, text="; ".join(told(value, names)),
                   words="", patterns=(), private=any(_private(mark) for mark in marks))  # fmt: skip


def _of_inscription(
    inscription: Inscription, base: Entry, parts: dict[str, str]
) -> Iterator[Entry]:
    place = [label(inscription.face), parts.get(inscription.part or "", "")]
    where = ", ".join(
        part
        for part in (f"{inscription.number or ''} {label(inscription.kind)}".strip(), *place)
        if part
    )
    own = replace(base, value=inscription.id, kind=inscription.kind, where=where, place=" ".join(place),
                  private=_private(inscription.visibility))  # fmt: skip
    for transcript in inscription.transcripts:
        reading = transcript.reading()
        found = reading.words()
        yield replace(
            own,
            text=reading.plain(),
            words=" ".join([reading.seen(), *(word.text for word in found), *reading.drawn()]),
            patterns=tuple(word.pattern for word in found if word.pattern),
            private=own.private or _private(transcript.visibility),
        )
    if not inscription.transcripts:
        yield replace(own, text=label(inscription.kind), words=inscription.hand or "")
    for note in inscription.notes:
        yield _of_note(note, own, where)


def _of_note(note: Note, base: Entry, where: str) -> Entry:
    return replace(base, value=note.id, kind="note", where=where, text=note.text, words="", patterns=(),
                   private=_private(note.visibility))  # fmt: skip


def _of_party(party: Party) -> Iterator[Entry]:
    base = _entry(party.document, "", party.name(), party.id, "party")
    roles = ", ".join(label(role) for role in party.roles)
    names = "; ".join(name.text for name in party.names)
    yield replace(base, where=roles, text=names, words=roles)
    for address in party.addresses:
        earliest, latest = _days(address.when)
        yield replace(base, value=address.id, kind="address", where="address", text=address.text,
                      earliest=earliest, latest=latest, place=address.text,
                      private=_private(address.visibility))  # fmt: skip


def _entry(document: str, number: str, title: str, value: str, kind: str) -> Entry:
    return Entry(
        document=document, number=number, title=title, value=value, where=kind, kind=kind,
        text="", words="", patterns=(), artist="", place="", earliest=None, latest=None,
    )  # fmt: skip


def _days(span: DateSpan | None) -> tuple[int | None, int | None]:
    if span is None:
        return None, None
    return (
        span.earliest.ordinal if span.earliest else None,
        span.latest.ordinal if span.latest else None,
    )


def _qualifier(key: str) -> str:
    return "" if key == "qualifier/by" else label(key)


def _private(visibility: str) -> bool:
    return visibility != "visibility/open"


def _first(texts: tuple[str, ...] | list[str]) -> str:
    return texts[0] if texts else ""
