"""Tiles of a photograph, made when they are first needed: plain, and by each way of looking.

A browser asks for a dozen at once. Whoever asks for a tile of a level that is being made waits for that
level, so no photograph is decoded twice. Between processes the first to finish a level keeps it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path
from threading import Lock

from catalogue.errors import BadSetting, NotOnFile
from catalogue.photos.cutting import Cut, is_whole, make, tile_place
from catalogue.photos.derivatives import read_original
from catalogue.photos.levels import Tiles
from catalogue.photos.source import LIMIT_MEGAPIXELS, take_apart
from catalogue.photos.upright import size_upright
from catalogue.photos.ways import PLAIN, way_named, ways

_SHA256 = re.compile("[0-9a-f]{64}")
# One lock a photograph would have to be thrown away at some time: so one for a few of them.
_LOCKS = tuple(Lock() for _ in range(64))


def tiles(original: Path, sha256: str, *, limit_megapixels: float = LIMIT_MEGAPIXELS) -> Tiles:
    """What there is of a photograph in tiles; nothing is made. Raises `BadPicture`."""
    width, height = _size(original, _digest(sha256), limit_megapixels)
    return Tiles(width=width, height=height, ways=ways())


@lru_cache(maxsize=512)
def _size(original: Path, sha256: str, limit_megapixels: float) -> tuple[int, int]:
    return size_upright(take_apart(read_original(original)), limit_megapixels)


def tile(
    original: Path,
    sha256: str,
    cache: Path,
    way_key: str,
    place: tuple[int, int, int],
    *,
    limit_megapixels: float = LIMIT_MEGAPIXELS,
) -> Path:
    """The file of one tile, `place` being its level, x and y; its level is made now if need be.

    Raises `NotOnFile` for a way or a tile that there isn't, `Damaged` when the original no longer has
    its digest, `BadPicture` when it can't be shown, `CannotSave` when the disk refuses.
    """
    way = way_named(way_key)
    level, x, y = place
    wanted = tile_place(cache, _digest(sha256), way, level, x, y)
    if is_whole(wanted):
        return wanted
    there = tiles(original, sha256, limit_megapixels=limit_megapixels)
    if not there.holds(level, x, y):
        raise NotOnFile(
            f"there is no tile {x}-{y} of level {level}: the photo has {there.width} × "
            f"{there.height} pixels, in levels from 0 to {there.levels - 1}",
            remedy="open the page of the photo again",
        )
    with _waiting(sha256, wanted):
        make(_cut(original, sha256, cache, there, limit_megapixels), way, level)
    return wanted


def prepare(
    original: Path, sha256: str, cache: Path, *, limit_megapixels: float = LIMIT_MEGAPIXELS
) -> None:
    """Make every plain tile of a photograph that isn't there yet. Raises as `tile` does."""
    there = tiles(original, sha256, limit_megapixels=limit_megapixels)
    cut = _cut(original, sha256, cache, there, limit_megapixels)
    for wanted in (there.levels - 1, None):  # whoever waits for another way comes in between
        with _LOCKS[_lock(sha256)]:
            make(cut, way_named(PLAIN), wanted)


def _cut(original: Path, sha256: str, cache: Path, there: Tiles, limit: float) -> Cut:
    return Cut(
        original=original, sha256=sha256, cache=cache, tiles=there, limit_megapixels=limit
    )


def _digest(sha256: str) -> str:
    if not _SHA256.fullmatch(sha256):
        raise BadSetting(f"{sha256[:80]!r} is not a SHA-256 digest in lower case")
    return sha256


def _lock(sha256: str) -> int:
    return int(sha256[:8], 16) % len(_LOCKS)


@contextmanager
def _waiting(sha256: str, wanted: Path) -> Iterator[None]:
    """Wait until nobody else is at this photograph, or `wanted` is there."""
    lock = _LOCKS[_lock(sha256)]
    while not lock.acquire(timeout=0.02):
        if is_whole(wanted):
            yield
            return
    try:
        yield
    finally:
        lock.release()
