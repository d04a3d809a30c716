"""What the pictures say: vocab/pictures.toml, read once; and spans of days as years in words."""

from __future__ import annotations

from typing import Any

from catalogue import places
from catalogue.measure import Day


def table(name: str) -> dict[str, Any]:
    """One table of the file."""
    found: dict[str, Any] = places.table("pictures.toml")[name]
    return found


def years(earliest: Day | None, latest: Day | None) -> str:
    """A span in words, as exactly as its ends are years.

    >>> years(Day(1917, 3, 1), None), years(Day(1931, 1, 1), Day(1938, 12, 31))
    ('from 1 March 1917', '1931 to 1938')
    """
    first, last = earliest and first_day(earliest), latest and last_day(latest)
    if first and last:
        how = "one" if first == last else "between"
    else:
        how = "from" if first else "until" if last else "any"
    said: str = table("years")[how]
    return said.format(earliest=first, latest=last)


def first_day(day: Day, *, whole: bool = True) -> str:
    """A day from which something is counted; the year where it is its first day and `whole` may be.

    >>> first_day(Day(1931, 1, 1)), first_day(Day(1931, 1, 1), whole=False)
    ('1931', '1 January 1931')
    """
    return str(day.year) if whole and (day.month, day.day) == (1, 1) else day_in_words(day)


def last_day(day: Day, *, whole: bool = True) -> str:
    """A day up to which something is counted; the year where it is its last day and `whole` may be."""
    return str(day.year) if whole and (day.month, day.day) == (12, 31) else day_in_words(day)


def day_in_words(day: Day) -> str:
    """A day as one writes it.

    >>> day_in_words(Day(1931, 5, 3))
    '3 May 1931'
    """
    return f"{day.day} {table('months')['names'][day.month - 1]} {day.year}"


def month_in_words(day: Day) -> str:
    """The month in which a day lies.

    >>> month_in_words(Day(1935, 3, 1))
    'March 1935'
    """
    return f"{table('months')['names'][day.month - 1]} {day.year}"


def dated(what: str) -> str:
    """What is dated, in words: "printing" as "when it was made"."""
    said: str = table("dating")["parts"][what]
    return said
