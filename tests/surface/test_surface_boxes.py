"""Places on two sides, against worked numbers, and what must always hold.

Worked numbers: the trade sheet's computations C1 and C2 (geometry; margins are common practice, no
source), for a picture 610 mm wide and 500 mm high.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.surface import (
    Box,
    Sheet,
    clock,
    cover,
    distance_mm,
    grown,
    in_words,
    mirror,
    mirror_degrees,
    nine_field,
    overlap_mm2,
    upright,
)

PICTURE = Sheet(610, 500)
TEAR = Box(120, 140, 60, 45)
TITLE = Box(395, 120, 150, 40)


def tenths(least, most):
    return st.integers(least * 10, most * 10).map(lambda tenth: tenth / 10)


sheets = st.builds(Sheet, tenths(50, 3000), tenths(50, 3000))
boxes = st.builds(Box, tenths(0, 2000), tenths(0, 2000), tenths(1, 500), tenths(1, 500))


def at(x, y):
    return Box(x - 1, y - 1, 2, 2)


def test_a_tear_on_the_front_lies_elsewhere_on_the_back():
    assert mirror(TEAR, PICTURE) == Box(430, 140, 60, 45)


def test_a_photo_of_a_tumbled_picture_is_turned_to_the_same_place():
    assert upright(Box(120, 315, 60, 45), PICTURE) == mirror(TEAR, PICTURE)


@pytest.mark.parametrize(
    ("box", "field", "hour"),
    [(TEAR, "upper left", 10), (mirror(TEAR, PICTURE), "upper right", 2)],
)
def test_words_for_both_sides_of_one_place(box, field, hour):
    assert nine_field(box, PICTURE) == field
    assert clock(box, PICTURE) == hour


@pytest.mark.parametrize(
    ("x", "y", "field", "hour"),
    [
        (305, 10, "upper centre", 12),
        (600, 250, "centre right", 3),
        (305, 490, "lower centre", 6),
        (10, 250, "centre left", 9),
        (305, 250, "centre", None),
        (305 + 50, 250 + 41, "centre", None),
        (305 + 52, 250, "centre", 3),
        (610 / 3, 500 / 3, "upper left", 10),
        (610 * 2 / 3, 500 * 2 / 3, "lower right", 4),
    ],
)
def test_fields_and_hours_of_a_picture(x, y, field, hour):
    """Borders count to the outer field; the middle has no hour (common practice, no source)."""
    assert nine_field(at(x, y), PICTURE) == field
    assert clock(at(x, y), PICTURE) == hour


@pytest.mark.parametrize(
    ("box", "side", "said"),
    [
        (
            TITLE, "back",
            "back, upper right, 65 mm from the right edge and 120 mm from the top edge (seen from the back)",
        ),
        (
            Box(60, 400.5, 180, 45), "back",
            "back, lower left, 60 mm from the left edge and 54.5 mm from the bottom edge (seen from the back)",
        ),
        (
            Box(-3, 0, 40, 20), "front",
            "front, upper left, 3 mm over the left edge and at the top edge (seen from the front)",
        ),
    ],
)  # fmt: skip
def test_a_place_in_words_for_somebody_with_a_ruler(box, side, said):
    assert in_words(box, PICTURE, side) == said


def test_a_patch_over_the_mirrored_tear_hides_half_the_title():
    patch = grown(mirror(TEAR, PICTURE), 15)
    assert patch == Box(415, 125, 90, 75)
    found = cover(patch, TITLE)
    assert found.overlap_mm2 == 3150
    assert found.fraction == pytest.approx(0.525)
    assert found.with_margin == pytest.approx(0.6667, abs=1e-4)
    assert found.level == "hit"


def test_a_patch_that_was_not_mirrored_seems_safe():
    """The mistake that the mirror is there for: the same numbers on the wrong side are clear."""
    assert cover(grown(TEAR, 15), TITLE).level == "clear"


@pytest.mark.parametrize(("gap", "level"), [(0, "near"), (5, "near"), (5.1, "clear")])
def test_near_is_as_far_as_the_margin(gap, level):
    found = cover(Box(0, 0, 10, 10), Box(10 + gap, 0, 10, 10), margin_mm=5)
    assert (found.level, found.fraction, found.distance_mm) == (level, 0, gap)


def test_corner_to_corner_is_measured_straight():
    assert distance_mm(Box(0, 0, 10, 10), Box(13, 14, 5, 5)) == 5


@given(boxes, sheets)
def test_turning_twice_is_not_turning(box, sheet):
    if box.fits(sheet, slack_mm=900):
        assert mirror(mirror(box, sheet), sheet) == box
        assert upright(upright(box, sheet), sheet) == box


@given(boxes, sheets)
def test_both_sides_agree_on_row_and_hour(box, sheet):
    if not box.fits(sheet):
        return
    front, back = clock(box, sheet), clock(mirror(box, sheet), sheet)
    assert (front is None) == (back is None)
    if front is not None:
        assert back in {(12 - front + off) % 12 or 12 for off in _allowed(box, sheet)}
    other = {"left": "right", "right": "left"}
    swapped = [other.get(word, word) for word in nine_field(box, sheet).split()]
    assert nine_field(mirror(box, sheet), sheet).split() == swapped


def _allowed(box, sheet):
    """On the very border between two hours, floating point may decide either way."""
    across, down = box.centre
    angle = (
        math.degrees(math.atan2(across - sheet.width_mm / 2, sheet.height_mm / 2 - down)) % 30
    )
    return (-1, 0, 1) if abs(angle - 15) < 1e-6 else (0,)


@given(boxes, boxes)
def test_what_two_boxes_share_is_the_same_from_both(a, b):
    assert overlap_mm2(a, b) == overlap_mm2(b, a)
    assert distance_mm(a, b) == distance_mm(b, a)
    assert not (overlap_mm2(a, b) and distance_mm(a, b))
    assert 0 <= cover(a, b).fraction <= cover(a, b).with_margin <= 1


@given(st.integers(0, 359))
def test_directions_turn_back_too(degrees):
    assert mirror_degrees(mirror_degrees(degrees)) == degrees


@pytest.mark.parametrize(
    "wrong",
    [
        (0, 0, 0, 5),
        (0, 0, 5, -1),
        (-5000, 0, 5, 5),
        (0, 0, 5, 1e9),
        (math.nan, 0, 5, 5),
        (0, 0, math.inf, 5),
    ],
)
def test_impossible_boxes_are_refused(wrong):
    with pytest.raises(ValueError, match="Box"):
        Box(*wrong)


@pytest.mark.parametrize("wrong", [(0, 5), (5, -1), (math.nan, 5)])
def test_impossible_sheets_are_refused(wrong):
    with pytest.raises(ValueError, match="Sheet"):
        Sheet(*wrong)


def test_a_canvas_is_never_quite_square():
    """Two millimetres of slack: common practice, no source."""
    assert Box(-2, 0, 614, 502).fits(PICTURE)
    assert not Box(-2.1, 0, 10, 10).fits(PICTURE)
    assert not Box(600, 0, 13, 10).fits(PICTURE)
