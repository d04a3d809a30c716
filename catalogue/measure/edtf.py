"""EDTF strings to bounds: levels 0 and 1, and of level 2 the sets and significant digits.

Source: Library of Congress, Extended Date/Time Format specification, 4 February 2019.
"""

from __future__ import annotations

import re

from catalogue.measure.days import DateSpan, Day, days_in
from catalogue.measure.words import table

Bounds = tuple[Day | None, Day | None]

_DATE = re.compile(r"(-?[0-9X]{4})(?:-([0-9X]{2})(?:-([0-9X]{2}))?)?([?~%]?)")
_LONG_YEAR = re.compile(r"Y(-?\d{5,})")
_SIGNIFICANT = re.compile(r"(-?\d{4})S([1-3])")


class NotADate(ValueError):
    """Why a text is no date, in words."""


def read_edtf(text: str, circa: int = 5) -> DateSpan | None:
    """The span of an EDTF string, None when it is none; `~` and `%` widen by `circa` years.

    >>> read_edtf("188X").earliest.iso, read_edtf("1907/..").latest
    ('1880-01-01', None)
    """
    try:
        earliest, latest = bounds(text, circa)
    except NotADate:
        return None
    return DateSpan(written=text, edtf=text, earliest=earliest, latest=latest, rule="edtf")


def bounds(text: str, circa: int) -> Bounds:
    """The first and last day of an EDTF string. Raises `NotADate`."""
    if text[:1] in "[{" and text[-1:] in "]}" and text:
        return _set(text, circa)
    if "/" in text:
        return _interval(text, circa)
    return _date(text, circa)


def _interval(text: str, circa: int) -> Bounds:
    start, slash, end = text.partition("/")
    if "/" in end or (start in ("", "..") and end in ("", "..")):
        raise NotADate(f"{text!r} is not an interval")
    earliest = None if start in ("", "..") else _date(start, circa)[0]
    latest = None if end in ("", "..") else _date(end, circa)[1]
    if earliest and latest and earliest > latest:
        raise NotADate(f"{text!r} ends before it begins")
    return earliest, latest


def _set(text: str, circa: int) -> Bounds:
    if (text[0] == "[") != (text[-1] == "]"):
        raise NotADate(f"{text!r} opens one way and closes another")
    earliest: list[Day | None] = []
    latest: list[Day | None] = []
    for member in (each.strip() for each in text[1:-1].split(",")):
        first, dots, last = member.partition("..")
        if not member or member == "..":
            raise NotADate(f"{text!r} has an empty member")
        earliest.append(_date(first, circa)[0] if first else None)
        latest.append(_date(last or first, circa)[1] if (last or not dots) else None)
        if first and last and earliest[-1] and latest[-1] and earliest[-1] > latest[-1]:
            raise NotADate(f"{member!r} ends before it begins")
    return (
        None if None in earliest else min(day for day in earliest if day),
        None if None in latest else max(day for day in latest if day),
    )


def _date(text: str, circa: int) -> Bounds:
    long_year = _LONG_YEAR.fullmatch(text)
    if long_year:
        far = int(long_year[1])
        return Day(far, 1, 1), Day(far, 12, 31)
    significant = _SIGNIFICANT.fullmatch(text)
    if significant:
        unit = 10 ** (4 - int(significant[2]))
        start = int(significant[1]) // unit * unit
        return Day(start, 1, 1), Day(start + unit - 1, 12, 31)
    found = _DATE.fullmatch(text)
    if not found or found[1].startswith("X") or re.search(r"X\d", found[1]):
        raise NotADate(f"{text!r} is not a date in EDTF")
    year, month, day, sign = found.groups()
    earliest, latest = _plain(year, month, day)
    if sign in ("~", "%"):
        return _moved(earliest, -circa), _moved(latest, circa)
    return earliest, latest


def _plain(year: str, month: str | None, day: str | None) -> tuple[Day, Day]:
    first, last = int(year.replace("X", "0")), int(year.replace("X", "9"))
    if first > last:
        first, last = last, first
    try:
        if month is None or month == "XX":
            return Day(first, 1, 1), Day(last, 12, 31)
        if month.isdigit() and 21 <= int(month) <= 24 and day is None:
            return _season(first, int(month))
        number = int(month)
        if day is None or day == "XX":
            return Day(first, number, 1), Day(last, number, days_in(last, number))
        return Day(first, number, int(day)), Day(last, number, int(day))
    except (ValueError, IndexError) as refused:
        raise NotADate(
            str(refused) if isinstance(refused, ValueError) else f"there is no month {month}"
        ) from None


def _season(year: int, number: int) -> tuple[Day, Day]:
    for code, start, end in table()["seasons"].values():
        if code == number:
            ends = year + (end < start)
            return Day(year, start, 1), Day(ends, end, days_in(ends, end))
    raise NotADate(f"there is no season {number}")


def _moved(day: Day, years: int) -> Day:
    year = day.year + years
    return Day(year, day.month, min(day.day, days_in(year, day.month)))
