"""What somebody wishes to find, as it was understood: words and conditions, not yet terms of an index.

A wish is made from what was typed (`language/`), widened to the exact terms that an index holds
(`lexicon/`, which knows damaged words, patterns and names), and then found by an engine.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class Word:
    """One word, intact or damaged: `written` as typed.

    `pattern` is a regular expression over folded text when letters are open (`c?b*tt`, or a word
    typed in the markup of readings, `C[..]itt`); None for a plain word. `fields` restricts it to
    these fields of text (vocab/finding.toml), () is all of them. Up to `alike` letters may be others
    (`harrowell~`), 0 for a word as it stands. A word that is `joined` was written in one with the one
    before it (`S.W.7`, `Fenwick-Dray`).
    """

    written: str
    pattern: str | None = None
    fields: tuple[str, ...] = ()
    alike: int = 0
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Run:
    """Words that follow each other (`apart` 0: a phrase), or stand within so many words, in any order."""

    words: tuple[Word, ...]
    apart: int = 0


@dataclass(frozen=True, slots=True)
class Name:
    """A person or firm by name, however written: `field` is a field of names ("artist", "firm", "owner")."""

    written: str
    field: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact of the statement or the work: `field` has one of these values, which are keys of the index."""

    field: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """A figure of the statement lies between these, both ends included, None = open; in its own unit."""

    field: str
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True)
class InTime:
    """A span of time meets the one asked for (days as ordinals, None = open).

    `what` is "made" (the work), "own" (the statement's own day or years) or "any". `certainly`
    asks that it lies wholly within; else that it may.
    """

    what: str
    earliest: int | None
    latest: int | None
    certainly: bool = False


@dataclass(frozen=True, slots=True)
class AllOf:
    """All of these in one statement."""

    parts: tuple[Wish, ...]


@dataclass(frozen=True, slots=True)
class AnyOf:
    """One of these at least."""

    parts: tuple[Wish, ...]


@dataclass(frozen=True, slots=True)
class Not:
    """Not this in the same statement."""

    part: Wish


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Some statement of the same work has this (`also`), or none has (`without`)."""

    part: Wish
    there: bool = True


Wish: TypeAlias = Word | Run | Name | Fact | Measured | InTime | AllOf | AnyOf | Not | Elsewhere
"""Anything that can be wished for; `AllOf(())` is everything."""
