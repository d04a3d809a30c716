"""How to ask: what to type, what it does, and how it is understood, in sections for the help page."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from catalogue.places import table


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that may be typed: what it does, and how it is understood, part by part."""

    typed: str
    does: str
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """Rows that belong together."""

    title: str
    rows: tuple[Row, ...]


@cache
def help_sections() -> tuple[Section, ...]:
    """The sections of the help, in the order of vocab/finding.toml.

    >>> [each.title for each in help_sections()][:2]
    ['Words', 'Together and apart']
    """
    return tuple(
        Section(
            held["title"],
            tuple(Row(row["typed"], row["does"], tuple(row["said"])) for row in held["rows"]),
        )
        for held in table("finding.toml")["help"]
    )
