"""Provenance as museums publish it → its steps, their parties and dates, its notes, and what is left.

The text is parted into steps and notes (`notes`, `cutting`), each step is read for itself (`step`),
and what they tell is put together here. Steps, notes, `rest` and the separators between them are the
whole text. Nothing raises; what could not be made out is left over, and named in the warnings.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from catalogue.argument.prose.entries import (
    Entry,
    EntryNote,
    EntryParty,
    ReadProvenance,
    Remark,
)
from catalogue.argument.prose.reading.course import Somebody, Told
from catalogue.argument.prose.reading.cutting import is_list_number, pieces
from catalogue.argument.prose.reading.naming import holder
from catalogue.argument.prose.reading.notes import Mark, part
from catalogue.argument.prose.reading.scan import Scan
from catalogue.argument.prose.reading.step import read_step
from catalogue.argument.prose.reading.words import cut, table
from catalogue.measure import Day, outside

LONGEST: Final = 1_000_000
"""A longer text is no provenance."""
SEPARATORS: Final = ";. \t\r\n\f\v\u00a0\u2028\u2029"
_BY_SIGN: Final = {
    "…": "passage/gap",
    ";": "passage/direct",
    ".": "passage/not-known",
    "\n": "passage/not-known",
}


@dataclass(slots=True)
class _Read:
    """One step as read: where it stands, what it told, what is left of it, what ended it."""

    start: int
    end: int
    told: Told
    scan: Scan
    left: str
    sign: str
    leads_on: bool  # whether it begins as one that follows directly ("to Ada Penhale")


def read_provenance(text: str) -> ReadProvenance:
    """A provenance taken apart. Never raises; the time grows with the length.

    >>> read = read_provenance(
    ...     "Ada Penhale [1860-1934], Hull; by descent to her nephew, J. Trewin, 1934. "
    ...     "(Galerie Quill, Ghent, by 1937);[1] private collection. Notes: 1. Label, verso."
    ... )
    >>> for entry in read.entries:
    ...     for party in entry.parties:
    ...         print(party.name, party.role, party.life, party.place, party.relation, entry.passage)
    Ada Penhale capacity/owner 1860-1934 Hull None passage/direct
    J. Trewin capacity/owner None None her nephew passage/not-known
    Galerie Quill capacity/dealer None Ghent None passage/direct
    private collection capacity/owner None None None None
    >>> read.entries[2].notes, read.notes[0].text, read.brackets, read.rest
    (('1',), 'Label, verso.', 'life', '')
    """
    if len(text) > LONGEST:
        told = (
            f"this text has {len(text)} letters and was not read; give one provenance at a time"
        )
        return _unread(text, Remark("too-long", 0, told))
    parted = part(text)
    steps: list[_Read] = []
    alone: list[int] = []
    for start, end in parted.body:
        scan = Scan(text, start, end)
        alone += (scan.starts[at] for at in scan.alone)
        _read_into(steps, scan, parted.cited)
    notes = tuple(sorted(parted.notes, key=lambda note: note.start))
    steps = _joined(steps)
    _known_dealers(steps)
    entries = tuple(_entries(steps))
    habits = [habit for step in steps for habit in step.told.habits]
    brackets, mixed = _brackets(habits)
    warnings = [*_unbalanced(text, alone), *mixed, *_about_notes(entries, notes, parted.cited)]
    warnings += _out_of_order(entries)
    return ReadProvenance(
        text=text,
        entries=entries,
        notes=notes,
        rest=_rest(
            text, [*((e.start, e.end) for e in entries), *((n.start, n.end) for n in notes)]
        ),
        warnings=tuple(sorted(warnings, key=lambda each: (each.at, each.kind))),
        brackets=brackets,
    )


def _unread(text: str, remark: Remark) -> ReadProvenance:
    return ReadProvenance(
        text=text, entries=(), notes=(), rest=_rest(text, []), warnings=(remark,)
    )


# -- steps


def _read_into(steps: list[_Read], scan: Scan, cited: Iterable[Mark]) -> None:
    """Read the steps of one stretch of the text, after those before it."""
    marks = {mark.start: mark for mark in cited}
    own = len(steps)
    for piece in pieces(scan):
        first, behind = piece.first, piece.behind
        if len(steps) > own:
            first = _notes_of_last(steps[-1], scan, first, behind, marks)
        if first < behind and is_list_number(scan, first):
            numbered, first = first, first + 2
        else:
            numbered = first
        if len(steps) > own and _is_ellipsis(scan.words[first:behind]):
            steps[-1].end, steps[-1].sign = scan.ends[behind - 1], "…"
            continue
        if all(each in ".;" for each in scan.words[first:behind]):
            if len(steps) > own and piece.sign and steps[-1].sign != "…":
                steps[-1].sign = piece.sign
            continue
        step = read_step(scan, first, behind, marks)
        told = step.told
        steps.append(
            _Read(
                scan.starts[numbered], scan.ends[behind - 1], told, scan, step.left(),
                piece.sign, _leads_on(scan, first, behind),
            )
        )  # fmt: skip


def _is_ellipsis(words: list[str]) -> bool:
    return any(set(each) <= set("….") and each != "." for each in words) and all(
        set(each) <= set("….;") for each in words
    )


def _notes_of_last(
    last: _Read, scan: Scan, first: int, behind: int, marks: dict[int, Mark]
) -> int:
    """Give marks behind a separator to the step before it; the first word that is none of them."""
    while first < behind:
        mark = marks.get(scan.starts[first])
        if mark is None:
            break
        last.told.notes += [each for each in mark.marks if each not in last.told.notes]
        last.end = mark.end
        first = scan.first_from(first, mark.end, behind)
    return first


def _leads_on(scan: Scan, first: int, behind: int) -> bool:
    said = {cut(each) for each in table()["direct"]["words"]}
    return any(tuple(scan.lows[first : min(first + n, behind)]) in said for n in (1, 2))


_A_FEW: Final = 6
"""More letters left than so many behind a semicolon tell of something, though nobody knows of what."""


def _joined(steps: list[_Read]) -> list[_Read]:
    """The steps, sentences that tell of nobody and nothing joined to the step before them."""
    found: list[_Read] = []
    for step in steps:
        told = step.told
        tells = not told.aside and bool(
            told.parties or told.gap or told.editorial or told.lot
            or any(word.key for word, _, _ in told.passings)
            or ((told.when or told.until) and len(step.left) * 2 < step.end - step.start)
        )  # fmt: skip
        after_semicolon = bool(found) and found[-1].sign == ";" and found[-1].scan is step.scan
        if tells or (after_semicolon and not told.aside and len(step.left) > _A_FEW):
            found.append(step)
            continue
        if not found or found[-1].scan is not step.scan:
            continue
        last = found[-1]
        last.told.notes += [each for each in told.notes if each not in last.told.notes]
        last.told.remarks.append(step.scan.text[step.start : step.end])
        last.end, last.sign = step.end, step.sign
    return found


def _known_dealers(steps: list[_Read]) -> None:
    """Whoever bears a dealer's last name alone is that dealer: "Galerie Quill ...; sold by Quill"."""

    def names(role: str) -> Iterator[tuple[_Read, Somebody, list[str]]]:
        for step in steps:
            for somebody in step.told.parties:
                if somebody.role == role:
                    yield step, somebody, step.scan.lows[somebody.start : somebody.end]

    dealers = {word for _, _, words in names("dealer") for word in words}
    others = {words[-1] for _, _, words in names("owner") if len(words) > 1}
    for _, somebody, words in names("owner"):
        if len(words) == 1 and words[0] in dealers - others:
            somebody.role = "dealer"


