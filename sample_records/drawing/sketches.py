"""Compositions in flat colour: what the invented painters painted, as a few bold shapes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from drawing.texture import Colour, Rng, clouds

Pen = ImageDraw.ImageDraw
Size = tuple[int, int]


def sketch(subject: str, size: Size, rng: Rng) -> Image.Image:
    """A composition of one kind: `SUBJECTS` lists them."""
    return SUBJECTS[subject](size, rng)


def _graded(
    size: Size, stops: list[tuple[float, Colour]], rng: Rng, uneven: float = 0.06
) -> Image.Image:
    """Colour that changes from top to bottom, with soft clouds in it."""
    width, height = size
    at = np.linspace(0, 1, height)
    places = [place for place, _ in stops]
    channels = [
        np.interp(at, places, [colour[part] for _, colour in stops]) for part in range(3)
    ]
    tones = 1 + uneven * (
        clouds(rng, width, height, width / 3) + 0.6 * clouds(rng, width, height, width / 9)
    )
    picture = np.stack(
        [np.repeat(each[:, None], width, axis=1) * tones for each in channels], axis=-1
    )
    return Image.fromarray(np.clip(picture, 0, 255).astype(np.uint8))


def _ridge(
    pen: Pen, size: Size, base: float, rise: float, colour: Colour, rng: Rng, step: int = 24
) -> None:
    """Land against the sky: a line that wanders, filled down to the bottom."""
    width, height = size
    xs = np.arange(-step, width + 2 * step, step)
    hills = (
        0.5
        + 0.45 * clouds(rng, len(xs), 2, len(xs) / 4)[0]
        + 0.08 * rng.standard_normal(len(xs))
    )
    # Land runs down to the sea at its far end.
    ys = base * height - rise * height * hills * np.clip((width - xs) / (0.3 * width), 0, 1)
    points = [(float(x), float(y)) for x, y in zip(xs, ys, strict=True)]
    pen.polygon([*points, (width, height), (0, height)], fill=colour)


def _glints(
    pen: Pen, size: Size, top: float, bottom: float, colours: list[Colour], count: int, rng: Rng
) -> None:
    """Level strokes of light on water or wet sand, wider towards us."""
    width, height = size
    for _ in range(count):
        depth = float(rng.random() ** 1.4)
        y = (top + (bottom - top) * depth) * height
        long = width * rng.uniform(0.02, 0.08) * (0.4 + depth)
        x = rng.uniform(-long, width)
        pen.line(
            (x, y, x + long, y),
            fill=colours[int(rng.integers(len(colours)))],
            width=1 + round(4 * depth),
        )


def _boat(
    pen: Pen, x: float, y: float, side: float, hull: Colour, sail: Colour, *, mast: bool = True
) -> None:
    pen.polygon(
        [
            (x - side, y - 0.2 * side),
            (x + side, y - 0.26 * side),
            (x + 0.7 * side, y + 0.16 * side),
            (x - 0.7 * side, y + 0.16 * side),
        ],
        fill=hull,
    )
    if mast:
        pen.line(
            (x, y - 0.2 * side, x + 0.05 * side, y - 2.2 * side),
            fill=(58, 44, 34),
            width=max(2, round(side / 14)),
        )
        pen.polygon(
            [
                (x + 0.05 * side, y - 2.1 * side),
                (x + 0.95 * side, y - 0.5 * side),
                (x + 0.05 * side, y - 0.42 * side),
            ],
            fill=sail,
        )


def _coast(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [
            (0, (148, 164, 176)),
            (0.3, (214, 204, 180)),
            (0.42, (226, 206, 164)),
            (0.43, (104, 128, 134)),
            (0.6, (138, 150, 140)),
            (0.66, (176, 154, 112)),
            (1, (128, 100, 66)),
        ],
        rng,
    )
    pen = ImageDraw.Draw(picture)
    _ridge(pen, (round(width * 0.62), round(height * 0.55)), 0.80, 0.34, (92, 98, 92), rng)
    picture.paste(
        _graded(
            (width, height - round(height * 0.55)),
            [(0, (120, 138, 136)), (0.4, (170, 152, 112)), (1, (122, 96, 64))],
            rng,
        ),
        (0, round(height * 0.55)),
    )
    pen = ImageDraw.Draw(picture)
    _glints(pen, size, 0.44, 0.7, [(224, 218, 196), (94, 116, 122), (196, 190, 170)], 260, rng)
    _glints(pen, size, 0.72, 1.0, [(158, 134, 96), (104, 82, 56), (190, 168, 128)], 150, rng)
    for _ in range(9):
        x, y, side = (
            rng.uniform(0.3, 1) * width,
            rng.uniform(0.62, 0.8) * height,
            rng.uniform(18, 60),
        )
        pen.ellipse((x - side, y - side * 0.42, x + side, y + side * 0.4), fill=(66, 60, 52))
        pen.ellipse((x - side * 0.8, y - side * 0.42, x + side * 0.3, y), fill=(112, 100, 82))
    _boat(pen, width * 0.32, height * 0.66, width * 0.075, (56, 44, 38), (168, 86, 52))
    return picture


def _fog(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [
            (0, (170, 172, 168)),
            (0.45, (206, 202, 188)),
            (0.56, (172, 176, 170)),
            (1, (120, 130, 128)),
        ],
        rng,
        0.05,
    )
    pen = ImageDraw.Draw(picture)
    for depth in (0.2, 0.45, 0.8):
        tone = round(178 - 90 * depth)
        for _ in range(3):
            x = rng.uniform(0.06, 0.94) * width
            _boat(
                pen,
                x,
                height * (0.52 + 0.2 * depth),
                width * (0.03 + 0.05 * depth),
                (tone, tone, tone - 6),
                (tone + 14, tone + 8, tone - 4),
            )
        picture = picture.filter(ImageFilter.GaussianBlur(5 * (1 - depth)))
        pen = ImageDraw.Draw(picture)
    _glints(pen, size, 0.58, 1.0, [(196, 192, 178), (112, 122, 120), (150, 154, 148)], 260, rng)
    pen.ellipse(
        (width * 0.62, height * 0.14, width * 0.70, height * 0.14 + width * 0.08),
        fill=(232, 222, 190),
    )
    return picture


def _evening(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [
            (0, (70, 78, 104)),
            (0.35, (166, 120, 96)),
            (0.52, (226, 168, 92)),
            (0.58, (120, 90, 72)),
            (1, (42, 38, 38)),
        ],
        rng,
    )
    pen = ImageDraw.Draw(picture)
    x = 0.0
    while x < width:  # gables along the water
        wide, high = rng.uniform(0.05, 0.11) * width, rng.uniform(0.10, 0.26) * height
        top = height * 0.58 - high
        dark = int(rng.uniform(34, 58))
        pen.polygon(
            [
                (x, height * 0.6),
                (x, top),
                (x + wide / 2, top - wide * 0.5),
                (x + wide, top),
                (x + wide, height * 0.6),
            ],
            fill=(dark, dark - 6, dark - 2),
        )
        if rng.random() < 0.5:
            pen.rectangle(
                (x + wide * 0.4, top + high * 0.3, x + wide * 0.55, top + high * 0.45),
                fill=(240, 190, 96),
            )
        x += wide
    _glints(
        pen,
        size,
        0.6,
        1.0,
        [(206, 146, 82), (60, 54, 58), (96, 74, 66), (232, 182, 104)],
        300,
        rng,
    )
    _boat(
        pen, width * 0.68, height * 0.76, width * 0.09, (26, 22, 22), (70, 50, 42), mast=False
    )
    return picture


def _harbour(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [
            (0, (138, 142, 148)),
            (0.5, (190, 182, 166)),
            (0.55, (110, 118, 120)),
            (1, (70, 78, 82)),
        ],
        rng,
    )
    pen = ImageDraw.Draw(picture)
    for _ in range(16):
        x, base = rng.uniform(0, width), height * rng.uniform(0.52, 0.66)
        tone = int(rng.uniform(70, 130))
        pen.line(
            (x, base, x + rng.uniform(-8, 8), base - height * rng.uniform(0.2, 0.42)),
            fill=(tone, tone - 6, tone - 10),
            width=4,
        )
    for place in (0.12, 0.46, 0.8):
        x = place * width
        pen.polygon(
            [
                (x - 90, height * 0.62),
                (x + 110, height * 0.6),
                (x + 84, height * 0.7),
                (x - 66, height * 0.7),
            ],
            fill=(52, 50, 54),
        )
        pen.rectangle((x - 20, height * 0.48, x + 30, height * 0.61), fill=(96, 80, 70))
        pen.rectangle((x, height * 0.40, x + 16, height * 0.5), fill=(150, 62, 46))
        pen.ellipse((x - 10, height * 0.2, x + 120, height * 0.42), fill=(168, 164, 158))
    _glints(pen, size, 0.7, 1.0, [(150, 150, 144), (50, 58, 64), (186, 170, 140)], 260, rng)
    return picture.filter(ImageFilter.GaussianBlur(1.5))


def _still_life(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [(0, (58, 52, 46)), (0.55, (92, 78, 62)), (0.6, (168, 150, 122)), (1, (206, 192, 164))],
        rng,
        0.08,
    )
    pen = ImageDraw.Draw(picture)
    pen.polygon(
        [
            (width * 0.52, height * 0.62),
            (width, height * 0.58),
            (width, height),
            (width * 0.7, height),
        ],
        fill=(222, 214, 196),
    )
    pen.ellipse((width * 0.16, height * 0.22, width * 0.36, height * 0.76), fill=(64, 92, 88))
    pen.rectangle(
        (width * 0.225, height * 0.12, width * 0.295, height * 0.3), fill=(64, 92, 88)
    )
    pen.ellipse((width * 0.19, height * 0.3, width * 0.24, height * 0.56), fill=(128, 158, 150))
    pen.ellipse(
        (width * 0.34, height * 0.66, width * 0.86, height * 0.86), fill=(196, 190, 180)
    )
    for x, y in (
        (0.44, 0.64),
        (0.56, 0.60),
        (0.68, 0.65),
        (0.52, 0.71),
        (0.63, 0.73),
        (0.83, 0.80),
        (0.26, 0.84),
    ):
        side = width * 0.068
        px, py = x * width, y * height
        pen.ellipse((px - side, py - side, px + side, py + side), fill=(178, 132, 38))
        pen.ellipse(
            (px - side * 0.9, py - side * 0.9, px + side * 0.35, py + side * 0.35),
            fill=(224, 184, 74),
        )
        pen.ellipse(
            (px - side * 0.5, py - side * 0.6, px - side * 0.1, py - side * 0.2),
            fill=(244, 222, 140),
        )
    pen.line(
        (width * 0.74, height * 0.9, width * 0.95, height * 0.8), fill=(190, 194, 196), width=9
    )
    return picture


def _portrait(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size, [(0, (66, 58, 46)), (0.6, (52, 46, 38)), (1, (34, 30, 28))], rng, 0.14
    )
    pen = ImageDraw.Draw(picture)
    pen.polygon(
        [
            (width * 0.02, height),
            (width * 0.14, height * 0.66),
            (width * 0.38, height * 0.55),
            (width * 0.64, height * 0.55),
            (width * 0.88, height * 0.66),
            (width, height),
        ],
        fill=(30, 34, 48),
    )
    pen.polygon(
        [
            (width * 0.42, height * 0.54),
            (width * 0.6, height * 0.54),
            (width * 0.51, height * 0.8),
        ],
        fill=(206, 198, 180),
    )
    pen.polygon(
        [
            (width * 0.45, height * 0.56),
            (width * 0.57, height * 0.56),
            (width * 0.51, height * 0.68),
        ],
        fill=(44, 30, 28),
    )
    pen.ellipse((width * 0.35, height * 0.18, width * 0.66, height * 0.56), fill=(188, 132, 98))
    pen.ellipse((width * 0.36, height * 0.2, width * 0.56, height * 0.52), fill=(216, 162, 122))
    pen.chord(
        (width * 0.33, height * 0.10, width * 0.69, height * 0.36), 180, 360, fill=(40, 38, 44)
    )
    pen.rectangle(
        (width * 0.31, height * 0.225, width * 0.71, height * 0.25), fill=(26, 24, 28)
    )
    for x in (0.435, 0.545):
        pen.ellipse(
            (x * width - 17, height * 0.335, x * width + 17, height * 0.352), fill=(52, 36, 30)
        )
        pen.line(
            (x * width - 24, height * 0.318, x * width + 24, height * 0.314),
            fill=(84, 58, 42),
            width=7,
        )
    pen.line(
        (
            width * 0.495,
            height * 0.34,
            width * 0.483,
            height * 0.42,
            width * 0.505,
            height * 0.428,
        ),
        fill=(150, 96, 70),
        width=8,
    )
    pen.line(
        (width * 0.45, height * 0.468, width * 0.54, height * 0.466),
        fill=(130, 66, 56),
        width=9,
    )
    pen.chord(
        (width * 0.345, height * 0.36, width * 0.665, height * 0.585),
        20,
        160,
        fill=(112, 96, 82),
    )
    for y in (0.72, 0.8, 0.88):
        pen.ellipse(
            (width * 0.60, height * y, width * 0.625, height * y + width * 0.025),
            fill=(206, 172, 84),
        )
    return picture.filter(ImageFilter.GaussianBlur(3))


def _window(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(size, [(0, (96, 84, 70)), (1, (60, 50, 44))], rng, 0.1)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((width * 0.14, height * 0.10, width * 0.86, height * 0.72), fill=(52, 78, 92))
    for row in range(3):
        for column in range(4):
            left, top = width * (0.16 + 0.175 * column), height * (0.115 + 0.203 * row)
            glow = int(rng.uniform(0, 60))
            pen.rectangle(
                (left, top, left + width * 0.155, top + height * 0.185),
                fill=(134 + glow, 140 + glow // 2, 128),
            )
    for _ in range(12):  # coils of rope, lamps, tins
        x, y, side = (
            rng.uniform(0.2, 0.8) * width,
            rng.uniform(0.5, 0.7) * height,
            rng.uniform(20, 46),
        )
        colour = ((176, 126, 60), (150, 48, 40), (206, 192, 150), (58, 92, 86))[
            int(rng.integers(4))
        ]
        pen.ellipse((x - side, y - side, x + side, y + side * 0.7), fill=colour)
        pen.ellipse(
            (x - side * 0.5, y - side * 0.5, x + side * 0.4, y + side * 0.3), fill=(64, 50, 40)
        )
    pen.rectangle(
        (width * 0.08, height * 0.72, width * 0.92, height * 0.77), fill=(150, 112, 70)
    )
    pen.rectangle((width * 0.1, height * 0.02, width * 0.9, height * 0.085), fill=(38, 60, 56))
    pen.polygon(
        [
            (0, height),
            (width * 0.2, height * 0.84),
            (width * 0.8, height * 0.84),
            (width, height),
        ],
        fill=(122, 114, 104),
    )
    return picture


def _ship(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size,
        [
            (0, (120, 148, 172)),
            (0.5, (206, 208, 196)),
            (0.66, (224, 212, 178)),
            (0.67, (62, 96, 96)),
            (1, (34, 60, 64)),
        ],
        rng,
    )
    pen = ImageDraw.Draw(picture)
    _glints(pen, size, 0.67, 1.0, [(170, 190, 180), (28, 52, 56), (96, 128, 122)], 340, rng)
    pen.polygon(
        [
            (width * 0.2, height * 0.64),
            (width * 0.82, height * 0.62),
            (width * 0.76, height * 0.75),
            (width * 0.26, height * 0.75),
        ],
        fill=(34, 30, 30),
    )
    pen.line(
        (width * 0.21, height * 0.68, width * 0.79, height * 0.665),
        fill=(206, 186, 140),
        width=7,
    )
    for mast in (0.4, 0.6):
        x = mast * width
        pen.line((x, height * 0.64, x, height * 0.08), fill=(70, 50, 34), width=7)
        for level, wide in ((0.14, 0.07), (0.26, 0.10), (0.42, 0.12)):
            top = height * level
            sail = [
                (x - width * wide * 0.8, top),
                (x + width * wide * 0.8, top),
                (x + width * wide, top + height * 0.11 + height * level * 0.12),
                (x - width * wide, top + height * 0.11 + height * level * 0.12),
            ]
            pen.polygon(sail, fill=(222, 208, 172))
            pen.line((*sail[3], *sail[2]), fill=(176, 158, 122), width=6)
    pen.line(
        (width * 0.8, height * 0.62, width * 0.95, height * 0.5), fill=(70, 50, 34), width=6
    )
    pen.polygon(
        [
            (width * 0.64, height * 0.2),
            (width * 0.93, height * 0.51),
            (width * 0.72, height * 0.58),
        ],
        fill=(212, 198, 164),
    )
    return picture


def _worker(size: Size, rng: Rng) -> Image.Image:
    width, height = size
    picture = _graded(
        size, [(0, (150, 160, 158)), (0.5, (186, 178, 154)), (1, (120, 112, 100))], rng, 0.12
    )
    pen = ImageDraw.Draw(picture)

    def shape(points: list[tuple[float, float]], colour: Colour) -> None:
        pen.polygon([(x * width, y * height) for x, y in points], fill=colour)

    for x, lean in ((0.08, 0.16), (0.9, -0.2), (0.7, 0.1)):  # the ribs of a hull on the slip
        pen.line(
            (x * width, height * 0.75, (x + lean) * width, 0), fill=(104, 82, 64), width=22
        )
    shape(
        [(0.1, 1), (0.2, 0.66), (0.42, 0.54), (0.6, 0.54), (0.8, 0.64), (0.92, 1)],
        (52, 76, 104),
    )
    shape([(0.36, 0.56), (0.66, 0.56), (0.7, 1), (0.34, 1)], (78, 104, 132))
    pen.line(
        (width * 0.4, height * 0.55, width * 0.36, height * 0.8), fill=(38, 54, 78), width=14
    )
    pen.line(
        (width * 0.62, height * 0.55, width * 0.67, height * 0.8), fill=(38, 54, 78), width=14
    )
    shape([(0.44, 0.48), (0.57, 0.48), (0.6, 0.6), (0.42, 0.6)], (176, 122, 92))
    pen.ellipse((width * 0.36, height * 0.2, width * 0.63, height * 0.52), fill=(202, 146, 110))
    pen.ellipse((width * 0.36, height * 0.22, width * 0.5, height * 0.5), fill=(160, 106, 82))
    pen.chord(
        (width * 0.32, height * 0.13, width * 0.66, height * 0.46), 170, 352, fill=(178, 74, 44)
    )
    shape([(0.62, 0.3), (0.74, 0.46), (0.66, 0.42)], (150, 56, 36))
    for x in (0.47, 0.57):
        pen.ellipse(
            (x * width - 15, height * 0.35, x * width + 15, height * 0.364), fill=(48, 36, 34)
        )
    pen.line(
        (width * 0.53, height * 0.36, width * 0.545, height * 0.42), fill=(150, 98, 72), width=9
    )
    pen.line(
        (width * 0.48, height * 0.455, width * 0.56, height * 0.452),
        fill=(136, 62, 52),
        width=9,
    )
    return picture.filter(ImageFilter.GaussianBlur(2))


SUBJECTS: dict[str, Callable[[Size, Rng], Image.Image]] = {
    "coast": _coast, "fog": _fog, "evening": _evening, "harbour": _harbour,
    "still life": _still_life, "portrait": _portrait, "worker": _worker, "window": _window, "ship": _ship,
}  # fmt: skip
