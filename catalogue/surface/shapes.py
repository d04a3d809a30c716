"""Outlines on one side of a painting: a point, a line (a tear), an area (a loss, a patch), in mm.

They are written as well-known text (OGC Simple Features), the form in which a place is kept.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from math import cos, hypot, pi, sin, sqrt
from typing import Literal, TypeAlias

from catalogue.surface.boxes import (
    SLACK_MM,
    Bounds,
    Box,
    Corner,
    Sheet,
    said_number,
    tidy,
    within,
)

Kind = Literal["point", "line", "area"]
Edge = tuple[Corner, Corner]

MOST_CORNERS = 500
"""More than anybody draws by hand."""

_FEWEST: dict[Kind, int] = {"point": 1, "line": 2, "area": 3}
_OFF_MM = 100_000
_ROUND = 72
"""Corners of a round outline: it departs from the true one by a thousandth of its radius at most."""

_PAIR = r"-?\d+(?:\.\d+)? -?\d+(?:\.\d+)?"
_PAIRS = rf"({_PAIR}(?:, {_PAIR})*)"
_FORMS: dict[Kind, re.Pattern[str]] = {
    "point": re.compile(rf"POINT \({_PAIRS}\)"),
    "line": re.compile(rf"LINESTRING \({_PAIRS}\)"),
    "area": re.compile(rf"POLYGON \(\({_PAIRS}\)\)"),
}
_WRITTEN: dict[Kind, str] = {
    "point": "POINT ({})",
    "line": "LINESTRING ({})",
    "area": "POLYGON (({}))",
}


@dataclass(frozen=True, slots=True)
class Shape:
    """A point, a line of two or more corners, or an area whose outline doesn't cross itself.

    >>> Shape("line", ((120, 140), (150, 152), (161, 185.5))).wkt()
    'LINESTRING (120 140, 150 152, 161 185.5)'
    """

    kind: Kind
    corners: tuple[Corner, ...]

    def __post_init__(self) -> None:
        if self.kind not in _FEWEST:
            raise ValueError(f"Shape.kind: {self.kind!r} is none of point, line, area")
        most = 1 if self.kind == "point" else MOST_CORNERS
        if not _FEWEST[self.kind] <= len(self.corners) <= most:
            raise ValueError(
                f"Shape.corners: a {self.kind} has {_FEWEST[self.kind]} to {most} corners, "
                f"not {len(self.corners)}"
            )
        for across, down in self.corners:
            if not (abs(across) <= _OFF_MM and abs(down) <= _OFF_MM):
                said = f"{said_number(across)}, {said_number(down)}"
                raise ValueError(f"Shape.corners: {said} lies off any painting")
        if self.kind == "line" and len(set(self.corners)) < 2:
            raise ValueError("Shape.corners: a line has some length")
        if self.kind == "area":
            meeting = _crossing(_edges(self.corners))
            if meeting:
                one, other = (
                    f"{at + 1} to {(at + 1) % len(self.corners) + 1}" for at in meeting
                )
                raise ValueError(
                    "Shape.corners: the outline crosses itself: the side from corner "
                    f"{one} meets the side from corner {other}"
                )
            if self.area_mm2 < 0.0001:
                raise ValueError("Shape.corners: an area encloses something")

    @classmethod
    def of_box(cls, box: Box) -> Shape:
        """The outline of an upright box, clockwise from the top left."""
        left, top, right, bottom = box.x_mm, box.y_mm, box.right_mm, box.bottom_mm
        return cls("area", ((left, top), (right, top), (right, bottom), (left, bottom)))

    @classmethod
    def ellipse(cls, box: Box) -> Shape:
        """The ellipse that touches the four sides of a box: an outline of 72 corners with its area.

        Corners on the ellipse itself would enclose 0.1 % too little, so they lie outside by half
        of that, and the area is that of the ellipse to a thousandth of a square millimetre.

        >>> round(Shape.ellipse(Box(0, 0, 12, 8)).area_mm2, 2)
        75.4
        """
        across, down = box.centre
        wider = sqrt(2 * pi / (_ROUND * sin(2 * pi / _ROUND))) / 2
        turns = [2 * pi * step / _ROUND for step in range(_ROUND)]
        return cls(
            "area",
            tuple(
                (
                    round(across + sin(turn) * box.width_mm * wider, 5),
                    round(down - cos(turn) * box.height_mm * wider, 5),
                )
                for turn in turns
            ),
        )

    @property
    def bounds(self) -> Bounds:
        """Where it ends at the left, the top, the right and the bottom."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def box(self) -> Box | None:
        """The upright box around it; None for a point or a line without width or height."""
        left, top, right, bottom = self.bounds
        width, height = tidy(right - left), tidy(bottom - top)
        return Box(left, top, width, height) if width and height else None

    @property
    def is_box(self) -> bool:
        """Whether it is the outline of an upright box, as `of_box` draws it."""
        return (
            self.kind == "area" and len(self.corners) == 4 and self == self.of_box(_boxed(self))
        )

    @property
    def centre(self) -> Corner:
        """The middle between where it ends."""
        left, top, right, bottom = self.bounds
        return tidy((left + right) / 2), tidy((top + bottom) / 2)

    def fits(self, sheet: Sheet, slack_mm: float = SLACK_MM) -> bool:
        """Whether it lies on the sheet, give or take the slack."""
        return within(self.bounds, sheet, slack_mm)

    @property
    def area_mm2(self) -> float:
        """What an area encloses; nothing for a point or a line."""
        if self.kind != "area":
            return 0
        turns = sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in _edges(self.corners))
        return abs(turns) / 2

    @property
    def length_mm(self) -> float:
        """How long a line is, or the way round an area."""
        edges = _edges(self.corners)
        if self.kind != "area":
            edges = edges[:-1]
        return sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in edges)

    def wkt(self) -> str:
        """As well-known text; whole millimetres without a fraction."""
        closed = self.corners + self.corners[:1] if self.kind == "area" else self.corners
        return _WRITTEN[self.kind].format(
            ", ".join(f"{_short(across)} {_short(down)}" for across, down in closed)
        )

    @classmethod
    def from_wkt(cls, text: str) -> Shape:
        """The shape that this well-known text says. Raises `ValueError`.

        >>> Shape.from_wkt("POLYGON ((0 0, 4 0, 4 3, 0 0))").area_mm2
        6.0
        """
        for kind, form in _FORMS.items():
            found = form.fullmatch(text)
            if found:
                numbers = (pair.split(" ") for pair in found[1].split(", "))
                corners = tuple((float(across), float(down)) for across, down in numbers)
                if kind == "area" and corners[0] == corners[-1]:
                    corners = corners[:-1]
                return cls(kind, corners)
        raise ValueError(
            f"{text!r} is no outline in mm such as POINT (x y), LINESTRING (x y, ...) "
            "or POLYGON ((x y, ...))"
        )


