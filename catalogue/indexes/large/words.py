"""The index of words in the second engine: takes in, makes anew and finds as the first one does.

A batch becomes a part of its own and hides what older parts hold of its documents; parts are written
anew together when the last is no larger than the batch, so there are never many.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np

from catalogue.indexes.entry import Entry
from catalogue.indexes.generations import Generations, NeedsRebuild
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.large.contents import Contents, Sum, current, seal, stamp_of, tidy
from catalogue.indexes.large.part import LargePart
from catalogue.indexes.large.snapshot import LargeSnapshot
from catalogue.indexes.large.writing import write_part
from catalogue.indexes.part import KeptPart
from catalogue.indexes.recent import Document
from catalogue.indexes.words import Words, writing


class LargeWords(Words):
    """The index in a folder of its own, with the second engine; else as `Words` says."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._generations = Generations(folder, "large")
        self._contents: Contents | None = None
        self._large: dict[str, LargePart] = {}
        self._sums: dict[Path, Sum] = {}

    @property
    def cursor(self) -> int:
        """The number of the last change that was taken in; 0 for an empty index."""
        with self._reading:
            self._look()
            return self._contents.cursor if self._contents else 0

    def take_in(self, changes: Iterable[Document], upto: int) -> None:
        """Put what these documents hold now in place of what was held of them, in one commit."""
        documents = tuple(dict(changes).items())
        with writing(self.folder):
            if (sound := current(self._generations, self._sums)) is None:
                target = self._generations.fresh()
                self.write_one(target, documents)
                self._gather(target, upto)
                self._generations.point(target)
                return
            parts = list(sound.parts)
            if documents:
                while parts and _documents_in(sound.folder / parts[-1]) <= len(documents):
                    last = LargePart(sound.folder / parts.pop())
                    documents = tuple((_held(last) | dict(documents)).items())
                parts.append(_next(sound.folder))
                write_part(sound.folder / parts[-1], documents, batch=len(documents) < 2000)
            seal(sound.folder, parts, upto, sound.sums)
            tidy(sound.folder, parts)

    def write_one(self, target: Path, documents: Iterable[Document]) -> None:
        """Write all documents of a generation in one share of it."""
        write_part(target / "share-0", documents)

    def _gather(self, target: Path, upto: int) -> None:
        shares = sorted(target.glob("share-*"))
        parts = [f"part-{at}" for at in range(1, len(shares) + 1)]
        for share, part in zip(shares, parts, strict=True):
            share.rename(target / part)
        seal(target, parts, upto, {})

    def _snapshot_of(self, holdings: Holdings, cursor: int) -> LargeSnapshot:
        taken_in = self._contents.cursor if self._contents else 0
        return LargeSnapshot(holdings, max(taken_in, cursor))

    def _leaves(self) -> Iterator[KeptPart]:
        """The parts on the disk; each hides what older ones hold of its documents."""
        parts = list(self._large.values())
        for at, part in enumerate(parts):
            newer = [document for each in parts[at + 1 :] for document in each.replaced]
            dead = [part.entries_of(document) for document in newer]
            part.dead = np.concatenate(dead) if dead else np.zeros(0, np.int32)
            yield part

    def _let_go(self) -> None:
        super()._let_go()
        self._contents = None
        self._large = {}

    def _look(self) -> None:
        """Have the last list of parts open."""
        seen, where = self._contents, self._generations.pointed()
        if seen and where == seen.folder and stamp_of(where) == seen.stamp:
            if not seen.is_whole():
                self.close()
                raise NeedsRebuild(seen.folder, "was cut off")
            return
        if seen is None and where is None:
            return
        known = self._large if seen and where == seen.folder else {}
        self._let_go()
        self._order = None
        found = current(self._generations, self._sums)
        if found:
            self._large = {
                name: known.get(name) or LargePart(found.folder / name) for name in found.parts
            }
            self._contents = found
            self._recent.taken_in(found.cursor)


def _held(part: LargePart) -> dict[str, list[Entry]]:
    """What a part holds of each document that it speaks of, nothing of one that was gone by then."""
    return {document: [] for document in part.replaced} | dict(part.everything())


def _documents_in(part: Path) -> int:
    return len(LargePart(part).replaced)


def _next(generation: Path) -> str:
    """A name that no part had; one that was never finished is cleared away first."""
    numbers = [int(each.name.partition("-")[2]) for each in generation.glob("part-*")]
    return f"part-{max(numbers, default=0) + 1}"
