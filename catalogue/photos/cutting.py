"""Levels of a photograph cut into tiles and kept in a folder, whole levels or none.

The small levels, which show all of the photograph, come of a quick small decode, so that the first look
is there at once; the large ones of one decode at full size. What cannot be decoded small (all but
JPEG) is decoded once for all levels.
"""

from __future__ import annotations

import hashlib
import io
import os
import shutil
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkdtemp
from threading import Lock

import numpy as np
from PIL import Image

from catalogue.errors import CannotSave, Damaged
from catalogue.photos.derivatives import read_original, write_whole
from catalogue.photos.levels import Tiles, halvings
from catalogue.photos.looking import seen
from catalogue.photos.source import Source, take_apart
from catalogue.photos.upright import Pixels, can_be_halved, half, upright
from catalogue.photos.ways import Way

_MADE_BY = 1  # counts up when tiles come out otherwise; old ones then lie unused
_QUALITY = 85
_QUICK_PX = 2600  # levels no longer than this come of the quick decode
_SAMPLE_PX = 1024  # what ways of looking judge colours and light by
_MAKING = ".making-"
_ABANDONED_SECONDS = 3600
_END_OF_JPEG = b"\xff\xd9"

# A picture at full size takes hundreds of megabytes: one at a time.
_AT_FULL_SIZE = Lock()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One photograph that is cut into tiles: its file, its digest, where they are kept, which there are."""

    original: Path
    sha256: str
    cache: Path
    tiles: Tiles
    limit_megapixels: float

    @property
    def quick(self) -> int:
        """The first of the levels that come of the quick decode."""
        return halvings((self.tiles.width, self.tiles.height), _QUICK_PX)

    def place(self, way: Way, level: int, x: int, y: int) -> Path:
        """Where one tile is kept."""
        return tile_place(self.cache, self.sha256, way, level, x, y)

    def is_whole(self, way: Way, level: int) -> bool:
        """Whether every tile of a level is there."""
        return all(is_whole(self.place(way, level, *each)) for each in self.tiles.boxes(level))


def tile_place(cache: Path, sha256: str, way: Way, level: int, x: int, y: int) -> Path:
    """Where one tile is kept."""
    return _folder(cache, sha256) / way.made_by / f"{level}" / f"{x}-{y}.jpg"


def _folder(cache: Path, sha256: str) -> Path:
    return cache / sha256[:2] / f"{sha256}-tiles{_MADE_BY}"


def is_whole(tile: Path) -> bool:
    """Whether a tile is there to its end: a power cut may leave a name without its bytes."""
    try:
        with tile.open("rb") as file:
            file.seek(-2, os.SEEK_END)
            return file.read() == _END_OF_JPEG
    except OSError:
        return False


def make(cut: Cut, way: Way, wanted: int | None = None) -> None:
    """Make the levels that come with the one that is `wanted`, of one way; None: all of them.

    What is whole stays as it is. Raises `Damaged`, `BadPicture`, `CannotSave`.
    """
    levels = range(cut.tiles.levels)
    if all(cut.is_whole(way, each) for each in (levels if wanted is None else [wanted])):
        return
    source = _source(cut)
    if not cut.quick or not can_be_halved(source):
        _cut(cut, way, source, levels)
        return
    if wanted is None or wanted >= cut.quick:
        _cut(cut, way, source, levels[cut.quick :])
    if wanted is None or wanted < cut.quick:
        _cut(cut, way, source, levels[: cut.quick])


def _source(cut: Cut) -> Source:
    content = read_original(cut.original)
    if hashlib.sha256(content).hexdigest() != cut.sha256:
        raise Damaged(
            f"{cut.original.name}: the original is not the file that was taken in",
            remedy="run `dorse verify`, and bring the file back from a backup",
        )
    return take_apart(content)


def _cut(cut: Cut, way: Way, source: Source, levels: range) -> None:
    if all(cut.is_whole(way, each) for each in levels):
        return
    if levels[0] == 0 and cut.quick:
        with _AT_FULL_SIZE:
            _cut_now(cut, way, source, levels)
    else:
        _cut_now(cut, way, source, levels)


def _cut_now(cut: Cut, way: Way, source: Source, levels: range) -> None:
    pixels, profile = upright(source, levels[0], cut.limit_megapixels)
    if way.is_derivative:
        pixels = seen(pixels, _sample(cut, pixels), way.steps)
        profile = profile if pixels.ndim == 3 else None
    else:
        _sample(cut, pixels)
    halved = [pixels]
    for _ in levels[1:]:
        halved.append(half(halved[-1]))
    # the smaller first: they are there to be looked at while the largest is still being made
    for level, made in reversed([*zip(levels, halved, strict=True)]):
        _publish(cut, way, level, made, profile)


def _sample(cut: Cut, pixels: Pixels) -> Pixels:
    """The photograph small: made of the first pixels at hand, kept, the same for every level and way."""
    kept = _folder(cut.cache, cut.sha256) / "sample.png"
    if not kept.is_file():
        small = pixels
        while max(small.shape) > _SAMPLE_PX:
            small = half(small)
        file = io.BytesIO()
        Image.fromarray(small).save(file, "PNG", compress_level=1)
        write_whole(kept, file.getvalue())
    with Image.open(kept) as picture:
        return np.array(picture)


def _publish(cut: Cut, way: Way, level: int, pixels: Pixels, profile: bytes | None) -> None:
    """A level under its name, all its tiles at once."""
    final = cut.place(way, level, 0, 0).parent
    try:
        final.parent.mkdir(parents=True, exist_ok=True)
        _swept(final.parent)
        making = Path(mkdtemp(dir=final.parent, prefix=_MAKING))
        try:
            for (x, y), (left, top, width, height) in cut.tiles.boxes(level).items():
                part = np.ascontiguousarray(pixels[top : top + height, left : left + width])
                # colours at full resolution (4:4:4): red ink on brown paper keeps its edges
                Image.fromarray(part).save(
                    making / f"{x}-{y}.jpg",
                    quality=_QUALITY,
                    subsampling=0,
                    icc_profile=profile,
                )
            if final.exists() and not cut.is_whole(way, level):
                shutil.rmtree(final)
            if not final.exists():
                _renamed(making, final)
        finally:
            shutil.rmtree(making, ignore_errors=True)
    except OSError as fault:
        raise CannotSave(
            f"{final.parent}: the picture cannot be saved ({fault.strerror})",
            remedy="free some space, or check who may write to this folder",
        ) from fault


def _swept(folder: Path) -> None:
    """What a power cut or a crash left half made an hour ago or longer is thrown away."""
    for left in folder.glob(f"{_MAKING}*"):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > _ABANDONED_SECONDS:
                shutil.rmtree(left)


def _renamed(making: Path, final: Path) -> None:
    try:
        making.rename(final)
    except OSError:
        if not final.is_dir():  # else another process was sooner
            raise
