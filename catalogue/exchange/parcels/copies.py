"""The copies of photographs that go into a parcel, made side by side while records are written.

A copy is made by the sender (without camera data, smaller, painted over where something is withheld); the
small one for the page is made from that copy, so nothing can be on it that is not on the copy.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from catalogue.errors import BadPicture
from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.parcels.pictures import settings
from catalogue.photos import Recipe, shown
from catalogue.record import Photo, Work


@dataclass(frozen=True, slots=True)
class Copy:
    """One photograph's copy: where it lies, and a small one (its ending, its bytes)."""

    photo: Photo
    path: Path
    ending: str
    small: bytes


@dataclass(frozen=True, slots=True)
class Copied:
    """A work on its way out whose copies are made."""

    leaving: Leaving
    work: Work
    copies: tuple[Copy, ...]


@dataclass(slots=True)
class Copying:
    """Copies under way: works go in, and come out in the same order when all of theirs are made."""

    sender: Sender
    _pool: ThreadPoolExecutor = field(
        # decoding lets go of Python's lock, so threads share out the processors
        default_factory=lambda: ThreadPoolExecutor(min(4, os.cpu_count() or 1))
    )
    _waiting: deque[tuple[Leaving, Work, list[Future[Copy | None]]]] = field(
        default_factory=deque
    )

    def add(self, leaving: Leaving, work: Work) -> Iterator[Copied]:
        """Begin the copies of one work; those works that had to be waited for before it."""
        photos = self.sender.pictures.of(work)
        jobs = [self._pool.submit(_copy, photo, self.sender) for photo in photos]
        self._waiting.append((leaving, work, jobs))
        # a few works ahead keep every processor busy; more would only wait in memory
        yield from self._ready(at_most=3)

    def close(self) -> Iterator[Copied]:
        """The works that are left."""
        yield from self._ready(at_most=0)
        self._pool.shutdown()

    def _ready(self, at_most: int) -> Iterator[Copied]:
        while len(self._waiting) > at_most:
            leaving, work, jobs = self._waiting.popleft()
            made = [each.result() for each in jobs]
            yield Copied(leaving, work, tuple(each for each in made if each is not None))


def _copy(photo: Photo, sender: Sender) -> Copy | None:
    """The copy of a photograph, None where its file is not there or cannot be shown."""
    path = sender.picture(photo)
    if path is None:
        return None
    how = settings()
    recipe = Recipe(longest_px=how["small_px"], quality=how["small_quality"])
    try:
        ending, small = shown(path.read_bytes(), recipe)
    except BadPicture:
        return None
    return Copy(photo, path, ending, small)
