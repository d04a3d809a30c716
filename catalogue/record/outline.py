"""The painting's outline on a photograph: four corners in upright pixels, and what they may not be."""

from __future__ import annotations

from math import isfinite
from typing import Final

from catalogue.record import rules

Corner = tuple[float, float]

BEYOND: Final = 0.5
"""How far beyond the edge of a photograph a corner may lie, as a part of its width or height.

A photograph that cuts a corner off still shows where its two sides meet.
"""
_FARTHEST: Final = 2_000_000


def check_outline(
    field: str, corners: tuple[Corner, ...], width: int | None, height: int | None
) -> None:
    """Refuse four corners that no rectangle can show, or that lie far off the photograph.

    A rectangle seen from any side in front of it bulges at every corner; what crosses itself, or
    lies on one line, does not.

    >>> check_outline("Photo.outline", ((1, 1), (9, 1), (9, 7), (1, 7)), 10, 8)
    >>> check_outline("Photo.outline", ((1, 1), (9, 1), (1, 7), (9, 7)), 10, 8)
    Traceback (most recent call last):
    ...
    catalogue.errors.BadData: Photo.outline: ((1, 1), (9, 1), (1, 7), (9, 7)) is not possible; ...
    """
    if not corners:
        return
    if len(corners) != 4:
        raise rules.refuse(field, corners, "the outline of a painting has four corners")
    if not all(len(each) == 2 and all(_is_pixel(axis) for axis in each) for each in corners):
        raise rules.refuse(
            field, corners, "a corner is two numbers of pixels, to four decimals at most"
        )
    turns = [_turn(corners[n - 2], corners[n - 1], corners[n]) for n in range(4)]
    if not (min(turns) >= 1 or max(turns) <= -1):
        raise rules.refuse(
            field,
            corners,
            "its sides cross, or it encloses no area; go round it from corner to corner",
        )
    for size, axis in ((width, 0), (height, 1)):
        if size and not all(
            -BEYOND * size <= each[axis] <= (1 + BEYOND) * size for each in corners
        ):
            raise rules.refuse(
                field, corners, "a corner lies far beyond the edge of the photograph"
            )


def _is_pixel(number: float) -> bool:
    # What is written in a document has to be read back as the same: no powers of ten.
    return isfinite(number) and abs(number) <= _FARTHEST and number == round(number, 4)


def _turn(before: Corner, corner: Corner, after: Corner) -> float:
    """More than 0 where the way turns clockwise at a corner (y runs down), in square pixels."""
    (ax, ay), (bx, by), (cx, cy) = before, corner, after
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
