"""One part of the index, on the disk or in memory: columns as arrays, and the postings of a term.

A part never changes; what is taken out of it later is said by whoever holds it.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.entry import Entry
from catalogue.indexes.stored import OPEN_AFTER, OPEN_BEFORE, TEXTS, from_index
from catalogue.indexes.whoosh_blocks import (
    KEY,
    Numbers,
    Postings,
    column,
    extent,
    postings,
    postings_at,
)

MOST_KEPT = 48 << 20
"""Bytes of postings that a part keeps in memory, those used last."""


@dataclass(frozen=True, slots=True)
class Values:
    """The values of a field of facts: `entries` ascending, each with the place of a key in `keys`."""

    entries: Numbers
    places: Numbers
    keys: tuple[str, ...]


class Part(Protocol):
    """What can be asked of a part."""

    size: int

    @property
    def works(self) -> Numbers:
        """Which document of the part each entry is of, counted from 0."""
        ...

    @property
    def firsts(self) -> Numbers:
        """The first entry of each document."""
        ...

    def postings(self, field: str, term: str) -> Postings | None:
        """The entries that hold a term."""
        ...

    def values(self, field: str) -> Values:
        """Every value of a field of facts."""
        ...

    def days(self, name: str) -> Numbers:
        """A column of days."""
        ...

    @property
    def touched(self) -> Numbers:
        """By document, the change that last touched it."""
        ...

    @property
    def numbers(self) -> NDArray[np.bytes_]:
        """By document, its number in a form that sorts as people count."""
        ...

    def entry(self, at: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        ...

    def terms(self, field: str) -> list[str]:
        """Every term of a field."""
        ...


class KeptPart(Part, Protocol):
    """A part on the disk, out of which entries may have been taken since."""

    @property
    def dead(self) -> Numbers:
        """The entries that a commit took out."""
        ...


class Worded(Part, Protocol):
    """A part that also tells its words."""

    def counts(self) -> dict[str, dict[str, int]]:
        """Every word of the fields of text, and every damaged one, with how many entries hold it."""
        ...


class DiskPart:
    """A segment of the engine; its arrays are read once. For what it answers, see `Part`."""

    def __init__(self, leaf: Any) -> None:
        self._leaf = leaf
        self.size: int = leaf.doc_count_all()
        self._kept: OrderedDict[tuple[str, str], Postings | None] = OrderedDict()
        self._bytes = 0
        self._days: dict[str, Numbers] = {}
        self._values: dict[str, Values] = {}
        self._lies: dict[str, dict[str, tuple[int, int]]] = {}

    def under(self, leaf: Any) -> DiskPart:
        """The same part under a later commit, with the arrays that were read."""
        self._leaf = leaf
        return self

    @property
    def dead(self) -> Numbers:
        """The entries that a commit took out."""
        return np.array(sorted(self._leaf.segment().deleted_docs()), np.int32)

    @cached_property
    def works(self) -> Numbers:
        """Which document each entry is of."""
        order = column(self._leaf, "order", "i4", -1)
        return np.cumsum(order == 0, dtype=np.int32) - np.int32(1)

    @cached_property
    def firsts(self) -> Numbers:
        """The first entry of each document."""
        return np.flatnonzero(np.diff(self.works, prepend=-1)).astype(np.int32)

    @cached_property
    def touched(self) -> Numbers:
        """By document, the change that last touched it."""
        return column(self._leaf, "touched", "i4", 0)[self.firsts]

    @cached_property
    def numbers(self) -> NDArray[np.bytes_]:
        """By document, its number in a form that sorts."""
        held = postings(self._leaf, "sort", b"key")
        return held.said if held else np.zeros(0, f"S{KEY}")

    def days(self, name: str) -> Numbers:
        """A column of days."""
        if name not in self._days:
            default = OPEN_AFTER if name.endswith("latest") else OPEN_BEFORE
            self._days[name] = column(self._leaf, name, "i4", default)
        return self._days[name]

    def postings(self, field: str, term: str) -> Postings | None:
        """The entries that hold a term."""
        key = field, term
        if key in self._kept:
            self._kept.move_to_end(key)
            return self._kept[key]
        if (lies := self._lies.get(field)) is not None:
            where = lies.get(term)
            found = postings_at(self._leaf, field, *where) if where else None
        else:
            found = postings(self._leaf, field, term.encode("utf-8", "replace"))
        self._kept[key] = found
        self._bytes += 200 + (found.size if found else 0)
        while self._bytes > MOST_KEPT:
            _, gone = self._kept.popitem(last=False)
            self._bytes -= 200 + (gone.size if gone else 0)
        return found

    def values(self, field: str) -> Values:
        """Every value of a field of facts."""
        if field not in self._values:
            keys = [term.partition("=")[2] for term in self._terms("fact", f"{field}=")]
            held = [
                postings(self._leaf, "fact", f"{field}={key}".encode("utf-8", "replace"))
                for key in keys
            ]
            self._values[field] = valued(keys, [each.entries for each in held if each])
        return self._values[field]

    def entry(self, at: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        return from_index(self._leaf.stored_fields(int(at))["kept"])

    def terms(self, field: str) -> list[str]:
        """Every term of a field."""
        return self._terms(field, "")

    def counts(self) -> dict[str, dict[str, int]]:
        """Every word with how many entries hold it."""
        found: dict[str, dict[str, int]] = {}
        for field in (*TEXTS, "damaged"):
            held = found[field] = {}
            # where each lies in the file: thousands of words may be asked for at once
            lies = self._lies[field] = {}
            for term, info in self._leaf.iter_field(field):
                word = bytes(term).decode()
                held[word] = info.doc_frequency()
                lies[word] = extent(info)
        return found

    def _terms(self, field: str, begins: str) -> list[str]:
        found = []
        for name, term in self._leaf.terms_from(field, begins.encode("utf-8", "replace")):
            said = bytes(term).decode()
            if name != field or not said.startswith(begins):
                break
            found.append(said)
        return found


def valued(keys: list[str], holding: list[Numbers]) -> Values:
    """The values of a field, put in the order of the entries that have them."""
    if not keys:
        return Values(np.zeros(0, np.int32), np.zeros(0, np.int32), ())
    entries = np.concatenate(holding)
    places = np.repeat(np.arange(len(keys), dtype=np.int32), [len(each) for each in holding])
    order = np.argsort(entries, kind="stable")
    return Values(entries[order], places[order], tuple(keys))
