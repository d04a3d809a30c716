"""Shapes: what is refused and in which words, and what they measure, against a second reckoning.

Outside check: shapely (GEOS, an implementation of the OGC's Simple Features) for what crosses itself,
for areas and lengths, and for well-known text. The polygon and the ellipse are the trade sheet's
computation C3 (geometry).
"""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from catalogue.surface import Box, Shape, Sheet

grid = st.tuples(st.integers(0, 6), st.integers(0, 6))
fine = st.tuples(
    st.floats(0, 3000, allow_nan=False).map(lambda mm: round(mm, 3)),
    st.floats(0, 3000, allow_nan=False).map(lambda mm: round(mm, 3)),
)


def shape_or_why(corners):
    try:
        return Shape("area", tuple(corners)), ""
    except ValueError as refused:
        return None, str(refused)


@given(st.lists(grid, min_size=3, max_size=7, unique=True))
def test_what_is_refused_as_crossing_is_what_shapely_finds_invalid(corners):
    shape, why = shape_or_why(corners)
    assert (shape is not None) == (shapely.Polygon(corners).is_valid), why


@given(st.lists(fine, min_size=3, max_size=12, unique=True))
def test_areas_and_lengths_are_those_of_shapely(corners):
    shape, _ = shape_or_why(corners)
    if shape is None:
        return
    other = shapely.Polygon(corners)
    assert shape.area_mm2 == pytest.approx(other.area, rel=1e-9, abs=1e-6)
    assert shape.length_mm == pytest.approx(other.length)
    assert shape.bounds == other.bounds


@given(st.lists(st.floats(-9e4, 9e4), min_size=4, max_size=8))
def test_well_known_text_is_read_by_others_and_read_back(numbers):
    corners = tuple(zip(numbers[::2], numbers[1::2], strict=False))
    if len(set(corners)) < 2:
        return
    line = Shape("line", corners)
    assert Shape.from_wkt(line.wkt()) == line
    assert tuple(shapely.from_wkt(line.wkt()).coords) == corners


@pytest.mark.parametrize(("tiny", "written"), [(1e-7, "0.0000001"), (-2.5e-9, "-0.0000000025")])
def test_no_number_is_written_with_an_exponent(tiny, written):
    point = Shape("point", ((tiny, 5),))
    assert point.wkt() == f"POINT ({written} 5)"
    assert Shape.from_wkt(point.wkt()) == point


@pytest.mark.parametrize(
    ("corners", "why"),
    [
        (
            ((0, 0), (10, 10), (10, 0), (0, 10)),
            "crosses itself: the side from corner 1 to 2 meets the side from corner 3 to 4",
        ),
        (
            ((0, 0), (10, 0), (4, 0), (4, 8)),
            "crosses itself: the side from corner 1 to 2 meets the side from corner 3 to 4",
        ),
        (((0, 0), (10, 0), (10, math.nan)), "10, what is no number lies off any painting"),
        (((0, 0), (10, 0), (math.inf, 5)), "inf, 5 lies off any painting"),
        (((0, 0), (5, 5), (10, 10)), "an area encloses something"),
        (((0, 0), (5, 5)), "3 to 500 corners, not 2"),
    ],
)
def test_bad_outlines_are_refused_in_words(corners, why):
    shape, said = shape_or_why(corners)
    assert shape is None
    assert why in said


def test_a_polygon_and_an_ellipse_of_the_worked_example():
    assert Shape("area", ((0, 0), (14, 0), (10, 9), (2, 7))).area_mm2 == 89.0
    assert Shape.ellipse(Box(0, 0, 12, 8)).area_mm2 == pytest.approx(75.4, abs=0.05)


@given(
    st.integers(10, 20_000).map(lambda tenth: tenth / 10),
    st.integers(10, 20_000).map(lambda tenth: tenth / 10),
)
def test_an_ellipse_has_the_area_of_the_formula(width, height):
    """pi / 4 x a x b; the corners are kept to a hundred-thousandth of a mm."""
    ellipse = Shape.ellipse(Box(3, 4, width, height))
    assert ellipse.area_mm2 == pytest.approx(
        math.pi / 4 * width * height, abs=1e-5 * (width + height)
    )
    left, top, right, bottom = ellipse.bounds
    assert right - left == pytest.approx(width, rel=1e-3)
    assert bottom - top == pytest.approx(height, rel=1e-3)
    assert ellipse.centre == pytest.approx((3 + width / 2, 4 + height / 2), abs=1e-4)


def test_a_shape_fits_or_does_not_by_where_it_ends():
    picture = Sheet(610, 500)
    assert Shape("line", ((-1, 10), (612, 10))).fits(picture)
    assert not Shape("line", ((-1, 10), (613, 10))).fits(picture)
    assert Shape("point", ((5, 502),)).fits(picture)


def test_only_a_box_is_a_box():
    assert Shape.of_box(Box(1.1, 2.2, 3.3, 4.4)).is_box
    assert not Shape("area", ((0, 0), (10, 1), (10, 5), (0, 5))).is_box
    assert not Shape("area", ((0, 0), (10, 0), (10, 5))).is_box
    assert not Shape("line", ((0, 0), (10, 0), (10, 5), (0, 5))).is_box


@pytest.mark.parametrize(
    ("kind", "corners", "why"),
    [
        ("circle", ((0, 0),), "none of point, line, area"),
        ("point", ((0, 0), (1, 1)), "a point has 1 to 1 corners, not 2"),
        ("line", ((3, 3), (3, 3)), "a line has some length"),
    ],
)
def test_bad_shapes_are_refused_in_words(kind, corners, why):
    with pytest.raises(ValueError, match=why):
        Shape(kind, corners)


@pytest.mark.parametrize(
    "text", ["", "POINT", "POINT (1 2 3)", "CIRCLE (1 2)", "POINT (1e5 2)"]
)
def test_text_that_is_no_outline_is_refused_in_words(text):
    with pytest.raises(ValueError, match="is no outline in mm such as POINT"):
        Shape.from_wkt(text)


def test_only_an_area_has_one_and_a_line_has_no_way_back():
    line = Shape("line", ((0, 0), (3, 4), (3, 10)))
    assert (line.area_mm2, line.length_mm) == (0, 11)
    assert Shape("line", ((0, 5), (9, 5))).box is None
    assert Shape.from_wkt("POLYGON ((0 0, 4 0, 4 3, 0 0))").length_mm == 12
