"""A scale of years: from days to places on a line, and the years at which to write a figure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from catalogue.measure import Day

_STEPS: Final = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000)
_DAYS_IN_YEAR: Final = 365.2425


@dataclass(frozen=True, slots=True)
class YearScale:
    """The years from `first` to `last`, both whole, on a line from `left` to `right`."""

    first: int
    last: int
    left: float
    right: float

    def at(self, day: Day) -> float:
        """Where a day lies; one outside the scale lies at its end.

        >>> YearScale(1900, 1909, 0, 100).at(Day(1905, 1, 1))
        50.0
        """
        start, end = Day(self.first, 1, 1).ordinal, Day(self.last + 1, 1, 1).ordinal
        share = (day.ordinal - start) / (end - start)
        return self.left + (self.right - self.left) * round(min(max(share, 0.0), 1.0), 3)

    def holds(self, day: Day) -> bool:
        """Whether a day lies on the scale."""
        return self.first <= day.year <= self.last

    def ticks(self, most: int = 9) -> list[int]:
        """Round years, so few that their figures don't touch.

        >>> YearScale(1897, 1942, 0, 1).ticks()
        [1900, 1910, 1920, 1930, 1940]
        """
        years = self.last - self.first + 1
        step = next((step for step in _STEPS if years / step <= most), _STEPS[-1])
        return list(range(-(-self.first // step) * step, self.last + 1, step))


def scale_for(
    days: Iterable[Day], left: float, right: float, around: tuple[Day, Day] | None = None
) -> YearScale:
    """A scale on which these days lie, with room at both ends.

    Days that lie so far from `around`, the span that is asked about, that it would shrink to a
    speck are left outside.

    >>> scale = scale_for([Day(1917, 3, 1), Day(1938, 12, 31)], 0, 100)
    >>> scale.first, scale.last
    (1914, 1941)
    """
    known = sorted(days)
    if around:
        width = max((around[1].ordinal - around[0].ordinal) / _DAYS_IN_YEAR, 10)
        nearest, farthest = around[0].year - 4 * width, around[1].year + 4 * width
        known = [day for day in known if nearest <= day.year <= farthest] + list(around)
    if not known:
        return YearScale(1850, 2000, left, right)
    first, last = min(known).year, max(known).year
    room = max(3, (last - first) // 7)
    return YearScale(first - room, last + room + (last == first), left, right)
