"""The index of words: takes in saves, finds works and statements, and can always be made anew.

The studio gives it entries (`Entry`), so it knows nothing of records. It carries the number of
the last change it has taken in, and answers with documents saved since (`extra`) as if they
were in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Any

from whoosh.filedb.filestore import RamStorage
from whoosh.index import TOC, FileIndex, LockError
from whoosh.reading import IndexReader

from catalogue.errors import Busy, CannotSave
from catalogue.indexes.answer import Hit, Results, Statement
from catalogue.indexes.entry import Entry
from catalogue.indexes.generation import (
    Generation,
    SealedStorage,
    Sum,
    newest,
    open_generation,
    tidy,
)
from catalogue.indexes.generations import Generations, NeedsRebuild, disk
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.lock import one_writer
from catalogue.indexes.question import Query
from catalogue.indexes.search import answer
from catalogue.indexes.stored import SCHEMA, to_index

__all__ = ["Entry", "Hit", "NeedsRebuild", "Query", "Results", "Statement", "Words"]

Document = tuple[str, Sequence[Entry]]
"""A document's id, and what can be found of it: nothing when it is gone."""

MEMORY_MB = 256
"""What a rebuild may hold before it sorts on the disk (measured: half as fast with 16)."""


class Words:
    """The index in a folder of its own; several threads and processes may use it at once.

    Whatever goes wrong with its files is `NeedsRebuild`, until `rebuild` has been called; a
    folder without an index is an empty one with the cursor at 0. It may be deleted at any time.
    The engine unpickles what it reads: never point it at a folder that came from somebody else.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._generations = Generations(folder, "words")
        self._reading = RLock()
        self._open: Generation | None = None
        self._holdings = Holdings(())
        self._checked: dict[Path, Sum] = {}

    def __enter__(self) -> Words:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the files; they are opened again when next asked."""
        with self._reading:
            self._holdings = Holdings(())
            if self._open:
                self._open.close()
            self._open = None

    @property
    def cursor(self) -> int:
        """The number of the last change that was taken in; 0 for an empty index."""
        with self._reading:
            self._look()
            return self._open.cursor if self._open else 0

    def take_in(self, changes: Iterable[Document], upto: int) -> None:
        """Put what these documents hold now in place of what was held of them, in one commit.

        `upto` is the change that the index is then up to date with. Doing it again changes
        nothing. Raises `Busy` when somebody else is writing, `CannotSave` when the disk
        refuses.
        """
        documents = dict(changes)
        with _writing(self.folder):
            if sound := open_generation(self._generations, self._checked):
                sound.close()
                _write(sound.folder, documents.items(), upto, replacing=True)
            else:
                target = self._generations.fresh()
                _write(target, documents.items(), upto, replacing=False)
                self._generations.point(target)

    def catch_up(self, changes: Iterable[Document], upto: int) -> tuple[Document, ...]:
        """Take these in if that can be done now; else hand them back, for `search`."""
        documents = tuple(dict(changes).items())
        if not documents:
            return ()
        try:
            self.take_in(documents, upto)
        except (Busy, CannotSave):
            return documents
        return ()

    def rebuild(self, documents: Iterable[Document], upto: int) -> None:
        """Make the index anew; the old one answers until the new one is whole, then it goes."""
        with _writing(self.folder):
            target = self._generations.fresh()
            _write(target, documents, upto, replacing=False)
            self._generations.point(target)
            self._generations.clear(target)

    def search(
        self, query: Query, extra: Sequence[Document] = (), *, behind: int = 0
    ) -> Results:
        """What is found; `extra` are documents saved after the cursor, which count as taken in.

        `behind` is how many more saves the index has not seen; the answer repeats it.
        """
        with self._reading:
            self._look()
            if not extra:
                return answer(query, self._holdings, behind)
            newer = dict(extra)
            hidden = {
                entry for each in newer for entry in self._holdings.having("document", each)
            }
            with _in_memory(newer.items()) as leaves:
                # the kept entries come first, so they keep the numbers by which some are hidden
                kept = self._open.leaves if self._open else []
                return answer(query, Holdings([*kept, *leaves], hidden), behind)

    def _look(self) -> None:
        """Have the last commit open, opened anew: the engine's own refreshing is faulty."""
        seen = self._open
        where = self._generations.pointed()
        if seen and where == seen.folder and newest(where) == seen.commit:
            if not seen.is_whole():
                self.close()
                raise NeedsRebuild(seen.folder, "was cut off")
            return
        if seen is None and where is None:
            return
        self.close()
        self._open = open_generation(self._generations, self._checked)
        self._holdings = Holdings(self._open.leaves if self._open else ())


def _write(folder: Path, documents: Iterable[Document], upto: int, *, replacing: bool) -> None:
    """Index these documents in one commit, sealed with the cursor `upto`."""
    storage = SealedStorage(folder)
    if not replacing:
        TOC.create(storage, SCHEMA)  # type: ignore[no-untyped-call]
    index = FileIndex(storage, SCHEMA)  # type: ignore[no-untyped-call]
    storage.cursor = upto
    _index(index, documents, replacing)
    tidy(folder)


def _index(index: FileIndex, documents: Iterable[Document], replacing: bool) -> None:
    writer: Any = index.writer(limitmb=MEMORY_MB)
    try:
        for document, entries in documents:
            if replacing:
                writer.delete_by_term("document", document)
            for order, entry in enumerate(entries):
                writer.add_document(**to_index(entry, order))
        writer.commit()
    finally:
        if not writer.is_closed:
            with suppress(OSError):
                writer.cancel()


@contextmanager
def _in_memory(documents: Iterable[Document]) -> Iterator[list[IndexReader]]:
    """These documents as a part of the index that is not kept."""
    index = FileIndex.create(RamStorage(), SCHEMA)  # type: ignore[no-untyped-call]
    _index(index, documents, replacing=False)
    reader = index.reader()
    try:
        yield [leaf for leaf, _ in reader.leaf_readers() if leaf.doc_count_all()]
    finally:
        reader.close()


@contextmanager
def _writing(folder: Path) -> Iterator[None]:
    """The one writer of this folder, with what the disk or the engine refuses in our words."""
    try:
        with one_writer(folder), disk(folder):
            yield
    except LockError:
        raise Busy(
            f"{folder}: another process is writing", remedy="try again in a moment"
        ) from None
