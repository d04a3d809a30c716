"""Spans of days that may be open at an end, and several of them where evidence leaves a choice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from catalogue.measure import Day


@dataclass(frozen=True, slots=True)
class Interval:
    """From the first to the last day, both in it; None = open at that end."""

    earliest: Day | None = None
    latest: Day | None = None

    def __post_init__(self) -> None:
        if self.earliest and self.latest and self.earliest > self.latest:
            raise ValueError(
                f"a span cannot end ({self.latest.iso}) before it begins ({self.earliest.iso})"
            )

    def within(self, other: Interval) -> Interval | None:
        """The days that both have, None when there are none.

        >>> first, second = Interval(Day(1917, 3, 1)), Interval(None, Day(1922, 12, 31))
        >>> first.within(second)
        Interval(earliest=Day(year=1917, month=3, day=1), latest=Day(year=1922, month=12, day=31))
        >>> Interval(Day(1923, 1, 1)).within(second) is None
        True
        """
        starts = [day for day in (self.earliest, other.earliest) if day]
        ends = [day for day in (self.latest, other.latest) if day]
        earliest = max(starts) if starts else None
        latest = min(ends) if ends else None
        if earliest and latest and earliest > latest:
            return None
        return Interval(earliest, latest)


Spans = tuple[Interval, ...]
"""Several intervals, in order and apart; none at all means that no day is possible."""

ALWAYS: Spans = (Interval(),)


def either(intervals: Iterable[Interval]) -> Spans:
    """Every day that one of them has: in order, those that touch made one.

    >>> reigns = either([Interval(Day(1952, 2, 6)), Interval(Day(1901, 1, 22), Day(1952, 2, 6))])
    >>> [(span.earliest.iso, span.latest) for span in reigns]
    [('1901-01-22', None)]
    """
    found: list[Interval] = []
    for each in sorted(intervals, key=_start):
        last = found[-1] if found else None
        if last is None or (
            last.latest and each.earliest and each.earliest > last.latest.beside(1)
        ):
            found.append(each)
        elif last.latest and (each.latest is None or each.latest > last.latest):
            found[-1] = Interval(last.earliest, each.latest)
    return tuple(found)


def both(first: Spans, second: Spans) -> Spans:
    """Every day that is in both."""
    met = (one.within(other) for one in first for other in second)
    return either(each for each in met if each)


def _start(interval: Interval) -> tuple[bool, Day]:
    """Open beginnings first."""
    day = interval.earliest
    return (day is not None, day or Day(1, 1, 1))
