"""What a reader finds in running text: some letters, where they stand, and what they come to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

Value: TypeAlias = dict[str, str | None]


@dataclass(frozen=True, slots=True)
class Found:
    """One find in a text: `written` is the text from `start` to `end`, `value` plain data for JSON.

    `kind` is a kind of statement: name, address, postal, telephone.
    """

    kind: str
    written: str
    start: int
    end: int
    value: Value

    @classmethod
    def at(cls, kind: str, text: str, start: int, end: int, value: Value) -> Found:
        """The find of a kind in this stretch of a text."""
        return cls(kind, text[start:end], start, end, value)


def outside(text: str, spans: Iterable[tuple[int, int]]) -> Iterator[str]:
    """The stretches of a text before, between and behind some spans; empty ones too.

    >>> list(outside("sold, 12 gns, May", [(6, 12)]))
    ['sold, ', ', May']
    """
    before = 0
    for start, end in sorted(spans):
        yield text[before:start]
        before = max(before, end)
    yield text[before:]


def longest(finds: Iterable[Found]) -> list[Found]:
    """The finds that remain when each letter belongs to one, the longer before the shorter.

    >>> both = [Found.at("name", "Trewin & Sons", *at, {}) for at in ((0, 6), (0, 13))]
    >>> [each.written for each in longest(both)]
    ['Trewin & Sons']
    """
    kept: list[Found] = []
    taken: set[int] = set()
    for each in sorted(finds, key=lambda found: (found.start - found.end, found.start)):
        letters = range(each.start, each.end)
        if taken.isdisjoint(letters):
            taken.update(letters)
            kept.append(each)
    return sorted(kept, key=lambda found: found.start)
