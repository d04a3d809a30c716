"""How much of a window of years the chain of hands accounts for: days proven, possible, and neither.

A day is proven where somebody certainly had the painting, possible where the dates allow it, and else
nobody is known. The figures say how far the records reach; they accuse nobody and certify nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from catalogue.argument.chain import words
from catalogue.argument.chain.passages import length
from catalogue.argument.chain.tenures import UNSAID, Tenure
from catalogue.argument.chain.windows import Window
from catalogue.argument.spans import Interval
from catalogue.measure import DateSpan, Day

Known = Literal["proven", "possible", "nobody"]
Level = Literal["accounted", "partly", "open", "not-concerned"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """Days on end that are known alike; `tenures` are those who had it, or may have."""

    days: Interval
    known: Known
    tenures: tuple[Tenure, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage:
    """How much of a window is accounted for. `possible_days` are those on which somebody had it or may have.

    `unsaid_days` are possible only because no beginning or no end is on record. `counted` is the
    part of the window that was looked at: not before the painting was made.
    """

    window: Window
    level: Level
    counted: Interval | None
    stretches: tuple[Stretch, ...] = ()
    days: int = 0
    proven_days: int = 0
    possible_days: int = 0
    unsaid_days: int = 0

    @property
    def nobody_days(self) -> int:
        """The days on which nobody is known to have had it."""
        return self.days - self.possible_days

    @property
    def proven_percent(self) -> float:
        """The share of the days that is proven, to a tenth."""
        return self._percent(self.proven_days)

    @property
    def possible_percent(self) -> float:
        """The share of the days that is possible or proven, to a tenth."""
        return self._percent(self.possible_days)

    @property
    def nobody_percent(self) -> float:
        """The share of the days on which nobody is known, to a tenth."""
        return self._percent(self.nobody_days)

    def _percent(self, days: int) -> float:
        return round(100 * days / self.days, 1) if self.days else 0.0

    def open_stretches(self) -> tuple[Stretch, ...]:
        """The stretches on which nobody is known to have had it."""
        return tuple(each for each in self.stretches if each.known == "nobody")

    def says(self) -> tuple[str, ...]:
        """The coverage in words; the last sentence always says what a gap is not."""
        return tuple(_says(self))


def coverage(tenures: Iterable[Tenure], over: Window, made: DateSpan | None = None) -> Coverage:
    """How much of a window these holdings account for.

    >>> from catalogue.argument.chain.windows import window
    >>> morvane = Tenure(event="", number="E2", name="Morvane", hold="presence",
    ...     began=Interval(Day(1937, 1, 1), Day(1937, 12, 31)),
    ...     ended=Interval(Day(1938, 1, 1), Day(1938, 12, 31)))
    >>> found = coverage([morvane], window("europe-1933"))
    >>> found.proven_days, found.possible_days, found.level
    (2, 730, 'open')
    """
    if not over.concerns(made):
        return Coverage(window=over, level="not-concerned", counted=None)
    first = made.earliest if made and made.earliest else over.first
    counted = Interval(max(first, over.first), over.last)
    stretches = tuple(_stretches(tuple(tenures), counted))
    days = length(counted)
    proven = sum(length(each.days) for each in stretches if each.known == "proven")
    possible = sum(length(each.days) for each in stretches if each.known != "nobody")
    unsaid = sum(
        length(each.days)
        for each in stretches
        if each.known == "possible" and not any(_said(it, each.days) for it in each.tenures)
    )
    level: Level = (
        "accounted" if proven == days else "partly" if possible - unsaid == days else "open"
    )
    return Coverage(
        window=over,
        level=level,
        counted=counted,
        stretches=stretches,
        days=days,
        proven_days=proven,
        possible_days=possible,
        unsaid_days=unsaid,
    )


def _stretches(tenures: Sequence[Tenure], counted: Interval) -> Iterator[Stretch]:
    """The window cut wherever somebody's days begin or end, and pieces that are alike put together."""
    spans = [
        (
            each,
            each.perhaps and each.perhaps.within(counted),
            each.proven and each.proven.within(counted),
        )
        for each in tenures
    ]
    cuts = {
        day.ordinal
        for day in (counted.earliest, counted.latest and counted.latest.beside(1))
        if day
    }
    begins: dict[int, list[int]] = {}
    ends: dict[int, list[int]] = {}
    for place, (_, perhaps, proven) in enumerate(spans):
        for span in (perhaps, proven):
            if span and span.earliest and span.latest:
                cuts |= {span.earliest.ordinal, span.latest.ordinal + 1}
        if perhaps and perhaps.earliest and perhaps.latest:
            begins.setdefault(perhaps.earliest.ordinal, []).append(place)
            ends.setdefault(perhaps.latest.ordinal + 1, []).append(place)
    order, there = sorted(cuts), set[int]()
    last: Stretch | None = None
    for start, behind in pairwise(order):
        there.difference_update(ends.get(start, ()))
        there.update(begins.get(start, ()))
        here = Interval(Day.from_ordinal(start), Day.from_ordinal(behind - 1))
        sure = [place for place in there if _has(spans[place][2], start)]
        known: Known = "proven" if sure else "possible" if there else "nobody"
        held = tuple(tenures[place] for place in sorted(sure or there))
        piece = Stretch(here, known, held)
        if last and (last.known, last.tenures) == (piece.known, piece.tenures):
            last = Stretch(Interval(last.days.earliest, here.latest), known, held)
        else:
            if last:
                yield last
            last = piece
    if last:
        yield last


def _has(days: Interval | None, ordinal: int) -> bool:
    return bool(
        days
        and days.earliest
        and days.latest
        and days.earliest.ordinal <= ordinal <= days.latest.ordinal
    )


def _said(each: Tenure, days: Interval) -> bool:
    """Whether the record itself says a beginning and an end that let somebody have had it then."""
    first, last = each.said_began.earliest, each.said_ended.latest
    if first and last is None and each.said_ended == UNSAID and each.direct:
        last = each.ended.latest
    return bool(
        first and last and days.earliest and days.latest
        and first <= days.earliest and days.latest <= last
    )  # fmt: skip


def _says(each: Coverage) -> Iterator[str]:
    figures = {
        "proven": each.proven_percent,
        "possible": each.possible_percent,
        "nobody": each.nobody_percent,
    }
    counts = {
        "proven_days": words.days(each.proven_days),
        "possible_days": words.days(each.possible_days),
        "nobody_days": words.days(each.nobody_days),
    }
    which = "open-unsaid" if each.level == "open" and not each.nobody_days else each.level
    yield words.say(
        "coverage",
        which,
        days=words.days(each.days),
        proven=counts["proven_days"],
        nobody=counts["nobody_days"],
        unsaid=words.days(each.unsaid_days),
    )
    if each.level != "not-concerned":
        if each.counted and each.counted.earliest and each.counted.earliest > each.window.first:
            yield words.say("coverage", "from_made", first=words.day(each.counted.earliest))
        yield words.say("coverage", "figures", **figures, **counts)
        if each.nobody_days:
            spans = words.together(words.span(it.days) for it in each.open_stretches())
            yield words.say("coverage", "nobody", spans=spans)
        if each.unsaid_days and each.nobody_days:
            yield words.say("coverage", "unsaid", days=words.days(each.unsaid_days))
    yield words.say("coverage", "always")
