"""What a planned patch, tape or lining would cover, told before it is applied."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Literal

from catalogue.surface.boxes import Box

Level = Literal["clear", "near", "hit"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """How far a patch reaches over one item on the same side.

    `fraction` is of the item's area, 0 to 1; `with_margin` the same for a patch that is `margin_mm`
    larger all round; `distance_mm` is 0 where they touch. "near" is no further than the margin.
    """

    overlap_mm2: float
    fraction: float
    with_margin: float
    distance_mm: float
    level: Level


def cover(patch: Box, item: Box, margin_mm: float = 5) -> Cover:
    """What a patch would cover of an item; both boxes must be as seen from the same side.

    >>> cover(Box(415, 125, 90, 75), Box(395, 120, 150, 40)).fraction
    0.525
    """
    overlap = overlap_mm2(patch, item)
    distance = distance_mm(patch, item)
    area = item.width_mm * item.height_mm
    return Cover(
        overlap_mm2=overlap,
        fraction=min(overlap / area, 1),
        with_margin=min(overlap_mm2(grown(patch, margin_mm), item) / area, 1),
        distance_mm=distance,
        level="hit" if overlap else "near" if distance <= margin_mm else "clear",
    )


def overlap_mm2(a: Box, b: Box) -> float:
    """The area that two boxes share, in square millimetres."""
    across = min(a.right_mm, b.right_mm) - max(a.x_mm, b.x_mm)
    down = min(a.bottom_mm, b.bottom_mm) - max(a.y_mm, b.y_mm)
    return round(across * down, 4) if across > 0 and down > 0 else 0


def distance_mm(a: Box, b: Box) -> float:
    """The shortest way from one box to the other, 0 where they touch or overlap."""
    across = max(a.x_mm - b.right_mm, b.x_mm - a.right_mm, 0)
    down = max(a.y_mm - b.bottom_mm, b.y_mm - a.bottom_mm, 0)
    return round(hypot(across, down), 4)


def grown(box: Box, margin_mm: float) -> Box:
    """A box that is so much larger on every side.

    >>> grown(Box(415, 125, 90, 75), 5)
    Box(x_mm=410, y_mm=120, width_mm=100, height_mm=85)
    """
    return Box(
        box.x_mm - margin_mm,
        box.y_mm - margin_mm,
        box.width_mm + 2 * margin_mm,
        box.height_mm + 2 * margin_mm,
    )
