"""The painting's outline on a photograph: what four corners may be, and what no rectangle can show."""

from __future__ import annotations

import pytest

from catalogue.errors import BadData
from catalogue.record import Photo

FITS = ((100, 80), (900, 90), (890, 700), (110, 690))


def photo(outline, **more):
    return Photo(file_name="a.jpg", outline=outline, **{"width": 1000, "height": 800, **more})


@pytest.mark.parametrize(
    "outline",
    [
        (),
        FITS,
        tuple(reversed(FITS)),  # a mirrored photograph shows them the other way round
        (*FITS[2:], *FITS[:2]),  # one that stands on its head
        ((-120.5, 80), *FITS[1:]),  # a corner that was cut off
    ],
)
def test_four_corners_of_a_rectangle_seen_from_anywhere_are_kept(outline):
    assert photo(outline).outline == outline


@pytest.mark.parametrize(
    ("outline", "says"),
    [
        (FITS[:3], "four corners"),
        ((*FITS, (1, 1)), "four corners"),
        ((FITS[0], FITS[2], FITS[1], FITS[3]), "its sides cross"),
        (
            (FITS[0], FITS[1], (300, 200), FITS[3]),
            "its sides cross",
        ),  # dented: no rectangle looks so
        (((0, 0), (10, 0), (20, 0), (30, 0)), "encloses no area"),
        ((FITS[0], FITS[0], *FITS[2:]), "encloses no area"),
        (((-501, 80), *FITS[1:]), "far beyond the edge"),
        ((FITS[0], FITS[1], (890, 1201), FITS[3]), "far beyond the edge"),
        ((FITS[0], FITS[1], (float("nan"), 700), FITS[3]), "two numbers"),
        (((100.00001, 80), *FITS[1:]), "four decimals"),
        (((100, 80, 1), *FITS[1:]), "two numbers"),
    ],
)
def test_what_no_rectangle_on_this_photograph_can_be_is_refused(outline, says):
    with pytest.raises(BadData, match=says):
        photo(outline)


def test_without_a_size_in_pixels_only_the_form_counts():
    far = ((0, 0), (90_000, 0), (90_000, 50_000), (0, 50_000))
    assert photo(far, width=None, height=None).outline == far
