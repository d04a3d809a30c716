"""EDTF strings to bounds: levels 0 and 1, and of level 2 what catalogues hold.

Source: Library of Congress, Extended Date/Time Format specification, 4 February 2019 (ISO
8601-2:2019). Of level 2: sets, unspecified figures anywhere, signs on single parts, exponents and
significant figures of years, divisions of a year. EDTF gives signs no width: here a year marked `~`
or `%` reaches `circa` years either way, a month or day one month; an end of an interval keeps its
own bounds (UC San Diego visual-resources date guide on "ca. 1623-1666").
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from catalogue.measure.days import DateSpan, Day, days_in
from catalogue.measure.words import division

Bounds = tuple[Day | None, Day | None]

_DATE = re.compile(
    r"(-?[0-9X]{4})(?:-([0-9X]{2})(?:-([0-9X]{2})(?:T([0-9:]{8})(Z|[+-][0-9]{2}(?::?[0-9]{2})?)?)?)?)?"
)
_TIME = re.compile(r"(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]|24:00:00")
_LONG_YEAR = re.compile(r"(Y?)(-?[0-9]+)(?:E([0-9]{1,2}))?(?:S([1-9][0-9]?))?")
_PART = re.compile(r"[?~%]?[0-9X]+[?~%]?")
_SIGNS = re.compile(r"[?~%]")
_OPEN = ("", "..")
_FARTHEST = 10**10


class NotADate(ValueError):
    """Why a text is no date, in words."""


def read_edtf(text: str, circa: int = 5) -> DateSpan | None:
    """The span of an EDTF string, None when it is none; a year marked `~` or `%` is widened.

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
    if len(text) > 200:
        raise NotADate("this is too long for a date")
    if text[:1] in ("[", "{"):
        return _set(text)
    if "/" in text:
        return _interval(text)
    return _date(text, circa)


def _interval(text: str) -> Bounds:
    start, _, end = text.partition("/")
    if "/" in end or (start in _OPEN and end in _OPEN):
        raise NotADate(f"{text!r} is not an interval")
    earliest = None if start in _OPEN else _date(start, 0)[0]
    latest = None if end in _OPEN else _date(end, 0)[1]
    return _in_order(text, earliest, latest)


def _in_order(text: str, earliest: Day | None, latest: Day | None) -> Bounds:
    if earliest and latest and earliest > latest:
        raise NotADate(f"{text!r} ends ({latest.iso}) before it begins ({earliest.iso})")
    return earliest, latest


def _set(text: str) -> Bounds:
    if text[-1:] != {"[": "]", "{": "}"}[text[0]]:
        raise NotADate(f"{text!r} opens one way and closes another")
    earliest: list[Day] = []
    latest: list[Day] = []
    members = [each.strip() for each in text[1:-1].split(",")]
    open_start = open_end = False
    for place, member in enumerate(members):
        first, dots, last = member.partition("..")
        open_start |= bool(dots) and not first
        open_end |= bool(dots) and not last
        if (dots and not first and place > 0) or (
            dots and not last and place < len(members) - 1
        ):
            raise NotADate(f"{text!r}: only the first member may lack a start, the last an end")
        if not first and not last:
            raise NotADate(f"{text!r} has an empty member")
        starts = _date(first, 0)[0] if first else None
        ends = _date(last or first, 0)[1] if last or not dots else None
        _in_order(member, starts, ends)
        earliest += [starts] if starts else []
        latest += [ends] if ends else []
    return None if open_start else min(earliest), None if open_end else max(latest)


def _date(text: str, circa: int) -> tuple[Day, Day]:
    found = _DATE.fullmatch(_SIGNS.sub("", text))
    if not found or not _signs_stand_well(text):
        return _far_year(text)
    year, month, day, time, _ = found.groups()
    if year == "-0000" or (time and not _TIME.fullmatch(time)):
        raise NotADate(f"{text!r} is not a date in EDTF")
    earliest, latest = _unspecified(text, year, month, day)
    if text[-1] in "~%":
        if month is None or month == "XX":
            return earliest.years_on(-circa), latest.years_on(circa)
        width = 1 if circa else 0
        return _months_on(earliest, -width), _months_on(latest, width)
    return earliest, latest


