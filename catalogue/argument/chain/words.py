"""What the chain of hands says, and which terms it goes by: vocab/chain.toml, read once."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue import places
from catalogue.argument.spans import Interval
from catalogue.measure import Day


def table(name: str) -> dict[str, Any]:
    """One table of the file. Raises `BadSetting` where the file cannot be read."""
    found: dict[str, Any] = places.table("chain.toml")[name]
    return found


def rows(name: str) -> list[dict[str, Any]]:
    """The rows of one list of the file."""
    found: list[dict[str, Any]] = places.table("chain.toml")[name]
    return found


def say(group: str, which: str, /, **values: object) -> str:
    """One of the sentences, with its values put in."""
    said: str = table(group)[which]
    return said.format(**values)


@cache
def terms(group: str, which: str) -> frozenset[str]:
    """The terms in one of the lists.

    >>> "provenance/bought-in" in terms("kinds", "ownership")
    False
    """
    return frozenset(table(group)[which])


def day(value: Day) -> str:
    """A day as one writes it.

    >>> day(Day(1933, 1, 30))
    '30 January 1933'
    """
    month = months()[value.month - 1]
    return say("words", "day", day=value.day, month=month, year=value.year)


def months() -> list[str]:
    """The names of the months."""
    found: list[str] = table("words")["months"]
    return found


def days(count: int) -> str:
    """So many days.

    >>> days(1), days(3287)
    ('1 day', '3,287 days')
    """
    which = "days_one" if count == 1 else "days_many"
    return say("words", which, count=f"{count:,}")


def span(interval: Interval) -> str:
    """Days from one to another, both known.

    >>> span(Interval(Day(1939, 1, 1), Day(1947, 12, 31)))
    '1 January 1939 to 31 December 1947'
    """
    if interval.earliest is None or interval.latest is None:
        raise ValueError("a span in words has two ends")
    first, last = day(interval.earliest), day(interval.latest)
    return say("words", "one_day" if first == last else "span", first=first, last=last)


def instant(days: Interval) -> str:
    """A beginning or an end as far as it is known.

    >>> instant(Interval(None, Day(1937, 12, 31)))
    '31 December 1937 or earlier'
    """
    first, last = days.earliest, days.latest
    if first and last:
        which = "known" if first == last else "between"
    else:
        which = "not_before" if first else "not_after" if last else "open"
    ends = {"first": day(first) if first else "", "last": day(last) if last else ""}
    return say("words", which, **ends)


def together(names: Iterable[str]) -> str:
    """Several names as one.

    >>> together(["A. Verlin", "B. Verlin"])
    'A. Verlin and B. Verlin'
    """
    said: str = table("words")["and"]
    return said.join(dict.fromkeys(names))
