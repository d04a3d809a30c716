"""Every word that stands on a paper: vocab/documents.toml, and days and measures in words."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from catalogue import places
from catalogue.measure import Day
from catalogue.terms import label


def words(paper: str) -> dict[str, Any]:
    """The words of one paper, or of all of them ("every")."""
    found: dict[str, Any] = places.table("documents.toml")[paper]
    return found


def day_said(day: Day | None) -> str:
    """A day as one writes it, "" without one.

    >>> day_said(Day(2026, 3, 2)), day_said(None)
    ('2 March 2026', '')
    """
    return f"{day.day} {words('every')['months'][day.month - 1]} {day.year}" if day else ""


def number_said(value: float | None, unit: str = "") -> str:
    """A measure with its unit, which no line end parts; "" without one.

    >>> number_said(61.50, "mm") == "61.5\\N{NO-BREAK SPACE}mm", number_said(None, "mm"), number_said(0)
    (True, '', '0')
    """
    if value is None:
        return ""
    return f"{value:.10g}\N{NO-BREAK SPACE}{unit}" if unit else f"{value:.10g}"


def time_said(seconds: float | None) -> str:
    """How long something took, in hours, minutes and seconds; "" where nobody said.

    >>> [each.replace("\\N{NO-BREAK SPACE}", " ") for each in map(time_said, (20, 5400, 165_600, 0.5))]
    ['20 s', '1 h 30 min', '46 h', '0.5 s']
    """
    if seconds is None:
        return ""
    hours, rest = divmod(seconds, 3600)
    minutes, left = divmod(rest, 60)
    parts = ((hours, "h"), (minutes, "min"), (round(left, 3), "s"))
    return joined((number_said(value, unit) for value, unit in parts if value), " ")


def yes_or_no(value: bool | None) -> str:
    """Yes, no, or "" where nobody said."""
    return "" if value is None else words("every")["yes" if value else "no"]


def labels(keys: Iterable[str | None]) -> str:
    """Terms by their labels, separated by commas.

    >>> labels(["light/raking", None, "light/normal"])
    'raking light, normal light'
    """
    return ", ".join(label(key) for key in keys if key)


def joined(parts: Iterable[str], between: str = ", ") -> str:
    """What there is of some texts, with something between.

    >>> joined(["Low Water", "", "1887"])
    'Low Water, 1887'
    """
    return between.join(each for each in parts if each)


def capital(text: str) -> str:
    """A text that begins a line or a cell with a capital letter."""
    return text[:1].upper() + text[1:]


def told(rows: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """The rows that say something."""
    return tuple((name, value) for name, value in rows if value)


def asked(rows: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """The rows, with words where one says nothing: a reader must see that it is not known."""
    missing = words("every")["missing"]
    return tuple((name, value or missing) for name, value in rows)
