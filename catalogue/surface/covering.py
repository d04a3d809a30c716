"""What a planned patch, tape or lining would cover, told before it is applied."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import shapely  # type: ignore[import-untyped]

from catalogue.surface.plane import geometry, grown
from catalogue.surface.shapes import Place

MARGIN_MM = 5
"""How far from a patch an inscription should be told of (common practice, no source)."""

_DUST = 1e-9

Level = Literal["clear", "near", "hit"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """How far a patch reaches over one item on the same side.

    `fraction` is of the item's area, 0 to 1, of its length where it is a line, all or nothing where
    it is a point; `with_margin` the same for a patch that is larger by the margin all round;
    `distance_mm` is 0 where they touch. "near" is no further than the margin.
    """

    overlap_mm2: float
    fraction: float
    with_margin: float
    distance_mm: float
    level: Level


def cover(patch: Place, item: Place, margin_mm: float = MARGIN_MM) -> Cover:
    """What a patch would cover of an item; both must be as seen from the same side.

    >>> from catalogue.surface.boxes import Box
    >>> cover(Box(415, 125, 90, 75), Box(395, 120, 150, 40)).fraction
    0.525
    """
    return covers(patch, (item,), margin_mm)[0]


def covers(
    patch: Place, items: Sequence[Place], margin_mm: float = MARGIN_MM
) -> tuple[Cover, ...]:
    """What a patch would cover of each item on its side, in their order.

    A lining or a backing covers the whole side: its patch is `Sheet.whole`. Raises `BadData` for a
    margin that is none.
    """
    own, wider = geometry(patch), geometry(grown(patch, margin_mm))
    shapely.prepare([own, wider])
    told = []
    for item in items:
        thing = geometry(item)
        distance = round(float(own.distance(thing)), 4)
        overlap, fraction = _reach(own, thing)
        hit = fraction > 0 or (distance == 0 and own.area == 0 and own.crosses(thing))
        with_margin = fraction
        if margin_mm and distance <= margin_mm:
            with_margin = max(fraction, _reach(wider, thing)[1])
        level: Level = "hit" if hit else "near" if distance <= margin_mm else "clear"
        told.append(
            Cover(
                overlap_mm2=round(overlap, 4),
                fraction=fraction,
                with_margin=with_margin,
                distance_mm=distance,
                level=level,
            )
        )
    return tuple(told)


def _reach(patch: Any, thing: Any) -> tuple[float, float]:
    """The area of a thing that a patch covers, and the fraction of it, 0 to 1.

    Of a line the fraction is of its length, of a point all or nothing. What only touches is not
    covered.
    """
    if not patch.intersects(thing) or patch.touches(thing):
        return 0, 0
    shared = patch.intersection(thing)
    if thing.area:
        fraction = shared.area / thing.area
    elif thing.length:
        fraction = shared.length / thing.length
    else:
        fraction = 1
    # What floating point leaves where two sides touch is no cover.
    return (shared.area, min(fraction, 1)) if fraction > _DUST else (0, 0)


def covered_fraction(item: Place, patches: Iterable[Place]) -> float:
    """How much of an item several patches cover together, 0 to 1; where they overlap, once.

    >>> from catalogue.surface.boxes import Box
    >>> covered_fraction(Box(0, 0, 10, 10), [Box(0, 0, 4, 10), Box(2, 0, 4, 10)])
    0.6
    """
    return _reach(shapely.union_all([geometry(patch) for patch in patches]), geometry(item))[1]


def overlap_mm2(a: Place, b: Place) -> float:
    """The area that two places share, in square millimetres."""
    return round(float(geometry(a).intersection(geometry(b)).area), 4)


def distance_mm(a: Place, b: Place) -> float:
    """The shortest way from one place to the other, 0 where they touch or overlap."""
    return round(float(geometry(a).distance(geometry(b))), 4)
