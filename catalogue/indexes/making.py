"""How entries of the index are made: a value told whole, its facts, its own days, its photograph."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, TypeAlias

from catalogue.indexes.entry import Entry
from catalogue.indexes.facts_of import Fact, Figure, facts_of, figures_of, kinds
from catalogue.indexes.told import Names, told
from catalogue.measure import DateSpan, Day
from catalogue.record import Inscription, Note, Work
from catalogue.record.rules import OPEN, values_within
from catalogue.terms import label

Days: TypeAlias = tuple[int | None, int | None]
Corners: TypeAlias = tuple[tuple[float, float], ...]

NO_DAYS: Days = (None, None)


def entry(document: str, number: str, title: str, value: str, kind: str) -> Entry:
    """An entry that says nothing yet."""
    return Entry(
        document=document, number=number, title=title, value=value, where=kind, kind=kind,
        text="", words="", patterns=(), artist="", place="", earliest=None, latest=None,
    )  # fmt: skip


def given(
    base: Entry,
    *,
    facts: Iterable[Fact] = (),
    figures: Iterable[Figure] = (),
    own: Days | None = None,
    **changes: Any,
) -> Entry:
    """An entry with further facts and figures, and these of its fields instead."""
    if own is not None:
        changes["own_earliest"], changes["own_latest"] = own
    return replace(
        base,
        facts=tuple(dict.fromkeys((*base.facts, *facts))),
        figures=tuple(dict.fromkeys((*base.figures, *figures))),
        **changes,
    )


def of_value(
    value: Any,
    kind: str,
    base: Entry,
    names: Names,
    *,
    also: tuple[Any, ...] = (),
    begins: tuple[str, ...] = (),
    without: tuple[str, ...] = (),
    own: Days | None = None,
) -> Entry:
    """One entry for a value and all that is within it: private as soon as anything in it is.

    `also` are values whose own fields give facts as well, `begins` words to begin with; what stands
    in the fields `without` has entries of its own.
    """
    apart = {id(each) for name in without for each in getattr(value, name)}
    within = tuple(_within(value, apart))
    what = getattr(value, "kind", None)
    where = " ".join(
        filter(None, (getattr(value, "number", None), label(what) if what else kind))
    )
    return given(
        base,
        value=value.id,
        kind=kind,
        where=where,
        text="; ".join((*begins, *told(value, names, without))),
        words="",
        patterns=(),
        private=is_private(*(getattr(each, "visibility", OPEN) for each in within)),
        facts=(*kinds(kind, *((what,) if what else ())), *facts_of((*within, *also))),
        figures=figures_of(within),
        own=own or own_days(value),
    )


def _within(value: Any, apart: set[int]) -> Iterator[Any]:
    if not apart:
        yield from values_within(value)
        return
    # what has entries of its own is left out with all that is in it
    left_out = 0
    for each in values_within(value):
        if left_out:
            left_out -= 1
        elif id(each) in apart:
            left_out = sum(1 for _ in values_within(each)) - 1
        else:
            yield each


def of_note(note: Note, base: Entry, where: str) -> Entry:
    """The entry of a note, with the facts of what it is about."""
    return given(base, value=note.id, kind="note", where=where, text=note.text, words="", seen="",
                 patterns=(), private=is_private(note.visibility) or base.private,
                 facts=(*kinds("note", note.kind), *facts_of((note,))),
                 own=days(note.on) if note.on else None)  # fmt: skip


def days(first: DateSpan | Day | None, last: DateSpan | Day | None = None) -> Days:
    """The first and the last day of a span or a day, or of the time from one to another."""
    if first is None:
        return NO_DAYS
    begins, ends = _bounds(first)
    return (begins, _bounds(last)[1]) if last is not None else (begins, ends)


def _bounds(when: DateSpan | Day) -> Days:
    if isinstance(when, Day):
        return when.ordinal, when.ordinal
    return (
        when.earliest.ordinal if when.earliest else None,
        when.latest.ordinal if when.latest else None,
    )


OWN_DAYS = (
    ("when", "until"), ("made", None), ("on", None), ("taken", None), ("applied", None),
    ("fitted", None), ("began", "ended"),
)  # fmt: skip
"""Fields that say when a statement was made, done or seen; the first that a value has counts."""


def own_days(value: Any) -> Days:
    """When this very value was seen, done or moved; open where it does not say.

    >>> from catalogue.record import Inquiry
    >>> asked = Inquiry(kind="inquiry/archive", subject="Town archive", on=Day(2026, 3, 1))
    >>> own_days(asked) == (Day(2026, 3, 1).ordinal,) * 2
    True
    """
    for begins, ends in OWN_DAYS:
        first = getattr(value, begins, None)
        if first is not None:
            return days(first, getattr(value, ends, None) if ends else None)
    return NO_DAYS


def seen_on(inscription: Inscription, work: Work) -> tuple[str, Corners]:
    """The photograph on which an inscription was framed, and the part of it; "" where on none."""
    digests = {photo.id: photo.sha256 for photo in work.photos}
    for region in inscription.regions:
        if digest := digests.get(region.photo):
            return digest, region.corners
    return shown_by(inscription.id, work)


def shown_by(value: str, work: Work) -> tuple[str, Corners]:
    """The first photograph that was taken for a value, as a whole; "" where there is none."""
    for photo in work.photos:
        if value in photo.about and photo.sha256:
            return photo.sha256, ()
    return "", ()


def is_private(*visibilities: str) -> bool:
    """Whether any of these keeps something in the house."""
    return any(each != OPEN for each in visibilities)


def first(texts: tuple[str, ...] | list[str]) -> str:
    """The first text, "" of none."""
    return texts[0] if texts else ""
