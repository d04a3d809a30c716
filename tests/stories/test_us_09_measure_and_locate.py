"""US-9 of the trade sheet: measure and locate. Its acceptance facts, one test each or more.

The work is the sheet's running example: 610 mm wide and 500 mm high, a title on the back at
(395, 120, 150, 40), a tear on the front at (120, 140, 60, 45).
"""

from __future__ import annotations

import pytest

from catalogue.measure import Day
from catalogue.record import Location
from catalogue.surface import (
    Box,
    Edges,
    Known,
    Shape,
    Sheet,
    Stretcher,
    clock_in_words,
    field_in_words,
    from_corners,
    from_scale_bar,
    in_order,
    in_words,
    mirror,
    read_place,
    tumble,
    upright,
)

PICTURE = Sheet(610, 500)
TITLE = Location(
    face="face/back",
    shape=Shape.of_box(Box(395, 120, 150, 40)),
    tolerance_mm=1,
    instrument="steel rule",
    on=Day(2026, 3, 2),
)
TEAR = Box(120, 140, 60, 45)


def test_three_wordings_come_from_one_stored_geometry():
    place = Shape.from_wkt(TITLE.shape.wkt())
    assert in_words(place, PICTURE, "back") == (
        "back, upper right, 65 mm from the right edge and 120 mm from the top edge (seen from the back)"
    )
    assert field_in_words(place, PICTURE, "back") == "upper right seen from the back"
    assert clock_in_words(place, PICTURE, "back") == "at 2 o'clock seen from the back"


@pytest.mark.parametrize("side", ["front", "back"])
@pytest.mark.parametrize("x", [20, 300, 540])
def test_left_and_right_are_never_said_without_from_which_side(x, side):
    box = Box(x, 30, 50, 20)
    for said in (
        in_words(box, PICTURE, side),
        in_words(box, PICTURE, side, Edges.all_round(20).inner(PICTURE)),
        field_in_words(box, PICTURE, side),
        clock_in_words(box, PICTURE, side),
    ):
        assert f"seen from the {side}" in said


def test_an_old_report_is_kept_in_its_words_and_the_side_is_asked_for():
    said = "verso, upper left, 65 mm from the left edge, 120 mm from the top edge"
    found = read_place(said, PICTURE)
    assert "is not said" in found.doubts[0]
    assert found.on_its_side() is None
    kept = Location(face=found.face, shape=found.region, wording=said, seen=found.seen_term)
    assert (kept.wording, kept.seen) == (said, "seen/unknown")


@pytest.mark.parametrize(
    ("answer", "left_mm", "seen"),
    [
        ("seen from the back", 65, "seen/that-side"),
        ("seen from the front", 610 - 65, "seen/through-front"),
    ],
)
def test_once_the_side_is_known_the_place_is_known(answer, left_mm, seen):
    found = read_place(
        f"verso, 65 mm from the left edge, 120 mm from the top, {answer}", PICTURE
    )
    assert found.doubts == ()
    assert found.seen_term == seen
    assert found.on_its_side() == Shape("point", ((left_mm, 120),))


def test_distances_are_to_the_outer_edge_unless_the_inner_one_is_chosen():
    opening = Stretcher(bars=Edges.all_round(45)).opening(PICTURE)
    assert "65 mm from the right edge" in in_words(TITLE.shape, PICTURE, "back")
    inner = in_words(TITLE.shape, PICTURE, "back", opening)
    assert "20 mm from the inner edge of the right bar" in inner
    assert read_place(inner, PICTURE).box(150, 40, opening) == Box(395, 120, 150, 40)


def test_a_measure_carries_its_instrument_and_tolerance():
    assert (TITLE.tolerance_mm, TITLE.instrument) == (1, "steel rule")
    scale = from_scale_bar(Known((0, 0), (1184, 0), 100))
    assert scale.length((0, 0), (1762, 0)).in_words() == "148.8 mm ± 0.3 mm"


def test_the_twin_on_the_other_side():
    twin = mirror(TEAR, PICTURE)
    assert twin == Box(430, 140, 60, 45)
    assert field_in_words(TEAR, PICTURE, "front") == "upper left seen from the front"
    assert field_in_words(twin, PICTURE, "back") == "upper right seen from the back"


def test_turned_like_a_page_or_tumbled_the_place_is_the_same():
    on_the_photo = tumble(TEAR, PICTURE)
    assert on_the_photo == Box(120, 315, 60, 45)
    assert upright(on_the_photo, PICTURE) == mirror(TEAR, PICTURE)


def test_a_photo_that_stands_on_its_head_is_known_by_where_the_picture_s_top_is():
    """At 2 pixels a millimetre, the picture lies in the middle of the photograph, its top below."""
    marked = [(200, 100), (1420, 100), (1420, 1100), (200, 1100)]
    calibration = from_corners(in_order(marked, top="bottom"), PICTURE)
    drawn = [
        (440, 730),
        (560, 730),
        (560, 820),
        (440, 820),
    ]  # 120, 315, 60, 45 on the photograph
    assert calibration.shape("area", drawn).box == mirror(TEAR, PICTURE)
