"""Where things lie: millimetres on a face ⇄ pixels of a photograph, turned things and their corners.

Angles are degrees clockwise as one looks at the face. Millimetres run from the top left corner.
The sample records take the corners of their regions from here, so that a region frames what is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin

from catalogue.surface import Box

Point = tuple[float, float]
Corners = tuple[Point, Point, Point, Point]
"""Clockwise from the corner where the text begins."""


@dataclass(frozen=True, slots=True)
class Camera:
    """How a photograph shows a face: it looks at the middle of it, and the picture lies a bit askew."""

    width: int
    height: int
    mm_per_pixel: float
    face_width_mm: float
    face_height_mm: float
    skew: float

    def pixel(self, point: Point) -> Point:
        """The pixel that shows a point of the face.

        >>> Camera(800, 600, 0.5, 300, 200, skew=0).pixel((0, 0))
        (100.0, 100.0)
        """
        x, y = turned(
            (point[0] - self.face_width_mm / 2, point[1] - self.face_height_mm / 2), self.skew
        )
        return (
            round(self.width / 2 + x / self.mm_per_pixel, 1),
            round(self.height / 2 + y / self.mm_per_pixel, 1),
        )

    def region(self, outline: Iterable[Point]) -> tuple[Point, ...]:
        """The corners in the photograph of something with these corners on the face."""
        return tuple(self.pixel(point) for point in outline)

    def resized(self, width: int) -> Camera:
        """The same view in a picture of another width."""
        scale = width / self.width
        return Camera(
            width,
            round(self.height * scale),
            self.mm_per_pixel / scale,
            self.face_width_mm,
            self.face_height_mm,
            self.skew,
        )


def turned(point: Point, degrees: float) -> Point:
    """A point turned clockwise about the origin; y runs downwards, as in pictures."""
    angle = radians(degrees)
    x, y = point
    return (x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle))


def extent(place: Box, turn: float) -> tuple[float, float]:
    """Width and height, along its own text, of a turned thing that just fits into `place`.

    A thing that stands on its side is as wide as its place is high:

    >>> extent(Box(x_mm=0, y_mm=0, width_mm=20, height_mm=60), 90)
    (60.0, 20.0)
    """
    quarter = round(turn / 90)
    rest = radians(abs(turn - 90 * quarter))
    width, height = place.width_mm, place.height_mm
    spread = cos(2 * rest)
    along = (width * cos(rest) - height * sin(rest)) / spread
    across = (height * cos(rest) - width * sin(rest)) / spread
    if min(along, across) <= 0:
        raise ValueError(
            f"nothing turned by {turn:g} degrees fits into {width:g} x {height:g} mm"
        )
    return (across, along) if quarter % 2 else (along, across)


def outline(place: Box, turn: float) -> Corners:
    """The corners on the face, clockwise from where the text begins, of what fits into `place`."""
    width, height = extent(place, turn)
    middle = (place.x_mm + place.width_mm / 2, place.y_mm + place.height_mm / 2)

    def corner(x: float, y: float) -> Point:
        away = turned((x * width / 2, y * height / 2), turn)
        return (middle[0] + away[0], middle[1] + away[1])

    return (corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1))
