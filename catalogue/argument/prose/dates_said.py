"""Days as provenance prose writes them: "by 1937", "c. 1937", "1934-1936", "14 May 1957".

A date that was written so is kept letter for letter; any other is said from its EDTF form.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from catalogue.argument.chain.words import day as day_in_words
from catalogue.argument.chain.words import months
from catalogue.argument.prose.wording import words
from catalogue.measure import DateSpan, Day
from catalogue.measure.days import NotADate
from catalogue.measure.edtf import Date, Edtf, Interval, LongYear, Missing, Run, Several, parse

_DECADE, _CENTURY = re.compile(r"(\d\d\d)X"), re.compile(r"(\d\d)XX")


def say_when(span: DateSpan) -> str:
    """When something was acquired or seen.

    >>> from catalogue.measure import read_date
    >>> [say_when(read_date(each)) for each in ("by 1937", "1934-36", "1911-03-09/1912-05", "vor 1914")]
    ['by 1937', '1934-36', '9 March 1911-May 1912', 'before 1914']
    """
    if _normal().fullmatch(span.written):
        return span.written
    told = words("dates")
    # EDTF keeps the first and last possible day alone: what stood there was the day before or after
    if span.rule == "before" and span.latest and (after := span.latest.beside(1)).day == 1:
        return str(told["before"].format(date=_beginning(after)))
    if span.rule == "after" and span.earliest and span.earliest.day == 1:
        return str(told["after"].format(date=_ending(span.earliest.beside(-1))))
    return _said(span)


def say_begin(span: DateSpan) -> str:
    """When a holding began of which it is said how long it lasted: of two years one lies between them.

    >>> from catalogue.measure import read_date
    >>> say_begin(read_date("1934-1936")), say_begin(read_date("by 1937"))
    ('between 1934 and 1936', 'by 1937')
    """
    first, _, last = span.written.partition(words("dates")["to"])
    if _plain().fullmatch(first) and _plain_end().fullmatch(last):
        last = first[: -len(last)] + last if len(last) <= 2 else last
        return str(words("dates")["between"].format(first=first, last=last))
    return say_when(span)


def say_until(span: DateSpan) -> str:
    """How long something was held; "at the latest" where only the end of the span is known.

    >>> from catalogue.measure import read_date
    >>> [say_until(read_date(each)) for each in ("1938", "bis 1938", "c. 1934-1936", "until 1938")]
    ['until 1938', 'until 1938 at the latest', 'until c. 1934-1936', 'until 1938']
    """
    told = words("phrases")
    if _normal_end().fullmatch(span.written):
        written = span.written
        return written if written.startswith("until ") else told["until"].format(date=written)
    said = _said(span)
    if span.earliest is None and span.latest is not None:
        said = told["at_the_latest"].format(date=_last_of(said, span))
    return str(told["until"].format(date=said))


def say_both(since: DateSpan, until: DateSpan) -> str:
    """From when to when it was held, in short; "" where one of them is no plain point in time.

    >>> from catalogue.measure import read_date
    >>> [say_both(read_date(each), read_date("1936")) for each in ("1934", "c. 1934", "by 1934")]
    ['1934-1936', 'c. 1934-1936', '']
    """
    plain = _plain().fullmatch(since.written) and _plain_end().fullmatch(until.written)
    return f"{since.written}{words('dates')['to']}{until.written}" if plain else ""


def _beginning(day: Day) -> str:
    """A year that begins on this day, else its month."""
    return str(day.year) if day.month == 1 else day_in_words(day).partition(" ")[2]


def _ending(day: Day) -> str:
    """A year that ends on this day, else its month."""
    return str(day.year) if day.month == 12 else day_in_words(day).partition(" ")[2]


def _said(span: DateSpan) -> str:
    try:
        said = _edtf(parse(span.edtf))
    except NotADate:
        said = ""
    return said or span.written


def _last_of(said: str, span: DateSpan) -> str:
    """What stands behind "by" or "before" where the words of the end alone are wanted."""
    if said == words("dates")["by"].format(date=(last := said.partition(" ")[2])):
        return last
    if span.latest and (span.latest.month, span.latest.day) == (12, 31):
        return str(span.latest.year)
    return day_in_words(span.latest) if span.latest else said


def _edtf(value: Edtf) -> str:
    """A value of EDTF in words, "" for what has none here."""
    told = words("dates")
    match value:
        case Interval(Missing(), Missing()):
            return ""
        case Interval(Missing(), end) if not isinstance(end, Missing):
            return _framed("by", _edtf(end))
        case Interval(start, Missing()) if not isinstance(start, Missing):
            return _framed("from", _edtf(start))
        case Interval(start, end):
            return _range(start, end)
        case Several((Run(None, last),)) if last is not None:
            return _framed("by", _edtf(last))
        case Several((Run(first, None),)) if first is not None:
            return _framed("from", _edtf(first))
        case Several((Run(first, last),)) if first is not None and last is not None:
            return str(told["between"].format(first=_edtf(first), last=_edtf(last)))
        case Several(members):
            said = [_edtf(each) for each in members if not isinstance(each, Run)]
            return (
                f" {told['or']} ".join(said) if all(said) and len(said) == len(members) else ""
            )
        case Date():
            return _date(value)
        case LongYear():
            return ""
    return ""


def _range(start: Any, end: Any) -> str:
    """Two ends; what both are about is said once: c. 1934-1936."""
    told = words("dates")
    first, last = _edtf(start), _edtf(end)
    circa = told["circa"].format(date="")
    if first.startswith(circa) and last.startswith(circa):
        last = last.removeprefix(circa)
    return f"{first}{told['to']}{last}" if first and last else ""


def _date(date: Date) -> str:
    told = words("dates")
    if "X" in date.year.figures:
        said = _many_years(date)
    elif len(date.year.figures) != 4 or any(
        "X" in str(part or "") for part in (date.month, date.day)
    ):
        said = ""
    else:
        said = _day_month_year(date)
    if not said:
        return ""
    signs = str(date)
    if "?" in signs or "%" in signs:
        said = told["doubt"].format(date=said)
    if "~" in signs or "%" in signs:
        said = told["circa"].format(date=said)
    return said


def _many_years(date: Date) -> str:
    told = words("dates")
    if date.month is not None:
        return ""
    if decade := _DECADE.fullmatch(date.year.figures):
        return str(told["decade"].format(year=f"{int(decade[1])}0"))
    if century := _CENTURY.fullmatch(date.year.figures):
        number = int(century[1]) + 1
        ending = told["ordinals"][
            number % 10 if number % 10 < 4 and number not in (11, 12, 13) else 0
        ]
        return str(told["century"].format(number=f"{number}{ending}"))
    return ""


def _day_month_year(date: Date) -> str:
    told = words("dates")
    year = str(int(date.year.figures))
    if date.month is None:
        return year
    number = int(date.month.figures)
    if number > 12:
        season = told["seasons"].get(str(number))
        return f"{season} {year}" if season else ""
    month = months()[number - 1]
    day = f"{int(date.day.figures)} " if date.day else ""
    return f"{day}{month} {year}"


def _framed(frame: str, said: str) -> str:
    return words("dates")[frame].format(date=said) if said else ""


@cache
def _point() -> str:
    told = words("dates")
    month = "|".join(months())
    season = "|".join(told["seasons"].values())
    part = r"(?:early|mid|late)[ -]"
    day = rf"(?:\d{{1,2}} )?(?:{month})"
    return (
        rf"(?:c\. )?(?:(?:(?:{day}|{season}) )?\d{{4}}\??"
        rf"|(?:{part})?\d{{3}}0s|(?:{part})?\d{{1,2}}(?:st|nd|rd|th) century)"
    )


@cache
def _plain() -> re.Pattern[str]:
    return re.compile(_point())


@cache
def _plain_end() -> re.Pattern[str]:
    return re.compile(rf"{_point()}|\d\d?")


@cache
def _normal() -> re.Pattern[str]:
    point = _point()
    ends = rf"{point}-(?:{point}|\d\d?)"
    both = rf"between {point} and {point}|{point} or {point}"
    framed = r"(?:by|before|after|from at least|from|since|in or before|in or after) "
    until = rf"until (?:at least )?{point}(?: at the latest)?"
    begin = rf"from (?:at least )?{point} {until}"
    return re.compile(rf"(?:{framed})?(?:{ends}|{point})|{both}|{until}|{begin}")


@cache
def _normal_end() -> re.Pattern[str]:
    point = _point()
    ends = rf"{point}-(?:{point}|\d\d?)"
    both = rf"between {point} and {point}|{point} or {point}"
    framed = "(?:at least|about|before|after|shortly before|shortly after) "
    return re.compile(rf"(?:until )?(?:{framed})?(?:{ends}|{point}|{both})(?: at the latest)?")
