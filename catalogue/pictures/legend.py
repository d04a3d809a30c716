"""Beneath the condition map: the scale bar, and the legend of what is on this very map."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from math import floor, log10
from typing import Final

from catalogue.pictures.signs import Drawer, Kind, drawn, drawn_fine
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.words import table
from catalogue.surface import Box, Shape

_SWATCH: Final = Shape.of_box(Box(0, 0, 30, 14))
_ROW: Final = 24.0
_IN_A_ROW: Final = 4


def scale_bar(width_mm: float, scale: float, left: float, top: float) -> Svg:
    """A line of a round length, at most a third of the width; `scale` is units of paper for a mm."""
    length = round_length(width_mm / 3)
    end = left + length * scale
    line = (
        f"M{left:.2f} {top - 4:.2f} V{top + 4:.2f} M{left:.2f} {top:.2f} H{end:.2f} "
        f"M{end:.2f} {top - 4:.2f} V{top + 4:.2f}"
    )
    return element(
        "g",
        element("path", d=line, stroke="currentColor", stroke_width=1.4, fill="none"),
        element("text", table("map")["scale"].format(mm=f"{length:g}"), x=end + 8, y=top + 4.5),
        class_="scale",
    )


def round_length(most_mm: float) -> float:
    """The longest of 1, 2, 5, 10, 20 ... mm that is no longer.

    >>> [round_length(each) for each in (203, 18.5, 1.2, 0.4)]
    [200, 10, 1, 0.2]
    """
    power = 10.0 ** floor(log10(most_mm))
    length = next(step * power for step in (5, 2, 1) if step * power <= most_mm * (1 + 1e-9))
    return round(length, 9) if length < 1 else int(length)


def legend(
    kinds: Sequence[Kind], fine: Sequence[str], key: str, left: float, top: float, wide: float
) -> tuple[Svg, float]:
    """The legend of these kinds and of these `fine` outlines, and how far down it reaches."""
    rows: list[tuple[str, Drawer]] = [
        *((kind, partial(drawn, kind=kind, key=key)) for kind in kinds),
        *((name, partial(drawn_fine, twin=name == "twin")) for name in fine),
    ]
    words = table("map")["legend"]
    found = []
    for number, (name, draw) in enumerate(rows):
        across = left + number % _IN_A_ROW * wide / _IN_A_ROW
        down = top + number // _IN_A_ROW * _ROW
        swatch = draw(_SWATCH, partial(_moved, across, down))
        said = element("text", words[name], x=across + 38, y=down + 11.5)
        found.append(element("g", *swatch, said))
    bottom = top + (len(rows) + _IN_A_ROW - 1) // _IN_A_ROW * _ROW
    return element("g", *found, class_="legend", font_size=12), bottom


def _moved(across: float, down: float, point: tuple[float, float]) -> tuple[float, float]:
    return across + point[0], down + point[1]
