"""The part of a photograph that a machine is to read: cut out at full size, set upright, nothing enhanced.

Plain pictures are read best: contrast and stretched colours are for the eye (they cost the engine whole
labels in our trials).
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from math import hypot
from pathlib import Path
from typing import Final

from PIL import Image

from catalogue.photos import crop

LONGEST_PX: Final = 3000
"""A whole photograph is read no larger than this; a part is cut out as large as it is."""

Corner = tuple[float, float]


def cut_out(
    original: Path, corners: Sequence[Corner], turn: int, size: tuple[int, int]
) -> Image.Image:
    """The part inside `corners` (upright pixels; none: all of it), its text the right way up.

    Four corners, clockwise from where the text begins, say by themselves how it stands; of any other
    part, and of the whole, the text stands turned by `turn` degrees clockwise. `size` is the photograph's.
    """
    xs = [min(max(x, 0.0), float(size[0])) for x, _ in corners] or [0.0, float(size[0])]
    ys = [min(max(y, 0.0), float(size[1])) for _, y in corners] or [0.0, float(size[1])]
    left, top = int(min(xs)), int(min(ys))
    box = (left, top, max(1, round(max(xs)) - left), max(1, round(max(ys)) - top))
    picture = Image.open(io.BytesIO(crop(original, box, longest_px=LONGEST_PX))).convert("RGB")
    if len(corners) != 4:
        return _turned(picture, -turn)
    scale = picture.width / box[2]
    return _squared(picture, [((x - left) * scale, (y - top) * scale) for x, y in corners])


def _turned(picture: Image.Image, degrees: int) -> Image.Image:
    if not degrees % 360:
        return picture
    # PIL turns against the clock: a text that stands 90 degrees clockwise is turned 90 back
    return picture.rotate(-degrees, Image.Resampling.BICUBIC, expand=True, fillcolor="white")


def _squared(picture: Image.Image, corners: Sequence[Corner]) -> Image.Image:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    width = round((hypot(bx - ax, by - ay) + hypot(cx - dx, cy - dy)) / 2)
    height = round((hypot(dx - ax, dy - ay) + hypot(cx - bx, cy - by)) / 2)
    quad = (ax, ay, dx, dy, cx, cy, bx, by)
    size = max(1, width), max(1, height)
    return picture.transform(size, Image.Transform.QUAD, quad, Image.Resampling.BICUBIC)