def _signs_stand_well(text: str) -> bool:
    """A sign stands once before or after a part, never twice, and never with a time."""
    if "T" in text:
        return not _SIGNS.search(text)
    return all(_PART.fullmatch(part) for part in text.removeprefix("-").split("-"))


def _months_on(day: Day, months: int) -> Day:
    if not months:
        return day
    first = day.first_of_month(months)
    at_end = day.day == days_in(day.year, day.month)
    last = days_in(first.year, first.month)
    return Day(first.year, first.month, last if at_end else min(day.day, last))


def _far_year(text: str) -> tuple[Day, Day]:
    """Years with Y, exponents and significant figures: Y170000002, Y17E8, 1950S2."""
    found = _LONG_YEAR.fullmatch(_SIGNS.sub("", text)) if len(text) < 30 else None
    if (
        not found
        or (not found[1] and len(found[2].lstrip("-")) != 4)
        or not (found[1] or found[4])
    ):
        raise NotADate(f"{text!r} is not a date in EDTF")
    year = int(found[2]) * 10 ** int(found[3] or 0)
    if abs(year) >= _FARTHEST:
        raise NotADate(f"the year {found[2]} lies too far away to be kept")
    figures = len(str(abs(year)))
    if found[4] and int(found[4]) < figures:
        unit = 10 ** (figures - int(found[4]))
        first = abs(year) // unit * unit
        years = (first, first + unit - 1) if year >= 0 else (-first - unit + 1, -first)
        return Day(years[0], 1, 1), Day(years[1], 12, 31)
    return Day(year, 1, 1), Day(year, 12, 31)


def _unspecified(text: str, year: str, month: str | None, day: str | None) -> tuple[Day, Day]:
    """The first and last day that the figures leave open, X being any figure."""
    years = sorted((int(year.replace("X", "0")), int(year.replace("X", "9"))))
    if "X" in year.rstrip("X").lstrip("-"):
        # A figure follows an X, as in 1X5X: few enough to look at one by one.
        pattern = re.compile(year.replace("X", "[0-9]"))
        fitting = [
            each for each in range(years[0], years[1] + 1) if pattern.fullmatch(_four(each))
        ]
        years = [fitting[0], fitting[-1]]
    if month is None:
        return Day(years[0], 1, 1), Day(years[1], 12, 31)
    if month.isdigit() and int(month) > 12 and day is None:
        return _division(text, years[0], years[1], int(month))
    months = [each for each in range(1, 13) if _fits(month, each)]
    if not months:
        raise NotADate(f"there is no month {month}")
    first = next(_days(years[0], 1, years[1], months, day or "XX"), None)
    last = next(_days(years[1], -1, years[0], months[::-1], day or "XX"), None)
    if first is None or last is None:
        written = "-".join((year, month, day or ""))
        raise NotADate(f"there is no day {written}")
    return first, last


def _four(year: int) -> str:
    return f"-{-year:04d}" if year < 0 else f"{year:04d}"


def _fits(figures: str, number: int) -> bool:
    written = f"{number:02d}"
    return all(figure in ("X", its) for figure, its in zip(figures, written, strict=True))


def _days(start: int, step: int, end: int, months: list[int], day: str) -> Iterator[Day]:
    """Days that fit, from the start year on; leap years come round within eight years."""
    for year in range(start, end + step, step)[:9]:
        for month in months:
            fitting = [each for each in range(1, days_in(year, month) + 1) if _fits(day, each)]
            yield from (Day(year, month, each) for each in fitting[::step])


def _division(text: str, first: int, last: int, number: int) -> tuple[Day, Day]:
    months = division(number)
    if months is None:
        raise NotADate(f"there is no month {number}, and no season")
    start, end = months
    ends = last + (end < start)
    return Day(first, start, 1), Day(ends, end, days_in(ends, end))
