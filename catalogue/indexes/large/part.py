"""A part of the second engine's index, read: what a tree finds in it, and its columns as arrays."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import tantivy
from numpy.typing import NDArray
from tantivy import Query

from catalogue.indexes.entry import Entry
from catalogue.indexes.large.fields import from_kept
from catalogue.indexes.large.questions import UNIT
from catalogue.indexes.matches import NOTHING, Entries, Matches, unscored
from catalogue.indexes.part import Values
from catalogue.indexes.rows import in_a_row, near
from catalogue.indexes.stored import TEXTS
from catalogue.indexes.tree import Row
from catalogue.indexes.whoosh_blocks import Numbers, Postings, places_of


class LargePart:
    """A folder that `write_part` made; every file in it is as it was then."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._known = json.loads((folder / "known.json").read_text("utf-8"))
        self.size: int = self._known["size"]
        self.documents: list[str] = self._known["documents"]
        self.replaced: list[str] = self._known["replaced"]
        self.index = tantivy.Index.open(str(folder))
        self.index.config_reader("manual")
        self.searcher = self.index.searcher()
        self.in_one_piece = self.searcher.num_segments <= 1
        self.dead: Numbers = np.zeros(0, np.int32)
        self._days: dict[str, Numbers] = {}
        self._values: dict[str, Values] = {}

    # --- what a tree finds -------------------------------------------------------------

    def all_of(self, question: Query) -> Matches:
        """All entries that a question finds, ascending, with their scores."""
        return self.first_of(question, max(1, self.size), None)

    def first_of(self, question: Query, limit: int, order: str | None) -> Matches:
        """The first entries by a column, else by score, then by number; put in order of their places.

        By a column they have no scores.
        """
        if order is None:
            hits = self.searcher.search(question, limit, count=False).hits
        else:
            hits = self.searcher.search(
                question, limit, count=False, order_by_field=order, order=tantivy.Order.Asc
            ).hits
        if not hits:
            return NOTHING
        entries = self.serials([address for _, address in hits])
        if order is not None:
            return unscored(np.sort(entries))
        scores = np.fromiter((score for score, _ in hits), np.float64, len(hits)) / UNIT
        places = np.argsort(entries)
        return Matches(entries[places], scores[places])

    def count(self, question: Query) -> int:
        """How many entries a question finds."""
        found: Any = self.searcher.search(question, 1)
        return int(found.count)

    def rough(self, question: Query) -> int:
        """Of how many documents, roughly."""
        return int(self.searcher.cardinality(question, "work"))

    def counted(self, question: Query, facet: str, most: int) -> dict[str, int]:
        """The values of a facet among what a question finds, each with its documents, roughly."""
        works = {"works": {"cardinality": {"field": "work"}}}
        asked = {"terms": {"field": f"facets.{facet}", "size": most}}
        found = self.searcher.aggregate(question, {"values": {**asked, "aggs": works}})
        return {
            each["key"]: round(each["works"]["value"]) for each in found["values"]["buckets"]
        }

    def serials(self, addresses: Sequence[tantivy.DocAddress]) -> Entries:
        """Which entries these are."""
        if self.in_one_piece:
            # written in order in one piece, an entry lies where it was counted
            return np.fromiter((each.doc for each in addresses), np.int32, len(addresses))
        return np.array(self.searcher.fast_field_values("serial", list(addresses)), np.int32)

    def works_with(self, query: Query) -> Sequence[int]:
        """The documents of which some entry is found."""
        found: list[int] = np.unique(self.works[self.all_of(query).entries]).tolist()
        return found

    def entries_with(self, query: Query, row: Row) -> Sequence[int]:
        """The entries found in which the words of the row stand as they should."""
        return [
            at for at in self.all_of(query).entries.tolist() if _stands(self.entry(at)[1], row)
        ]

    # --- its columns -------------------------------------------------------------------

    @cached_property
    def firsts(self) -> Numbers:
        """The first entry of each document."""
        return self._column("firsts")

    @cached_property
    def works(self) -> Numbers:
        """Which document of the part each entry is of."""
        begins = np.zeros(self.size, np.int32)
        begins[self.firsts] = 1
        return np.cumsum(begins, dtype=np.int32) - np.int32(1)

    @cached_property
    def touched(self) -> Numbers:
        """By document, the change that last touched it."""
        return self._column("touched")

    @cached_property
    def numbers(self) -> NDArray[np.bytes_]:
        """By document, its number in a form that sorts as people count."""
        keys: NDArray[np.bytes_] = np.load(self._folder / "keys.npy", allow_pickle=False)
        return keys

    def days(self, name: str) -> Numbers:
        """A column of days."""
        if name not in self._days:
            self._days[name] = self._column(name)
        return self._days[name]

    def values(self, field: str) -> Values:
        """Every value of a field of facts."""
        if field not in self._values:
            self._values[field] = self._read_values(field)
        return self._values[field]

    def _read_values(self, field: str) -> Values:
        fields = list(self._known["facts"])
        if field not in fields:
            return Values(np.zeros(0, np.int32), np.zeros(0, np.int32), ())
        number = fields.index(field)
        return Values(
            self._column(f"fact-{number}-entries"),
            self._column(f"fact-{number}-places"),
            tuple(self._known["facts"][field]),
        )

    def entry(self, at: int) -> tuple[int, Entry]:
        """An entry as it was given, with its place among those of its document."""
        if self.in_one_piece:
            address = tantivy.DocAddress(0, int(at))
        else:
            this = Query.term_query(self.index.schema, "serial", int(at))
            [(_, address)] = self.searcher.search(this, 1).hits
        held: Any = self.searcher.doc(address).get_first("kept")
        return from_kept(held)

    def entries_of(self, document: str) -> Entries:
        """The entries of a document."""
        if (at := self._places.get(document)) is None:
            return NOTHING.entries
        end = self.firsts[at + 1] if at + 1 < len(self.firsts) else self.size
        return np.arange(self.firsts[at], end, dtype=np.int32)

    def postings(self, field: str, term: str) -> Postings | None:
        """The entries of a document or with a fact; the places of words are the engine's own."""
        if field == "document":
            entries = self.entries_of(term)
        else:
            entries = self.all_of(Query.term_query(self.index.schema, field, term)).entries
        if not len(entries):
            return None
        return Postings(entries, np.ones(len(entries), np.int32), np.zeros(0, np.uint32))

    def terms(self, field: str) -> list[str]:
        """Every term of a field."""
        return sorted(term for term, _ in self.searcher.terms_with_prefix(field, ""))

    def counts(self) -> dict[str, dict[str, int]]:
        """Every word of the fields of text, and every damaged one, with how many entries hold it."""
        fields = (*TEXTS, "damaged")
        return {field: dict(self.searcher.terms_with_prefix(field, "")) for field in fields}

    def everything(self) -> Iterator[tuple[str, list[Entry]]]:
        """Every document with its entries, to be written anew."""
        for document in self.documents:
            yield document, [self.entry(at)[1] for at in self.entries_of(document).tolist()]

    @cached_property
    def _places(self) -> dict[str, int]:
        return {document: at for at, document in enumerate(self.documents)}

    def _column(self, name: str) -> Numbers:
        file = self._folder / f"{name}.npy"
        held: Numbers = np.load(file, mmap_mode="r" if self.size else None, allow_pickle=False)
        return held


def _stands(entry: Entry, row: Row) -> bool:
    """Whether the words of a row stand together in the text of an entry."""
    field = row.steps[0].hits[0].field
    places = places_of(getattr(entry, field))
    steps = [
        np.unique(
            np.array([at for hit in step.hits for at in places.get(hit.term, ())], np.int64)
        )
        for step in row.steps
    ]
    if not all(map(len, steps)):
        return False
    if row.apart == 0:
        return bool(len(in_a_row(steps)))
    sought = [{hit.term for hit in step.hits} for step in row.steps]
    same = [sought[:at].count(step) for at, step in enumerate(sought)]
    return bool(len(near(steps, row.apart, same)))
