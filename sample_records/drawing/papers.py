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
    if rng.random() < 0.35 * age:  # the tide line of a drop of water
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


def torn(paper: Sheet, lines: list[Area], lost: list[Area], rng: Rng) -> Sheet:
    """The sheet without its right part, where lines (`lines`: all of them) have `lost` their ends.

    The tear runs out through the nearer corner and spares whatever can still be read.
    """
    width, height = paper.shape.size
    span = max(bottom - top for _, top, _, bottom in lost)
    heights = [(top + bottom) / 2 for _, top, _, bottom in lost]
    downwards = sum(heights) / len(heights) > height / 2
    ends: dict[float, float] = {}
    kept = [(right, (top + bottom) / 2) for _, top, right, bottom in lines]
    for _, top, right, bottom in sorted(lines, key=lambda area: area[1] + area[3]):
        middle = (top + bottom) / 2
        begins = [area[0] for area in lost if abs((area[1] + area[3]) / 2 - middle) < span / 2]
        beyond = middle > max(heights) if downwards else middle < min(heights)
        if begins:
            ends[middle] = min(begins) + 0.15 * span
        elif beyond:
            ends[middle] = (
                max(end for end, at in kept if abs(at - middle) < span / 2) + 0.8 * span
            )
        else:
            ends[middle] = max(width * 1.1, right)
    rows = np.arange(height, dtype=np.float32)
    front = np.interp(rows, list(ends), list(ends.values())).astype(np.float32)
    front += 0.16 * span * clouds(rng, height, 2, span)[0] + 0.03 * span * rng.standard_normal(
        height
    )
    away = np.arange(width, dtype=np.float32)[None, :] - front[:, None]
    fresh = as_mask(np.clip(1 + away / (0.16 * span), 0, 1) * 0.7)
    picture = Image.composite(
        Image.new("RGB", paper.shape.size, (232, 222, 198)), paper.picture, fresh
    )
    shape = tones_of(paper.shape) * (away < 0)
    return Sheet(picture, as_mask(shape).filter(ImageFilter.GaussianBlur(0.8)))


def skinned(paper: Sheet, lost: Area, rng: Rng) -> Sheet:
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


def _creased(strip: Image.Image, rng: Rng) -> Image.Image:
    """Paper tape that was smoothed down wet: creases across it, and a shine where it was rubbed."""
    width, height = strip.size
    bumps = clouds(rng, width, height, height * 1.4)
    light = 1 + 0.06 * np.diff(bumps, axis=1, prepend=bumps[:, :1]) * height
    light += 0.03 * clouds(rng, width, height, height / 9)
    for x in rng.uniform(0, width, max(2, width // (height * 3))):
        lean = rng.uniform(-0.4, 0.4)
        across = np.arange(width)[None, :] - x - lean * np.arange(height)[:, None]
        light += 0.20 * np.exp(-((across / 2.5) ** 2)) - 0.22 * np.exp(
            -(((across - 5) / 3) ** 2)
        )
    light += 0.05 * mottle(rng, width, height, height * 2)
    lit = np.asarray(strip, dtype=np.float32) * np.clip(light, 0.7, 1.25)[..., None]
    return Image.fromarray(np.clip(lit, 0, 255).astype(np.uint8))


def tape(rng: Rng, width: int, height: int, kind: str) -> Sheet:
    """A strip of tape: "paper" and "gummed" are opaque, "clear" has yellowed and lets things through."""
    if kind == "clear":
        tones = 1 + 0.12 * mottle(rng, width, height, height)
        picture = coloured(tones.astype(np.float32), (176, 128, 58), warm=0.6)
        cover = np.full((height, width), 0.80, dtype=np.float32)
        cover += 0.10 * clouds(rng, width, height, height / 2)
        return Sheet(picture, as_mask(cover))
    plain = sheet(rng, width, height, "brown" if kind == "gummed" else "buff", 0.9)
    picture = _creased(plain, rng)
    shape = shaped(rng, width, height, "worn")
    return Sheet(picture, shape)
