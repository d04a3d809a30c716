"""Photographs as measures: scale bars, corners, known points; what is refused, and in which words.

Worked numbers: the trade sheet's computation C17 (geometry). Its 0.17 mm are a pixel at either end of
the length; a pixel at either end of the bar adds 0.25 mm, which the sheet leaves out. Outside checks:
a pinhole camera written down here, whose map is known; and the same map found by a singular value
decomposition, as in Hartley and Zisserman, Multiple View Geometry (from memory); the room uses least
squares.
"""

from __future__ import annotations

import contextlib
import itertools
import math
import random

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.surface import (
    Box,
    Calibration,
    Known,
    Shape,
    Sheet,
    from_corners,
    from_points,
    from_scale_bar,
    in_order,
    mirror,
    off_straight_mm,
    tilted,
)

PICTURE = Sheet(610, 500)
BAR = Known((40, 50), (40 + 1184, 50), 100)

# A scale bar --------------------------------------------------------------------------------------


def test_a_hundred_millimetres_on_the_photo():
    scale = from_scale_bar(BAR)
    assert scale.pixels_per_mm() == pytest.approx(11.84)
    assert scale.pixels_per_inch((3000, 2000)) == pytest.approx(300.7, abs=0.05)
    found = scale.length((100, 700), (1862, 700))
    assert found.mm == pytest.approx(148.8, abs=0.05)
    assert found.ends_mm == pytest.approx(0.17, abs=0.005)
    assert found.scale_mm == pytest.approx(148.8 * 2 / 1184, abs=1e-3)
    assert found.in_words() == "148.8 mm ± 0.3 mm"


def test_from_a_bar_alone_only_lengths_are_known():
    scale = from_scale_bar(BAR)
    for ask in (scale.to_mm, scale.to_pixel):
        with pytest.raises(BadData, match="no corner of the picture"):
            ask((5, 5))
    assert "nothing else that is known bears it out" in scale.in_words()


@pytest.mark.parametrize(
    ("turned", "origin", "pixel"),
    [
        (0, (100, 200), (100 + 1184, 200 + 592)),
        (90, (100, 5000), (100 + 592, 5000 - 1184)),
        (180, (7000, 5000), (7000 - 1184, 5000 - 592)),
        (270, (7000, 200), (7000 - 592, 200 + 1184)),
    ],
)
def test_a_photo_on_its_side_or_its_head_is_no_special_case(turned, origin, pixel):
    """A place 100 mm from the left and 50 mm from the top."""
    scale = from_scale_bar(BAR, origin=origin, turned=turned)
    assert scale.to_mm(pixel) == (100, 50)
    assert scale.to_pixel((100, 50)) == pytest.approx(pixel)
    assert scale.to_mm(origin) == (0, 0)


def test_a_second_bar_bears_the_first_out_or_not():
    upright = Known((40, 50), (40, 50 + 2368), 199)
    assert from_scale_bar(BAR, checks=[upright]).residual_mm == pytest.approx(1)
    with pytest.raises(BadData, match=r"lies 5\.0 mm from where this photograph puts it"):
        from_scale_bar(BAR, checks=[upright, Known((40, 50), (40, 50 + 2368), 205)])


def test_a_tilted_bar_seems_shorter_by_the_cosine():
    assert tilted(0) == 0
    assert tilted(60) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("known", "why"),
    [
        (Known((0, 0), (5, 0), 100), "5 pixels apart: too near for a scale"),
        (Known((0, 0), (500, 0), 0), "a length of 0 mm"),
        (Known((0, 0), (500, 0), -3), "a length of -3 mm"),
        (Known((0, 0), (500, 0), math.nan), "a length of nan mm"),
        (Known((0, 0), (math.nan, 0), 100), "is none"),
    ],
)
def test_a_bar_that_is_none_is_refused(known, why):
    with pytest.raises(BadData, match=why):
        from_scale_bar(known)
    with pytest.raises(BadData, match=why):
        from_scale_bar(BAR, checks=[known])


