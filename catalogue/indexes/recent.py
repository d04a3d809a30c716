"""What was saved since the index was last written to, held in memory and read beside it.

A save is made findable by taking its words apart, which takes milliseconds; nothing is written.
Nothing is lost with it either: the ledger has it, and it is taken apart again at the next start.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.entry import Entry
from catalogue.indexes.part import Values, valued
from catalogue.indexes.stored import TEXTS, days, facts, patterns, sort_key
from catalogue.indexes.whoosh_blocks import KEY, Numbers, Postings, places_of

Document = tuple[str, Sequence[Entry]]
"""A document's id, and what can be found of it: nothing when it is gone."""


class Recent:
    """The documents saved last, in a few parts, each larger than all after it together."""

    def __init__(self) -> None:
        self.parts: list[MemoryPart] = []
        self.upto = 0
        self._held: dict[str, tuple[int, Sequence[Entry]]] = {}

    def __len__(self) -> int:
        return len(self._held)

    def documents(self) -> tuple[Document, ...]:
        """What is held, each document once."""
        return tuple((document, entries) for document, (_, entries) in self._held.items())

    def put(self, documents: Sequence[Document], upto: int) -> None:
        """Hold these in place of what was held of them; `upto` is the change they came with."""
        self.upto = max(self.upto, upto)
        for document, entries in documents:
            self._held[document] = upto, entries
        while self.parts and len(self.parts[-1].documents) <= len(documents):
            # what is taken together is taken apart again: of each document only the last is kept
            documents = tuple((dict(self.parts.pop().documents) | dict(documents)).items())
        if documents:
            self.parts.append(MemoryPart(documents))

    def taken_in(self, cursor: int) -> None:
        """Let go of what an index with this cursor has."""
        left = {each: held for each, held in self._held.items() if held[0] > cursor}
        if len(left) < len(self._held):
            self._held = left
            self.parts = [MemoryPart(self.documents())] if left else []


class MemoryPart:
    """Documents in memory, to be asked as a part of the index on the disk; see `Part`."""

    def __init__(self, documents: Sequence[Document]) -> None:
        self.documents = documents
        self._entries = [
            (order, entry) for _, entries in documents for order, entry in enumerate(entries)
        ]
        self.size = len(self._entries)
        self._held: dict[str, dict[str, dict[int, list[float]]]] = {}
        for at, (_, entry) in enumerate(self._entries):
            self._add(at, entry)
        self._days = [days(entry) for _, entry in self._entries]
        self._kept: dict[tuple[str, str], Postings | None] = {}

    def _add(self, at: int, entry: Entry) -> None:
        for field in TEXTS:
            if text := getattr(entry, field):
                for term, places in places_of(text).items():
                    self._put(field, term, at, places)
        for fact in facts(entry):
            self._put("fact", fact, at, [])
        for pattern in patterns(entry):
            self._put("damaged", pattern, at, [])
        self._put("document", entry.document, at, [])
        for name, figure in entry.figures:
            self._held.setdefault("figure", {}).setdefault(name, {}).setdefault(at, []).append(
                figure
            )

    def _put(self, field: str, term: str, at: int, said: Sequence[float]) -> None:
        self._held.setdefault(field, {}).setdefault(term, {})[at] = list(said)

    @cached_property
    def works(self) -> Numbers:
        """Which document each entry is of."""
        orders = np.array([order for order, _ in self._entries], np.int32)
        return np.cumsum(orders == 0, dtype=np.int32) - np.int32(1)

    @cached_property
    def firsts(self) -> Numbers:
        """The first entry of each document."""
        return np.flatnonzero(np.diff(self.works, prepend=-1)).astype(np.int32)

    @cached_property
    def touched(self) -> Numbers:
        """By document, the change that last touched it."""
        return np.array([self._entries[at][1].touched for at in self.firsts], np.int32)

    @cached_property
    def numbers(self) -> NDArray[np.bytes_]:
        """By document, its number in a form that sorts."""
        return np.array([sort_key(self._entries[at][1]) for at in self.firsts], f"S{KEY}")

    def days(self, name: str) -> Numbers:
        """A column of days."""
        return np.array([each[name] for each in self._days], np.int32)

    def postings(self, field: str, term: str) -> Postings | None:
        """The entries that hold a term."""
        key = field, term
        if key not in self._kept:
            held = self._held.get(field, {}).get(term)
            self._kept[key] = _as_postings(held, field) if held else None
        return self._kept[key]

    def values(self, field: str) -> Values:
        """Every value of a field of facts."""
        begins = f"{field}="
        found = [term for term in self._held.get("fact", {}) if term.startswith(begins)]
        holding = [np.array(list(self._held["fact"][term]), np.int32) for term in found]
        return valued([term.partition("=")[2] for term in found], holding)

    def entry(self, at: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        return self._entries[at]

    def counts(self) -> dict[str, dict[str, int]]:
        """Every word with how many entries hold it."""
        return {
            field: {term: len(held) for term, held in self._held.get(field, {}).items()}
            for field in (*TEXTS, "damaged")
        }

    def terms(self, field: str) -> list[str]:
        """Every term of a field."""
        return sorted(self._held.get(field, {}))


def _as_postings(held: Mapping[int, Sequence[float]], field: str) -> Postings:
    said = [each for one in held.values() for each in one]
    return Postings(
        np.fromiter(held, np.int32),
        np.fromiter((max(1, len(one)) for one in held.values()), np.int32),
        np.array(said, np.float64 if field == "figure" else np.uint32),
    )