def _entries(steps: list[_Read]) -> Iterator[Entry]:
    for number, step in enumerate(steps):
        after = steps[number + 1] if number + 1 < len(steps) else None
        yield _entry(step, _passage(step, after))


def _passage(step: _Read, after: _Read | None) -> str | None:
    if after is None:
        return None
    if step.told.gap or after.told.gap:
        return "passage/gap"
    if after.leads_on:
        return "passage/direct"
    return _BY_SIGN.get(step.sign, "passage/not-known")


def _entry(step: _Read, passage: str | None) -> Entry:
    told, scan = step.told, step.scan

    def written(span: tuple[int, int] | None) -> str | None:
        return scan.text[scan.starts[span[0]] : scan.ends[span[1] - 1]] if span else None

    def _role(somebody: Somebody) -> str:
        return (
            holder(scan.words[somebody.start : somebody.end])
            if somebody.role == "holder"
            else somebody.role
        )

    def party(somebody: Somebody) -> EntryParty:
        return EntryParty(
            name=", ".join(
                filter(None, (written((somebody.start, somebody.end)), written(somebody.more)))
            ),
            role=f"capacity/{_role(somebody)}",
            life=somebody.life,
            place=written(somebody.place),
            relation=somebody.relation,
        )

    _settle_house(told)
    kind, phrase = _kind(told)
    place = written(told.place)
    parties = tuple(party(each) for each in told.parties)
    if kind in _TO_A_KEEPER:
        parties = tuple(
            _no_dealer(each, somebody)
            for each, somebody in zip(parties, told.parties, strict=True)
        )
    if place is None and kind in _SALES:
        houses = [each.place for each in told.parties if each.role == "auctioneer"]
        place = written(houses[0]) if houses else None
    return Entry(
        text=scan.text[step.start : step.end],
        start=step.start,
        end=step.end,
        kind=f"provenance/{kind}",
        parties=parties,
        phrase=written(phrase),
        place=place,
        when=told.when,
        until=told.until,
        lot=told.lot,
        price=told.price,
        stock_number=told.stock_number,
        certainty=f"certainty/{told.sure}",
        passage=passage,
        notes=tuple(told.notes),
        remark="; ".join(told.remarks) or None,
        remainder=step.left,
    )