Place: TypeAlias = Box | Shape
"""Where something is on one side: a box, or a point, line or area."""


def _boxed(shape: Shape) -> Box:
    box = shape.box
    assert box is not None, "an area has width and height"
    return box


def _short(mm: float) -> str:
    whole = int(mm)
    # Never with an exponent, which well-known text has no room for.
    return str(whole) if whole == mm else format(Decimal(repr(float(mm))), "f")


def _edges(corners: tuple[Corner, ...]) -> list[Edge]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _crossing(edges: list[Edge]) -> tuple[int, int] | None:
    """Two edges that are no neighbours and meet; edges are gone through from left to right."""
    last = len(edges) - 1
    spans = sorted(
        (min(a[0], b[0]), max(a[0], b[0]), index) for index, (a, b) in enumerate(edges)
    )
    for place, (_, right, index) in enumerate(spans):
        for left, _, other in spans[place + 1 :]:
            if left > right:
                break
            near = abs(index - other)
            if near > 1 and near != last and _meet(edges[index], edges[other]):
                return min(index, other), max(index, other)
    return None


def _meet(one: Edge, other: Edge) -> bool:
    (a, b), (c, d) = one, other
    across, along = (_side(a, b, c), _side(a, b, d)), (_side(c, d, a), _side(c, d, b))
    if across[0] * across[1] < 0 and along[0] * along[1] < 0:
        return True
    return (
        (across[0] == 0 and _on(a, b, c))
        or (across[1] == 0 and _on(a, b, d))
        or (along[0] == 0 and _on(c, d, a))
        or (along[1] == 0 and _on(c, d, b))
    )


def _side(a: Corner, b: Corner, point: Corner) -> float:
    """On which side of a line a point lies: more than 0 on the one, less on the other."""
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])


def _on(a: Corner, b: Corner, point: Corner) -> bool:
    return min(a[0], b[0]) <= point[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= point[
        1
    ] <= max(a[1], b[1])
