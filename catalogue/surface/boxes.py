"""Places on one side of a painting, in millimetres from its top left corner as seen on that side.

The picture's top is always up. Front and back share one sheet: turned like a page, left and right
change places and top and bottom stay. A canvas is never quite square, so that a place may reach
2 mm past the sheet before it is called wrong (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

_FARTHEST_MM = 100_000
_OVERHANG_MM = 1000


@dataclass(frozen=True, slots=True)
class Sheet:
    """The size of one side, in millimetres; front and back have the same."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        for name in ("width_mm", "height_mm"):
            if not 0 < getattr(self, name) <= _FARTHEST_MM:
                raise ValueError(f"Sheet.{name}: {getattr(self, name)!r} must be more than 0")


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box: its top left corner and its size, in millimetres."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        for name in ("x_mm", "y_mm"):
            if not -_OVERHANG_MM <= getattr(self, name) <= _FARTHEST_MM:
                raise ValueError(f"Box.{name}: {getattr(self, name)!r} lies off any painting")
        for name in ("width_mm", "height_mm"):
            if not 0 < getattr(self, name) <= _FARTHEST_MM:
                raise ValueError(f"Box.{name}: {getattr(self, name)!r} must be more than 0")

    @property
    def right_mm(self) -> float:
        """Where it ends at the right."""
        return tidy(self.x_mm + self.width_mm)

    @property
    def bottom_mm(self) -> float:
        """Where it ends at the bottom."""
        return tidy(self.y_mm + self.height_mm)

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle."""
        return tidy(self.x_mm + self.width_mm / 2), tidy(self.y_mm + self.height_mm / 2)

    def fits(self, sheet: Sheet, slack_mm: float = 2) -> bool:
        """Whether it lies on the sheet, give or take the slack."""
        return (
            min(self.x_mm, self.y_mm) >= -slack_mm
            and self.right_mm <= sheet.width_mm + slack_mm
            and self.bottom_mm <= sheet.height_mm + slack_mm
        )


def tidy(mm: float) -> float:
    """Without the dust that floating point leaves: nobody measures a ten-thousandth of a mm."""
    return round(mm, 4)


def mirror(box: Box, sheet: Sheet) -> Box:
    """The same place seen from the other side, when the picture is turned like a page.

    >>> mirror(Box(120, 140, 60, 45), Sheet(610, 500))
    Box(x_mm=430, y_mm=140, width_mm=60, height_mm=45)
    """
    return Box(
        tidy(sheet.width_mm - box.x_mm - box.width_mm), box.y_mm, box.width_mm, box.height_mm
    )


def mirror_degrees(degrees: float) -> float:
    """A direction as seen from the other side, in degrees clockwise.

    >>> mirror_degrees(90), mirror_degrees(0)
    (270, 0)
    """
    return (360 - degrees) % 360


def upright(box: Box, sheet: Sheet) -> Box:
    """A place on a photograph that stands on its head, as it is with the picture's top up.

    A picture tumbled over its bottom edge shows its back so; turned by half, the place is where
    turning it like a page would have shown it.

    >>> upright(Box(120, 315, 60, 45), Sheet(610, 500))
    Box(x_mm=430, y_mm=140, width_mm=60, height_mm=45)
    """
    turned = mirror(box, sheet)
    top = tidy(sheet.height_mm - box.y_mm - box.height_mm)
    return Box(turned.x_mm, top, turned.width_mm, turned.height_mm)
