"""Entries that were found, as sorted arrays, and how they are joined.

>>> import numpy as np
>>> both(np.array([1, 4, 9]), np.array([4, 5, 9]), 10).tolist()
[4, 9]
>>> first = Matches(np.array([1, 4]), np.array([1.0, 2.0]))
>>> either([first, Matches(np.array([4, 6]), np.array([1.5, 0.5]))], 10)
Matches(entries=array([1, 4, 6]), scores=array([1. , 2. , 0.5]))
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Entries = NDArray[Any]
Scores = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Matches:
    """Entries, ascending, each once, and the score of each."""

    entries: Entries
    scores: Scores

    def only(self, kept: NDArray[np.bool_]) -> Matches:
        """Those of them that are marked."""
        return Matches(self.entries[kept], self.scores[kept])


def unscored(entries: Entries) -> Matches:
    """Entries that count nothing for the order."""
    return Matches(entries, np.zeros(len(entries)))


NOTHING = unscored(np.zeros(0, np.int32))


def inside(entries: Entries, among: Entries, size: int) -> NDArray[np.bool_]:
    """Which of these entries are among others; `size` is how many entries there are at all."""
    if not len(among) or not len(entries):
        return np.zeros(len(entries), bool)
    if len(entries) * 16 < len(among):
        at = np.minimum(np.searchsorted(among, entries), len(among) - 1)
        return np.asarray(among[at] == entries)
    there = np.zeros(size, bool)
    there[among] = True
    return there[entries]


def both(one: Entries, other: Entries, size: int) -> Entries:
    """Entries that are in both."""
    if len(other) < len(one):
        one, other = other, one
    return one[inside(one, other, size)]


def once(ascending: Entries) -> Entries:
    """Each number of an ascending array once; the library would sort or hash them anew."""
    if not len(ascending):
        return ascending
    first = np.ones(len(ascending), bool)
    np.not_equal(ascending[1:], ascending[:-1], out=first[1:])
    return ascending[first]


def together(several: Sequence[Entries], size: int) -> Entries:
    """All entries of several arrays, ascending, each once."""
    if len(several) == 1:
        return several[0]
    entries = np.concatenate(several)
    if len(entries) * 16 < size:
        return once(np.sort(entries))
    there = np.zeros(size, bool)
    there[entries] = True
    return np.flatnonzero(there).astype(np.int32)


def all_of(parts: Sequence[Matches], size: int) -> Matches:
    """Entries that are in every one; their scores are added up."""
    entries = parts[0].entries
    for part in sorted(parts, key=lambda each: len(each.entries)):
        entries = both(entries, part.entries, size)
    scores = np.zeros(len(entries))
    for part in parts:
        if part.scores.any():
            scores += part.scores[np.searchsorted(part.entries, entries)]
    return Matches(entries, scores)


def either(parts: Sequence[Matches], size: int) -> Matches:
    """Entries that are in one at least, with the best score they have."""
    parts = [each for each in parts if len(each.entries)]
    if len(parts) < 2:
        return parts[0] if parts else NOTHING
    entries = np.concatenate([each.entries for each in parts])
    scores = np.concatenate([each.scores for each in parts])
    if len(entries) * 16 > size:
        best = np.full(size, -1.0)
        if len(parts) > 64:
            order = np.argsort(scores, kind="stable")
            best[entries[order]] = scores[order]
        else:
            for each in parts:
                best[each.entries] = np.maximum(best[each.entries], each.scores)
        found = np.flatnonzero(best >= 0).astype(entries.dtype)
        return Matches(found, best[found])
    order = np.argsort(entries, kind="stable")
    entries, scores = entries[order], scores[order]
    starts = np.flatnonzero(np.diff(entries, prepend=-1))
    return Matches(entries[starts], np.maximum.reduceat(scores, starts))
