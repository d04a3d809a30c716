"""Every letter that is there as evidence, one by one: where it was typed, by whom, how surely."""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from typing import NamedTuple

from catalogue.reading.nodes import (
    Break,
    Doubtful,
    DoubtfulWord,
    Escaped,
    Gap,
    Hand,
    Node,
    Restored,
    Struck,
    Tree,
    walk,
)
from catalogue.reading.voices import HYPHENS, joined_lines, places, spell

_HYPHENATED = re.compile(rf"[{re.escape(HYPHENS)}]\n")


class SeenLetter(NamedTuple):
    """One letter of `Reading.seen()`, a "…" or a line end too.

    `start` and `end` are offsets into the markup; `hand` is the sign of a hand that it stands
    under, None before the first. `joins` is said of a line end inside a word.
    """

    letter: str
    start: int
    end: int
    hand: Hand | None = None
    doubtful: bool = False
    struck: bool = False
    joins: bool = False


def seen_letters(tree: Tree, markup: str) -> tuple[SeenLetter, ...]:
    """The letters of the seen voice, in the order of the label."""
    doubtful, struck = _Ranges(), _Ranges()
    ends: dict[int, int] = {}
    hands: list[Hand] = []
    may_join = False
    for node in walk(tree):
        if isinstance(node, (Doubtful, DoubtfulWord)):
            doubtful.add(node)
        elif isinstance(node, Struck):
            struck.add(node)
        elif isinstance(node, Hand):
            hands.append(node)
        elif isinstance(node, Break):
            may_join = may_join or node.runs_on
        if isinstance(node, (Doubtful, Escaped, Gap, Restored)):
            ends[node.start] = node.end
    begun = [hand.start for hand in hands]
    text = spell(tree, "seen")
    # few labels part a word, and to look for it takes as long as all the rest
    joins = joined_lines(tree) if may_join or _HYPHENATED.search(text) else frozenset()
    found: list[SeenLetter] = []
    for letter, start in zip(text, places(tree, "seen"), strict=True):
        here = bisect_right(begun, start) - 1
        found.append(
            SeenLetter(
                letter,
                start,
                ends.get(start) or _end(markup, start),
                hands[here] if here >= 0 else None,
                doubtful.hold(start),
                struck.hold(start),
                letter == "\n" and start in joins,
            )
        )
    return tuple(found)


class _Ranges:
    """The outermost of some nodes, as places."""

    def __init__(self) -> None:
        self._starts: list[int] = []
        self._ends: list[int] = []

    def add(self, node: Node) -> None:
        if not self._ends or node.start >= self._ends[-1]:
            self._starts.append(node.start)
            self._ends.append(node.end)

    def hold(self, place: int) -> bool:
        at = bisect_right(self._starts, place) - 1
        return at >= 0 and place < self._ends[at]


def _end(markup: str, start: int) -> int:
    """Where a letter ends, its accents with it."""
    end = start + 1
    while end < len(markup) and unicodedata.combining(markup[end]):
        end += 1
    return end
