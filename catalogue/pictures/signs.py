"""The signs of the condition map: each kind of mark has an outline and a hatch of its own.

They are ours; the legend under each map explains them. None needs a colour: a map that comes out of
a black and white printer says the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final, Literal

from catalogue.pictures.svg import Svg, element
from catalogue.surface import Shape

Kind = Literal["inscription", "finding", "repair", "test", "treatment", "planned"]
Point = tuple[float, float]
Drawer = Callable[[Shape, Callable[[Point], Point]], list[Svg]]
"""Draws a shape, once it is told where its corners lie on the paper."""

SMALLEST: Final = 7.0
"""What is smaller than this on the paper has a ring around it, so that it is found."""


@dataclass(frozen=True, slots=True)
class Sign:
    """How a kind is drawn: width and dashes of its outline, side and lines of a tile of its hatch."""

    width: float
    dashes: str | None
    tile: float
    lines: str


SIGNS: Final[dict[Kind, Sign]] = {
    "inscription": Sign(1.5, None, 6, "M0 3 H6"),
    "finding": Sign(2, "0.5 3.5", 6, "M0 6 L6 0"),
    "repair": Sign(1.6, "7 3", 8, "M0 8 L8 0 M0 0 L8 8"),
    "test": Sign(1, None, 4, "M2 0 V4"),
    "treatment": Sign(1.6, "10 3 2 3", 7, "M2.5 3.5 H4.5"),
    "planned": Sign(2.6, "14 5", 12, "M0 0 L12 12"),
}

_FINE: Final = {"stroke": "currentColor", "fill": "none"}
_TWIN_DASHES: Final = "2 5"


def hatches(kinds: Iterable[Kind], key: str) -> Svg:
    """The definitions that the outlines of these kinds are filled with."""
    return element("defs", *(_hatch(kind, SIGNS[kind], key) for kind in kinds))


def _hatch(kind: Kind, sign: Sign, key: str) -> Svg:
    width = 1.6 if kind == "treatment" else 0.9
    lines = element(
        "path", d=sign.lines, stroke="currentColor", stroke_width=width, stroke_opacity=0.55
    )
    return element(
        "pattern", lines, id=f"{key}-{kind}", width=sign.tile, height=sign.tile,
        patternUnits="userSpaceOnUse",
    )  # fmt: skip


def drawn(shape: Shape, at: Callable[[Point], Point], kind: Kind, key: str) -> list[Svg]:
    """The outline of a mark with its hatch; what is tiny has a ring around it."""
    return outlined(
        [at(corner) for corner in shape.corners], kind, key, area=shape.kind == "area"
    )


def outlined(corners: list[Point], kind: Kind, key: str, *, area: bool) -> list[Svg]:
    """The same for corners that lie on the paper already."""
    sign = SIGNS[kind]
    line = element(
        "polygon" if area else "polyline", points=points(corners),
        fill=f"url(#{key}-{kind})" if area else "none",
        stroke="currentColor", stroke_width=sign.width, stroke_dasharray=sign.dashes,
        stroke_linejoin="round", stroke_linecap="round" if kind == "finding" else None,
    )  # fmt: skip
    return [line, *_found(corners)]


def drawn_fine(shape: Shape, at: Callable[[Point], Point], *, twin: bool) -> list[Svg]:
    """A thin outline: the twin of something on the other side, or what is no longer there."""
    corners = [at(corner) for corner in shape.corners]
    return outlined_fine(corners, area=shape.kind == "area", twin=twin)


def outlined_fine(corners: list[Point], *, area: bool, twin: bool = False) -> list[Svg]:
    """The same for corners that lie on the paper already."""
    line = element(
        "polygon" if area else "polyline", points=points(corners),
        stroke_width=1 if twin else 0.8, stroke_dasharray=_TWIN_DASHES if twin else None, **_FINE,
    )  # fmt: skip
    return [line, *_found(corners)]


def reach(corners: list[Point], kind: Kind, href: str, *, area: bool) -> Svg:
    """What a finger may press besides the mark itself: unseen, and as wide as the page's style makes it.

    It lies beneath all marks, so that none takes away from its neighbour; keys and readers of screens
    have the mark's own link.
    """
    line = element(
        "polygon" if area else "polyline", points=points(corners), fill="none", stroke="none"
    )
    return element(
        "a", line, href=href, tabindex="-1", aria_hidden="true", class_=f"reach {kind}"
    )


def extent_of(shape: Shape) -> tuple[float, float]:
    """How wide and how high a shape is, in mm."""
    left, top, right, bottom = shape.bounds
    return right - left, bottom - top


def points(corners: list[Point]) -> str:
    """Corners as SVG has them."""
    return " ".join(f"{across:.2f},{down:.2f}" for across, down in corners)


def _found(corners: list[Point]) -> list[Svg]:
    """A ring around what would be overlooked; a point has a dot in its middle."""
    xs, ys = zip(*corners, strict=True)
    if max(max(xs) - min(xs), max(ys) - min(ys)) >= SMALLEST:
        return []
    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    ring = element("circle", cx=middle[0], cy=middle[1], r=SMALLEST, stroke_width=1.2, **_FINE)
    dot = element("circle", cx=middle[0], cy=middle[1], r=1.6, fill="currentColor")
    return [ring, dot] if len(corners) == 1 else [ring]
