"""The frame drawn on a photograph: five numbers that a person can type, and the corners they make.

`x` and `y` are the top left corner as the text runs, `width` and `height` go along the text and
across it, `turn` is the text's direction in degrees clockwise; all in upright pixels of the photo.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from catalogue.errors import BadData
from catalogue.record import Photo

Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """A box, turned or not."""

    x: float
    y: float
    width: float
    height: float
    turn: float = 0

    def corners(self) -> Corners:
        """The four corners, clockwise from the top left as the text runs, to a tenth of a pixel.

        >>> Frame(10, 20, 100, 50, 0).corners()
        ((10, 20), (110, 20), (110, 70), (10, 70))
        >>> Frame(10, 20, 100, 50, 90).corners()
        ((10, 20), (10, 120), (-40, 120), (-40, 20))
        """
        along = (math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn)))
        steps = ((0.0, 0.0), (self.width, 0.0), (self.width, self.height), (0.0, self.height))
        return tuple(
            (
                tidy(self.x + a * along[0] - b * along[1]),
                tidy(self.y + a * along[1] + b * along[0]),
            )
            for a, b in steps
        )


def frame_of(corners: Corners) -> Frame:
    """The frame of a box; of any other shape the upright box around it.

    >>> frame_of(Frame(10, 20, 100, 50, 0).corners())
    Frame(x=10, y=20, width=100, height=50, turn=0)
    >>> frame_of(((0, 0), (9, 0), (4, 5)))
    Frame(x=0, y=0, width=9, height=5, turn=0)
    """
    if is_box(corners):
        (x, y), (right, below), _, (left, under) = corners
        width, height = math.hypot(right - x, below - y), math.hypot(left - x, under - y)
        turn = math.degrees(math.atan2(below - y, right - x))
        return Frame(tidy(x), tidy(y), tidy(width), tidy(height), tidy(turn, 2))
    across, down = zip(*corners, strict=True)
    return Frame(
        tidy(min(across)),
        tidy(min(down)),
        tidy(max(across) - min(across)),
        tidy(max(down) - min(down)),
    )


def is_box(corners: Corners) -> bool:
    """Whether these are the four corners of a box, clockwise, within a pixel or so."""
    if len(corners) != 4:
        return False
    a, b, c, d = corners
    closes = math.hypot(a[0] + c[0] - b[0] - d[0], a[1] + c[1] - b[1] - d[1])
    along, down = (b[0] - a[0], b[1] - a[1]), (d[0] - a[0], d[1] - a[1])
    lean = abs(along[0] * down[0] + along[1] * down[1]) / max(
        math.hypot(*along), math.hypot(*down), 1
    )
    clockwise = along[0] * down[1] - along[1] * down[0] > 0
    return closes < 1.5 and lean < 1.5 and clockwise


def refuse_outside(frame: Frame, photo: Photo) -> None:
    """Raise `BadData` for a frame without an area, or one that misses the photo altogether."""
    if frame.width < 2 or frame.height < 2:
        raise BadData(
            "the frame on the photo is too small to hold anything", remedy="draw it again"
        )
    if photo.width is None or photo.height is None:
        return
    across, down = zip(*frame.corners(), strict=True)
    if (
        max(across) < 0
        or max(down) < 0
        or min(across) > photo.width
        or min(down) > photo.height
    ):
        raise BadData(
            "the frame lies outside the photo",
            remedy=f"the photo is {photo.width} pixels wide and {photo.height} high",
        )


def tidy(value: float, digits: int = 1) -> float:
    """A number to so many digits, whole where it is whole."""
    rounded = round(value, digits)
    return int(rounded) if rounded == int(rounded) else rounded
