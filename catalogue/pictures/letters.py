"""Letters on the condition map: each at its mark, none over another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot
from typing import Final

from catalogue.pictures.signs import Point
from catalogue.pictures.svg import Svg, element, together
from catalogue.surface import Shape, Sheet

LETTER: Final = 13.0
"""The height of a letter on the paper."""
_WIDTH: Final = 0.62
_NEAR: Final = 10.0
"""A label that stands no further off than this needs no line to its mark."""


@dataclass(frozen=True, slots=True)
class Field:
    """Where one side lies on the paper: its top left corner, and units for a millimetre."""

    left: float
    top: float
    scale: float
    sheet: Sheet

    def at(self, point: Point) -> Point:
        """Where a point in mm lies on the paper."""
        return self.left + point[0] * self.scale, self.top + point[1] * self.scale


@dataclass(frozen=True, slots=True)
class Label:
    """The room that a label takes on the paper."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Label) -> bool:
        """Whether they lie over each other."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def nearest(self, point: Point) -> Point:
        """The point of it that is nearest to another."""
        x, y = point
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)

    def gap(self, other: Label) -> float:
        """How far apart they are, 0 where they meet."""
        across = max(self.left - other.right, other.left - self.right, 0)
        down = max(self.top - other.bottom, other.top - self.bottom, 0)
        return hypot(across, down)


def label(words: str, shape: Shape, field: Field, taken: list[Label], *, faint: bool) -> Svg:
    """The letter and number of a mark, as near to it as no other stands; a line where that is far."""
    left, top, right, bottom = shape.bounds
    around = Label(*field.at((left, top)), *field.at((right, bottom)))
    return label_at(words, around, field, taken, faint=faint)


def label_at(
    words: str, around: Label, field: Field, taken: list[Label], *, faint: bool
) -> Svg:
    """The same for a mark whose room on the paper is known."""
    wide, high = len(words) * LETTER * _WIDTH, LETTER
    spots = sorted(_spots(around, wide, high), key=lambda each: _farness(each, around))
    free = (each for each in spots if not any(each.meets(other) for other in taken))
    chosen = next((each for each in free if _on_paper(each, field)), None) or _kept_in(
        spots[0], field
    )
    taken.append(chosen)
    text = element(
        "text", words, x=chosen.left, y=chosen.bottom - 2.5, class_="called",
        font_weight=None if faint else 600, font_style="italic" if faint else None,
    )  # fmt: skip
    if chosen.gap(around) <= _NEAR:
        return text
    (x, y), (to_x, to_y) = chosen.nearest(around.middle), around.nearest(chosen.middle)
    leader = element(
        "line", x1=x, y1=y, x2=to_x, y2=to_y, stroke="currentColor", stroke_width=0.6
    )
    return together([leader, text])


def _spots(around: Label, wide: float, high: float) -> Iterator[Label]:
    """Where a label may stand: within a mark, and in rows above, below and beside it."""
    x1, y1, x2, y2 = around.left, around.top, around.right, around.bottom
    lefts = [x1 - wide - 9, x2 + 9]
    lefts += [
        x1 + 3 + step * (wide + 4) for step in range(6) if not step or x1 + step * wide < x2
    ]
    tops = [(y1 + y2 - high) / 2]
    for step in range(5):
        down = step * (high + 1)
        tops += [y1 - high - 3 - down, y2 + 3 + down]
        if y1 + 2 + down + high < y2:
            tops.append(y1 + 2 + down)
    for top in tops:
        for left in lefts:
            yield Label(left, top, left + wide, top + high)


def _farness(label: Label, around: Label) -> float:
    """First within or at the mark, then towards its top left corner."""
    return label.gap(around) + 0.15 * hypot(label.left - around.left, label.top - around.top)


def _on_paper(label: Label, field: Field) -> bool:
    right, bottom = field.at((field.sheet.width_mm, field.sheet.height_mm))
    return (
        label.left >= field.left
        and label.top >= field.top
        and label.right <= right
        and label.bottom <= bottom
    )


def _kept_in(label: Label, field: Field) -> Label:
    """The same label, moved onto its side of the picture as far as that has room for it."""
    right, bottom = field.at((field.sheet.width_mm, field.sheet.height_mm))
    across = max(min(0, right - label.right), field.left - label.left)
    down = max(min(0, bottom - label.bottom), field.top - label.top)
    return Label(
        label.left + across, label.top + down, label.right + across, label.bottom + down
    )