_TO_A_KEEPER: Final = frozenset({"gift", "bequest", "long-term-loan"})
"""Ways of passing to a museum, which may be called a gallery."""


def _no_dealer(party: EntryParty, somebody: Somebody) -> EntryParty:
    if party.role == "capacity/dealer" and not somebody.bracket:
        return replace(party, role="capacity/owner")
    return party


_SALES: Final = frozenset({"auction", "offered", "bought-in"})


def _settle_house(told: Told) -> None:
    """ "Sold, Trewin": a house where a lot or the day of a sale is told, else whoever bought it."""
    day = (
        told.when is not None
        and told.when.earliest is not None
        and told.when.latest is not None
    )
    of_days = day and told.when.latest.ordinal - told.when.earliest.ordinal < 15  # type: ignore[union-attr]
    if told.lot and not told.passings and told.parties and told.parties[0].role == "dealer":
        told.parties[0].role = "auctioneer"  # "(Vaux & Son, London, 3 May 1902, lot 12)"
    if told.perhaps_house and not told.lot and not of_days:
        for somebody in told.parties:
            if somebody.role == "auctioneer":
                somebody.role = "holder"


def _kind(told: Told) -> tuple[str, tuple[int, int] | None]:
    """How it passed, and the words that say so."""
    said = [(word, (start, end)) for word, start, end in told.passings if word.key]
    auction = bool(told.lot) or any(each.role == "auctioneer" for each in told.parties)
    if said:
        word, where = max(said, key=lambda each: each[0].rank)
        return ("auction" if auction and word.key in ("sale", "unknown") else word.key), where
    if auction:
        return "auction", None
    if told.maker and len(told.parties) == 1:
        return "creation", None
    if told.gap:
        return "lost", None
    seen = told.when is not None and told.when.earliest is None
    return ("presence" if seen and told.parties else "unknown"), None


# -- what is outside, and warnings


def _rest(text: str, spans: list[tuple[int, int]]) -> str:
    """What stands outside of these spans, without the separators round each stretch."""
    return "".join(each.strip(SEPARATORS) for each in outside(text, spans))


def _brackets(
    habits: list[tuple[str, int]],
) -> tuple[Literal["life", "dealer"] | None, list[Remark]]:
    """Which habit of brackets a text shows; a remark where it shows both."""
    said = {habit for habit, _ in habits}
    if said == {"life"}:
        return "life", []
    if said == {"dealer"}:
        return "dealer", []
    if not said:
        return None, []
    first = habits[0][0]
    at = next(where for habit, where in habits if habit != first)
    words = "brackets are used both ways here: see that dealers and life dates are told apart"
    return None, [Remark("mixed-profiles", at, words)]


def _unbalanced(text: str, alone: list[int]) -> Iterator[Remark]:
    for at in alone:
        yield Remark(
            "unbalanced-bracket", at, f"this {text[at]!r} has no partner: kept as a letter"
        )


def _about_notes(
    entries: tuple[Entry, ...], notes: tuple[EntryNote, ...], cited: Iterable[Mark]
) -> Iterator[Remark]:
    known = {note.mark for note in notes}
    seen: set[str] = set()
    for mark in cited:
        for each in mark.marks:
            if each not in known and each not in seen:
                yield Remark("note-without-text", mark.start, f"note {each} has no text here")
            seen.add(each)
    for note in notes:
        if note.mark and note.mark not in seen:
            yield Remark("note-not-cited", note.start, f"no step cites note {note.mark}")
        if note.mark and not note.text.strip():
            yield Remark("note-without-text", note.start, f"note {note.mark} is empty")


def _out_of_order(entries: tuple[Entry, ...]) -> Iterator[Remark]:
    begun: Day | None = None
    for entry in entries:
        when = entry.when
        ends = when.latest if when else None
        if begun and ends and ends < begun:
            words = (
                f"{entry.when.written if entry.when else ''}: earlier than the step before it"
            )
            yield Remark("dates-out-of-order", entry.start, words)
        if when and when.earliest and (begun is None or when.earliest > begun):
            begun = when.earliest
