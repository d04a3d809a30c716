"""Words for a place: in which ninth of a side, at which hour, how far from which edges.

Left and right are always those of somebody who looks at that side, and the words say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, radians, sin

from catalogue.surface.boxes import Box, Corner, Sheet, tidy
from catalogue.surface.shapes import Place, Shape

ROWS = ("upper", "centre", "lower")
COLUMNS = ("left", "centre", "right")

_MIDDLE = 1 / 6
"""How far the middle, which has no hour, reaches from the centre to each edge."""


def nine_field(place: Place, sheet: Sheet) -> str:
    """In which ninth of a side the middle of a place lies; a border counts to the outer field.

    >>> nine_field(Box(430, 140, 60, 45), Sheet(610, 500))
    'upper right'
    """
    across, down = place.centre
    row = ROWS[_third(down, sheet.height_mm)]
    column = COLUMNS[_third(across, sheet.width_mm)]
    return "centre" if row == column else f"{row} {column}"


def _third(at: float, whole: float) -> int:
    # A thousandth of a millimetre on the inner side of a border is still the border.
    return 0 if at * 3 <= whole + 0.003 else 2 if at * 3 >= whole * 2 - 0.003 else 1


def ninth(row: str | None, column: str | None, sheet: Sheet) -> Box:
    """The ninth of a side with that name; of a row or a column alone all three.

    >>> ninth("upper", None, Sheet(600, 300))
    Box(x_mm=0.0, y_mm=0.0, width_mm=600, height_mm=100.0)
    """
    left, width = 0.0, sheet.width_mm
    top, height = 0.0, sheet.height_mm
    if column:
        width = tidy(sheet.width_mm / 3)
        left = tidy(sheet.width_mm * COLUMNS.index(column) / 3)
    if row:
        height = tidy(sheet.height_mm / 3)
        top = tidy(sheet.height_mm * ROWS.index(row) / 3)
    return Box(left, top, width, height)


def clock(place: Place, sheet: Sheet) -> int | None:
    """At which hour the middle of a place lies, the picture being the dial; None in its middle.

    The middle is a sixth of the way from the centre to each edge. Seen from the other side, 10
    o'clock is 2 o'clock.

    >>> clock(Box(120, 140, 60, 45), Sheet(610, 500)), clock(Box(430, 140, 60, 45), Sheet(610, 500))
    (10, 2)
    """
    across, down = place.centre
    right, up = across - sheet.width_mm / 2, sheet.height_mm / 2 - down
    if abs(right) <= sheet.width_mm / 2 * _MIDDLE and abs(up) <= sheet.height_mm / 2 * _MIDDLE:
        return None
    # Half an hour goes to the even hour, so that both sides agree.
    return round(degrees(atan2(right, up)) % 360 / 30) or 12


def hour_region(hour: int, sheet: Sheet) -> Shape:
    """The part of a side where it is that hour: half an hour to either side, without the middle.

    >>> hour_region(3, Sheet(600, 600)).centre
    (475.0, 300.0)
    """
    first, last = radians(hour * 30 - 15), radians(hour * 30 + 15)
    half_width, half_height = sheet.width_mm / 2, sheet.height_mm / 2
    corner = atan2(half_width, half_height)
    turns = [first, last]
    for at in (corner, radians(180) - corner, radians(180) + corner, radians(360) - corner):
        turns += [turn for turn in (at, at + radians(360)) if first < turn < last]
    rim = [_on_rim(turn, half_width, half_height) for turn in sorted(turns)]
    inner = [(right * _MIDDLE, up * _MIDDLE) for right, up in reversed(rim)]
    return Shape(
        "area",
        tuple(
            (tidy(half_width + right), tidy(half_height - up)) for right, up in (*rim, *inner)
        ),
    )


def _on_rim(turn: float, half_width: float, half_height: float) -> Corner:
    """Where a hand of the clock meets the picture's edge, from the centre to the right and up."""
    right, up = sin(turn), cos(turn)
    reach = min(
        half_width / abs(right) if right else float("inf"),
        half_height / abs(up) if up else float("inf"),
    )
    return right * reach, up * reach


def in_words(place: Place, sheet: Sheet | None, side: str, opening: Box | None = None) -> str:
    """Where a place lies, for somebody with a ruler who looks at that side.

    Distances are from the outer edges, or from the inner edges of the stretcher's bars where the
    `opening` between them is given. Without a size they can only be from the left and the top.

    >>> in_words(Box(395, 120, 150, 40), Sheet(610, 500), "back")
    'back, upper right, 65 mm from the right edge and 120 mm from the top edge (seen from the back)'
    """
    field = [] if sheet is None else [nine_field(place, sheet)]
    sideways, upright = _distances(place, opening or (sheet.whole if sheet else None))
    edge = "inner edge of the {} bar" if opening else "{} edge"
    edges = " and ".join(_from(mm, edge.format(name)) for name, mm in (sideways, upright))
    return f"{', '.join([side, *field, edges])} (seen from the {side})"


def field_in_words(place: Place, sheet: Sheet, side: str) -> str:
    """The ninth, with the side from which it is one.

    >>> field_in_words(Box(430, 140, 60, 45), Sheet(610, 500), "back")
    'upper right seen from the back'
    """
    return f"{nine_field(place, sheet)} seen from the {side}"


def clock_in_words(place: Place, sheet: Sheet, side: str) -> str:
    """The hour, with the side from which it is one.

    >>> clock_in_words(Box(430, 140, 60, 45), Sheet(610, 500), "back")
    "at 2 o'clock seen from the back"
    """
    hour = clock(place, sheet)
    where = "centre" if hour is None else f"at {hour} o'clock"
    return f"{where} seen from the {side}"


def off_in_words(place: Place, sheet: Sheet, slack_mm: float = 2) -> str | None:
    """Over which edges a place reaches by more than the slack, None where it lies on the side.

    >>> off_in_words(Box(580, 10, 60, 40), Sheet(610, 500))
    'it reaches 30 mm over the right edge'
    """
    left, top, right, bottom = place.bounds
    over = (
        (-left, "left edge"),
        (-top, "top edge"),
        (right - sheet.width_mm, "right edge"),
        (bottom - sheet.height_mm, "bottom edge"),
    )
    said = [_from(-mm, edge) for mm, edge in over if mm > slack_mm]
    return f"it reaches {' and '.join(said)}" if said else None


def _distances(place: Place, within: Box | None) -> Iterator[tuple[str, float]]:
    """From the nearer of the left and right edges, and of the top and bottom ones."""
    left, top, right, bottom = place.bounds
    if within is None:
        yield "left", left
        yield "top", top
        return
    for near, far, here, there in (
        ("left", "right", left - within.x_mm, within.right_mm - right),
        ("top", "bottom", top - within.y_mm, within.bottom_mm - bottom),
    ):
        yield (near, tidy(here)) if tidy(here) <= tidy(there) else (far, tidy(there))


def _from(distance_mm: float, edge: str) -> str:
    said = f"{abs(distance_mm):.1f}".removesuffix(".0")
    if said == "0":
        return f"at the {edge}"
    return f"{said} mm {'from' if distance_mm > 0 else 'over'} the {edge}"
