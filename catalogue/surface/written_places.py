"""A place as somebody wrote it down in words: what it says, and what that is in mm where it can be.

What a text leaves open stays open: the side, from which side left and right were told, the size.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from catalogue.errors import BadData
from catalogue.surface.bars import Edge
from catalogue.surface.boxes import Box, Sheet, tidy
from catalogue.surface.shapes import Place, Shape
from catalogue.surface.turning import measured, mirror
from catalogue.surface.words import hour_region, ninth

Side = Literal["front", "back"]

_SIDE_OF: Final[dict[str, Side]] = {
    "face/front": "front",
    "face/back": "back",
    "face/stretcher-bar": "back",
}
_AROUND: Final[tuple[Edge, ...]] = ("left", "top", "right", "bottom")


@dataclass(frozen=True, slots=True)
class Distance:
    """How far something lies from an edge, in mm; less than 0 over it.

    `inner` when it was measured from the inner edge of the bar there.
    """

    edge: Edge
    mm: float
    inner: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenPlace:
    """What a text says of a place; None and "" where it says nothing.

    `face` and `part` are keys of vocab/terms, `bar` which bar or edge of it. `row` and `column` are
    upper, centre, lower and left, centre, right. `seen` is the side from which left and right are
    told. `doubts` are sentences, `rest` the words that were not understood, in their order.
    """

    text: str
    face: str | None = None
    part: str | None = None
    bar: Edge | None = None
    row: str | None = None
    column: str | None = None
    hour: int | None = None
    distances: tuple[Distance, ...] = ()
    seen: Side | None = None
    doubts: tuple[str, ...] = ()
    rest: str = ""
    sheet: Sheet | None = None

    @property
    def field(self) -> str | None:
        """The ninth, as `nine_field` names it; only a row or a column where no more is said."""
        if self.row == self.column:
            return self.row
        return " ".join(word for word in (self.row, self.column) if word)

    @property
    def side(self) -> Side | None:
        """The side on which the face lies, None where it was not said or is an edge or a frame."""
        return _SIDE_OF.get(self.face or "")

    @property
    def seen_term(self) -> str:
        """A key of vocab/terms/seen.ttl: how the place was seen, for keeping it."""
        if self.seen is None or self.side is None:
            return "seen/unknown"
        return "seen/that-side" if self.seen == self.side else "seen/through-front"

    @property
    def region(self) -> Place | None:
        """The place in mm as seen from `seen`: a point, a ninth, an hour's part; None without a size.

        Distances from two edges are those of the corner that is nearest to both.
        """
        if self.sheet is None:
            return None
        left, top, right, bottom = (self._line(edge, None) for edge in _AROUND)
        across = left if left is not None else right
        down = top if top is not None else bottom
        if across is not None and down is not None:
            return Shape("point", ((across, down),))
        if self.field is not None:
            return ninth(self.row, self.column, self.sheet)
        return hour_region(self.hour, self.sheet) if self.hour else None

    def box(self, width_mm: float, height_mm: float, opening: Box | None = None) -> Box:
        """The box of something so large that lies so far from two edges, as seen from `seen`.

        `opening` is what the bars leave free, for distances from their inner edges. Raises `BadData`
        when the size of the picture or a distance is not known.
        """
        measured(self.sheet)
        left, top, right, bottom = (self._line(edge, opening) for edge in _AROUND)
        if right is not None and left is None:
            left = tidy(right - width_mm)
        if bottom is not None and top is None:
            top = tidy(bottom - height_mm)
        if left is None or top is None:
            raise BadData(
                f"{self.text!r} says no distances from two edges that are known",
                remedy="such as: 65 mm from the right edge and 120 mm from the top edge",
            )
        return Box(left, top, width_mm, height_mm)

    def on_its_side(self) -> Place | None:
        """The region as seen from the side it is on: mirrored where it was told from the other.

        None when either is not known, so that nothing is mirrored by guess.
        """
        region = self.region
        if region is None or self.side is None or self.seen is None:
            return None
        return region if self.seen == self.side else mirror(region, self.sheet)

    def _line(self, edge: Edge, opening: Box | None) -> float | None:
        """Where something ends that lies so far from an edge; None when that is not known."""
        found = next((each for each in self.distances if each.edge == edge), None)
        whole = self.sheet.whole if self.sheet else None
        within = opening if found and found.inner else whole
        if found is None or within is None:
            return None
        at = within.bounds[_AROUND.index(edge)]
        return tidy(at + found.mm if edge in ("left", "top") else at - found.mm)
