"""Tacking margins and stretcher bars as regions: what lies on them, what they hide, from where one measures.

Where the joints of a stretcher are cut is common practice, no source; the rest is geometry, checked
against areas reckoned by hand. The title's box is the trade sheet's (C1, C2).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.surface import (
    Box,
    CrossBar,
    Edges,
    Lying,
    Shape,
    Sheet,
    Stretcher,
    covered_fraction,
    lying_on,
    mirror,
    union_area_mm2,
)

PICTURE = Sheet(610, 500)
BARS = Edges(top_mm=45, right_mm=50, bottom_mm=45, left_mm=40)
STRETCHER = Stretcher(bars=BARS, uprights=(CrossBar(290, 40),))

widths = st.integers(0, 90)
edges = st.builds(Edges, top_mm=widths, right_mm=widths, bottom_mm=widths, left_mm=widths)


def boxes(strips):
    return {strip.name: strip.box for strip in strips}


def test_the_bars_of_a_stretcher_seen_from_the_back():
    assert boxes(STRETCHER.strips(PICTURE)) == {
        "top bar": Box(0, 0, 610, 45),
        "right bar": Box(560, 45, 50, 410),
        "bottom bar": Box(0, 455, 610, 45),
        "left bar": Box(0, 45, 40, 410),
        "upright cross-bar": Box(290, 45, 40, 410),
    }
    assert STRETCHER.opening(PICTURE) == Box(40, 45, 520, 410)


def test_the_same_bars_behind_the_front():
    behind = boxes(STRETCHER.behind(PICTURE))
    assert behind["right bar"] == Box(0, 45, 50, 410)  # right as seen from the back
    assert behind["upright cross-bar"] == Box(280, 45, 40, 410)


def test_several_cross_bars_are_counted():
    names = boxes(
        Stretcher(
            bars=Edges.all_round(40),
            uprights=(CrossBar(150, 30), CrossBar(400, 30)),
            levels=(CrossBar(230, 30),),
        ).strips(PICTURE)
    )
    assert names["upright cross-bar 2"] == Box(400, 40, 30, 420)
    assert names["level cross-bar"] == Box(40, 230, 530, 30)


@given(edges)
def test_bars_and_opening_make_up_the_side_without_overlap(bars):
    sheet = Sheet(610, 500)
    strips = Stretcher(bars=bars).strips(sheet)
    opening = bars.inner(sheet)
    areas = [strip.box.width_mm * strip.box.height_mm for strip in strips]
    assert sum(areas) + opening.width_mm * opening.height_mm == 610 * 500
    assert union_area_mm2([*(strip.box for strip in strips), opening]) == 610 * 500


@given(edges)
def test_margins_and_four_corners_make_up_the_canvas(margins):
    whole = margins.outer(PICTURE)
    strips = margins.margins(PICTURE)
    corners = (margins.top_mm + margins.bottom_mm) * (margins.left_mm + margins.right_mm)
    areas = sum(strip.box.width_mm * strip.box.height_mm for strip in strips)
    assert areas + 610 * 500 + corners == whole.width_mm * whole.height_mm


@given(edges)
def test_edges_turn_with_the_picture(margins):
    assert margins.mirrored().mirrored() == margins
    turned = {"left": "right", "right": "left"}
    here = {
        turned.get(name, name): mirror(box, PICTURE)
        for name, box in boxes(margins.margins(PICTURE)).items()
    }
    assert here == boxes(margins.mirrored().margins(PICTURE))


def test_a_title_half_hidden_by_the_cross_bar():
    title = Box(310, 120, 100, 40)  # on the canvas; the bar reaches from 290 to 330
    assert lying_on(title, STRETCHER.strips(PICTURE)) == (Lying("upright cross-bar", 0.2),)


def test_a_label_on_the_top_bar_and_a_stamp_over_a_corner():
    strips = STRETCHER.strips(PICTURE)
    assert lying_on(Box(250, 4, 62, 38), strips) == (Lying("top bar", 1),)
    stamp = lying_on(Box(550, 30, 30, 30), strips)
    assert [each.name for each in stamp] == ["top bar", "right bar"]
    assert stamp[0].fraction == pytest.approx(0.5)
    assert stamp[1].fraction == pytest.approx(20 * 15 / 900)


def test_what_crossing_bars_hide_is_counted_once():
    cross = Stretcher(
        bars=Edges.all_round(40), uprights=(CrossBar(290, 40),), levels=(CrossBar(230, 40),)
    )
    bars = [strip.box for strip in cross.strips(PICTURE)]
    middle = Box(270, 210, 80, 80)
    assert covered_fraction(middle, bars) == pytest.approx((2 * 80 * 40 - 40 * 40) / 6400)
    assert sum(each.fraction for each in lying_on(middle, cross.strips(PICTURE))) == 1
    assert covered_fraction(Box(100, 100, 50, 50), bars) == 0


def test_a_line_and_a_point_lie_on_bars_too():
    strips = STRETCHER.strips(PICTURE)
    assert lying_on(Shape("point", ((20, 200),)), strips) == (Lying("left bar", 1),)
    crack = Shape("line", ((20, 200), (60, 200)))
    assert lying_on(crack, strips) == (Lying("left bar", 0.5),)
    assert lying_on(Shape("point", ((300.5, 20),)), Edges().margins(PICTURE)) == ()


def test_a_supplier_s_stamp_on_the_tacking_margin():
    margins = Edges.all_round(25).margins(PICTURE)
    assert lying_on(Box(-20, 200, 15, 60), margins) == (Lying("left", 1),)
    assert lying_on(Box(-20, 200, 40, 60), margins) == (Lying("left", 0.5),)


@given(st.integers(0, 400), st.integers(0, 300))
def test_measured_from_the_inner_edge_and_back(x, y):
    box = Box(x, y, 20, 10)
    seen = STRETCHER.to_opening(box)
    assert (seen.x_mm, seen.y_mm) == (x - 40, y - 45)
    assert STRETCHER.from_opening(seen) == box


@pytest.mark.parametrize(
    ("stretcher", "why"),
    [
        (Stretcher(bars=Edges(left_mm=300, right_mm=310)), "leave nothing of 610 × 500 mm"),
        (Stretcher(bars=Edges(top_mm=500)), "leave nothing"),
        (
            Stretcher(bars=BARS, uprights=(CrossBar(20, 40),)),
            "the upright cross-bar does not lie between",
        ),
        (
            Stretcher(bars=BARS, levels=(CrossBar(100, 30), CrossBar(440, 30))),
            "the level cross-bar 2 does not lie between",
        ),
    ],
)
def test_bars_that_cannot_be_are_refused(stretcher, why):
    with pytest.raises(BadData, match=why):
        stretcher.strips(PICTURE)


@pytest.mark.parametrize("width", [-1, math.nan, math.inf, 1001])
def test_widths_that_are_none_are_refused(width):
    with pytest.raises(ValueError, match=r"Edges\.left_mm"):
        Edges(left_mm=width)
    with pytest.raises(ValueError, match="CrossBar"):
        CrossBar(100, width)


def test_without_a_size_there_are_no_regions():
    for ask in (STRETCHER.strips, STRETCHER.opening, BARS.margins, BARS.outer):
        with pytest.raises(BadData, match="size of the painting is not known"):
            ask(None)
