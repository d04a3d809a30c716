"""Outlines on one side of a painting: a point, a line (a tear), an area (a loss, a patch), in mm.

They are written as well-known text (OGC Simple Features), the form in which a place is kept.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import hypot
from typing import Literal

from catalogue.surface.boxes import Box, tidy

Kind = Literal["point", "line", "area"]
Corner = tuple[float, float]
Edge = tuple[Corner, Corner]

MOST_CORNERS = 500
"""More than anybody draws by hand."""

_FEWEST: dict[Kind, int] = {"point": 1, "line": 2, "area": 3}
_OFF_MM = 100_000
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
                raise ValueError(f"Shape.corners: {across:g}, {down:g} lies off any painting")
        if self.kind == "line" and len(set(self.corners)) < 2:
            raise ValueError("Shape.corners: a line has some length")
        if self.kind == "area":
            if _crosses_itself(_edges(self.corners)):
                raise ValueError("Shape.corners: the outline crosses itself")
            if self.area_mm2 < 0.0001:
                raise ValueError("Shape.corners: an area encloses something")

    @classmethod
    def of_box(cls, box: Box) -> Shape:
        """The outline of an upright box, clockwise from the top left."""
        left, top, right, bottom = box.x_mm, box.y_mm, box.right_mm, box.bottom_mm
        return cls("area", ((left, top), (right, top), (right, bottom), (left, bottom)))

    @property
    def box(self) -> Box | None:
        """The upright box around it; None for a point or a line without width or height."""
        xs, ys = zip(*self.corners, strict=True)
        width, height = tidy(max(xs) - min(xs)), tidy(max(ys) - min(ys))
        return Box(min(xs), min(ys), width, height) if width and height else None

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


def _short(mm: float) -> str:
    whole = int(mm)
    return str(whole) if whole == mm else repr(float(mm))


def _edges(corners: tuple[Corner, ...]) -> list[Edge]:
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def _crosses_itself(edges: list[Edge]) -> bool:
    """Whether two edges that are no neighbours meet; edges are gone through from left to right."""
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
                return True
    return False


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
