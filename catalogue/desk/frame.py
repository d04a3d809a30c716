"""The frame drawn on a photograph: a box in five numbers that a person can type, or an outline of corners.

`x` and `y` are a box's top left corner as the text runs, `width` and `height` go along the text and
across it, `turn` is the text's direction in degrees clockwise. An outline is "x,y x,y x,y ...". All
are upright pixels of the photo.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from catalogue.desk.forms import as_number
from catalogue.errors import BadData
from catalogue.record import Photo

Corners = tuple[tuple[float, float], ...]

BOX: Final = ("frame_x", "frame_y", "frame_width", "frame_height", "frame_turn")
OUTLINE: Final = "frame_outline"
FEWEST, MOST = 3, 500
FURTHEST: Final = 10_000_000
_PAIR: Final = re.compile(
    r"[\s;]*(-?[0-9]{1,7}(?:\.[0-9]{1,9})?)\s*,\s*(-?[0-9]{1,7}(?:\.[0-9]{1,9})?)(?![0-9.])"
)


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


def as_typed(corners: Corners) -> dict[str, str]:
    """The fields of the page for a region that is kept: a box in its numbers, any other shape as its corners.

    >>> as_typed(((0, 0), (9, 0), (4, 5.5)))
    {'frame_outline': '0,0 9,0 4,5.5'}
    >>> as_typed(Frame(10, 20, 100, 50, 0).corners())["frame_width"]
    '100'
    """
    if not is_box(corners):
        return {OUTLINE: " ".join(f"{x:.10g},{y:.10g}" for x, y in corners)}
    frame = frame_of(corners)
    numbers = (frame.x, frame.y, frame.width, frame.height, frame.turn)
    return {name: f"{each:.10g}" for name, each in zip(BOX, numbers, strict=True)}


def corners_typed(typed: Mapping[str, str], photo: Photo) -> Corners | None:
    """The corners that the fields make; None where all are empty. Raises `BadData` naming what is wrong."""
    numbers = [typed.get(name, "") for name in BOX]
    outline = typed.get(OUTLINE, "")
    if not any(numbers[:4]) and not outline:
        return None
    if any(numbers[:4]) and outline:
        raise BadData(
            "the frame on the photo is typed twice, as a box and as an outline",
            remedy="empty one of them",
        )
    if outline:
        corners = outline_of(outline)
    else:
        if not all(numbers[:4]):
            raise BadData("the frame on the photo needs all four numbers, or none of them")
        figures = [
            as_number(each or "0", name) for each, name in zip(numbers, BOX, strict=True)
        ]
        if max(map(abs, figures)) > FURTHEST:
            raise _outside(photo)
        box = Frame(*figures)
        if box.width < 2 or box.height < 2:
            raise _too_small()
        corners = box.corners()
    _refuse_outside(corners, photo)
    return corners


def outline_of(text: str) -> Corners:
    """The corners of an outline as typed, clockwise, beginning where it was begun. Raises `BadData`.

    >>> outline_of("0,0 9,0 4,5.5")
    ((0, 0), (9, 0), (4, 5.5))
    >>> outline_of("0,0; 4,5.5; 9,0")
    ((0, 0), (9, 0), (4, 5.5))
    """
    corners: list[tuple[float, float]] = []
    at = 0
    while found := _PAIR.match(text, at):
        corners.append((tidy(float(found[1])), tidy(float(found[2]))))
        at = found.end()
    if left := text[at:].strip(" ;\n\r\t"):
        raise BadData(
            f"the outline on the photo: {left[:20]!r} is no corner",
            remedy='write each corner as "x,y", with a space between corners',
        )
    if corners[1:] and corners[0] == corners[-1]:
        corners.pop()
    if not FEWEST <= len(corners) <= MOST:
        raise BadData(
            f"the outline on the photo has {len(corners)} corners",
            remedy=f"an outline has {FEWEST} to {MOST}",
        )
    area = _twice_area(corners)
    if abs(area) < 8:
        raise _too_small()
    if _crosses(corners):
        raise BadData(
            "the outline on the photo crosses itself", remedy="move a corner, or draw it again"
        )
    return tuple(corners) if area > 0 else (corners[0], *reversed(corners[1:]))


def _twice_area(corners: list[tuple[float, float]]) -> float:
    """Twice the area within, positive where the corners run clockwise (y goes down)."""
    following = corners[1:] + corners[:1]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(corners, following, strict=True))


def _crosses(corners: list[tuple[float, float]]) -> bool:
    """Whether two sides cross, not merely touch."""
    sides = list(zip(corners, corners[1:] + corners[:1], strict=True))

    def beside(side: tuple[tuple[float, float], ...], point: tuple[float, float]) -> float:
        (x1, y1), (x2, y2) = side
        return (x2 - x1) * (point[1] - y1) - (y2 - y1) * (point[0] - x1)

    return any(
        beside(one, other[0]) * beside(one, other[1]) < 0
        and beside(other, one[0]) * beside(other, one[1]) < 0
        for index, one in enumerate(sides)
        for other in sides[index + 2 :]
    )


def _too_small() -> BadData:
    return BadData(
        "the frame on the photo is too small to hold anything", remedy="draw it again"
    )


def _refuse_outside(corners: Corners, photo: Photo) -> None:
    """Raise `BadData` for a frame that misses the photo altogether."""
    if photo.width is None or photo.height is None:
        return
    across, down = zip(*corners, strict=True)
    if (
        max(across) < 0
        or max(down) < 0
        or min(across) > photo.width
        or min(down) > photo.height
    ):
        raise _outside(photo)


def _outside(photo: Photo) -> BadData:
    return BadData(
        "the frame lies outside the photo",
        remedy=f"the photo is {photo.width} pixels wide and {photo.height} high",
    )


def tidy(value: float, digits: int = 1) -> float:
    """A number to so many digits, whole where it is whole."""
    rounded = round(value, digits)
    return int(rounded) if rounded == int(rounded) else rounded
