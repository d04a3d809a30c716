"""Front and back: 10,000 random shapes turned twice, and how one place looks on both sides.

Worked numbers: the trade sheet's computation C1 (geometry), a picture 610 mm wide and 500 mm high.
"""

from __future__ import annotations

import math
import random

import pytest

from catalogue.errors import BadData
from catalogue.surface import (
    Box,
    Shape,
    Sheet,
    mirror,
    mirror_degrees,
    moved,
    tumble,
    tumble_degrees,
    upright,
    upright_degrees,
)

PICTURE = Sheet(610, 500)
TEAR = Box(120, 140, 60, 45)
L_TEAR = Shape("line", ((120, 140), (150, 152), (161.25, 185)))
LOSS = Shape("area", ((120, 140), (180, 150), (170, 185), (130, 180)))


def random_sheet(chance):
    return Sheet(chance.uniform(20, 4000), chance.uniform(20, 4000))


def random_place(chance, sheet):
    """A box, a point, a line or a star-shaped area with corners anywhere on the sheet."""

    def point():
        return chance.uniform(0, sheet.width_mm), chance.uniform(0, sheet.height_mm)

    match chance.choice(["box", "point", "line", "area"]):
        case "box":
            x, y = point()
            return Box(x, y, sheet.width_mm - x + 0.1, sheet.height_mm - y + 0.1)
        case "point":
            return Shape("point", (point(),))
        case "line":
            return Shape("line", tuple(point() for _ in range(chance.randint(2, 30))))
    x, y = point()
    turns = sorted(chance.sample(range(360), chance.randint(3, 30)))
    if max(b - a for a, b in zip(turns, [*turns[1:], turns[0] + 360], strict=True)) >= 180:
        turns = [0, 120, 240]
    return Shape(
        "area",
        tuple(
            (
                x + math.sin(math.radians(turn)) * reach,
                y + math.cos(math.radians(turn)) * reach,
            )
            for turn, reach in ((turn, chance.uniform(1, 50)) for turn in turns)
        ),
    )


def numbers(place):
    if isinstance(place, Box):
        return (*place.bounds, place.width_mm, place.height_mm)
    return tuple(number for corner in place.corners for number in corner)


def farthest(one, other):
    assert type(one) is type(other)
    return max(abs(a - b) for a, b in zip(numbers(one), numbers(other), strict=True))


@pytest.mark.parametrize("turn", [mirror, tumble, upright])
def test_ten_thousand_places_turned_twice_are_where_they_were(turn):
    chance = random.Random(1931)
    worst = 0.0
    for _ in range(10_000):
        sheet = random_sheet(chance)
        place = random_place(chance, sheet)
        worst = max(worst, farthest(turn(turn(place, sheet), sheet), place))
    assert worst <= 1e-9


def test_a_tumbled_photo_turned_by_half_is_the_picture_turned_like_a_page():
    chance = random.Random(500)
    for _ in range(2000):
        sheet = random_sheet(chance)
        place = random_place(chance, sheet)
        over, page = upright(tumble(place, sheet), sheet), mirror(place, sheet)
        if isinstance(place, Shape) and place.kind == "area":
            assert over.area_mm2 == pytest.approx(page.area_mm2, rel=1e-9)
            one, other = set(over.corners), set(page.corners)
            assert len(one) == len(other)
            assert max(min(math.dist(a, b) for b in other) for a in one) <= 1e-9
        else:
            assert farthest(over, page) <= 1e-9


def test_a_tear_from_the_front_to_the_back_and_on_a_tumbled_photo():
    assert mirror(TEAR, PICTURE) == Box(430, 140, 60, 45)
    assert tumble(TEAR, PICTURE) == Box(120, 315, 60, 45)
    assert upright(tumble(TEAR, PICTURE), PICTURE) == Box(430, 140, 60, 45)


def test_a_line_keeps_its_beginning():
    assert mirror(L_TEAR, PICTURE).corners == ((490, 140), (460, 152), (448.75, 185))


def test_an_area_goes_round_the_same_way_on_both_sides():
    def turning(shape):
        """More than 0 clockwise, y being down."""
        ends = zip(shape.corners, shape.corners[1:] + shape.corners[:1], strict=True)
        return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in ends)

    for turn in (mirror, tumble, upright):
        turned = turn(LOSS, PICTURE)
        assert turning(turned) == pytest.approx(turning(LOSS))
    assert set(mirror(LOSS, PICTURE).corners) == {
        (490, 140), (430, 150), (440, 185), (480, 180),
    }  # fmt: skip


@pytest.mark.parametrize("turn", [mirror, tumble, upright])
def test_the_outline_of_a_box_stays_the_outline_of_a_box(turn):
    outline = turn(Shape.of_box(TEAR), PICTURE)
    assert outline == Shape.of_box(turn(TEAR, PICTURE))
    assert outline.is_box


@pytest.mark.parametrize(
    ("front", "back"), [(0, 0), (90, 270), (180, 180), (270, 90), (30, 330)]
)
def test_letters_lean_the_other_way(front, back):
    assert mirror_degrees(front) == back
    assert upright_degrees(tumble_degrees(front)) == back
    for turn in (mirror_degrees, tumble_degrees, upright_degrees):
        assert turn(turn(front)) == front


@pytest.mark.parametrize("turn", [mirror, tumble, upright])
def test_without_a_size_there_is_no_other_side(turn):
    with pytest.raises(BadData, match="size of the painting is not known"):
        turn(TEAR, None)


def test_a_place_can_be_measured_from_another_corner():
    assert moved(L_TEAR, 55, -5).corners == ((175, 135), (205, 147), (216.25, 180))
    assert moved(moved(TEAR, 0.1, 0.2), -0.1, -0.2) == TEAR
