"""EDTF → the first and last day that it may mean.

EDTF gives its signs no width. Here a date under `~` or `%` reaches `circa` years either way, one
whose month or day is under them a month; `?` doubts and widens nothing; the ends of an interval and
the members of a set keep their own bounds (UC San Diego visual-resources date guide, on "ca.
1623-1666"). A day with a time zone stays the day that was written.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from catalogue.measure.days import DateSpan, Day, NotADate, days_in
from catalogue.measure.edtf import (
    Date,
    Edtf,
    Interval,
    LongYear,
    Missing,
    Run,
    Several,
    Single,
    parse,
)
from catalogue.measure.words import division

FARTHEST = 9999
"""Bounds are kept for the years -9999 to 9999."""
_LEAP = 2000
TOO_FAR = "edtf: beyond the years -9999 to 9999, where no bounds are kept"


class Bounds(NamedTuple):
    """The first and last day, None where there is none to give, and the rule that made them."""

    earliest: Day | None
    latest: Day | None
    rule: str = "edtf"


def read_edtf(text: str, circa: int = 5) -> DateSpan | None:
    """The span of an EDTF string, None when it is none; a date under `~` or `%` is widened.

    >>> read_edtf("188X").earliest.iso, read_edtf("1907/..").latest
    ('1880-01-01', None)
    >>> read_edtf("Y17E8").rule
    'edtf: beyond the years -9999 to 9999, where no bounds are kept'
    """
    try:
        earliest, latest, rule = bounds(parse(text), circa)
    except NotADate:
        return None
    return DateSpan(written=text, edtf=text, earliest=earliest, latest=latest, rule=rule)


def bounds(edtf: Edtf, circa: int) -> Bounds:
    """The first and last day of what `parse` gave. Raises `NotADate` where there is no such day.

    >>> bounds(parse("1610~"), circa=5).earliest.iso
    '1605-01-01'
    """
    if isinstance(edtf, Interval):
        earliest, latest = _interval(edtf)
    elif isinstance(edtf, Several):
        earliest, latest = _several(edtf)
    else:
        earliest, latest = _widened(edtf, circa)
    far = [day for day in (earliest, latest) if day and abs(day.year) > FARTHEST]
    return Bounds(
        None if earliest in far else earliest,
        None if latest in far else latest,
        TOO_FAR if far else "edtf",
    )


def _interval(interval: Interval) -> tuple[Day | None, Day | None]:
    start, end = interval.start, interval.end
    return _in_order(
        interval,
        None if isinstance(start, Missing) else _days(start)[0],
        None if isinstance(end, Missing) else _days(end)[1],
    )


def _in_order(
    edtf: object, earliest: Day | None, latest: Day | None
) -> tuple[Day | None, Day | None]:
    if earliest and latest and earliest > latest:
        raise NotADate(f"{str(edtf)!r} ends ({latest.iso}) before it begins ({earliest.iso})")
    return earliest, latest


def _several(several: Several) -> tuple[Day | None, Day | None]:
    earliest: list[Day] = []
    latest: list[Day] = []
    open_start = open_end = False
    for member in several.members:
        if isinstance(member, Run):
            starts = _days(member.first)[0] if member.first else None
            ends = _days(member.last)[1] if member.last else None
            _in_order(member, starts, ends)
        else:
            starts, ends = _days(member)
        open_start |= starts is None
        open_end |= ends is None
        earliest += [starts] if starts else []
        latest += [ends] if ends else []
    return None if open_start else min(earliest), None if open_end else max(latest)


def _widened(date: Single, circa: int) -> tuple[Day, Day]:
    earliest, latest = _days(date)
    if isinstance(date, LongYear):
        about_year, about_month = date.sign in ("~", "%"), False
    else:
        about_year, *finer = date.signed("~%")
        about_month = any(finer) and not (date.month and date.month.figures == "XX")
    if about_month and circa:
        return _months_on(earliest, -1), _months_on(latest, 1)
    if about_year and not about_month:
        return earliest.years_on(-circa), latest.years_on(circa)
    return earliest, latest


def _months_on(day: Day, months: int) -> Day:
    first = day.first_of_month(months)
    at_end = day.day == days_in(day.year, day.month)
    last = days_in(first.year, first.month)
    return Day(first.year, first.month, last if at_end else min(day.day, last))


def _days(date: Single) -> tuple[Day, Day]:
    """The first and last day of one date, whatever its signs, X being any figure."""
    if isinstance(date, LongYear):
        first, last = _long_years(date)
    else:
        first, last = _years(date.year.figures)
        if date.month:
            return _days_of_months(date, first, last)
    return Day(first, 1, 1), Day(last, 12, 31)


def _long_years(date: LongYear) -> tuple[int, int]:
    year = date.year
    unit = 1
    if date.significant:
        unit = 10 ** max(len(str(abs(year))) - int(date.significant), 0)
    first = abs(year) // unit * unit
    last = first + unit - 1
    return (-last, -first) if date.below_zero else (first, last)


def _years(figures: str) -> tuple[int, int]:
    """The first and last year that fit: 156X, 1X5X, -05XX (there is no year -0000)."""
    below_zero = figures[0] == "-"
    lowest, highest = int(figures.replace("X", "0")), int(figures.replace("X", "9"))
    return (highest, min(lowest, -1)) if below_zero else (lowest, highest)


def _days_of_months(date: Date, first: int, last: int) -> tuple[Day, Day]:
    month = date.month.figures if date.month else ""
    if month.isdigit() and int(month) > 12 and not date.day:
        return _division(first, last, int(month))
    months = [number for number in range(1, 13) if _fits(month, number)]
    if not months:
        raise NotADate(f"there is no month {month}")
    day = date.day.figures if date.day else "XX"
    if not any(_fits(day, each) for month in months for each in _of_month(_LEAP, month, 1)):
        raise _no_day(date)
    fitting = re.compile(date.year.figures.replace("X", "[0-9]"))
    earliest = next(_fitting_days(range(first, last + 1), fitting, months, day, 1), None)
    latest = next(
        _fitting_days(range(last, first - 1, -1), fitting, months[::-1], day, -1), None
    )
    if earliest is None or latest is None:
        raise _no_day(date)
    return earliest, latest


def _no_day(date: Date) -> NotADate:
    parts = (part.figures for part in (date.year, date.month, date.day) if part)
    return NotADate(f"there is no day {'-'.join(parts)}")


def _fits(figures: str, number: int) -> bool:
    return all(
        figure in ("X", its) for figure, its in zip(figures, f"{number:02d}", strict=True)
    )


def _fitting_days(
    years: range, fitting: re.Pattern[str], months: list[int], day: str, step: int
) -> Iterator[Day]:
    """The days that fit, in the order of the years given: 29 February may be years away.

    Only the days of a pattern like 1X0X-02-29 need more than a look at a few years.
    """
    for year in years:
        if fitting.fullmatch(f"-{-year:04d}" if year < 0 else f"{year:04d}"):
            for month in months:
                fit = (each for each in _of_month(year, month, step) if _fits(day, each))
                yield from (Day(year, month, each) for each in fit)


def _of_month(year: int, month: int, step: int) -> range:
    last = days_in(year, month)
    return range(1, last + 1) if step > 0 else range(last, 0, -1)


def _division(first: int, last: int, number: int) -> tuple[Day, Day]:
    months = division(number)
    if months is None:
        raise NotADate(f"there is no month {number}, and no season")
    start, end = months
    ends = last + (end < start)
    return Day(first, start, 1), Day(ends, end, days_in(ends, end))
