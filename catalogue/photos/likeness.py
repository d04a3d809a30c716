"""How alike two labels look on their photographs: a perceptual hash of 64 bits for each.

The outline is cut out and set upright, made grey and small, evened out in its lighting, and turned
into waves (a discrete cosine transform); a bit says whether a slow wave is above the median of them.
Stains, light and a lean of a degree or two change few bits. Definition: C. Zauner, Implementation and
Benchmarking of Perceptual Image Hash Functions, 2010 (from memory: 32 x 32 pixels, the lowest 8 x 8
waves against their median); tests hold `perceptual_hash(evened=False)` to the library imagehash.
"""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from functools import cache
from math import cos, hypot, pi
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageFilter

from catalogue.photos.derivatives import crop
from catalogue.photos.recipes import Recipe

Corner = tuple[float, float]
SIDE, LOW = 32, 8
_MADE_BY = (
    1  # counts up when the way of hashing changes; hashes made before are then made again
)
_LONGEST_PX = 400


def region_hashes(
    original: Path, sha256: str, corners: Sequence[Corner], cache_folder: Path
) -> tuple[int, ...]:
    """The hashes of the part of a photograph inside `corners`: upright, then turned by 90, 180, 270.

    `corners` are upright pixels, clockwise from the top left as the text runs. What was made once is
    kept in `cache_folder` and can be thrown away at any time.
    """
    xs, ys = [each[0] for each in corners], [each[1] for each in corners]
    left, top = max(0, int(min(xs))), max(0, int(min(ys)))
    box = (left, top, max(1, round(max(xs)) - left), max(1, round(max(ys)) - top))
    named = "-".join(f"{x:g}x{y:g}" for x, y in corners)
    key = f"{sha256}-{Recipe(box=box).key}-likeness{_MADE_BY}-{hash_of_name(named)}"
    kept = cache_folder / sha256[:2] / f"{key}.json"
    if kept.is_file():
        return tuple(int(each, 16) for each in json.loads(kept.read_text("ascii")))
    picture = Image.open(io.BytesIO(crop(original, box, longest_px=4 * _LONGEST_PX)))
    scale = picture.width / box[2]
    inside = [((x - left) * scale, (y - top) * scale) for x, y in corners]
    found = hashes(upright(picture, inside))
    kept.parent.mkdir(parents=True, exist_ok=True)
    kept.write_text(json.dumps([f"{each:016x}" for each in found]), "ascii")
    return found


def hash_of_name(named: str) -> str:
    """A short name of a text, the same on every day."""
    total = 0
    for letter in named.encode():
        total = (total * 257 + letter) % (1 << 48)
    return f"{total:012x}"


def upright(picture: Image.Image, corners: Sequence[Corner]) -> Image.Image:
    """The part of a picture inside four corners as an upright rectangle; another outline as its box."""
    if len(corners) != 4:
        return picture
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    width = round((hypot(bx - ax, by - ay) + hypot(cx - dx, cy - dy)) / 2)
    height = round((hypot(dx - ax, dy - ay) + hypot(cx - bx, cy - by)) / 2)
    shrink = min(1.0, _LONGEST_PX / max(width, height, 1))
    size = max(1, round(width * shrink)), max(1, round(height * shrink))
    quad = (ax, ay, dx, dy, cx, cy, bx, by)
    return picture.convert("RGB").transform(
        size, Image.Transform.QUAD, quad, Image.Resampling.BICUBIC
    )


def hashes(picture: Image.Image) -> tuple[int, ...]:
    """The hash of a picture as it is, then of it turned clockwise by 90, 180 and 270 degrees.

    After these come the same with a lean of two degrees either way, as a frame drawn by hand has it.
    """
    small = picture.convert("L")
    small.thumbnail((_LONGEST_PX, _LONGEST_PX))
    leaning = [small, *(_leaning(small, lean) for lean in (-2, 2))]
    return tuple(
        perceptual_hash(each.rotate(-turn, expand=True))
        for each in leaning
        for turn in (0, 90, 180, 270)
    )


def _leaning(picture: Image.Image, degrees: float) -> Image.Image:
    """The picture turned a little about its middle; what lies outside it is taken for its paper."""
    paper = int(np.percentile(np.asarray(picture), 80))
    return picture.rotate(degrees, Image.Resampling.BICUBIC, fillcolor=paper)


def perceptual_hash(picture: Image.Image, *, evened: bool = True) -> int:
    """64 bits, one for each of the slowest waves, row by row: set where it is above their median.

    `evened` takes out the slow changes of light over the label first.
    """
    grey = picture.convert("L")
    if evened:
        grey = _evened(grey)
    small = np.asarray(grey.resize((SIDE, SIDE), Image.Resampling.LANCZOS), dtype=np.float64)
    waves = _cosines() @ small @ _cosines().T
    low = waves[:LOW, :LOW]
    bits = low > np.median(low)
    return int("".join("1" if bit else "0" for bit in bits.flatten()), 2)


def apart(one: int, other: int) -> int:
    """In how many of the 64 bits two hashes differ.

    >>> apart(0b1011, 0b0010)
    2
    """
    return (one ^ other).bit_count()


def _evened(grey: Image.Image) -> Image.Image:
    """Light and dark against what lies around: shadows and stains become pale, ink stays."""
    fitted = grey.resize((128, 128), Image.Resampling.LANCZOS)
    near = np.asarray(fitted, dtype=np.float64)
    around = np.asarray(fitted.filter(ImageFilter.GaussianBlur(20)), dtype=np.float64)
    against = np.clip(128 + (near - around), 0, 255).astype(np.uint8)
    return Image.fromarray(against)


@cache
def _cosines() -> np.ndarray[Any, np.dtype[np.float64]]:
    """The matrix of the discrete cosine transform of type II, not normalised, as the hash has it."""
    rows = [
        [2 * cos(pi * (2 * n + 1) * k / (2 * SIDE)) for n in range(SIDE)] for k in range(SIDE)
    ]
    return np.array(rows)
