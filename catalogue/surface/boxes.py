"""Places on one side of a painting, in millimetres from its top left corner as seen on that side."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box: its top left corner and its size, in millimetres."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        for name in ("x_mm", "y_mm"):
            if not -1000 <= getattr(self, name) <= 100_000:
                raise ValueError(f"Box.{name}: {getattr(self, name)!r} lies off any painting")
        for name in ("width_mm", "height_mm"):
            if not 0 < getattr(self, name) <= 100_000:
                raise ValueError(f"Box.{name}: {getattr(self, name)!r} must be more than 0")


def mirror(box: Box, sheet_width_mm: float) -> Box:
    """The same place seen from the other side, when the picture is turned like a page.

    Left and right change places; top and bottom do not.

    >>> mirror(Box(120, 140, 60, 45), sheet_width_mm=610)
    Box(x_mm=430, y_mm=140, width_mm=60, height_mm=45)
    """
    return Box(sheet_width_mm - box.x_mm - box.width_mm, box.y_mm, box.width_mm, box.height_mm)


def mirror_degrees(degrees: int) -> int:
    """A direction as seen from the other side, in degrees clockwise.

    >>> mirror_degrees(90), mirror_degrees(0)
    (270, 0)
    """
    return (360 - degrees) % 360


def nine_field(box: Box, width_mm: float, height_mm: float) -> str:
    """In which ninth of a side the middle of a box lies; a border counts to the outer field.

    >>> nine_field(Box(430, 140, 60, 45), 610, 500)
    'upper right'
    """
    across, down = (
        (box.x_mm + box.width_mm / 2) / width_mm,
        (box.y_mm + box.height_mm / 2) / height_mm,
    )
    row = "upper" if down <= 1 / 3 else "lower" if down >= 2 / 3 else ""
    column = "left" if across <= 1 / 3 else "right" if across >= 2 / 3 else "centre"
    return f"{row} {column}".strip()
