"""EDTF, levels 0, 1 and 2: the parts of a string as values, which write it again.

Source: Library of Congress, Extended Date/Time Format specification, 4 February 2019 (ISO
8601-2:2019). `parse` tells only whether a string is well formed; what days it may mean, and whether
there are such days, stands in edtf_days.py.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

from catalogue.measure.days import NotADate

LONGEST = 200
"""A longer text is no date."""

_YEAR = r"([?~%]?)(-?[0-9X]{4})([?~%]?)"
_MONTH_OR_DAY = r"([?~%]?)([0-9X]{2})([?~%]?)"
_DATE = re.compile(rf"{_YEAR}(?:-{_MONTH_OR_DAY}(?:-{_MONTH_OR_DAY})?)?")
_CLOCK = re.compile(
    r"([0-9]{4}-[0-9]{2}-[0-9]{2})"
    r"T((?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]|24:00:00)"
    r"(Z|[+-](?:[01][0-9]|2[0-3])(?::[0-5][0-9])?)?"
)
_LONG_YEAR = re.compile(
    r"(Y?)(-?)([0-9]+)(?:E([1-9][0-9]{0,2}))?(?:S([1-9][0-9]{0,2}))?([?~%]?)"
)


@dataclass(frozen=True, slots=True)
class Part:
    """A year, month or day as figures (X is any figure), with the sign before and after it.

    A sign before qualifies this part, one after it this part and all parts to its left.
    """

    figures: str
    before: str = ""
    after: str = ""

    def __str__(self) -> str:
        return f"{self.before}{self.figures}{self.after}"


@dataclass(frozen=True, slots=True)
class Date:
    """A year, a month (or a season or other division of a year), or a day, with its time if any."""

    year: Part
    month: Part | None = None
    day: Part | None = None
    time: str = ""
    zone: str = ""

    def __str__(self) -> str:
        parts = "-".join(str(part) for part in (self.year, self.month, self.day) if part)
        return f"{parts}T{self.time}{self.zone}" if self.time else parts

    def signed(self, signs: str) -> tuple[bool, bool, bool]:
        """Which of year, month and day are under one of the signs.

        >>> date = parse("2004-06~-11")
        >>> date.signed("~%"), date.signed("?%")
        ((True, True, False), (False, False, False))
        """
        parts = (self.year, self.month, self.day)
        after = [bool(part and part.after and part.after in signs) for part in parts]
        its_own = [bool(part and part.before and part.before in signs) for part in parts]
        return (
            its_own[0] or any(after),
            its_own[1] or any(after[1:]),
            its_own[2] or after[2],
        )


@dataclass(frozen=True, slots=True)
class LongYear:
    """A year of more than four figures, of an exponent, or with so many figures significant."""

    figures: str
    below_zero: bool = False
    exponent: str = ""
    significant: str = ""
    prefix: str = "Y"
    sign: str = ""

    def __str__(self) -> str:
        exponent = f"E{self.exponent}" if self.exponent else ""
        significant = f"S{self.significant}" if self.significant else ""
        minus = "-" if self.below_zero else ""
        return f"{self.prefix}{minus}{self.figures}{exponent}{significant}{self.sign}"

    @property
    def year(self) -> int:
        """The year as written, an exponent worked out."""
        size = int(self.figures + "0" * int(self.exponent or 0))
        return -size if self.below_zero else size


Single: TypeAlias = Date | LongYear


class Missing(Enum):
    """An end of an interval that is no date: open, or not known."""

    OPEN = ".."
    UNKNOWN = ""

    def __str__(self) -> str:
        return str(self.value)


@dataclass(frozen=True, slots=True)
class Interval:
    """From one date to another, both included."""

    start: Single | Missing
    end: Single | Missing

    def __str__(self) -> str:
        return f"{self.start}/{self.end}"


@dataclass(frozen=True, slots=True)
class Run:
    """All dates of a set from one to another; a side of None is open."""

    first: Single | None
    last: Single | None

    def __str__(self) -> str:
        return f"{self.first or ''}..{self.last or ''}"


@dataclass(frozen=True, slots=True)
class Several:
    """A set: one of its members (square brackets) or all of them (curly ones)."""

    members: tuple[Single | Run, ...]
    all_of_them: bool

    def __str__(self) -> str:
        inside = ",".join(str(member) for member in self.members)
        return f"{{{inside}}}" if self.all_of_them else f"[{inside}]"


Edtf: TypeAlias = Single | Interval | Several


def parse(text: str) -> Edtf:
    """The parts of an EDTF string; `str` of them is the string. Raises `NotADate`.

    >>> str(parse("2004-06-~01/2004-06-~20")), parse("[1667,1670..1672]").members[1].last
    ('2004-06-~01/2004-06-~20', Date(year=Part(figures='1672', before='', after=''), ...))
    """
    if len(text) > LONGEST:
        raise NotADate("this is too long for a date")
    if text[:1] in ("[", "{"):
        return _set(text)
    if "/" in text:
        return _interval(text)
    return _clock(text) or _single(text)


def _set(text: str) -> Several:
    if text[-1:] != {"[": "]", "{": "}"}[text[0]]:
        raise NotADate(f"{text!r} opens one way and closes another")
    written = [each.strip() for each in text[1:-1].split(",")]
    last_place = len(written) - 1
    members = tuple(
        _member(text, each, may_lack_start=place == 0, may_lack_end=place == last_place)
        for place, each in enumerate(written)
    )
    return Several(members, all_of_them=text[0] == "{")


def _member(
    text: str, written: str, *, may_lack_start: bool, may_lack_end: bool
) -> Single | Run:
    first, dots, last = written.partition("..")
    if not first and not last:
        raise NotADate(f"{text!r} has an empty member")
    if not dots:
        return _single(written)
    if not (first or may_lack_start) or not (last or may_lack_end):
        raise NotADate(f"{text!r}: only the first member may lack a start, the last an end")
    return Run(_single(first) if first else None, _single(last) if last else None)


def _interval(text: str) -> Interval:
    start, _, end = text.partition("/")
    missing = {each.value for each in Missing}
    if "/" in end or (start in missing and end in missing):
        raise NotADate(f"{text!r} is not an interval")
    return Interval(_end(start), _end(end))


def _end(text: str) -> Single | Missing:
    return Missing(text) if text in ("", "..") else _single(text)


def _clock(text: str) -> Date | None:
    """A day with its time of day, which takes no signs and stands in no interval or set."""
    found = _CLOCK.fullmatch(text)
    if not found:
        return None
    year, month, day = found[1].split("-")
    return Date(Part(year), Part(month), Part(day), found[2], found[3] or "")


def _single(text: str) -> Single:
    found = _DATE.fullmatch(text)
    if not found:
        return _long_year(text)
    before, figures, after, *finer = found.groups()
    if figures == "-0000":
        raise NotADate("there is no year -0000: 1 BC is 0000")
    return Date(Part(figures, before, after), _part(finer[:3]), _part(finer[3:]))


def _part(written: list[str | None]) -> Part | None:
    before, figures, after = written
    return Part(figures, before or "", after or "") if figures else None


def _long_year(text: str) -> LongYear:
    found = _LONG_YEAR.fullmatch(text)
    if not found:
        raise NotADate(f"{text!r} is not a date in EDTF")
    prefix, minus, figures, exponent, significant, sign = found.groups()
    if prefix:
        well_formed = figures[0] != "0" and (exponent or len(figures) > 4)
    else:
        well_formed = significant and not exponent and len(figures) == 4
    if not well_formed:
        raise NotADate(f"{text!r} is not a year in EDTF")
    if significant and int(significant) > len(figures) + int(exponent or 0):
        raise NotADate(f"{text!r} has fewer figures than it says are significant")
    return LongYear(figures, bool(minus), exponent or "", significant or "", prefix, sign)
