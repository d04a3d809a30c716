"""Prose that was read as events of a record: nothing is lost on the way, and nothing is added."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.prose.entries import Entry, EntryNote, EntryParty, ReadProvenance
from catalogue.argument.prose.wording import words
from catalogue.record import Evidence, Note, PartyRole, Price, ProvenanceEvent

NOTE = "note/provenance"
_SECONDARY = "strength/secondary"


def events_of(
    entries: Iterable[Entry],
    notes: Iterable[EntryNote] = (),
    *,
    cited: str | None = None,
    first: int = 1,
) -> tuple[ProvenanceEvent, ...]:
    """The events of a chain in its order, which begins with the number `first`.

    `cited` is where the prose stands printed, as evidence of the second grade; without it every event
    says that nothing is cited. What could not be placed stands in a note as it was found.

    >>> from catalogue.argument.prose.reading import read_provenance
    >>> found = read_provenance("Agnes Verlinden, Ghent, 1931; by gift to Paul Verlinden, 1961.")
    >>> [(each.order, each.kind, each.parties[0].written) for each in events_of(found.entries)]
    [(1, 'provenance/unknown', 'Agnes Verlinden'), (2, 'provenance/gift', 'Paul Verlinden')]
    """
    texts = {each.mark: each.text for each in notes}
    return tuple(
        _event(each, order, texts, cited) for order, each in enumerate(entries, start=first)
    )


def taken_from(
    read: ReadProvenance, *, cited: str | None = None, first: int = 1
) -> tuple[ProvenanceEvent, ...]:
    """The events of a provenance as it was read, its footnotes as notes of the events that cite them."""
    return events_of(read.entries, read.notes, cited=cited, first=first)


def _event(
    entry: Entry, order: int, texts: dict[str, str], cited: str | None
) -> ProvenanceEvent:
    return ProvenanceEvent(
        order=order,
        kind=entry.kind,
        parties=tuple(map(_role, entry.parties)),
        at=_said(entry.place),
        when=entry.when,
        until=entry.until,
        phrase=_said(entry.phrase),
        lot=_said(entry.lot),
        stock_number=_said(entry.stock_number),
        price=Price(written=price) if (price := _said(entry.price)) else None,
        passage=entry.passage,
        certainty=entry.certainty,
        evidence=(_evidence(cited),),
        notes=tuple(Note(kind=NOTE, text=each) for each in _notes(entry, texts)),
    )


def _role(party: EntryParty) -> PartyRole:
    return PartyRole(
        party=party.party,
        written=party.name,
        role=party.role,
        life=_said(party.life),
        place=_said(party.place),
        relation=_said(party.relation),
    )


def _evidence(cited: str | None) -> Evidence:
    if not cited:
        return Evidence(kind="evidence/none-cited")
    return Evidence(kind="evidence/citation", text=cited, strength=_SECONDARY)


def _notes(entry: Entry, texts: dict[str, str]) -> Iterator[str]:
    """The footnotes of an entry, then what is left of it, with the words as they stood."""
    told = words("taken")
    for mark in entry.notes:
        if _said(texts.get(mark)):
            yield texts[mark]
    if _said(entry.remark):
        yield told["remark"].format(text=entry.remark)
    if _said(entry.remainder):
        yield told["remainder"].format(text=entry.remainder)
        yield told["found"].format(text=entry.text)


def _said(text: str | None) -> str | None:
    return text if text and text.strip() else None