# A camera -----------------------------------------------------------------------------------------


def camera(tilt, swing, roll, away=1500.0, focal=6000.0, middle=(3000.0, 2000.0)):
    """The map from mm on a picture of 610 x 500 mm to pixels, of a pinhole camera (degrees, mm)."""
    ct, st_, cs, ss, cr, sr = (
        function(math.radians(angle))
        for angle in (tilt, swing, roll)
        for function in (math.cos, math.sin)
    )
    turn = (
        numpy.array([[cr, -sr, 0], [sr, cr, 0], [0, 0, 1]])
        @ numpy.array([[1, 0, 0], [0, ct, -st_], [0, st_, ct]])
        @ numpy.array([[cs, 0, ss], [0, 1, 0], [-ss, 0, cs]])
    )
    inner = numpy.array([[focal, 0, middle[0]], [0, focal, middle[1]], [0, 0, 1]])
    centred = numpy.array([[1, 0, -305], [0, 1, -250], [0, 0, 0]], float)
    whole = turn @ centred
    whole[2, 2] += away
    return inner @ whole


def seen(matrix, place):
    x, y, depth = (matrix @ numpy.array([*place, 1.0])).tolist()
    return x / depth, y / depth


CORNERS = ((0, 0), (610, 0), (610, 500), (0, 500))
POINTS = tuple(itertools.product((0, 150, 305, 450, 610), (0, 250, 500)))
angles = st.integers(-30, 30)


@given(angles, angles, st.integers(0, 359))
def test_four_corners_undo_any_camera(tilt, swing, roll):
    taken = camera(tilt, swing, roll)
    found = from_corners([seen(taken, corner) for corner in CORNERS], PICTURE)
    assert found.residual_mm is None
    for place in POINTS:
        assert found.to_mm(seen(taken, place)) == pytest.approx(place, abs=0.002)
        assert found.to_pixel(place) == pytest.approx(seen(taken, place), abs=0.01)


@given(angles, angles, st.integers(0, 359), st.integers(0, 10**6))
def test_marks_a_pixel_out_leave_a_residual_of_their_size(tilt, swing, roll, seed):
    """Fifteen points: the map is the one that a singular value decomposition finds."""
    taken, chance = camera(tilt, swing, roll), random.Random(seed)
    pairs = [
        ((x + chance.uniform(-1, 1), y + chance.uniform(-1, 1)), place)
        for place in POINTS
        for x, y in [seen(taken, place)]
    ]
    found = from_points(pairs)
    assert 0 < found.residual_mm < 0.8
    other = decomposed(pairs)
    for pixel, _ in pairs:
        assert found.to_mm(pixel) == pytest.approx(seen(other, pixel), abs=0.1)


def decomposed(pairs):
    """From pixels to mm by the smallest singular vector, points evened out before."""

    def evened(points):
        middle = points.mean(axis=0)
        scale = math.sqrt(2) / numpy.linalg.norm(points - middle, axis=1).mean()
        return numpy.array(
            [[scale, 0, -scale * middle[0]], [0, scale, -scale * middle[1]], [0, 0, 1]]
        )

    pixels, places = (numpy.array(each, float) for each in zip(*pairs, strict=True))
    near, far = evened(pixels), evened(places)
    rows = []
    for pixel, place in zip(pixels, places, strict=True):
        p, (u, v, _) = near @ [*pixel, 1], far @ [*place, 1]
        rows.append([*p, 0, 0, 0, *(-u * p)])
        rows.append([0, 0, 0, *p, *(-v * p)])
    smallest = numpy.linalg.svd(numpy.array(rows))[2][-1].reshape(3, 3)
    return numpy.linalg.inv(far) @ smallest @ near


