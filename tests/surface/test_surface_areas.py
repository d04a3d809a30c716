"""Areas of loss: overlaps once, in percent of the side, with their uncertainty.

Worked number: the trade sheet's computation C3 (geometry; half a millimetre all round is common
practice, no source). Outside check: squares on a grid, counted one by one.
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
    extent,
    outside_mm2,
    two_digits,
    union_area_mm2,
)

PICTURE = Sheet(610, 500)
POLYGON = Shape("area", ((0, 0), (14, 0), (10, 9), (2, 7)))
LOSSES = [POLYGON, Shape.ellipse(Box(100, 100, 12, 8)), Box(300, 300, 22, 5)]


def test_three_losses_of_the_worked_example():
    found = extent(LOSSES, PICTURE)
    assert found.area_mm2 == pytest.approx(89.0 + math.pi / 4 * 12 * 8 + 110, abs=1e-3)
    assert found.area_mm2 == pytest.approx(274.4, abs=0.05)
    assert found.of_mm2 == 305_000
    assert found.in_words().startswith("0.090 % ± ")


def test_the_uncertainty_is_half_a_millimetre_all_round():
    around_polygon = 14 + math.hypot(4, 9) + math.hypot(8, 2) + math.hypot(2, 7)
    # Ramanujan's second approximation of an ellipse's way round, good to a millionth here
    h = (6 - 4) ** 2 / (6 + 4) ** 2
    around_ellipse = math.pi * (6 + 4) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    found = extent(LOSSES, PICTURE)
    assert found.plus_minus_mm2 == pytest.approx(
        0.5 * (around_polygon + around_ellipse + 54), rel=1e-3
    )
    assert two_digits(found.plus_minus_percent) in found.in_words()


def test_what_overlaps_counts_once():
    assert extent([*LOSSES, POLYGON, *LOSSES], PICTURE) == extent(LOSSES, PICTURE)
    one, other = Box(0, 0, 10, 10), Box(5, 5, 10, 10)
    assert union_area_mm2([one, other]) == 175
    assert extent([one, other], PICTURE).plus_minus_mm2 == 0.5 * 60


squares = st.builds(
    Box, st.integers(0, 20), st.integers(0, 20), st.integers(1, 9), st.integers(1, 9)
)


def counted(boxes):
    return {
        (x, y)
        for box in boxes
        for x in range(box.x_mm, box.x_mm + box.width_mm)
        for y in range(box.y_mm, box.y_mm + box.height_mm)
    }


@given(st.lists(squares, max_size=8), st.lists(squares, max_size=8))
def test_areas_are_those_of_squares_counted_one_by_one(boxes, allowed):
    assert union_area_mm2(boxes) == len(counted(boxes))
    assert outside_mm2(boxes, allowed) == len(counted(boxes) - counted(allowed))
    sheet = Sheet(15, 12)
    on_it = {(x, y) for x, y in counted(boxes) if x < 15 and y < 12}
    assert extent(boxes, sheet).area_mm2 == len(on_it)


def test_points_and_lines_take_up_no_area():
    things = [Shape("point", ((3, 3),)), Shape("line", ((3, 3), (50, 60)))]
    assert union_area_mm2(things) == 0
    assert extent(things, PICTURE).in_words() == "0 % ± 0 % (0 mm² ± 0 mm²)"
    assert extent([], PICTURE).area_mm2 == 0


def test_the_whole_side_is_a_hundred_percent_and_no_more():
    found = extent([Box(-2, -2, 614, 504)], PICTURE)
    assert found.percent == 100
    assert found.in_words().startswith("100 % ± 0.36 %")


def test_without_a_size_there_are_no_percent():
    with pytest.raises(BadData, match="size of the painting is not known"):
        extent(LOSSES, None)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.089967, "0.090"), (0.0995, "0.10"), (0.996, "1.0"), (9.96, "10"), (99.6, "100"),
        (274.4, "270"), (306_000, "310000"), (0.00012, "0.00012"), (0, "0"),
    ],
)  # fmt: skip
def test_two_significant_digits_and_no_more(value, said):
    assert two_digits(value) == said
