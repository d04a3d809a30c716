"""Projecting: from what the ledger keeps of a document to what the index is told of it.

A share of all documents can be done by a process of its own, which writes its own part of an index.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, cast

from catalogue.errors import CatalogueError, NotOnFile
from catalogue.indexes.engines import write_part
from catalogue.indexes.entries import entries
from catalogue.indexes.words import Document, Entry
from catalogue.keeping import as_read, at
from catalogue.ledger import Ledger, Revision
from catalogue.on_file import OnFile
from catalogue.record import Party, Record, is_address
from catalogue.record.rules import Documents, fields_of, values_within

NAMES = "names"
"""The field of facts that says which parties a document names; on the entry of the whole."""

AT_ONCE = 20
"""How many documents are done between two words about the progress."""


class Projection:
    """What the index is told of the documents of one ledger."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self.on_file = OnFile(ledger)

    def of(self, revisions: Iterable[tuple[Revision, int]]) -> Iterator[Document]:
        """The entries of each of these; beside a revision stands the change that touched it last."""
        # An artist's names are asked for at every one of their works.
        names = cache(self.names)
        for revision, touched in revisions:
            record = as_read(revision).record
            made = entries(record, names, self.on_file.known(record))
            yield revision.document, _told_more(made, record, touched)

    def names(self, party: str) -> tuple[str, ...]:
        """Every form of a party's name, the one to show first."""
        try:
            own = at(self._ledger, party) if is_address(party) else party
            record = as_read(self._ledger.read(own)).record if own else None
        except NotOnFile:
            return ()
        return tuple(name.text for name in record.names) if isinstance(record, Party) else ()


def _told_more(made: Sequence[Entry], record: Record, touched: int) -> Sequence[Entry]:
    """The entries, the first also with whom the record names, and when it was last touched."""
    if not made:
        return made
    named = tuple((NAMES, each) for each in sorted(_named(record)))
    return (replace(made[0], facts=(*made[0].facts, *named), touched=touched), *made[1:])


def _named(record: Record) -> set[str]:
    """The documents and addresses of parties that a record names anywhere."""
    found: set[str] = set()
    for value in values_within(record):
        for rule in fields_of(cast("Any", type(value))):
            of = rule.rule(Documents)
            if of is not None and "party" in of.kinds:
                held = getattr(value, rule.name)
                found.update(held if rule.many else filter(None, (held,)))
    return found


def share(folder: Path, target: Path, documents: Sequence[tuple[str, int]], told: Any) -> None:
    """Write a part of an index with these documents into `target`, telling of it through a queue.

    What is told is how many more are done, at last None; or the words of an error.
    """
    try:
        with Ledger.open(folder) as ledger:
            projection = Projection(ledger)

            def read() -> Iterator[tuple[Revision, int]]:
                for done, (document, touched) in enumerate(documents, 1):
                    yield ledger.read(document), touched
                    if done % AT_ONCE == 0:
                        told.put(AT_ONCE)

            write_part(target, projection.of(read()))
        told.put(None)
    except CatalogueError as fault:
        told.put(str(fault))
