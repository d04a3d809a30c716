"""Paper and tape: tinted, foxed, browned at the edges, torn where the text is lost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from drawing.letters import Area
from drawing.texture import (
    Colour,
    Rng,
    Tones,
    as_mask,
    clouds,
    coloured,
    grain,
    mottle,
    tones_of,
)

PAPERS: dict[str, Colour] = {
    "cream": (226, 208, 168), "white": (226, 220, 204), "buff": (204, 174, 122),
    "manila": (190, 152, 92), "blue": (150, 166, 172), "green": (168, 178, 144),
    "pink": (212, 166, 148), "grey": (176, 172, 160), "brown": (150, 110, 70),
    "yellow": (222, 190, 104),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of paper: what it looks like, and where it still is."""

    picture: Image.Image
    shape: Image.Image


def sheet(rng: Rng, width: int, height: int, tint: str, age: float) -> Image.Image:
    """A sheet without holes. `age` from 0 to 1 browns its edges and foxes it."""
    tones = (
        1 + 0.05 * mottle(rng, width, height, width / 2.5) + 0.025 * grain(rng, width, height)
    )
    tones += 0.03 * clouds(rng, width, height, 5)
    edge = np.minimum.outer(_from_edge(height), _from_edge(width)) / (0.10 * min(width, height))
    tones -= (
        age * 0.20 * np.exp(-edge * 1.6) * (1 + 0.4 * clouds(rng, width, height, height / 3))
    )
    picture = coloured(tones.astype(np.float32), PAPERS[tint], warm=0.9)
    return _foxed(picture, rng, age)


def _from_edge(length: int) -> Tones:
    along = np.arange(length, dtype=np.float32)
    return np.minimum(along, length - 1 - along)


def _foxed(picture: Image.Image, rng: Rng, age: float) -> Image.Image:
    spots = Image.new("L", picture.size)
    pen = ImageDraw.Draw(spots)
    for _ in range(int(age * rng.integers(12, 40))):
        x, y = rng.uniform(0, picture.width), rng.uniform(0, picture.height)
        radius = min(picture.size) * rng.uniform(0.004, 0.025)
        pen.ellipse(
            (x - radius, y - radius, x + radius, y + radius), fill=int(rng.uniform(40, 120))
        )
    if rng.random() < age:  # the tide line of a drop of water
        x, y = rng.uniform(0, picture.width), rng.uniform(0, picture.height)
        radius = min(picture.size) * rng.uniform(0.25, 0.5)
        pen.ellipse((x - radius, y - 0.7 * radius, x + radius, y + 0.7 * radius), outline=80,
                    width=max(2, int(radius * 0.06)))  # fmt: skip
    blurred = spots.filter(ImageFilter.GaussianBlur(min(picture.size) * 0.008))
    return Image.composite(Image.new("RGB", picture.size, (134, 88, 44)), picture, blurred)


def shaped(rng: Rng, width: int, height: int, edges: str) -> Image.Image:
    """The outline of a sheet: "cut", "perforated" like a stamp, "clipped" corners, or "worn"."""
    shape = Image.new("L", (width, height), 255)
    pen = ImageDraw.Draw(shape)
    if edges == "perforated":
        _perforate(pen, width, height)
    elif edges == "clipped":
        cut = 0.12 * height
        for x, y, dx, dy in (
            (0, 0, 1, 1),
            (width, 0, -1, 1),
            (0, height, 1, -1),
            (width, height, -1, -1),
        ):
            pen.polygon([(x, y), (x + dx * cut, y), (x, y + dy * cut)], fill=0)
    elif edges == "worn":
        for x, y in ((0, 0), (width, 0), (0, height), (width, height)):
            _bite(shape, x, y, rng.uniform(0.02, 0.13) * height, rng)
    return shape


def _perforate(pen: ImageDraw.ImageDraw, width: int, height: int) -> None:
    step = max(6.0, height / 26)
    for number in range(int(width / step) + 1):
        for y in (0, height):
            _hole(pen, number * step, y, step * 0.32)
    for number in range(int(height / step) + 1):
        for x in (0, width):
            _hole(pen, x, number * step, step * 0.32)


def _hole(pen: ImageDraw.ImageDraw, x: float, y: float, radius: float) -> None:
    pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=0)


