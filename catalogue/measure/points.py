"""One year, decade, century, season, month or day as people write it.

Each reader takes a match and gives what it found, or None when the form fits and the sense does not
(another form may). Widths and words come from vocab/dates.toml.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from typing import NamedTuple

from catalogue.measure.days import Day, NotADate, days_in
from catalogue.measure.edtf import parse
from catalogue.measure.edtf_days import bounds
from catalogue.measure.words import any_of, entries, listed, numbers, plain, table


class Found(NamedTuple):
    """What a phrase means. `vague`: the day lies somewhere in a span that only the width made."""

    edtf: str
    earliest: Day | None
    latest: Day | None
    rule: str
    vague: bool = False


Match = re.Match[str]
Reader = Callable[[Match], Found | None]

YEAR = "([0-9]{4})"
_ROMAN_MONTHS = {
    word: number
    for number, word in enumerate(
        ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"), 1
    )
}
_ROMAN = {"i": 1, "v": 5, "x": 10}


def years(edtf: str, first: int, last: int, rule: str) -> Found:
    """Whole years, both ends included."""
    if first > last:
        raise NotADate(f"it would end in {last}, before it begins in {first}")
    return Found(edtf, Day(first, 1, 1), Day(last, 12, 31), rule)


def span(first: int, last: int, rule: str) -> Found:
    """A span from one year to another."""
    return years(f"{first:04d}/{last:04d}", first, last, rule)


def full_year(first: str, last: str) -> int:
    """The year that 1885-86 or 1903-4 ends in."""
    return int(first[: 4 - len(last)] + last)


@cache
def _compiled() -> tuple[tuple[re.Pattern[str], Reader], ...]:
    return tuple((re.compile(form, re.IGNORECASE), reader) for form, reader in _forms())


def point(text: str) -> Found | None:
    """What one point in time means, None when no form fits. Raises `NotADate` with a reason.

    >>> point("early 1880s").edtf, point("XIX sec.").edtf
    ('1880/1883', '18XX')
    """
    for pattern, reader in _compiled():
        m = pattern.fullmatch(text)
        found = reader(m) if m else None
        if found:
            return found
    return None


def _forms() -> list[tuple[str, Reader]]:
    """Every form of one point in time with what reads it, the more particular first."""
    month, season = any_of(numbers("months")), any_of(numbers("seasons"))
    th, of = r"(?:st|nd|rd|th|er|\.)?", rf"(?:{listed('of')} )?"
    day = rf"([0-9]{{1,2}}){th}"
    century = listed("century")
    figures = r"([0-9]{1,2})(?:st|nd|rd|th|\.|e|er|ème|de|ste)?|([ivx]{1,5})(?:e|ème|°)?"
    which = rf"(?:{figures}|({any_of(numbers('ordinals'))}))"
    short = "'?([0-9]{2})"
    return [
        (YEAR, _year),
        (rf"([0-9]{{3}}0)(?:{any_of(table()['decade'])})|{listed('decade_lead')} ([0-9]{{3}}0)", _decade),
        (r"\[?([0-9]{3})-(\?)?\]?", _open_decade),
        (r"\[?([0-9]{2})--(\?)?\]?", _open_century),
        (rf"({any_of(entries('part'))})[ -]?{of}(.+)", _part),
        (rf"{which}[ -]?{century}|(?:{century}) ([ivx]{{1,5}})", _century),
        (rf"({season}),? {of}{YEAR}(?:[-/]([0-9]{{4}}|[0-9]{{2}}))?", _season),
        (rf"{day} {of}({month})\.?,? {of}{YEAR}", lambda m: _day(m[3], m[2], m[1])),
        (rf"({month})\.? {day},? {YEAR}", lambda m: _day(m[3], m[1], m[2])),
        (rf"{YEAR},? ({month})\.? {day}", lambda m: _day(m[1], m[2], m[3])),
        (rf"({month})\.?,? {of}{YEAR}|{YEAR},? ({month})\.?", _month),
        (rf"([0-9]{{1,2}})[ ./-]+({any_of(_ROMAN_MONTHS)})[ ./-]+{YEAR}", _roman),
        (rf"([0-9]{{1,2}})\. ?([0-9]{{1,2}})\. ?{YEAR}", _points),
        (rf"([0-9]{{1,2}})([-/])([0-9]{{1,2}})\2{YEAR}", _either_order),
        (rf"{YEAR}[./]([0-9]{{1,2}})[./]([0-9]{{1,2}})", lambda m: _one(m[1], m[2], m[3], "year first")),
        (rf"([0-9]{{1,2}})[./]{YEAR}", lambda m: _whole_month(int(m[2]), int(m[1]))),
        (
            rf"{day} {of}{month}\.?,? {short}|{month}\.? {day},? {short}"
            rf"|[0-9]{{1,2}}[ ./-]+(?:{any_of(_ROMAN_MONTHS)}|[0-9]{{1,2}})[ ./-]+{short}",
            _no_century,
        ),
    ]  # fmt: skip


def _year(m: Match) -> Found:
    return years(m[1], int(m[1]), int(m[1]), "year")


def _decade(m: Match) -> Found:
    first = int(m[1] or m[2])
    if first % 100 == 0:
        return years(f"{first // 100:02d}XX", first, first + 99, "hundreds: decade or century")
    return years(f"{first // 10:03d}X", first, first + 9, "decade")


def _open_decade(m: Match) -> Found:
    first = int(m[1]) * 10
    edtf = f"{first:04d}?/{first + 9:04d}?" if m[2] else f"{m[1]}X"
    return years(edtf, first, first + 9, "decade in brackets")


def _open_century(m: Match) -> Found:
    first = int(m[1]) * 100
    edtf = f"{first:04d}?/{first + 99:04d}?" if m[2] else f"{m[1]}XX"
    return years(edtf, first, first + 99, "century in brackets")


def _century(m: Match) -> Found | None:
    if m[1]:
        number = int(m[1])
    elif m[3]:
        number = numbers("ordinals")[plain(m[3])]
    else:
        number = _roman_number((m[2] or m[4]).lower())
    if not 1 <= number <= 21:
        raise NotADate(f"there is no {m[1] or m[2] or m[4]}. century to date paintings by")
    first = (number - 1) * 100
    return years(f"{number - 1:02d}XX", first, first + 99, "century")


def _roman_number(word: str) -> int:
    values = [_ROMAN[letter] for letter in word]
    pairs = zip(values, [*values[1:], 0], strict=True)
    return sum(-value if value < after else value for value, after in pairs)


def _part(m: Match) -> Found | None:
    entry = entries("part")[plain(m[1])]
    whole = point(m[2])
    return whole and _cut(entry, whole)


def _cut(entry: dict[str, list[int]], whole: Found) -> Found | None:
    """The part of a century, decade or year; None where the part is not defined of it."""
    start = whole.earliest
    unit = {"century": "century", "hundreds: decade or century": "century"}.get(
        whole.rule, whole.rule
    )
    if start is None or unit not in entry:
        return None
    first, last = entry[unit]
    if unit == "year":
        year = start.year
        edtf = f"{year:04d}-{first:02d}/{year:04d}-{last:02d}"
        end = Day(year, last, days_in(year, last))
        return Found(edtf, Day(year, first, 1), end, "part of a year")
    return span(start.year + first, start.year + last, f"part of a {unit}")


def _season(m: Match) -> Found | None:
    number = numbers("seasons")[plain(m[1])]
    year, ends = int(m[2]), m[3]
    if ends and (number != 24 or int(ends) != (year + 1) % 10 ** len(ends)):
        return None
    edtf = f"{year:04d}-{number}"
    return Found(edtf, *bounds(parse(edtf), 0)[:2], "season of the northern half")


def _one(year: str, month: int | str, day: str, rule: str = "day") -> Found:
    try:
        found = Day(int(year), int(month), int(day))
    except ValueError as refused:
        raise NotADate(str(refused)) from None
    return Found(found.iso, found, found, rule)


def _day(year: str, month: str, day: str) -> Found:
    return _one(year, numbers("months")[plain(month)], day)


def _month(m: Match) -> Found:
    return _whole_month(int(m[2] or m[3]), numbers("months")[plain(m[1] or m[4])])


def _whole_month(year: int, month: int) -> Found:
    if not 1 <= month <= 12:
        raise NotADate(f"there is no month {month}")
    last = Day(year, month, days_in(year, month))
    return Found(f"{year:04d}-{month:02d}", Day(year, month, 1), last, "month")


def _roman(m: Match) -> Found:
    return _one(m[3], _ROMAN_MONTHS[m[2].lower()], m[1], "day, month in roman figures")


def _points(m: Match) -> Found:
    return _one(m[3], m[2], m[1], "day first, with points")


def _either_order(m: Match) -> Found:
    """12/4/1903 is the twelfth of April or the fourth of December: both stay possible."""
    first, second, year = int(m[1]), int(m[3]), m[4]
    if second > 12:
        return _one(year, first, m[3], "day, month first")
    if first > 12 or first == second:
        return _one(year, second, m[1])
    one, other = _one(year, second, m[1]), _one(year, first, m[3])
    low, high = sorted((one, other), key=lambda each: each.edtf)
    edtf = f"[{low.edtf},{high.edtf}]"
    return Found(edtf, low.earliest, high.latest, "day and month in either order", vague=True)


def _no_century(m: Match) -> None:
    raise NotADate("the century is not said: write the year in full")
