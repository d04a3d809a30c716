"""The edges of a picture: tacking margins around a side, the bars of a stretcher behind it.

Both are strips along the four edges: margins lie outside the side, on canvas that is turned over the
stretcher; bars lie inside, behind the canvas, and hide what is on its back. Widths are as seen on one
side; `mirrored` gives them for the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from catalogue.errors import BadData
from catalogue.surface.boxes import Box, Sheet, tidy
from catalogue.surface.turning import Turned, measured, mirror, moved

Edge = Literal["top", "right", "bottom", "left"]
EDGES: tuple[Edge, ...] = ("top", "right", "bottom", "left")

_WIDEST_MM = 1000
_Row: TypeAlias = tuple[str, float, float, float, float]
"""A name, the corner at the top left, width and height."""


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip along an edge, or a bar between them: `name` is top, right, upright cross-bar 1 ..."""

    name: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """How wide something is along each edge, in mm, as seen on one side; 0 where there is none."""

    top_mm: float = 0
    right_mm: float = 0
    bottom_mm: float = 0
    left_mm: float = 0

    def __post_init__(self) -> None:
        for edge in EDGES:
            width = self.width_mm(edge)
            if not 0 <= width <= _WIDEST_MM:
                raise ValueError(f"Edges.{edge}_mm: {width!r} is 0 to {_WIDEST_MM} mm")

    @classmethod
    def all_round(cls, width_mm: float) -> Edges:
        """The same on every edge."""
        return cls(top_mm=width_mm, right_mm=width_mm, bottom_mm=width_mm, left_mm=width_mm)

    def width_mm(self, edge: Edge) -> float:
        """How wide it is along one edge."""
        width: float = getattr(self, f"{edge}_mm")
        return width

    def mirrored(self) -> Edges:
        """The same edges seen from the other side: left and right change places.

        >>> Edges(left_mm=40, right_mm=55).mirrored()
        Edges(top_mm=0, right_mm=40, bottom_mm=0, left_mm=55)
        """
        return Edges(
            top_mm=self.top_mm,
            right_mm=self.left_mm,
            bottom_mm=self.bottom_mm,
            left_mm=self.right_mm,
        )

    def inner(self, sheet: Sheet | None) -> Box:
        """What the edges leave free of the side: the canvas that is seen between the bars.

        Raises `BadData` when the size is not known, or the edges leave nothing.
        """
        size = measured(sheet)
        width = tidy(size.width_mm - self.left_mm - self.right_mm)
        height = tidy(size.height_mm - self.top_mm - self.bottom_mm)
        if width <= 0 or height <= 0:
            raise BadData(
                f"edges of {self.left_mm:g} and {self.right_mm:g} mm, {self.top_mm:g} and "
                f"{self.bottom_mm:g} mm leave nothing of {size.width_mm:g} × {size.height_mm:g} mm"
            )
        return Box(self.left_mm, self.top_mm, width, height)

    def outer(self, sheet: Sheet | None) -> Box:
        """The side with its edges folded out: the whole canvas with its tacking margins.

        >>> Edges.all_round(20).outer(Sheet(610, 500))
        Box(x_mm=-20, y_mm=-20, width_mm=650, height_mm=540)
        """
        size = measured(sheet)
        return Box(
            -self.left_mm,
            -self.top_mm,
            tidy(size.width_mm + self.left_mm + self.right_mm),
            tidy(size.height_mm + self.top_mm + self.bottom_mm),
        )

    def margins(self, sheet: Sheet | None) -> tuple[Strip, ...]:
        """The tacking margins in the plane of a side, folded out; their corners are in none.

        A place on one has coordinates below 0 or beyond the side's size.
        """
        size = measured(sheet)
        width, height = size.width_mm, size.height_mm
        return _strips(
            (
                ("top", 0, -self.top_mm, width, self.top_mm),
                ("right", width, 0, self.right_mm, height),
                ("bottom", 0, height, width, self.bottom_mm),
                ("left", -self.left_mm, 0, self.left_mm, height),
            )
        )


@dataclass(frozen=True, slots=True)
class CrossBar:
    """A bar between two others: where it begins, from the left or from the top, and its width."""

    from_mm: float
    width_mm: float

    def __post_init__(self) -> None:
        if not (0 <= self.from_mm <= 100_000 and 0 < self.width_mm <= _WIDEST_MM):
            raise ValueError(f"CrossBar: {self.width_mm!r} mm wide from {self.from_mm!r} mm on")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretcher:
    """The bars of a stretcher or strainer as seen from the back, in mm.

    `uprights` are counted from the left, `levels` from the top. The top and bottom bars reach from
    edge to edge, the others stand between them: where the joints are cut otherwise, a corner may be
    called by the other bar's name.
    """

    bars: Edges
    uprights: tuple[CrossBar, ...] = ()
    levels: tuple[CrossBar, ...] = ()

    def opening(self, sheet: Sheet | None) -> Box:
        """The canvas that is seen within the four outer bars. Raises `BadData`."""
        return self.bars.inner(sheet)

    def strips(self, sheet: Sheet | None) -> tuple[Strip, ...]:
        """Each bar as a region of the back. Raises `BadData` when they leave no canvas free."""
        free, bars = self.opening(sheet), self.bars
        width = measured(sheet).width_mm
        rows: list[_Row] = [
            ("top bar", 0, 0, width, bars.top_mm),
            ("right bar", free.right_mm, free.y_mm, bars.right_mm, free.height_mm),
            ("bottom bar", 0, free.bottom_mm, width, bars.bottom_mm),
            ("left bar", 0, free.y_mm, bars.left_mm, free.height_mm),
        ]
        for name, bar in _named("upright", self.uprights):
            rows.append((name, bar.from_mm, free.y_mm, bar.width_mm, free.height_mm))
        for name, bar in _named("level", self.levels):
            rows.append((name, free.x_mm, bar.from_mm, free.width_mm, bar.width_mm))
        for name, x, y, wide, high in rows[4:]:
            if (
                x < free.x_mm
                or y < free.y_mm
                or x + wide > free.right_mm
                or y + high > free.bottom_mm
            ):
                raise BadData(f"the {name} does not lie between the outer bars")
        return _strips(rows)

    def behind(self, sheet: Sheet | None) -> tuple[Strip, ...]:
        """The same bars as they lie behind the front: every region mirrored."""
        return tuple(Strip(each.name, mirror(each.box, sheet)) for each in self.strips(sheet))

    def from_opening(self, place: Turned) -> Turned:
        """A place on the back that was measured from the inner edges of the left and top bars.

        >>> Stretcher(bars=Edges.all_round(45)).from_opening(Box(20, 75, 150, 40))
        Box(x_mm=65, y_mm=120, width_mm=150, height_mm=40)
        """
        return moved(place, self.bars.left_mm, self.bars.top_mm)

    def to_opening(self, place: Turned) -> Turned:
        """A place on the back as measured from the inner edges of the left and top bars."""
        return moved(place, -self.bars.left_mm, -self.bars.top_mm)


def _named(lie: str, bars: tuple[CrossBar, ...]) -> Iterator[tuple[str, CrossBar]]:
    for number, bar in enumerate(bars, 1):
        yield f"{lie} cross-bar {number}" if len(bars) > 1 else f"{lie} cross-bar", bar


def _strips(rows: Iterable[_Row]) -> tuple[Strip, ...]:
    """Those that have any width."""
    return tuple(
        Strip(name, Box(tidy(x), tidy(y), width, height))
        for name, x, y, width, height in rows
        if width > 0 and height > 0
    )
