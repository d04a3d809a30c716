"""Marks without words: what the cataloguer describes in double braces, drawn small."""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin

from PIL import Image, ImageDraw

Pen = ImageDraw.ImageDraw


@cache
def device(words: str, side: int) -> Image.Image:
    """The mark that these words describe (an anchor, a crown, a palette ...), else a lozenge."""
    fine = side * 4
    mask = Image.new("L", (fine, fine))
    drawn = next((draw for word, draw in DEVICES.items() if word in words), _lozenge)
    drawn(ImageDraw.Draw(mask), fine, max(2, fine // 18))
    return mask.resize((side, side), Image.Resampling.LANCZOS)


def _anchor(pen: Pen, side: int, stroke: int) -> None:
    middle = side / 2
    pen.ellipse(
        (middle - side * 0.1, side * 0.04, middle + side * 0.1, side * 0.24),
        outline=255,
        width=stroke,
    )
    pen.line((middle, side * 0.24, middle, side * 0.9), fill=255, width=stroke * 2)
    pen.line((side * 0.28, side * 0.36, side * 0.72, side * 0.36), fill=255, width=stroke * 2)
    pen.arc(
        (side * 0.14, side * 0.3, side * 0.86, side * 0.94), 15, 165, fill=255, width=stroke * 2
    )


def _crown(pen: Pen, side: int, stroke: int) -> None:
    tops = [
        (0.1, 0.3),
        (0.3, 0.58),
        (0.5, 0.18),
        (0.7, 0.58),
        (0.9, 0.3),
        (0.82, 0.76),
        (0.18, 0.76),
    ]
    pen.polygon([(x * side, y * side) for x, y in tops], fill=255)
    pen.rectangle((side * 0.18, side * 0.8, side * 0.82, side * 0.9), fill=255)
    for x, y in ((0.1, 0.25), (0.5, 0.12), (0.9, 0.25)):
        _dot(pen, x * side, y * side, side * 0.05)


def _palette(pen: Pen, side: int, stroke: int) -> None:
    pen.ellipse(
        (side * 0.04, side * 0.2, side * 0.96, side * 0.84), outline=255, width=stroke * 2
    )
    for x, y in ((0.26, 0.44), (0.42, 0.34), (0.6, 0.34), (0.76, 0.46)):
        _dot(pen, x * side, y * side, side * 0.06)
    pen.ellipse((side * 0.5, side * 0.56, side * 0.66, side * 0.7), outline=255, width=stroke)


def _shield(pen: Pen, side: int, stroke: int) -> None:
    edge = [(0.14, 0.1), (0.86, 0.1), (0.86, 0.52), (0.5, 0.94), (0.14, 0.52)]
    corners = [(x * side, y * side) for x, y in edge]
    pen.line([*corners, corners[0]], fill=255, width=stroke * 2, joint="curve")
    pen.line((side * 0.14, side * 0.4, side * 0.86, side * 0.4), fill=255, width=stroke)
    pen.line((side / 2, side * 0.4, side / 2, side * 0.9), fill=255, width=stroke)


def _star(pen: Pen, side: int, stroke: int) -> None:
    points = [
        (
            side / 2 + side * (0.46 if turn % 2 == 0 else 0.19) * sin(turn * pi / 5),
            side / 2 - side * (0.46 if turn % 2 == 0 else 0.19) * cos(turn * pi / 5),
        )
        for turn in range(10)
    ]
    pen.polygon(points, fill=255)


def _eagle(pen: Pen, side: int, stroke: int) -> None:
    for flip in (1, -1):
        wing = [
            (0, 0.4),
            (0.16, 0.22),
            (0.44, 0.14),
            (0.4, 0.34),
            (0.36, 0.5),
            (0.2, 0.56),
            (0, 0.62),
        ]
        pen.polygon([(side * (0.5 + flip * x), side * y) for x, y in wing], fill=255)
    pen.ellipse((side * 0.42, side * 0.16, side * 0.58, side * 0.34), fill=255)
    pen.polygon(
        [(side * x, side * y) for x, y in ((0.4, 0.6), (0.6, 0.6), (0.66, 0.9), (0.34, 0.9))],
        fill=255,
    )


def _ship(pen: Pen, side: int, stroke: int) -> None:
    hull = ((0.08, 0.7), (0.92, 0.7), (0.78, 0.9), (0.22, 0.9))
    pen.polygon([(side * x, side * y) for x, y in hull], fill=255)
    pen.line((side / 2, side * 0.08, side / 2, side * 0.7), fill=255, width=stroke)
    pen.polygon(
        [(side * x, side * y) for x, y in ((0.54, 0.12), (0.88, 0.62), (0.54, 0.62))], fill=255
    )
    pen.polygon(
        [(side * x, side * y) for x, y in ((0.46, 0.24), (0.46, 0.62), (0.16, 0.62))], fill=255
    )


def _lozenge(pen: Pen, side: int, stroke: int) -> None:
    edge = [(0.5, 0.06), (0.9, 0.5), (0.5, 0.94), (0.1, 0.5)]
    corners = [(x * side, y * side) for x, y in edge]
    pen.line([*corners, corners[0], corners[1]], fill=255, width=stroke * 2, joint="curve")
    _dot(pen, side / 2, side / 2, side * 0.1)


def _dot(pen: Pen, x: float, y: float, radius: float) -> None:
    pen.ellipse((x - radius, y - radius, x + radius, y + radius), fill=255)


DEVICES = {
    "anchor": _anchor, "crown": _crown, "palette": _palette, "shield": _shield, "star": _star,
    "eagle": _eagle, "ship": _ship,
}  # fmt: skip
