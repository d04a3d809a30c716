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
    """Each value with its works, most first: those of which an entry that was found has it."""
    there = np.zeros(size, bool)
    there[found] = True
    counts: Counter[str] = Counter()
    for part, offset in parts:
        values = part.values(field)
        if values.keys:
            counts.update(_in_part(part, values, there[offset : offset + part.size]))
    return sorted(counts.items(), key=lambda item: (-item[1], item[0]))


def _in_part(part: Part, values: Values, there: Entries) -> dict[str, int]:
    kept = there[values.entries]
    works, places = part.works[values.entries[kept]], values.places[kept]
    if len(part.firsts) * len(values.keys) <= MOST_CELLS:
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
