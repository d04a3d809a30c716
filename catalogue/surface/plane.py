"""Places as geometries of shapely, which clips, joins and widens them; loaded when first asked for.

Whoever only keeps, turns or words a place does without: `catalogue/surface/__init__.py` says which
names come through here.
"""

from __future__ import annotations

from typing import Any, cast

import shapely  # type: ignore[import-untyped]

from catalogue.errors import BadData
from catalogue.surface.boxes import Box, tidy
from catalogue.surface.shapes import MOST_CORNERS, Place, Shape
from catalogue.surface.turning import Turned

# A right angle stays one when it is widened; what is sharper is cut off, never nearer than the margin.
_MITRE_LIMIT = 1.5
_FINEST_MM = 0.001
_LEAST_MM = 0.01
"""A margin that is smaller is none."""


def geometry(place: Place) -> Any:
    """The geometry of a place, in mm."""
    if isinstance(place, Box):
        return shapely.box(*place.bounds)
    if place.kind == "point":
        return shapely.Point(place.corners[0])
    if place.kind == "line":
        return shapely.LineString(place.corners)
    return shapely.Polygon(place.corners)


def grown(place: Turned, margin_mm: float) -> Turned:
    """A place that is so much larger on every side; a point or a line becomes an area.

    Corners stay corners, so that it reaches the margin everywhere and at a right angle a little
    further. A gap that the margin closes on all sides counts with it. Raises `BadData`.

    >>> grown(Box(415, 125, 90, 75), 5)
    Box(x_mm=410, y_mm=120, width_mm=100, height_mm=85)
    >>> grown(Shape("line", ((10, 10), (40, 10))), 5).bounds
    (5.0, 5.0, 45.0, 15.0)
    """
    if not 0 <= margin_mm <= 1000:
        raise BadData(f"a margin of {margin_mm!r} mm: it is 0 to 1000 mm")
    if margin_mm < _LEAST_MM:
        return place
    wider = (
        _grown_box(place, margin_mm)
        if isinstance(place, Box)
        else _grown_shape(place, margin_mm)
    )
    return cast(Turned, wider)


def _grown_box(box: Box, margin_mm: float) -> Box:
    return Box(
        tidy(box.x_mm - margin_mm),
        tidy(box.y_mm - margin_mm),
        tidy(box.width_mm + 2 * margin_mm),
        tidy(box.height_mm + 2 * margin_mm),
    )


def _grown_shape(shape: Shape, margin_mm: float) -> Shape:
    wider = geometry(shape).buffer(margin_mm, join_style="mitre", mitre_limit=_MITRE_LIMIT)
    finest, outline = _FINEST_MM, wider.exterior.simplify(_FINEST_MM)
    while len(outline.coords) > MOST_CORNERS:
        finest *= 2
        outline = wider.exterior.simplify(finest)
    return Shape("area", tuple((tidy(x), tidy(y)) for x, y in outline.coords[:-1]))
