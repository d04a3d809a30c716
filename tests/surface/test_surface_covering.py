"""What a patch covers, for any shapes, against a second method.

Worked numbers: the trade sheet's computation C2 (geometry; the margin is common practice, no source),
a picture 610 mm wide and 500 mm high. Outside check: clipping against a convex outline after
Sutherland and Hodgman (1974) with the shoelace formula, written here by hand; the room uses shapely.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.surface import (
    Box,
    Shape,
    Sheet,
    cover,
    covers,
    distance_mm,
    grown,
    mirror,
    overlap_mm2,
)

PICTURE = Sheet(610, 500)
TEAR = Box(120, 140, 60, 45)
TITLE = Box(395, 120, 150, 40)


def test_a_patch_over_the_mirrored_tear_hides_half_the_title_whatever_it_is_drawn_as():
    patch = grown(mirror(TEAR, PICTURE), 15)
    for one in (patch, Shape.of_box(patch)):
        for other in (TITLE, Shape.of_box(TITLE)):
            found = cover(one, other)
            assert found.overlap_mm2 == 3150
            assert found.fraction == pytest.approx(0.525)
            assert found.with_margin == pytest.approx(4000 / 6000)
            assert (found.level, found.distance_mm) == ("hit", 0)


def test_forgetting_the_mirror_says_nothing_is_covered():
    found = cover(Shape.of_box(grown(TEAR, 15)), Shape.of_box(TITLE))
    assert (found.fraction, found.with_margin, found.level) == (0, 0, "clear")


def test_a_lining_covers_everything_under_it():
    line = Shape("line", ((60, 400), (240, 445)))
    for found in covers(PICTURE.whole, [TITLE, line, Shape("point", ((300, 30),))]):
        assert (found.fraction, found.with_margin, found.level) == (1, 1, "hit")


# By hand ------------------------------------------------------------------------------------------


def shoelace(corners):
    ends = zip(corners, corners[1:] + corners[:1], strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in ends)) / 2


def clipped(subject, clip):
    """What of `subject` lies within the convex `clip`, both clockwise with y down."""
    for (ax, ay), (bx, by) in zip(clip, clip[1:] + clip[:1], strict=True):

        def inside(point, ax=ax, ay=ay, bx=bx, by=by):
            return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)

        kept = []
        for here, following in zip(subject, subject[1:] + subject[:1], strict=True):
            now, then = inside(here), inside(following)
            if now >= 0:
                kept.append(here)
            if (now > 0 > then) or (now < 0 < then):
                share = now / (now - then)
                kept.append(
                    (
                        here[0] + share * (following[0] - here[0]),
                        here[1] + share * (following[1] - here[1]),
                    )
                )
        subject = kept
        if not subject:
            return []
    return subject


@st.composite
def convex(draw):
    """Corners on a circle, clockwise with y down."""
    x, y = draw(st.integers(0, 300)), draw(st.integers(0, 300))
    reach = draw(st.integers(5, 150))
    count = draw(st.integers(3, 9))
    # Nowhere half a turn or more between two corners, so that the outline is convex.
    strewn = st.lists(st.integers(-20, 20), min_size=count, max_size=count)
    turns = [360 / count * (step + off / 100) for step, off in enumerate(draw(strewn))]
    return tuple(
        (
            round(x + reach * math.cos(math.radians(turn)), 3),
            round(y + reach * math.sin(math.radians(turn)), 3),
        )
        for turn in turns
    )


@given(convex(), convex())
def test_the_shared_area_is_that_of_clipping_by_hand(one, other):
    a, b = Shape("area", one), Shape("area", other)
    by_hand = shoelace(clipped(list(one), list(other)))
    assert overlap_mm2(a, b) == pytest.approx(by_hand, abs=1e-3)
    found = cover(a, b, margin_mm=0)
    assert found.fraction == pytest.approx(by_hand / shoelace(list(other)), abs=1e-5)
    assert found.with_margin == found.fraction


@given(convex(), convex(), st.integers(0, 30))
def test_a_margin_reaches_whatever_is_that_near(one, other, margin):
    a, b = Shape("area", one), Shape("area", other)
    found = cover(a, b, margin_mm=margin)
    assert found.fraction <= found.with_margin <= 1
    assert (found.level == "clear") == (found.distance_mm > margin)
    if found.distance_mm <= margin - 0.01:
        assert overlap_mm2(grown(a, margin), b) > 0
    wider = grown(a, margin)
    assert wider.area_mm2 >= a.area_mm2
    reach = 1.81 * margin + 0.01  # where a sharp corner is cut off
    assert all(distance_mm(Shape("point", (corner,)), a) <= reach for corner in wider.corners)


@given(st.lists(convex(), min_size=1, max_size=12), convex(), st.integers(0, 20))
def test_many_are_told_as_one_by_one(items, patch, margin):
    shapes = [Shape("area", item) for item in items]
    over = Shape("area", patch)
    assert covers(over, shapes, margin) == tuple(cover(over, each, margin) for each in shapes)


def test_nothing_on_a_side_is_nothing_to_cover():
    assert covers(TITLE, []) == ()


# Lines and points ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("corners", "fraction", "level"),
    [
        (((405, 130), (425, 130)), 0.5, "hit"),
        (((420, 130), (425, 140)), 1, "hit"),
        (((415, 100), (415, 300)), 0, "near"),  # along the patch's side
        (((410.5, 100), (412, 300)), 0, "near"),
        (((300, 100), (409, 300)), 0, "clear"),
    ],
)
def test_a_line_is_covered_by_its_length(corners, fraction, level):
    found = cover(Box(415, 125, 90, 75), Shape("line", corners))
    assert found.fraction == pytest.approx(fraction)
    assert (found.level, found.overlap_mm2) == (level, 0)


@pytest.mark.parametrize(
    ("corner", "fraction", "with_margin", "level"),
    [
        ((420, 130), 1, 1, "hit"),
        ((415, 130), 0, 1, "near"),
        ((411, 130), 0, 1, "near"),
        ((409, 130), 0, 0, "clear"),
    ],
)
def test_a_point_is_covered_or_not(corner, fraction, with_margin, level):
    found = cover(Box(415, 125, 90, 75), Shape("point", (corner,)))
    assert (found.fraction, found.with_margin, found.level) == (fraction, with_margin, level)


def test_a_thread_across_an_inscription_hits_it_and_covers_none_of_it():
    bridge = Shape("line", ((380, 140), (560, 141)))
    found = cover(bridge, TITLE, margin_mm=2)
    assert (found.level, found.fraction) == ("hit", 0)
    assert found.with_margin == pytest.approx(150 * 4 / 6000, rel=1e-3)


# Margins ------------------------------------------------------------------------------------------


def test_the_margin_of_a_box_and_of_its_outline_are_one():
    assert grown(Shape.of_box(TITLE), 5).box == grown(TITLE, 5)
    assert grown(Shape.of_box(TITLE), 5).area_mm2 == pytest.approx(160 * 50)


def test_the_margin_around_a_point_is_round():
    around = grown(Shape("point", ((50, 60),)), 10)
    assert around.bounds == pytest.approx((40, 50, 60, 70))
    assert around.area_mm2 == pytest.approx(math.pi * 100, rel=0.01)


def test_an_outline_of_many_corners_can_still_be_widened():
    turns = [2 * math.pi * step / 500 for step in range(500)]
    zigzag = Shape(
        "area",
        tuple(
            (300 + r * math.sin(turn), 250 + r * math.cos(turn))
            for turn, r in zip(turns, [200, 230] * 250, strict=True)
        ),
    )
    wider = grown(zigzag, 7)
    assert len(wider.corners) <= 500
    assert cover(wider, zigzag, margin_mm=0).fraction == pytest.approx(1, abs=1e-6)


def test_no_margin_is_the_place_itself():
    for place in (TEAR, Shape.of_box(TEAR), Shape("point", ((5, 5),))):
        assert grown(place, 0) is grown(place, 0.009) is place


def test_the_smallest_margin_makes_an_area_of_a_point():
    assert grown(Shape("point", ((5, 5),)), 0.01).kind == "area"


@pytest.mark.parametrize("margin", [-1, math.nan, math.inf, 1001])
def test_a_margin_that_is_none_is_refused(margin):
    with pytest.raises(BadData, match="it is 0 to 1000 mm"):
        cover(TEAR, TITLE, margin_mm=margin)


def test_the_smallest_things_are_measured_too():
    found = cover(Box(0, 0, 10, 10), Box(1, 1, 0.001, 0.001))
    assert (found.fraction, found.with_margin) == (1, 1)
