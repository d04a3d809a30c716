"""The index of words: takes in saves, finds works and statements, and can always be made anew.

The studio gives it entries (`Entry`), so it knows nothing of records. It carries the number of
the last change it has taken in. What was saved since is held in memory (`hold`) and read beside it,
until it is taken in as well, in batches.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from threading import RLock
from types import TracebackType
from typing import Any

from whoosh.filedb.filestore import FileStorage
from whoosh.index import TOC, FileIndex, LockError

from catalogue.errors import Busy
from catalogue.indexes.answer import Hit, Results, Statement
from catalogue.indexes.engine import Found, Page
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
from catalogue.indexes.holdings import Holdings, Order
from catalogue.indexes.lexicon import widened
from catalogue.indexes.lock import one_writer
from catalogue.indexes.part import DiskPart, KeptPart, Part
from catalogue.indexes.question import Query
from catalogue.indexes.recent import Document, MemoryPart, Recent
from catalogue.indexes.search import Widening, answer, which
from catalogue.indexes.snapshot import Snapshot
from catalogue.indexes.stored import SCHEMA, to_index
from catalogue.indexes.tree import Tree
from catalogue.indexes.whoosh_blocks import PlainCodec
from catalogue.indexes.widening import Books, NamesOnFile, near
from catalogue.measure import Day

__all__ = ["Document", "Entry", "Hit", "NeedsRebuild", "Query", "Results", "Statement", "Words"]

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
        self._parts: dict[str, DiskPart] = {}
        self._order: Order | None = None
        self._recent = Recent()
        self._snapshot: Snapshot | None = None
        self._checked: dict[Path, Sum] = {}
        self._books = Books()
        self._names = NamesOnFile()

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
            self._let_go()
            self._parts = {}
            self._order = None

    @property
    def cursor(self) -> int:
        """The number of the last change that was taken in; 0 for an empty index."""
        with self._reading:
            self._look()
            return self._open.cursor if self._open else 0

    @property
    def reached(self) -> int:
        """The last change that a search sees: taken in, or held in memory."""
        with self._reading:
            return max(self.cursor, self._recent.upto)

    @property
    def waiting(self) -> tuple[Document, ...]:
        """What is held in memory and not yet taken in."""
        with self._reading:
            self._look()
            return self._recent.documents()

    def hold(self, changes: Iterable[Document], upto: int) -> None:
        """Have these documents found from now on as they are here; nothing is written.

        `upto` is the change that a search then has seen.
        """
        with self._reading:
            self._look()
            documents = tuple(dict(changes).items())
            self._recent.put(documents, upto)
            self._names.take_in(documents)
            self._snapshot = None

    def take_in(self, changes: Iterable[Document], upto: int) -> None:
        """Put what these documents hold now in place of what was held of them, in one commit.

        `upto` is the change that the index is then up to date with. Doing it again changes
        nothing. Raises `Busy` when somebody else is writing, `CannotSave` when the disk
        refuses.
        """
        documents = dict(changes)
        with writing(self.folder):
            if sound := open_generation(self._generations, self._checked):
                sound.close()
                _write(sound.folder, documents.items(), upto, replacing=True)
            else:
                target = self._generations.fresh()
                _write(target, documents.items(), upto, replacing=False)
                self._generations.point(target)

    def settle(self) -> None:
        """Take what is held in memory into the index; searches go on meanwhile.

        Raises `Busy` when somebody else is writing, `CannotSave` when the disk refuses.
        """
        with self._reading:
            waiting, upto = self.waiting, self.reached
        if upto > self.cursor:
            self.take_in(waiting, upto)

    def rebuild(self, documents: Iterable[Document], upto: int) -> None:
        """Make the index anew; the old one answers until the new one is whole, then it goes."""
        with self.making_anew(upto) as target:
            self.write_one(target, documents)

    def write_one(self, target: Path, documents: Iterable[Document]) -> None:
        """Write all documents of a generation in one share of it."""
        write_part(target / "share-0", documents)

    @contextmanager
    def making_anew(self, upto: int) -> Iterator[Path]:
        """A folder for a generation; the shares (`share-*`) written to it are then read as one."""
        with writing(self.folder):
            target = self._generations.fresh()
            yield target
            self._gather(target, upto)
            self._generations.point(target)
            self._generations.clear(target)

    def _gather(self, target: Path, upto: int) -> None:
        """Make one generation of the shares that were written."""
        gather(target, upto)

    def with_fact(self, field: str, keys: Iterable[str]) -> set[str]:
        """The documents of which an entry has one of these facts."""
        with self._reading:
            holdings = self.snapshot().holdings
            found = [holdings.holding("fact", f"{field}={key}") for key in keys]
            return {
                holdings.entry(int(entry))[1].document
                for entries in found
                for entry in entries[holdings.alive[entries]]
            }

    def search(
        self,
        query: Query,
        extra: Sequence[Document] = (),
        *,
        behind: int = 0,
        today: Day | None = None,
        called: Callable[[str], str] = str,
    ) -> Results:
        """What is found; `extra` are documents saved after the cursor, which count as taken in.

        `behind` is how many more saves the index has not seen; the answer repeats it. `called` gives the
        name of a party by its id.
        """
        with self._reading:
            snapshot = self.snapshot(extra)
            return answer(
                query, snapshot, self._widening(snapshot, called), behind, _day(today)
            )

    def which(self, query: Query, *, today: Day | None = None) -> Found:
        """Which works an answer has, and how many: without facets, marks and reasons."""
        with self._reading:
            snapshot = self.snapshot()
            return which(query, snapshot, self._widening(snapshot), _day(today))

    def _widening(self, snapshot: Snapshot, called: Callable[[str], str] = str) -> Widening:
        lexicon = self._books.lexicon(snapshot.holdings)
        names = self._names.look_in(snapshot.holdings)
        return Widening(
            tree=lambda wish: widened(wish, lexicon, names),
            near=lambda word: near(word, lexicon),
            called=called,
        )

    def find(self, tree: Tree, page: Page) -> Found:
        """One page of what a tree finds."""
        with self._reading:
            return self.snapshot().find(tree, page)

    def snapshot(self, extra: Sequence[Document] = ()) -> Snapshot:
        """The index as it is now, with what is held in memory."""
        with self._reading:
            self._look()
            if extra:
                return self._built(
                    [*self._recent.parts, MemoryPart(tuple(dict(extra).items()))]
                )
            if self._snapshot is None:
                self._snapshot = self._built(self._recent.parts)
            return self._snapshot

    def _built(self, recent: Sequence[MemoryPart]) -> Snapshot:
        """The parts on the disk and those in memory, each document in the last of them alone."""
        on_disk = list(self._leaves())
        if self._order is None:
            self._order = Order(on_disk)
        parts: list[Part] = [*on_disk, *recent]
        newer = [[document for document, _ in each.documents] for each in recent]
        held = []
        for at, part in enumerate(parts):
            later = newer[max(0, at - len(on_disk) + 1) :]
            dead = [
                found.entries
                for documents in later
                for document in documents
                if (found := part.postings("document", document))
            ]
            if at < len(on_disk):
                dead.append(on_disk[at].dead)
            held.append((part, dead))
        cursor = max(self._open.cursor if self._open else 0, self._recent.upto)
        return self._snapshot_of(Holdings(held, self._order), cursor)

    def _snapshot_of(self, holdings: Holdings, cursor: int) -> Snapshot:
        return Snapshot(holdings, cursor)

    def _leaves(self) -> Iterator[KeptPart]:
        """The parts on the disk; what was read of one stays while it is there."""
        known, self._parts = self._parts, {}
        for leaf in self._open.leaves if self._open else ():
            name = str(leaf.segment().segment_id())  # type: ignore[union-attr]
            part = known.get(name) or DiskPart(leaf)
            self._parts[name] = part.under(leaf)
            yield part

    def _let_go(self) -> None:
        self._snapshot = None
        if self._open:
            self._open.close()
        self._open = None

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
        self._let_go()
        self._order = None
        self._open = open_generation(self._generations, self._checked)
        if self._open is None or self._open.cursor > self._recent.upto:
            self._names.forget()
        if self._open:
            self._recent.taken_in(self._open.cursor)


def write_part(folder: Path, documents: Iterable[Document]) -> None:
    """Write a share of a generation, with these documents, into a folder of its own."""
    folder.mkdir()
    storage = FileStorage(str(folder))  # type: ignore[no-untyped-call]
    TOC.create(storage, SCHEMA)  # type: ignore[no-untyped-call]
    _index(FileIndex(storage, SCHEMA), documents, replacing=False)  # type: ignore[no-untyped-call]


def gather(generation: Path, upto: int) -> None:
    """Put the shares of a generation together as one commit, sealed with the cursor `upto`."""
    segments: list[Any] = []
    for part in sorted(generation.glob("share-*")):
        storage = FileStorage(str(part))  # type: ignore[no-untyped-call]
        segments += TOC.read(storage, "MAIN", schema=SCHEMA).segments  # type: ignore[no-untyped-call]
        for file in part.glob("MAIN_*.seg"):
            file.replace(generation / file.name)
        shutil.rmtree(part)
    sealed = SealedStorage(generation, upto)
    TOC(SCHEMA, segments, 1).write(sealed, "MAIN")  # type: ignore[no-untyped-call]


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
    writer: Any = index.writer(limitmb=MEMORY_MB, codec=PlainCodec())
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
def writing(folder: Path) -> Iterator[None]:
    """The one writer of this folder, with what the disk or the engine refuses in our words."""
    try:
        with one_writer(folder), disk(folder):
            yield
    except LockError:
        raise Busy(
            f"{folder}: another process is writing", remedy="try again in a moment"
        ) from None


def _day(today: Day | None) -> Day:
    return today or Day.from_ordinal(date.today().toordinal())
