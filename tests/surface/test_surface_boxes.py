"""Places on two sides: worked numbers of the trade sheet (C1), and what must always hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.surface import Box, mirror, mirror_degrees, nine_field

sizes = st.integers(1, 500)


def test_the_trade_sheets_example_of_a_tear():
    """Trade sheet C1: 610 mm wide, recto (120,140,60,45) is verso (430,140,60,45)."""
    assert mirror(Box(120, 140, 60, 45), 610) == Box(430, 140, 60, 45)


def test_words_for_both_sides_of_one_place():
    """Trade sheet C1: upper left from the front is upper right from the back."""
    assert nine_field(Box(120, 140, 60, 45), 610, 500) == "upper left"
    assert nine_field(Box(430, 140, 60, 45), 610, 500) == "upper right"


@given(st.integers(0, 500), st.integers(0, 500), sizes, sizes, st.integers(600, 1200))
def test_turning_twice_is_not_turning(x, y, width, height, sheet):
    box = Box(x, y, width, height)
    assert mirror(mirror(box, sheet), sheet) == box


@given(st.integers(0, 359))
def test_directions_turn_back_too(degrees):
    assert mirror_degrees(mirror_degrees(degrees)) == degrees


@pytest.mark.parametrize("wrong", [(0, 0, 0, 5), (0, 0, 5, -1), (-5000, 0, 5, 5), (0, 0, 5, 1e9)])
def test_impossible_boxes_are_refused(wrong):
    with pytest.raises(ValueError, match="Box"):
        Box(*wrong)
