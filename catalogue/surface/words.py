"""Words for a place: in which ninth of a side, at which hour, how far from which edges."""

from __future__ import annotations

from math import atan2, degrees

from catalogue.surface.boxes import Box, Sheet

_ROWS = ("upper", "centre", "lower")
_COLUMNS = ("left", "centre", "right")


def nine_field(box: Box, sheet: Sheet) -> str:
    """In which ninth of a side the middle of a box lies; a border counts to the outer field.

    >>> nine_field(Box(430, 140, 60, 45), Sheet(610, 500))
    'upper right'
    """
    across, down = box.centre
    row = _ROWS[_third(down, sheet.height_mm)]
    column = _COLUMNS[_third(across, sheet.width_mm)]
    return "centre" if row == column else f"{row} {column}"


def _third(at: float, whole: float) -> int:
    # A thousandth of a millimetre on the inner side of a border is still the border.
    return 0 if at * 3 <= whole + 0.003 else 2 if at * 3 >= whole * 2 - 0.003 else 1


def clock(box: Box, sheet: Sheet) -> int | None:
    """At which hour the middle of a box lies, the picture being the dial; None in its middle.

    The middle is a sixth of the way from the centre to each edge. Seen from the other side, 10
    o'clock is 2 o'clock.

    >>> clock(Box(120, 140, 60, 45), Sheet(610, 500)), clock(Box(430, 140, 60, 45), Sheet(610, 500))
    (10, 2)
    """
    across, down = box.centre
    right, up = across - sheet.width_mm / 2, sheet.height_mm / 2 - down
    if abs(right) <= sheet.width_mm / 12 and abs(up) <= sheet.height_mm / 12:
        return None
    # Half an hour goes to the even hour, so that both sides agree.
    return round(degrees(atan2(right, up)) % 360 / 30) or 12


def in_words(box: Box, sheet: Sheet, side: str) -> str:
    """Where a box lies, for somebody with a ruler who looks at that side.

    >>> in_words(Box(395, 120, 150, 40), Sheet(610, 500), "back")
    'back, upper right, 65 mm from the right edge and 120 mm from the top (seen from the back)'
    """
    left, right = box.x_mm, round(sheet.width_mm - box.right_mm, 4)
    top, bottom = box.y_mm, round(sheet.height_mm - box.bottom_mm, 4)
    sideways = _from(left, "left edge") if left <= right else _from(right, "right edge")
    upright = _from(top, "top") if top <= bottom else _from(bottom, "bottom")
    return f"{side}, {nine_field(box, sheet)}, {sideways} and {upright} (seen from the {side})"


def _from(distance_mm: float, edge: str) -> str:
    said = f"{abs(distance_mm):.1f}".removesuffix(".0")
    if said == "0":
        return f"at the {edge}"
    return f"{said} mm {'from' if distance_mm > 0 else 'over'} the {edge}"
