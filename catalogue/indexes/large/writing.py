"""A part of the second engine's index, written once: entries in the order of their numbers, and columns.

    large-3/part-7/*            the engine's own files
    large-3/part-7/*.npy        columns as plain arrays: what is put in order and counted
    large-3/part-7/known.json   its documents, the keys of facts

A part never changes. One that was not finished is not in the list of parts, and is cleared away.
"""

from __future__ import annotations

import heapq
import json
import marshal
from array import array
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import tantivy

from catalogue.indexes.entry import Entry
from catalogue.indexes.large.fields import SCHEMA, from_kept, kept, to_index
from catalogue.indexes.stored import DAYS, OPEN_AFTER, days, facts, sort_key

Document = tuple[str, Sequence[Entry]]

SORTED_AT_ONCE = 4_000
"""Documents put in order in memory; more are laid aside in order, and drawn together again."""

MEMORY_BYTES = 1_500_000_000
"""What the engine may hold of a large part, so that it is one piece; it takes what it needs."""

MEMORY_OF_A_BATCH = 60_000_000


class Columns:
    """What is put in order and counted, entry by entry or document by document."""

    def __init__(self) -> None:
        self.firsts = array("i")
        self.days = {name: array("i") for name in DAYS}
        self.touched = array("i")
        self.keys: list[bytes] = []
        self.documents: list[str] = []
        self.facts: dict[str, tuple[array[int], array[int], dict[str, int]]] = {}
        self.size = 0

    def add(self, document: str, entries: Sequence[Entry]) -> None:
        """The next document."""
        self.firsts.append(self.size)
        self.touched.append(min(entries[0].touched, OPEN_AFTER))
        self.keys.append(sort_key(entries[0]))
        self.documents.append(document)
        for entry in entries:
            for name, day in days(entry).items():
                self.days[name].append(day)
            for fact in facts(entry):
                field, _, key = fact.partition("=")
                at, places, keys = self.facts.setdefault(field, (array("i"), array("i"), {}))
                at.append(self.size)
                places.append(keys.setdefault(key, len(keys)))
            self.size += 1

    def write(self, folder: Path, replaced: Sequence[str]) -> None:
        """All of it as files; `replaced` are the documents of which nothing older counts."""
        held: dict[str, Any] = {"firsts": self.firsts, "touched": self.touched, **self.days}
        names = sorted(self.facts)
        for number, field in enumerate(names):
            at, places, _ = self.facts[field]
            held |= {f"fact-{number}-entries": at, f"fact-{number}-places": places}
        for name, numbers in held.items():
            np.save(folder / f"{name}.npy", np.array(numbers, np.int32), allow_pickle=False)
        keys = np.array(self.keys, "S") if self.keys else np.zeros(0, "S1")
        np.save(folder / "keys.npy", keys, allow_pickle=False)
        known = {
            "size": self.size,
            "documents": self.documents,
            "replaced": replaced,
            "facts": {field: list(self.facts[field][2]) for field in names},
        }
        (folder / "known.json").write_text(json.dumps(known), "utf-8")


def write_part(folder: Path, documents: Iterable[Document], *, batch: bool = False) -> None:
    """A new part with these documents, each once."""
    folder.mkdir()
    replaced: list[str] = []
    index = tantivy.Index(SCHEMA, str(folder))
    writer = index.writer(MEMORY_OF_A_BATCH if batch else MEMORY_BYTES, num_threads=1)
    columns = Columns()
    for document, entries in _in_order(folder, _noted(documents, replaced)):
        for order, entry in enumerate(entries):
            work, serial = len(columns.documents), columns.size + order
            writer.add_document(to_index(entry, order, serial, work, entries[0].touched))
        columns.add(document, entries)
    writer.commit()
    writer.wait_merging_threads()
    columns.write(folder, replaced)


def _noted(documents: Iterable[Document], replaced: list[str]) -> Iterator[Document]:
    for document, entries in documents:
        replaced.append(document)
        if entries:
            yield document, entries


def _in_order(folder: Path, documents: Iterable[Document]) -> Iterator[Document]:
    """The documents in the order of their numbers."""
    aside: list[Path] = []
    held: list[tuple[bytes, Document]] = []
    for document in documents:
        held.append((sort_key(document[1][0]), document))
        if len(held) == SORTED_AT_ONCE:
            aside.append(_laid_aside(folder / f"aside-{len(aside)}", held))
            held = []
    held.sort(key=lambda each: each[0])
    yield from (
        document
        for _, document in heapq.merge(
            held, *(_drawn(file) for file in aside), key=lambda each: each[0]
        )
    )
    for file in aside:
        file.unlink()


def _laid_aside(file: Path, held: list[tuple[bytes, Document]]) -> Path:
    with file.open("wb") as opened:
        for key, (document, entries) in sorted(held, key=lambda each: each[0]):
            marshal.dump((key, document, [kept(entry, 0) for entry in entries]), opened)
    return file


def _drawn(file: Path) -> Iterator[tuple[bytes, Document]]:
    with file.open("rb") as opened:
        while True:
            try:
                key, document, entries = marshal.load(opened)
            except EOFError:
                return
            yield key, (document, tuple(from_kept(entry)[1] for entry in entries))
