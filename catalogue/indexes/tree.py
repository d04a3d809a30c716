"""What an engine is asked: a tree of exact terms with their strength. Every engine finds the same with it.

All that needs knowledge of words has been done before: folding, damaged words, patterns, names. An
engine joins, filters, orders and counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from catalogue.indexes.wish import Fact, InTime, Measured

__all__ = [
    "FACT",
    "All",
    "Either",
    "Elsewhere",
    "Fact",
    "Hit",
    "InTime",
    "Measured",
    "Not",
    "Row",
    "Terms",
    "Tree",
]


FACT = "fact:"
"""What the field of a hit begins with that is a fact: `fact:artist`."""


@dataclass(frozen=True, slots=True)
class Hit:
    """One exact term of one field, how much finding it counts (0 to 1), and why it was looked for.

    `why` is a key of `[why]` in vocab/finding.toml ("word", "damaged", "pattern", "name-initials" ...).
    """

    field: str
    term: str
    strength: float
    why: str = "word"

    @property
    def is_fact(self) -> bool:
        """Whether it is a fact, not a word of a text."""
        return self.field.startswith(FACT)

    @property
    def held_as(self) -> tuple[str, str]:
        """The field and the term of an index under which it lies.

        >>> Hit("fact:artist", "party/1", 1.0).held_as, Hit("text", "quay", 1.0).held_as
        (('fact', 'artist=party/1'), ('text', 'quay'))
        """
        if not self.is_fact:
            return self.field, self.term
        return "fact", f"{self.field.removeprefix(FACT)}={self.term}"


@dataclass(frozen=True, slots=True)
class Terms:
    """One thing sought, found as any of these; `rarity` is what its best hit is multiplied with.

    `written` is what was typed, for the marks and the reasons.
    """

    written: str
    hits: tuple[Hit, ...]
    rarity: float = 1.0


@dataclass(frozen=True, slots=True)
class Row:
    """Several things sought in one field, in this order and next to each other (`apart` 0), or
    within so many words of each other in any order."""

    steps: tuple[Terms, ...]
    apart: int = 0


@dataclass(frozen=True, slots=True)
class All:
    """Statements that have all of these; of () every statement."""

    parts: tuple[Tree, ...]


@dataclass(frozen=True, slots=True)
class Either:
    """Statements that have one of these at least."""

    parts: tuple[Tree, ...]


@dataclass(frozen=True, slots=True)
class Not:
    """Statements that do not have this."""

    part: Tree


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Statements of works of which some statement has this (`there`), or none has."""

    part: Tree
    there: bool = True


Tree: TypeAlias = Terms | Row | Fact | Measured | InTime | All | Either | Not | Elsewhere
"""Scores: a `Terms` gives `rarity` times the best `strength` found; `All` adds up its parts, `Either` takes
the best, everything else gives 0. An engine multiplies with nothing of its own, so two engines agree."""
