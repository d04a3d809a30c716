"""What everything else lies on: woven cloth, wood, the table under the picture."""

from __future__ import annotations

import numpy as np
from PIL import Image

from drawing.texture import Colour, Rng, Tones, clouds, coloured, grain, mottle

CLOTHS: dict[str, Colour] = {
    "linen": (181, 157, 121),
    "dark linen": (140, 112, 80),
    "cotton": (205, 190, 160),
    "lining": (203, 178, 138),
    "jute": (160, 126, 82),
}
WOODS: dict[str, Colour] = {
    "pine": (180, 143, 98),
    "old pine": (142, 107, 72),
    "poplar": (172, 134, 92),
    "mahogany": (112, 66, 44),
    "oak": (134, 98, 62),
    "board": (128, 98, 70),
}


def cloth(rng: Rng, width: int, height: int, thread: float, colour: Colour) -> Image.Image:
    """A plain weave with threads `thread` pixels apart, some thick, some pale, and stains of age."""
    warp, warp_tone, warp_number = _threads(rng, width, thread)
    weft, weft_tone, weft_number = _threads(rng, height, thread * 1.08)
    above = ((warp_number[None, :] + weft_number[:, None]) & 1).astype(bool)
    tones = np.where(above, (warp * warp_tone)[None, :], (weft * weft_tone)[:, None])
    tones = tones.astype(np.float32)
    if thread < 2.2:  # threads finer than two pixels would only flicker
        tones = 0.86 + (tones - tones.mean()) * 0.4
    tones *= 1 + 0.10 * mottle(rng, width, height, max(width, height) / 3)
    tones *= (
        1 + 0.05 * clouds(rng, width, height, thread * 5) + 0.03 * grain(rng, width, height)
    )
    return coloured(tones, colour, warm=0.35)


def _threads(rng: Rng, length: int, spacing: float) -> tuple[Tones, Tones, np.ndarray]:
    """Across one direction: the roundness of the threads, the tone of each, and their numbers."""
    count = int(length / spacing * 1.4) + 4
    edges = np.cumsum(spacing * np.clip(rng.normal(1, 0.16, count), 0.6, 1.8))
    number = np.searchsorted(edges, np.arange(length))
    begins = np.concatenate(([0], edges))[number]
    within = (np.arange(length) - begins) / (edges[number] - begins)
    roundness = 0.70 + 0.34 * np.sin(np.pi * np.clip(within, 0, 1)) ** 0.8
    tone = np.clip(rng.normal(1, 0.07, count), 0.8, 1.25)[number]
    return roundness.astype(np.float32), tone.astype(np.float32), number


def wood(
    rng: Rng, width: int, height: int, colour: Colour, *, upright: bool = False
) -> Image.Image:
    """Planed wood with its grain lengthwise, or `upright`: year rings, pores, the wear of hands."""
    if upright:
        lying = wood(rng, height, width, colour)
        return lying.transpose(Image.Transpose.ROTATE_90)
    rows = np.arange(height, dtype=np.float32)[:, None]
    bend = _along(rng, width, height, 1.8) * height * 0.10 + _along(rng, width, height, 5) * 2.0
    rise = rows + bend
    # Rings lie closer towards one edge of a board, as it was sawn off the side of the trunk.
    place = rise / max(5.0, height / 11) + 2.2 * np.sin(rise / max(height, 40) * 2.3)
    rings = 0.5 - 0.5 * np.cos(2 * np.pi * (place - np.floor(place)) ** 1.7)
    tones = 1.0 - 0.085 * rings + 0.10 * _streaks(rng, width, height)
    tones += 0.10 * mottle(rng, width, height, width / 3) + 0.022 * grain(rng, width, height)
    tones -= 0.10 * np.clip(clouds(rng, width, height, height * 1.5) - 0.45, 0, 1)
    return coloured(tones.astype(np.float32), colour, warm=0.5)


def _along(rng: Rng, width: int, height: int, waves: float) -> Tones:
    """Something that changes slowly along the wood and hardly across it."""
    coarse = rng.uniform(-1, 1, (3, int(waves) + 3)).astype(np.float32)
    return np.asarray(Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC))


def _streaks(rng: Rng, width: int, height: int) -> Tones:
    """Fine fibres that run the length of the wood."""
    coarse = rng.uniform(-1, 1, (height, max(2, width // 90 + 2))).astype(np.float32)
    return np.asarray(Image.fromarray(coarse).resize((width, height), Image.Resampling.BICUBIC))


def table(rng: Rng, width: int, height: int) -> Image.Image:
    """The grey felt of the photography table."""
    tones = 1 + 0.16 * mottle(rng, width, height, width / 4) + 0.05 * grain(rng, width, height)
    return coloured(tones.astype(np.float32), (74, 74, 72))
