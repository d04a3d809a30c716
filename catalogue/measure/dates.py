"""Dates as people write them → a span of days, with the rule that made the bounds.

The phrases and widths follow the table of published conventions in vocab/dates.toml. A text that is
not understood gives None, and `why_not` says why; nothing is guessed in silence.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from catalogue.measure.days import DateSpan, Day, days_in
from catalogue.measure.edtf import NotADate, bounds
from catalogue.measure.words import any_of, table

Found = tuple[str, Day | None, Day | None, str]
"""EDTF, earliest, latest, rule."""

_ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9,
          "x": 10, "xi": 11, "xii": 12}  # fmt: skip
_CENTURY_ROMAN = {"xv": 15, "xvi": 16, "xvii": 17, "xviii": 18, "xix": 19, "xx": 20, "xxi": 21}
_ORDINAL = r"(?:st|nd|rd|th|\.|e|er|ème|de)?"


def read_date(text: str, circa: int = 5) -> DateSpan | None:
    """The span that a phrase means, None when it is not understood.

    >>> span = read_date("c. 1887")
    >>> span.edtf, span.earliest.iso, span.latest.iso, span.rule
    ('1887~', '1882-01-01', '1892-12-31', 'circa')
    """
    try:
        edtf, earliest, latest, rule = _read(text, circa)
    except NotADate:
        return None
    return DateSpan(written=text, edtf=edtf, earliest=earliest, latest=latest, rule=rule)


def why_not(text: str, circa: int = 5) -> str:
    """Why a phrase gives no date, "" when it does give one.

    >>> why_not("31 February 1900")
    'there is no day 1900-02-31'
    """
    try:
        _read(text, circa)
    except NotADate as refused:
        return str(refused)
    return ""


def _read(text: str, circa: int) -> Found:
    said = " ".join(text.replace("–", "-").replace("—", "-").replace("‐", "-").split()).strip(
        " ,;"
    )
    if not said:
        raise NotADate("nothing is written there")
    if len(said) > 200:
        raise NotADate("this is too long for a date")
    for pattern, reader in _forms():
        found = pattern.fullmatch(said)
        if found:
            return reader(found, circa)
    try:
        earliest, latest = bounds(said, circa)
    except NotADate:
        raise NotADate(f"no way of writing a date that is known here fits {said!r}") from None
    return said, earliest, latest, "edtf"


@cache
def _forms() -> tuple[tuple[re.Pattern[str], Callable[[re.Match[str], int], Found]], ...]:
    """Every form of a phrase with what reads it, the more particular first."""
    words = table()
    circa, either = any_of(words["circa"]), any_of(words["either"])
    century = any_of(words["century"])
    parts, decades = any_of(words["century_parts"]), any_of(words["decade_parts"])
    months, seasons = any_of(words["months"]), any_of(words["seasons"])
    year = r"(\d{4})"
    which = rf"(\d{{1,2}}){_ORDINAL}|([xvi]{{1,5}})(?:e|ème)?"
    many: list[tuple[str, Callable[[re.Match[str], int], Found]]] = [
        (any_of(words["undated"]), _undated),
        (any_of(words["periods"]), _period),
        (rf"{year}", _year),
        (rf"\[?{year}\s?\?\]?|{any_of(words['probably'])} {year}", _uncertain),
        (r"\[(\d{3})-(\??)\]", _bracketed_decade),
        (rf"{circa}\s?{year}\s?[-/]\s?(\d{{4}}|\d\d)", _circa_range),
        (rf"{circa}\s?(\d{{3}}0)s", _circa_decade),
        (rf"{circa}\s?{year}", _circa),
        (rf"{any_of(words['between'])} (.+) {any_of(words['and_'])} (.+)", _between),
        (rf"(?:{any_of(words['since'])}|von|de|du) (.+) {any_of(words['to'])} (.+)", _from_to),
        (rf"{any_of(words['before'])} (.+)", _before),
        (rf"{any_of(words['until'])} (.+)|(.+) or earlier", _until),
        (rf"{any_of(words['after'])} (.+)", _after),
        (rf"{any_of(words['since'])} (.+)|(.+) or later", _since),
        (rf"{year}/(\d\d)", _slashed),
        (rf"{year} {either} {year}", _either),
        (rf"{year}\s?-\s?(\d{{4}})", _range),
        (rf"{year}\s?-\s?(\d\d)", _short_range),
        (rf"({decades})[ -](?:the )?(\d{{3}}0)s", _part_of_decade),
        (r"(?:the )?(\d{3}0)s", _decade),
        (rf"({parts})[ -](?:of the )?(?:{which}) ?{century}", _part_of_century),
        (rf"(?:the )?(?:{which}) ?{century}", _century),
        (rf"({seasons}) (?:of )?{year}(?:-\d\d)?", _season),
        (rf"(\d{{1,2}}){_ORDINAL} (?:de )?({months})\.? (?:de )?{year}", _day_month_year),
        (rf"(?:le |den )?(\d{{1,2}}){_ORDINAL} ({months})\.? {year}", _day_month_year),
        (rf"({months})\.? (\d{{1,2}}){_ORDINAL},? {year}", _month_day_year),
        (rf"({months})\.?,? {year}", _month_year),
        (rf"(\d{{1,2}})[ .]+({any_of(_ROMAN)})[ .]+{year}", _day_roman_year),
        (rf"(\d{{1,2}})\. ?(\d{{1,2}})\. ?{year}", _dotted),
        (rf"(\d{{1,2}})/(\d{{1,2}})/{year}", _slashed_day),
    ]
    return tuple((re.compile(form, re.IGNORECASE), reader) for form, reader in many)


def _undated(found: re.Match[str], circa: int) -> Found:
    raise NotADate("it says that it has no date")


def _period(found: re.Match[str], circa: int) -> Found:
    start, end = table()["periods"][found[0].lower()]
    return f"{start}/{end}", Day.from_iso(start), Day.from_iso(end), "period"


def _year(found: re.Match[str], circa: int) -> Found:
    return (*_years(found[1], int(found[1]), int(found[1])), "year")


def _years(edtf: str, first: int, last: int) -> tuple[str, Day, Day]:
    if first > last:
        raise NotADate(f"it would end in {last}, before it begins in {first}")
    return edtf, Day(first, 1, 1), Day(last, 12, 31)


def _uncertain(found: re.Match[str], circa: int) -> Found:
    year = found[1] or found[2]
    return (*_years(f"{year}?", int(year), int(year)), "probable year")


def _bracketed_decade(found: re.Match[str], circa: int) -> Found:
    first = int(found[1]) * 10
    edtf = f"{first}?/{first + 9}?" if found[2] else f"{found[1]}X"
    return (*_years(edtf, first, first + 9), "decade in brackets")


def _circa(found: re.Match[str], circa: int) -> Found:
    year = int(found[1])
    return (*_years(f"{year}~", year - circa, year + circa), "circa")


def _circa_range(found: re.Match[str], circa: int) -> Found:
    first, last = int(found[1]), _full(found[1], found[2])
    return (*_years(f"{first}~/{last}~", first, last), "circa span, its own ends")


def _circa_decade(found: re.Match[str], circa: int) -> Found:
    first = int(found[1])
    return (*_years(f"{first}~/{first + 9}~", first - circa, first + 9 + circa), "circa decade")


def _full(first: str, last: str) -> int:
    return int(last) if len(last) == 4 else int(first[:2] + last)


def _range(found: re.Match[str], circa: int) -> Found:
    return (*_years(f"{found[1]}/{found[2]}", int(found[1]), int(found[2])), "span of years")


def _short_range(found: re.Match[str], circa: int) -> Found:
    last = _full(found[1], found[2])
    return (*_years(f"{found[1]}/{last}", int(found[1]), last), "span of years")


def _slashed(found: re.Match[str], circa: int) -> Found:
    last = _full(found[1], found[2])
    return (*_years(f"[{found[1]},{last}]", int(found[1]), last), "one of two years")


def _either(found: re.Match[str], circa: int) -> Found:
    return (
        *_years(f"[{found[1]},{found[2]}]", int(found[1]), int(found[2])),
        "one of two years",
    )


def _decade(found: re.Match[str], circa: int) -> Found:
    first = int(found[1])
    return (*_years(f"{found[1][:3]}X", first, first + 9), "decade")


def _part_of_decade(found: re.Match[str], circa: int) -> Found:
    start, end = table()["decade_parts"][found[1].lower()]
    first = int(found[2])
    return (
        *_years(f"{first + start}/{first + end}", first + start, first + end),
        "part of a decade",
    )


def _century_start(number: str | None, roman: str | None) -> int:
    which = int(number) if number else _CENTURY_ROMAN.get((roman or "").lower(), 0)
    if not 1 <= which <= 21:
        raise NotADate(f"there is no {number or roman}. century to date paintings by")
    return (which - 1) * 100


def _century(found: re.Match[str], circa: int) -> Found:
    first = _century_start(found[1], found[2])
    return (*_years(f"{first // 100:02d}XX", first, first + 99), "century")


def _part_of_century(found: re.Match[str], circa: int) -> Found:
    start, end = table()["century_parts"][" ".join(found[1].lower().split())]
    first = _century_start(found[2], found[3])
    return (
        *_years(f"{first + start}/{first + end}", first + start, first + end),
        "part of a century",
    )


def _season(found: re.Match[str], circa: int) -> Found:
    code = table()["seasons"][found[1].lower()][0]
    edtf = f"{found[2]}-{code}"
    return (edtf, *bounds(edtf, circa), "season of the northern half")


def _day(year: str | int, month: str | int, day: str | int) -> Day:
    try:
        return Day(int(year), int(month), int(day))
    except (ValueError, IndexError):
        raise NotADate(f"there is no day {year}-{int(month):02d}-{int(day):02d}") from None


def _one_day(day: Day, rule: str) -> Found:
    return day.iso, day, day, rule


def _month(word: str) -> int:
    return int(table()["months"][word.lower().rstrip(".")])


def _day_month_year(found: re.Match[str], circa: int) -> Found:
    return _one_day(_day(found[3], _month(found[2]), found[1]), "day")


def _month_day_year(found: re.Match[str], circa: int) -> Found:
    return _one_day(_day(found[3], _month(found[1]), found[2]), "day")


def _day_roman_year(found: re.Match[str], circa: int) -> Found:
    return _one_day(
        _day(found[3], _ROMAN[found[2].lower()], found[1]), "day, month in roman figures"
    )


def _dotted(found: re.Match[str], circa: int) -> Found:
    return _one_day(_day(found[3], found[2], found[1]), "day first, with points")


def _slashed_day(found: re.Match[str], circa: int) -> Found:
    """12/4/1903 is the twelfth of April or the fourth of December: both stay possible."""
    first, second, year = found[1], found[2], found[3]
    if int(second) > 12:
        return _one_day(_day(year, first, second), "day, month first")
    if int(first) > 12 or first == second:
        return _one_day(_day(year, second, first), "day")
    days = sorted((_day(year, second, first), _day(year, first, second)))
    return f"[{days[0].iso},{days[1].iso}]", days[0], days[1], "day and month in either order"


def _month_year(found: re.Match[str], circa: int) -> Found:
    month, year = _month(found[1]), int(found[2])
    last = Day(year, month, days_in(year, month))
    return f"{year}-{month:02d}", Day(year, month, 1), last, "month"


def _point(text: str, circa: int) -> Found:
    edtf, earliest, latest, _ = _read(text, circa)
    return edtf, earliest, latest, ""


def _before(found: re.Match[str], circa: int) -> Found:
    earliest = _point(found[1], circa)[1]
    if earliest is None:
        raise NotADate(f"{found[1]!r} has no beginning to be before")
    latest = _beside(earliest, -1)
    return f"[..{_short(latest, last=True)}]", None, latest, "before"


def _until(found: re.Match[str], circa: int) -> Found:
    latest = _point(found[1] or found[2], circa)[2]
    if latest is None:
        raise NotADate(f"{found[1]!r} has no end")
    return f"[..{_short(latest, last=True)}]", None, latest, "by then"


def _after(found: re.Match[str], circa: int) -> Found:
    latest = _point(found[1], circa)[2]
    if latest is None:
        raise NotADate(f"{found[1]!r} has no end to be after")
    earliest = _beside(latest, 1)
    return f"[{_short(earliest, last=False)}..]", earliest, None, "after"


def _since(found: re.Match[str], circa: int) -> Found:
    earliest = _point(found[1] or found[2], circa)[1]
    if earliest is None:
        raise NotADate(f"{found[1]!r} has no beginning")
    return f"[{_short(earliest, last=False)}..]", earliest, None, "not before then"


def _between(found: re.Match[str], circa: int) -> Found:
    earliest, latest = _ends(found, circa)
    return (
        f"[{_short(earliest, last=False)}..{_short(latest, last=True)}]", earliest, latest, "between",
    )  # fmt: skip


def _from_to(found: re.Match[str], circa: int) -> Found:
    earliest, latest = _ends(found, circa)
    return (
        f"{_short(earliest, last=False)}/{_short(latest, last=True)}", earliest, latest, "from - to",
    )  # fmt: skip


def _ends(found: re.Match[str], circa: int) -> tuple[Day, Day]:
    earliest = _point(found[1], circa)[1]
    latest = _point(found[2], circa)[2]
    if earliest is None or latest is None or earliest > latest:
        raise NotADate(f"{found[0]!r} does not end after it begins")
    return earliest, latest


def _beside(day: Day, step: int) -> Day:
    """The day after (1) or before (-1)."""
    if step < 0:
        if day.day > 1:
            return Day(day.year, day.month, day.day - 1)
        year, month = (day.year, day.month - 1) if day.month > 1 else (day.year - 1, 12)
        return Day(year, month, days_in(year, month))
    if day.day < days_in(day.year, day.month):
        return Day(day.year, day.month, day.day + 1)
    return Day(day.year, day.month + 1, 1) if day.month < 12 else Day(day.year + 1, 1, 1)


def _short(day: Day, *, last: bool) -> str:
    """A bound as EDTF: the year alone where it is the year's first or last day."""
    edge = (12, 31) if last else (1, 1)
    return f"{day.year:04d}" if (day.month, day.day) == edge else day.iso
