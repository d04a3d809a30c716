"""The other side: one place as it is seen when the picture is turned over, and turned back.

A picture turned like a page shows its back with left and right changed (`mirror`). Tumbled over its
bottom edge it shows its back upside down (`tumble`); the photograph of it, turned by half
(`upright`), is what turning like a page would have shown. Every place on a painting goes through
here: boxes, points, lines and areas, and the directions in which letters stand.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from catalogue.errors import BadData
from catalogue.surface.boxes import Box, Corner, Sheet, tidy
from catalogue.surface.shapes import Place, Shape

Turned = TypeVar("Turned", bound=Place)
"""A box gives a box, a shape a shape."""


def mirror(place: Turned, sheet: Sheet | None) -> Turned:
    """The same place seen from the other side, when the picture is turned like a page.

    The corners of an area go round the same way as before. Mirrored twice, a place is where it was,
    to a thousand-millionth of a millimetre. Raises `BadData` when the size is not known.

    >>> mirror(Box(120, 140, 60, 45), Sheet(610, 500))
    Box(x_mm=430, y_mm=140, width_mm=60, height_mm=45)
    """
    width = measured(sheet).width_mm
    return _turned(place, lambda corner: (tidy(width - corner[0]), corner[1]), flipped=True)


def tumble(place: Turned, sheet: Sheet | None) -> Turned:
    """The same place as it is seen when the picture is turned over its bottom edge: upside down.

    >>> tumble(Box(120, 140, 60, 45), Sheet(610, 500))
    Box(x_mm=120, y_mm=315, width_mm=60, height_mm=45)
    """
    height = measured(sheet).height_mm
    return _turned(place, lambda corner: (corner[0], tidy(height - corner[1])), flipped=True)


def upright(place: Turned, sheet: Sheet | None) -> Turned:
    """A place on a photograph that stands on its head, as it is with the picture's top up.

    >>> upright(Box(120, 315, 60, 45), Sheet(610, 500))
    Box(x_mm=430, y_mm=140, width_mm=60, height_mm=45)
    """
    size = measured(sheet)
    width, height = size.width_mm, size.height_mm
    return _turned(
        place, lambda corner: (tidy(width - corner[0]), tidy(height - corner[1])), flipped=False
    )


def moved(place: Turned, across_mm: float, down_mm: float) -> Turned:
    """A place that lies so much further to the right and down.

    >>> moved(Box(20, 30, 60, 45), 55, -5)
    Box(x_mm=75, y_mm=25, width_mm=60, height_mm=45)
    """
    return _turned(
        place,
        lambda corner: (tidy(corner[0] + across_mm), tidy(corner[1] + down_mm)),
        flipped=False,
    )


def mirror_degrees(degrees: float) -> float:
    """A direction as seen from the other side, in degrees clockwise.

    >>> mirror_degrees(90), mirror_degrees(0)
    (270, 0)
    """
    return (360 - degrees) % 360


def tumble_degrees(degrees: float) -> float:
    """A direction as seen when the picture is turned over its bottom edge.

    >>> tumble_degrees(0), tumble_degrees(90)
    (180, 90)
    """
    return (180 - degrees) % 360


def upright_degrees(degrees: float) -> float:
    """A direction on a photograph that stands on its head, as it is with the picture's top up.

    >>> upright_degrees(180)
    0
    """
    return (degrees + 180) % 360


def measured(sheet: Sheet | None) -> Sheet:
    """The size, where it is known. Raises `BadData` where it is not."""
    if sheet is None:
        raise BadData(
            "the size of the painting is not known, so that nothing can be said in mm",
            remedy="measure its height and width; until then a place is kept in words",
        )
    return sheet


def _turned(place: Turned, turn: Callable[[Corner], Corner], *, flipped: bool) -> Turned:
    turned = (
        _turned_box(place, turn)
        if isinstance(place, Box)
        else _turned_shape(place, turn, flipped=flipped)
    )
    return cast(Turned, turned)


def _turned_box(box: Box, turn: Callable[[Corner], Corner]) -> Box:
    left, top, right, bottom = box.bounds
    (x1, y1), (x2, y2) = turn((left, top)), turn((right, bottom))
    return Box(min(x1, x2), min(y1, y2), box.width_mm, box.height_mm)


def _turned_shape(shape: Shape, turn: Callable[[Corner], Corner], *, flipped: bool) -> Shape:
    corners = tuple(turn(corner) for corner in shape.corners)
    if shape.kind != "area":
        return Shape(shape.kind, corners)
    turned = Shape("area", corners[::-1] if flipped else corners)
    # The outline of a box begins at its top left corner again.
    return Shape.of_box(turned.box) if shape.is_box and turned.box else turned