@given(angles, angles, st.integers(1, 5))
def test_the_scale_around_a_pixel_is_that_of_a_step_beside_it(tilt, swing, step):
    taken = camera(tilt, swing, 0)
    found = from_corners([seen(taken, corner) for corner in CORNERS], PICTURE)
    x, y = seen(taken, (200, 180))

    def exact(pixel):
        return numpy.array(seen(numpy.array(found.matrix).reshape(3, 3), pixel))

    across = (exact((x + 0.01 * step, y)) - exact((x, y))) / (0.01 * step)
    down = (exact((x, y + 0.01 * step)) - exact((x, y))) / (0.01 * step)
    area = abs(across[0] * down[1] - across[1] * down[0])
    assert found.mm_per_pixel((x, y)) == pytest.approx(math.sqrt(area), rel=1e-3)


def test_a_fifth_point_that_is_wrong_refuses_the_photo():
    taken = camera(12, -8, 3)
    corners = [seen(taken, corner) for corner in CORNERS]
    good = (seen(taken, (305, 250)), (305, 250))
    assert from_corners(corners, PICTURE, more=[good]).residual_mm < 0.01
    with pytest.raises(
        BadData, match="mm from where this photograph puts it; 2 mm is the most"
    ):
        from_corners(corners, PICTURE, more=[(good[0], (305, 262))])


def test_a_known_length_bears_the_corners_out_or_not():
    taken = camera(12, -8, 3)
    corners = [seen(taken, corner) for corner in CORNERS]
    ends = seen(taken, (100, 100)), seen(taken, (160, 180))
    found = from_corners(corners, PICTURE, checks=[Known(*ends, 100)])
    assert found.residual_mm < 0.01
    assert found.in_words() == "from the corners; what is known lies within 0.0 mm"
    with pytest.raises(BadData, match=r"lies 3\.0 mm"):
        from_corners(corners, PICTURE, checks=[Known(*ends, 103)])


def test_how_far_a_scale_alone_would_be_wrong():
    straight = [seen(camera(0, 0, 31), corner) for corner in CORNERS]
    assert off_straight_mm(straight, PICTURE) == pytest.approx(0, abs=1e-6)
    assert off_straight_mm([seen(camera(5, 0, 0), each) for each in CORNERS], PICTURE) > 2


# A tumbled photo, a mirrored one ------------------------------------------------------------------


def test_a_tumbled_photo_gives_the_places_of_one_turned_like_a_page():
    """The tear of the front, 120 mm from the left, is 430 mm from the left on the back (C1)."""
    tear = mirror(Box(120, 140, 60, 45), PICTURE)
    page, over = camera(4, 6, 0), camera(4, 6, 180)
    for taken, top in ((page, "top"), (over, "bottom")):
        marked = [seen(taken, corner) for corner in CORNERS]
        random.Random(3).shuffle(marked)
        found = from_corners(in_order(marked, top), PICTURE)
        drawn = [seen(taken, corner) for corner in Shape.of_box(tear).corners]
        assert found.shape("area", drawn) == Shape.of_box(tear)
        for pixel, drawn_at in zip(found.pixels(tear), drawn, strict=True):
            assert pixel == pytest.approx(drawn_at, abs=0.02)


@pytest.mark.parametrize(
    ("top", "roll"), [("top", 0), ("right", 90), ("bottom", 180), ("left", 270)]
)
def test_corners_marked_in_any_order_are_named_by_where_the_top_is(top, roll):
    taken = camera(7, -5, roll)
    marked = [seen(taken, corner) for corner in CORNERS]
    for order in itertools.permutations(marked):
        assert list(in_order(order, top)) == marked


def test_four_corners_are_four():
    with pytest.raises(BadData, match="four corners, not 5"):
        in_order([(0, 0)] * 5, "top")