def _bite(shape: Image.Image, x: float, y: float, reach: float, rng: Rng) -> None:
    """A corner that has come away."""
    turns = np.linspace(0, 2 * np.pi, 26, endpoint=False)
    away = reach * rng.uniform(0.7, 1.25, 26)
    points = [
        (float(x + far * np.cos(turn)), float(y + far * np.sin(turn)))
        for turn, far in zip(turns, away, strict=True)
    ]
    ImageDraw.Draw(shape).polygon(points, fill=0)


def damaged(paper: Sheet, lost: Area, *, side: str, rng: Rng) -> Sheet:
    """The sheet with a part of it gone: torn away up to its `side`, or skinned ("" = in the middle)."""
    return _torn(paper, lost, side, rng) if side else _skinned(paper, lost, rng)


def _torn(paper: Sheet, lost: Area, side: str, rng: Rng) -> Sheet:
    width, height = paper.shape.size
    left, top, right, bottom = lost
    span = bottom - top
    ys = np.arange(height, dtype=np.float32)
    ragged = 0.35 * span * clouds(rng, height, 2, span * 0.8)[
        0
    ] + 0.08 * span * rng.standard_normal(height)
    # The tear runs out towards the lines above and below, as paper tears.
    middle, reach = (top + bottom) / 2, span * 0.62
    away = np.clip(1.25 - ((ys - middle) / reach) ** 4, -0.6, 1)
    if top < 0.35 * height and side == "right" and bottom > 0.6 * height:
        away = np.ones_like(ys)
    x = np.arange(width, dtype=np.float32)
    if side == "right":
        front = width - (width - left + 0.1 * span) * away + ragged
        gone = x[None, :] > front[:, None]
        pulp = x[None, :] > front[:, None] - 0.16 * span
    else:
        front = (right + 0.1 * span) * away + ragged
        gone = x[None, :] < front[:, None]
        pulp = x[None, :] < front[:, None] + 0.16 * span
    shape = tones_of(paper.shape) * ~gone
    fresh = as_mask((pulp & ~gone).astype(np.float32) * 0.65)
    picture = Image.composite(
        Image.new("RGB", paper.shape.size, (232, 222, 198)), paper.picture, fresh
    )
    return Sheet(picture, as_mask(shape).filter(ImageFilter.GaussianBlur(0.8)))


def _skinned(paper: Sheet, lost: Area, rng: Rng) -> Sheet:
    """The upper skin of the paper is gone and took the letters with it."""
    left, top, right, bottom = lost
    width, height = paper.shape.size
    x = np.arange(width, dtype=np.float32)[None, :]
    y = np.arange(height, dtype=np.float32)[:, None]
    across = np.abs(x - (left + right) / 2) / ((right - left) / 2 + 0.1 * (bottom - top))
    down = np.abs(y - (top + bottom) / 2) / ((bottom - top) / 2)
    ragged = 0.18 * clouds(rng, width, height, (bottom - top) / 3)
    inside = (across**3 + down**3 + ragged < 1).astype(np.float32)
    fibre = coloured(
        (0.96 + 0.09 * clouds(rng, width, height, 4)).astype(np.float32),
        (214, 196, 160),
        warm=0.5,
    )
    mask = as_mask(inside * 0.9).filter(ImageFilter.GaussianBlur(1.4))
    return Sheet(Image.composite(fibre, paper.picture, mask), paper.shape)


def tape(rng: Rng, width: int, height: int, kind: str) -> Sheet:
    """A strip of tape: "paper" and "gummed" are opaque, "clear" has yellowed and lets things through."""
    if kind == "clear":
        tones = 1 + 0.12 * mottle(rng, width, height, height)
        picture = coloured(tones.astype(np.float32), (176, 128, 58), warm=0.6)
        cover = np.full((height, width), 0.80, dtype=np.float32)
        cover += 0.10 * clouds(rng, width, height, height / 2)
        return Sheet(picture, as_mask(cover))
    picture = sheet(rng, width, height, "brown" if kind == "gummed" else "buff", 0.6)
    shape = shaped(rng, width, height, "worn" if kind == "paper" else "cut")
    return Sheet(picture, shape)
