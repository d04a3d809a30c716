"""Facets: how many of the works found have each value of a field of facts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np

from catalogue.indexes.matches import Entries
from catalogue.indexes.part import Part, Values

MOST_CELLS = 4_000_000
"""So large a table of works and values is filled in; a larger one costs more than sorting."""


def counted(
    parts: Sequence[tuple[Part, int]], field: str, found: Entries, size: int
) -> list[tuple[str, int]]:
    """Each value with its works, most first: those of which an entry that was found has it.

    `found` ascends; `size` is how many entries the parts have together.
    """
    counts: Counter[str] = Counter()
    for part, offset in parts:
        values = part.values(field)
        if values.keys:
            begins, ends = np.searchsorted(found, [offset, min(offset + part.size, size)])
            counts.update(_in_part(part, values, found[begins:ends] - offset))
    return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


def _in_part(part: Part, values: Values, found: Entries) -> dict[str, int]:
    kept = _rows_of(values.entries, found, part.size)
    works, places = part.works[values.entries[kept]], values.places[kept]
    cells = len(part.firsts) * len(values.keys)
    if cells <= min(MOST_CELLS, 20 * len(works)):
        has = np.zeros((len(part.firsts), len(values.keys)), bool)
        has[works, places] = True
        often = np.count_nonzero(has, axis=0)
    else:
        pairs = works.astype(np.int64) * len(values.keys) + places
        # the entries of a work lie together, and mostly say the same
        pairs = np.sort(pairs[np.flatnonzero(np.diff(pairs, prepend=-1))])
        pairs = pairs[np.flatnonzero(np.diff(pairs, prepend=-1))]
        often = np.bincount(pairs % len(values.keys), minlength=len(values.keys))
    return {values.keys[at]: int(often[at]) for at in np.flatnonzero(often)}


def _rows_of(entries: Entries, found: Entries, size: int) -> Entries:
    """Where the entries that were found stand among ascending ones, each as often as it stands there.

    >>> _rows_of(np.array([1, 1, 3, 4, 4]), np.array([1, 4]), 5).tolist()
    [0, 1, 3, 4]
    """
    if len(found) * 64 > len(entries):
        there = np.zeros(size, bool)
        there[found] = True
        return np.flatnonzero(there[entries])
    begins, ends = np.searchsorted(entries, found), np.searchsorted(entries, found, "right")
    often = ends - begins
    rows: Entries = np.repeat(ends - np.cumsum(often), often) + np.arange(often.sum())
    return rows