def test_a_mirrored_photo_is_told_from_wrong_corners():
    taken = camera(3, 3, 0)
    flipped = [(6000 - x, y) for x, y in (seen(taken, corner) for corner in CORNERS)]
    with pytest.raises(BadData, match="go round the wrong way, or the photograph is mirrored"):
        from_corners(flipped, PICTURE)
    x, y = seen(taken, (430, 140))
    found = from_corners(flipped, PICTURE, mirrored=True)
    assert found.to_mm((6000 - x, y)) == pytest.approx((430, 140), abs=0.002)


# What is refused ----------------------------------------------------------------------------------

SQUARE = [(0, 0), (610, 0), (610, 500), (0, 500)]


@pytest.mark.parametrize(
    ("corners", "why"),
    [
        (SQUARE[:3], "four corners, not 3"),
        ([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]], "their sides cross"),
        ([(0, 0), (610, 0), (200, 100), (0, 500)], "or one lies within"),
        (SQUARE[::-1], "go round the wrong way"),
        ([(0, 0), (500, 0), (500, 610), (0, 610)], "has height been taken for width"),
        ([(0, 0), (0, 0), (610, 500), (0, 500)], "are not those of one picture"),
        ([(math.nan, 0), (610, 0), (610, 500), (0, 500)], "are not those of one picture"),
    ],
)
def test_corners_of_no_picture_are_refused(corners, why):
    with pytest.raises(BadData, match=why):
        from_corners(corners, PICTURE)


def test_without_a_size_corners_say_nothing():
    with pytest.raises(BadData, match="size of the painting is not known"):
        from_corners(SQUARE, None)
    with pytest.raises(BadData, match="size of the painting is not known"):
        off_straight_mm(SQUARE, None)


@pytest.mark.parametrize(
    ("pairs", "why"),
    [
        ([((0, 0), (0, 0))] * 3, "3 known points are too few"),
        ([((0, 0), (0, 0))] * 5, "all one and the same"),
        ([((i, i), (i, i)) for i in range(5)], "lie on one line"),
        ([((i, 0), (i, 0)) for i in range(3)] + [((0, 9), (0, 9))], "three of four do"),
        ([((i, i * i), (i, math.inf)) for i in range(5)], "is no number"),
        (
            [*zip([(0, 0), (610, 0), (200, 100), (0, 500)], SQUARE, strict=True)],
            "cannot be of one flat picture",
        ),
    ],
)
def test_points_that_fix_no_picture_are_refused(pairs, why):
    with pytest.raises(BadData, match=why):
        from_points(pairs)


numbers = st.floats(-1e4, 1e4) | st.sampled_from([math.nan, math.inf, 0.0, 1.0])
points = st.tuples(numbers, numbers)


@given(st.lists(st.tuples(points, points), max_size=8))
def test_whatever_is_marked_is_measured_or_refused(pairs):
    with contextlib.suppress(BadData):
        found = from_points(pairs)
        assert found.residual_mm is None or found.residual_mm <= 2


def test_a_pixel_beyond_the_horizon_is_no_place():
    """A camera tilted by 30° sees the picture's plane end far to one side of it."""
    taken = camera(30, 0, 0)
    found = from_corners([seen(taken, corner) for corner in CORNERS], PICTURE)
    beyond = (3000, 20_000)
    with pytest.raises(BadData, match="beyond the horizon"):
        found.to_mm(beyond)
    # The photograph's own corner may lie there.
    pairs = [
        ((x - beyond[0], y - beyond[1]), at) for at in CORNERS for x, y in [seen(taken, at)]
    ]
    moved = from_points(pairs)
    for pixel, place in pairs:
        assert moved.to_mm(pixel) == pytest.approx(place, abs=0.002)
    with pytest.raises(BadData, match="beyond the horizon"):
        moved.to_mm((0, 0))


@pytest.mark.parametrize("matrix", [(1.0,) * 8, (math.nan,) * 9, (0.0,) * 8 + (1.0,)])
def test_a_calibration_that_is_none_is_refused(matrix):
    with pytest.raises(ValueError, match=r"Calibration\.matrix"):
        Calibration(matrix=matrix, method="points", scale_error=0)
