"""Days and spans of days: proleptic Gregorian, astronomical years (1 BC is year 0)."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass


class NotADate(ValueError):
    """Why a text is no date, in words."""


_ISO = re.compile(r"(-?[0-9]{4,})-([0-9]{2})-([0-9]{2})")
_CYCLE_YEARS, _CYCLE_DAYS = 400, 146_097
_MONTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def days_in(year: int, month: int) -> int:
    """How many days a month has.

    >>> days_in(1900, 2), days_in(2000, 2)
    (28, 29)
    """
    leap = month == 2 and year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return _MONTHS[month - 1] + leap


@dataclass(frozen=True, slots=True, order=True)
class Day:
    """One day; years before 1 are 0 and negative. Refuses days that never were."""

    year: int
    month: int
    day: int

    def __post_init__(self) -> None:
        if not 1 <= self.month <= 12 or not 1 <= self.day <= days_in(self.year, self.month):
            raise ValueError(f"there is no day {self._written}")

    @property
    def _written(self) -> str:
        sign = "-" if self.year < 0 else ""
        return f"{sign}{abs(self.year):04d}-{self.month:02d}-{self.day:02d}"

    @classmethod
    def from_iso(cls, text: str) -> Day:
        """The day written 1887-03-01 (or -0043-03-15). Raises ValueError."""
        found = _ISO.fullmatch(text)
        if (
            not found
            or found[1] == "-0000"
            or (len(found[1].lstrip("-")) > 4 and found[1].lstrip("-")[0] == "0")
        ):
            raise ValueError(f"{text!r} is not a day written 1887-03-01")
        return cls(int(found[1]), int(found[2]), int(found[3]))

    @property
    def iso(self) -> str:
        """The day as ISO 8601 writes it; a year past 9999 has as many figures as it needs.

        >>> Day(-43, 3, 15).iso
        '-0043-03-15'
        """
        return self._written

    @property
    def ordinal(self) -> int:
        """Days since 31 December of year 0: 1 January of year 1 is 1, for any year.

        >>> Day(1, 1, 1).ordinal, Day(1970, 1, 1).ordinal
        (1, 719163)
        """
        before = self.year - 1
        days = before * 365 + before // 4 - before // 100 + before // 400
        return (
            days + sum(days_in(self.year, month) for month in range(1, self.month)) + self.day
        )

    @classmethod
    def from_ordinal(cls, ordinal: int) -> Day:
        """The day of that ordinal, for any year.

        >>> Day.from_ordinal(719163).iso, Day.from_ordinal(0).iso
        ('1970-01-01', '0000-12-31')
        """
        cycles, within = divmod(ordinal - 1, _CYCLE_DAYS)
        # 400 years of the calendar are one cycle, within which datetime counts the same
        day = datetime.date.fromordinal(within + 1)
        return cls(day.year + cycles * _CYCLE_YEARS, day.month, day.day)

    def beside(self, step: int) -> Day:
        """The day after (1) or the day before (-1).

        >>> Day(1900, 2, 28).beside(1).iso, Day(1, 1, 1).beside(-1).iso
        ('1900-03-01', '0000-12-31')
        """
        if step > 0:
            if self.day < days_in(self.year, self.month):
                return Day(self.year, self.month, self.day + 1)
            return self.first_of_month(1)
        if self.day > 1:
            return Day(self.year, self.month, self.day - 1)
        before = self.first_of_month(-1)
        return Day(before.year, before.month, days_in(before.year, before.month))

    def first_of_month(self, months: int) -> Day:
        """The first of the month so many months from this one."""
        year, month = divmod(self.year * 12 + self.month - 1 + months, 12)
        return Day(year, month + 1, 1)

    def years_on(self, years: int) -> Day:
        """The same day so many years on; 29 February becomes the 28th where there is none."""
        year = self.year + years
        return Day(year, self.month, min(self.day, days_in(year, self.month)))


@dataclass(frozen=True, slots=True, kw_only=True)
class DateSpan:
    """When something was: as written, as EDTF, and as the first and last day it may have been.

    A bound of None is open. `rule` names what made the bounds.
    """

    written: str
    edtf: str
    earliest: Day | None
    latest: Day | None
    rule: str

    def __post_init__(self) -> None:
        if self.earliest and self.latest and self.earliest > self.latest:
            raise ValueError(
                f"a span cannot end ({self.latest.iso}) before it begins ({self.earliest.iso})"
            )

    def overlaps(self, other: DateSpan) -> bool:
        """Whether there is a day that both may mean.

        >>> from catalogue.measure import read_date
        >>> read_date("before 1907").overlaps(read_date("c. 1900"))
        True
        """
        return overlaps(self, other)

    def lies_within(self, window: DateSpan) -> bool:
        """Whether every day that this may mean lies in the window.

        >>> from catalogue.measure import read_date
        >>> window = read_date("1933-1945")
        >>> read_date("1936").lies_within(window), read_date("after 1940").lies_within(window)
        (True, False)
        """
        begins = window.earliest is None or (
            self.earliest is not None and window.earliest <= self.earliest
        )
        ends = window.latest is None or (
            self.latest is not None and self.latest <= window.latest
        )
        return begins and ends


def overlaps(a: DateSpan, b: DateSpan) -> bool:
    """Whether there is a day that both spans may mean; a bound of None is open."""
    return not (
        (a.earliest and b.latest and b.latest < a.earliest)
        or (b.earliest and a.latest and a.latest < b.earliest)
    )
