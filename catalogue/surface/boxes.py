"""Places on one side of a painting, in millimetres from its top left corner as seen on that side.

The picture's top is always up. Front and back share one sheet: turned like a page, left and right
change places and top and bottom stay (`turning.py`). A canvas is never quite square, so that a place
may reach 2 mm past the sheet before it is called wrong (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan

SLACK_MM = 2
Corner = tuple[float, float]
Bounds = tuple[float, float, float, float]
"""Where something ends at the left, the top, the right and the bottom."""

_FARTHEST_MM = 100_000
_OVERHANG_MM = 1000
_DUST = 10
"""Decimals of a millimetre that are kept: floating point leaves its dust behind them."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The size of one side, in millimetres; front and back have the same."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        for name in ("width_mm", "height_mm"):
            _check_length(f"Sheet.{name}", getattr(self, name))

    @property
    def whole(self) -> Box:
        """All of it: what a lining or a backing board covers."""
        return Box(0, 0, self.width_mm, self.height_mm)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box: its top left corner and its size, in millimetres."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        for name in ("x_mm", "y_mm"):
            at = getattr(self, name)
            if not -_OVERHANG_MM <= at <= _FARTHEST_MM:
                raise ValueError(f"Box.{name}: {said_number(at)} lies off any painting")
        for name in ("width_mm", "height_mm"):
            _check_length(f"Box.{name}", getattr(self, name))

    @property
    def right_mm(self) -> float:
        """Where it ends at the right."""
        return tidy(self.x_mm + self.width_mm)

    @property
    def bottom_mm(self) -> float:
        """Where it ends at the bottom."""
        return tidy(self.y_mm + self.height_mm)

    @property
    def bounds(self) -> Bounds:
        """Where it ends at the left, the top, the right and the bottom."""
        return self.x_mm, self.y_mm, self.right_mm, self.bottom_mm

    @property
    def centre(self) -> Corner:
        """Its middle."""
        return tidy(self.x_mm + self.width_mm / 2), tidy(self.y_mm + self.height_mm / 2)

    def fits(self, sheet: Sheet, slack_mm: float = SLACK_MM) -> bool:
        """Whether it lies on the sheet, give or take the slack."""
        return within(self.bounds, sheet, slack_mm)


def within(bounds: Bounds, sheet: Sheet, slack_mm: float) -> bool:
    """Whether what ends there lies on the sheet, give or take the slack."""
    left, top, right, bottom = bounds
    return (
        min(left, top) >= -slack_mm
        and right <= sheet.width_mm + slack_mm
        and bottom <= sheet.height_mm + slack_mm
    )


def tidy(mm: float) -> float:
    """Without the dust that floating point leaves, far below what anybody measures.

    >>> tidy(610.3 - 120.1 - 60)
    430.2
    """
    return round(mm, _DUST)


def said_number(value: float) -> str:
    """A number for a message; what is none says so."""
    return "what is no number" if isnan(value) else repr(value)


def _check_length(name: str, value: float) -> None:
    if not value > 0:
        raise ValueError(f"{name}: {said_number(value)} must be more than 0")
    if value > _FARTHEST_MM:
        raise ValueError(f"{name}: {value!r} mm is longer than any painting")
