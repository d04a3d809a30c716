"""What the index holds: its parts put one after the other, asked term by term, as arrays.

Entries are numbered through over all parts, and so are the documents they are of. Every document
lies in one part alone: what an older part held of it is hidden.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.entry import Entry
from catalogue.indexes.matches import NOTHING, Entries, Matches, either, together, unscored
from catalogue.indexes.part import Part
from catalogue.indexes.rows import STRIDE, Places
from catalogue.indexes.tree import Hit, Terms
from catalogue.indexes.whoosh_blocks import Postings

_NONE = np.zeros(0, np.int32)


class Order:
    """The documents of some parts in the order of their numbers, worked out once."""

    def __init__(self, parts: Sequence[Part]) -> None:
        self.keys = np.sort(_joined([part.numbers for part in parts]))

    def places(self, keys: NDArray[Any]) -> NDArray[np.float64]:
        """Where documents with these keys stand, also between those that were sorted."""
        at = np.searchsorted(self.keys, keys)
        there = np.zeros(len(keys), bool)
        if len(self.keys):
            there = self.keys[np.minimum(at, len(self.keys) - 1)] == keys
        places = at.astype(np.float64)
        new = np.flatnonzero(~there)
        among = (np.argsort(np.argsort(keys[new])) + 1) / (len(new) + 1)
        places[new] += among - 1
        return places


class Holdings:
    """The open parts, `dead` entries of each left out; `order` may be that of most of them."""

    def __init__(
        self, parts: Sequence[tuple[Part, Iterable[Entries]]], order: Order | None = None
    ) -> None:
        self.parts: list[tuple[Part, int]] = []
        self._works_before: list[int] = []
        self._dead: list[Entries] = []
        self.size = works = 0
        held = [(part, list(dead)) for part, dead in parts]
        for part, dead in held:
            self.parts.append((part, self.size))
            self._works_before.append(works)
            self._dead.extend(each + self.size for each in dead)
            self.size += part.size
            works += len(part.firsts)
        self.how_many_works = works
        self._order = order
        self.dead: list[Entries] = [np.concatenate([*each, _NONE]) for _, each in held]
        self._days: dict[str, Entries] = {}

    @cached_property
    def alive(self) -> NDArray[np.bool_]:
        """Which entries count."""
        alive = np.ones(self.size, bool)
        for each in self._dead:
            alive[each] = False
        return alive

    @cached_property
    def every(self) -> Entries:
        """All entries that count."""
        return np.flatnonzero(self.alive).astype(np.int32)

    @cached_property
    def works(self) -> Entries:
        """Of which document each entry is."""
        return _joined(
            [
                part.works + np.int32(before)
                for (part, _), before in zip(self.parts, self._works_before, strict=True)
            ]
        )

    @cached_property
    def rank(self) -> NDArray[np.float64]:
        """Where each document stands by its number."""
        order = self._order or Order([part for part, _ in self.parts])
        return order.places(_joined([part.numbers for part, _ in self.parts]))

    @cached_property
    def touched(self) -> Entries:
        """By document, the change that last touched it."""
        return _joined([part.touched for part, _ in self.parts])

    def days(self, name: str) -> Entries:
        """A column of days, over all entries."""
        if name not in self._days:
            self._days[name] = _joined([part.days(name) for part, _ in self.parts])
        return self._days[name]

    def holding(self, field: str, term: str) -> Entries:
        """The entries that hold a term in a field."""
        found = [held.entries + offset for held, offset in self._postings(field, term)]
        return _joined(found)

    def found(self, sought: Terms) -> Matches:
        """The entries that hold any form of what is sought, with the strength of the best."""
        by_strength: dict[float, list[Entries]] = {}
        for hit in sought.hits:
            for held, offset in self._postings(*hit.held_as):
                by_strength.setdefault(hit.strength, []).append(held.entries + offset)
        if not by_strength:
            return NOTHING
        if not sought.rarity:
            every = [each for several in by_strength.values() for each in several]
            return unscored(together(every, self.size))
        scored = [
            (round(strength * sought.rarity, 4), _joined(by_strength[strength]))
            for strength in sorted(by_strength)
        ]
        if len(scored) == 1 or 16 * sum(len(each) for _, each in scored) < self.size:
            parts = [
                Matches(entries, np.full(len(entries), score))
                for score, each in scored
                for entries in [together([each, NOTHING.entries], self.size)]
            ]
            return either(parts, self.size)
        best = np.full(self.size, -1.0)
        for score, each in scored:
            best[each] = score
        entries = np.flatnonzero(best >= 0).astype(np.int32)
        return Matches(entries, best[entries])

    def places(self, hits: Iterable[Hit], within: Entries | None) -> Places:
        """Where words stand, in these entries alone; the hits are all of one field."""
        found: list[Places] = []
        for hit in hits:
            for held, offset in self._postings(hit.field, hit.term):
                entries = np.repeat(held.entries.astype(np.int64) + offset, held.often)
                said = held.said.astype(np.int64)
                if within is not None:
                    kept = within[entries]
                    entries, said = entries[kept], said[kept]
                found.append(entries * STRIDE + said)
        return np.unique(np.concatenate(found)) if found else np.zeros(0, np.int64)

    def measured(self, name: str, least: float | None, most: float | None) -> Matches:
        """The entries with a figure between these."""
        found: list[Entries] = []
        for held, offset in self._postings("figure", name):
            fits = np.ones(len(held.said), bool)
            if least is not None:
                fits &= held.said >= least
            if most is not None:
                fits &= held.said <= most
            found.append(np.unique(np.repeat(held.entries, held.often)[fits]) + offset)
        return unscored(_joined(found))

    def entry(self, entry: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        part, offset = next(held for held in reversed(self.parts) if held[1] <= entry)
        return part.entry(entry - offset)

    def keys(self, field: str) -> set[str]:
        """Every value of a field of facts, also of what was taken out since."""
        return {key for part, _ in self.parts for key in part.values(field).keys}

    def terms(self, field: str) -> set[str]:
        """Every term of a field, also of what was taken out since."""
        return {term for part, _ in self.parts for term in part.terms(field)}

    def _postings(self, field: str, term: str) -> Iterable[tuple[Postings, int]]:
        for part, offset in self.parts:
            held = part.postings(field, term)
            if held is not None:
                yield held, offset


def _joined(arrays: Sequence[NDArray[Any]]) -> NDArray[Any]:
    if not arrays:
        return np.zeros(0, np.int32)
    return arrays[0] if len(arrays) == 1 else np.concatenate(arrays)
