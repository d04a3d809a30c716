"""Uneven tones: the noise that makes cloth, paper, ink and light look as if they had been about.

Everything is seeded, so that the same picture comes out the same, pixel for pixel.
"""

from __future__ import annotations

import hashlib

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Tones = NDArray[np.float32]
Colour = tuple[int, int, int]
Rng = np.random.Generator


def seeded(*words: object) -> Rng:
    """A source of chance that is the same whenever these words are the same."""
    digest = hashlib.sha256("|".join(map(str, words)).encode()).digest()
    return np.random.default_rng(int.from_bytes(digest[:8], "big"))


def clouds(rng: Rng, width: int, height: int, size: float) -> Tones:
    """Soft patches about `size` pixels across, between -1 and 1."""
    across, down = max(2, int(width / size) + 2), max(2, int(height / size) + 2)
    coarse = rng.uniform(-1, 1, (down, across)).astype(np.float32)
    grown = Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC)
    return np.asarray(grown, dtype=np.float32).clip(-1, 1)


def mottle(rng: Rng, width: int, height: int, size: float) -> Tones:
    """Clouds of three sizes laid over each other, about -1 to 1."""
    laid: Tones = (
        0.6 * clouds(rng, width, height, size)
        + 0.3 * clouds(rng, width, height, size / 3)
        + 0.2 * clouds(rng, width, height, size / 9)
    )
    return laid


def grain(rng: Rng, width: int, height: int) -> Tones:
    """Fine noise from pixel to pixel, normal, cheap: one tile repeated with shifts nobody sees."""
    tile = rng.standard_normal((min(height, 512), min(width, 512))).astype(np.float32)
    rows, columns = -(-height // tile.shape[0]), -(-width // tile.shape[1])
    return np.tile(tile, (rows, columns))[:height, :width]


def coloured(tones: Tones, colour: Colour, warm: float = 0.0) -> Image.Image:
    """A picture in one colour whose brightness follows `tones` (1 = the colour as it is).

    `warm` pulls the dark places towards brown.
    """
    channels = [
        tones * (part * (1 + warm * lift * (1 - tones)) if warm else part)
        for part, lift in zip(colour, (1.0, 0.2, -0.8), strict=True)
    ]
    return Image.fromarray(np.clip(np.stack(channels, axis=-1), 0, 255).astype(np.uint8))


def as_mask(tones: Tones) -> Image.Image:
    """Tones from 0 to 1 as a mask."""
    return Image.fromarray((np.clip(tones, 0, 1) * 255).astype(np.uint8))


def tones_of(mask: Image.Image) -> Tones:
    """A mask as tones from 0 to 1."""
    return np.asarray(mask, dtype=np.float32) / np.float32(255)
