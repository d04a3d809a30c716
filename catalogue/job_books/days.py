"""Days in a job book: when something came and left, in the order and the century that the book means."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from catalogue.exchange.books.day_numbers import NEVER_WAS, day_of
from catalogue.exchange.books.mapping import Habits
from catalogue.exchange.books.rows import Written
from catalogue.job_books.told import said
from catalogue.measure import Day, understand

_FIGURES: Final = re.compile(r"(\d{1,2})\s?[./\-]\s?(\d{1,2})\s?[./\-]\s?(\d{4}|\d{2})\.?")
_YEAR_FIRST: Final = re.compile(r"(\d{4})[./\-](\d{1,2})[./\-](\d{1,2})(?:[T ]\d\d:\d\d.*)?")
_NUMBER: Final = re.compile(r"\d{1,7}(?:[.,]\d+)?")
_LEAST_NUMBER: Final = 10_000
"""A bare number below this is more likely a year than a count of days (10,000 is 18 May 1927)."""


@dataclass(frozen=True, slots=True)
class DayRead:
    """A day that was read, or why there is none; `remark` says what was decided on the way."""

    day: Day | None
    why: str = ""
    remark: str = ""


def read_day(cell: Written, habits: Habits, from_1904: bool | None) -> DayRead:
    """The one day that a cell names. `from_1904` says what a workbook counts from, None for a text file.

    >>> read_day(Written("3/5/1987", "3/5/1987"), Habits(), None).day.iso
    '1987-05-03'
    >>> read_day(Written("3/5/1987", "3/5/1987"), Habits(dates="month first"), None).day.iso
    '1987-03-05'
    """
    if isinstance(cell.value, Day):
        return DayRead(cell.value)
    text = cell.text.strip()
    counted = _counted(cell, text, habits, from_1904)
    if counted is not None:
        return counted
    if found := _YEAR_FIRST.fullmatch(text):
        return _made(int(found[1]), int(found[2]), int(found[3]))
    if found := _FIGURES.fullmatch(text):
        return _in_figures(int(found[1]), int(found[2]), found[3], habits)
    read = understand(text)
    if (
        read.span
        and read.span.earliest
        and read.span.earliest == read.span.latest
        and not read.rest
    ):
        return DayRead(read.span.earliest)
    why = read.why or (read.span.edtf if read.span else "")
    return DayRead(
        None, said("row")["no_day"].format(text=text, why=why or read.rule).rstrip(": ")
    )


def day_in_figures(text: str, habits: Habits) -> Day | None:
    """The day of a text that is nothing but figures, in the order that the book means; else None.

    >>> day_in_figures("3.5.1887", Habits()).iso, day_in_figures("c. 1887", Habits())
    ('1887-05-03', None)
    """
    found = _FIGURES.fullmatch(text.strip())
    if not found or len(found[3]) == 2:
        return None
    return _in_figures(int(found[1]), int(found[2]), found[3], habits).day


def _counted(
    cell: Written, text: str, habits: Habits, from_1904: bool | None
) -> DayRead | None:
    """The day of a number of days, None where the cell is none."""
    if not _NUMBER.fullmatch(text):
        return None
    number = float(text.replace(",", "."))
    if habits.number_days:
        base = habits.number_days == "1904"
    elif from_1904 is not None and not isinstance(cell.value, str) and number >= _LEAST_NUMBER:
        base = from_1904
    else:
        return None
    words = said("row")
    day = day_of(number, from_1904=base)
    if day is None:
        never = int(number) == NEVER_WAS and not base
        why = words["day_never_was"] if never else ""
        return DayRead(None, words["no_day"].format(text=text, why=why).rstrip(": "))
    return DayRead(day, remark=words["day_number"].format(start="1904" if base else "1900"))


def _in_figures(first: int, second: int, year: str, habits: Habits) -> DayRead:
    words = said("row")
    if len(year) == 2:
        start = habits.two_figures_from
        if not start:
            return DayRead(None, words["two_figures"])
        full = start + (int(year) - start) % 100
    else:
        full = int(year)
    day, month = (first, second) if habits.dates == "day first" else (second, first)
    return _made(full, month, day)


def _made(year: int, month: int, day: int) -> DayRead:
    try:
        return DayRead(Day(year, month, day))
    except ValueError as wrong:
        return DayRead(None, str(wrong))
