"""Sizes as written, in millimetres.

Inches: 25.4 mm exactly (international yard and pound agreement, 1959); feet twelve inches. Height
first, and what the words mean: common practice of museums, no source.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import read_sizes
from catalogue.terms import known

# (text, [(what, height, width, depth, diameter), ...])
SIZES = [
    ("63,5 × 76,2 cm", [(None, 635, 762, None, None)]),
    ("25 x 30 1/8 in.", [(None, 635, 765.17, None, None)]),
    ("610 x 500 mm", [(None, 610, 500, None, None)]),
    ("25¼ x 30⅛ in.", [(None, 641.35, 765.17, None, None)]),
    ("36-1/4 x 29-7/8 inches", [(None, 920.75, 758.83, None, None)]),
    ("25 in. x 30 in.", [(None, 635, 762, None, None)]),
    ("25 by 30 inches", [(None, 635, 762, None, None)]),
    ("2 ft 3 in x 1 ft 6 in", [(None, 685.8, 457.2, None, None)]),
    ("2' 3\" x 1' 6\"", [(None, 685.8, 457.2, None, None)]),
    ("61x50cm", [(None, 610, 500, None, None)]),
    ("1,250 x 980 mm", [(None, 1250, 980, None, None)]),
    ("1,25 x 0,98 m", [(None, 1250, 980, None, None)]),
    ("61 x 50 x 3 cm", [(None, 610, 500, 30, None)]),
    ("H. 61 cm; W. 50 cm", [(None, 610, 500, None, None)]),
    ("B 50 x H 61 cm", [(None, 610, 500, None, None)]),
    ("h 61 x w 50 x d 3 cm", [(None, 610, 500, 30, None)]),
    ("61 cm high, 50 cm wide", [(None, 610, 500, None, None)]),
    ("Height: 61 cm, width: 50 cm", [(None, 610, 500, None, None)]),
    ("61 cm high x 50 cm wide", [(None, 610, 500, None, None)]),
    ("50 x 61 cm (B x H)", [(None, 610, 500, None, None)]),
    ("W x H: 50 x 61 cm", [(None, 610, 500, None, None)]),
    ("diameter 30 cm", [(None, None, None, None, 300)]),
    ("Ø 30,5 cm", [(None, None, None, None, 305)]),
    ("Framed: 80 x 70 cm", [("framed", 800, 700, None, None)]),
    ("61 x 50 cm (unframed)", [("support", 610, 500, None, None)]),
    ("62 x 38 mm label", [("label", 62, 38, None, None)]),
    ("50 x 40 cm ohne Rahmen", [("support", 500, 400, None, None)]),
    (
        "61 x 50 cm, framed 80 x 70 cm",
        [(None, 610, 500, None, None), ("framed", 800, 700, None, None)],
    ),
    (
        "24 1/2 x 20 in. (62.2 x 50.8 cm)",
        [(None, 622.3, 508, None, None), (None, 622, 508, None, None)],
    ),
    (
        "Frame: 31 × 27 in (78.7 × 68.6 cm)",
        [("framed", 787.4, 685.8, None, None), ("framed", 787, 686, None, None)],
    ),
    (
        "sight 58 x 47 cm; support 61 x 50 cm; with frame 75 x 64 x 5 cm",
        [
            ("sight", 580, 470, None, None),
            ("support", 610, 500, None, None),
            ("framed", 750, 640, 50, None),
        ],
    ),
    ("Oil on panel, dated 1885, 30 x 40 cm", [(None, 300, 400, None, None)]),
]

NOTHING = [
    "", "25 x 30", "30 cm", "d. 30 cm", "65 mm from the edge", "dated 1885", "0 x 5 cm", "1/0 x 2 cm",
    "99999999 x 2 m", "12 x 12 x 12 x 12 cm", "1.2.3 x 4 cm", "14 Gannet Steps", "h 61 x h 50 cm",
]  # fmt: skip

# Imperial fractions: arithmetic, as in the check values of the dating sheet.
INCHES = [
    ("24", 609.6), ("30", 762.0), ("36 1/4", 920.75), ("29 7/8", 758.82), ("24 1/2", 622.3),
    ("18 3/8", 466.72), ("44 3/8", 1127.12), ("12 5/16", 312.74), ("0 1/16", 1.59), ("0 1/32", 0.79),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), SIZES)
def test_a_size_is_read_as_these_millimetres(text, expected):
    found = [
        (each.what, each.height_mm, each.width_mm, each.depth_mm, each.diameter_mm)
        for each in read_sizes(text)
    ]
    assert found == expected


@pytest.mark.parametrize("text", NOTHING)
def test_where_no_unit_or_no_second_figure_is_written_nothing_is_guessed(text):
    assert read_sizes(text) == ()


@pytest.mark.parametrize(("inches", "mm"), INCHES)
def test_fractions_of_an_inch(inches, mm):
    (size,) = read_sizes(f"{inches} x 10 in.")
    assert size.height_mm == pytest.approx(mm, abs=0.011)


@pytest.mark.parametrize("text", [text for text, _ in SIZES])
def test_what_is_written_stands_where_it_is_said_to_stand(text):
    for size in read_sizes(text):
        assert text[size.start : size.end] == size.written
        assert size.what is None or known(f"size/{size.what}")


def test_a_written_size_has_no_words_around_it():
    assert [each.written for each in read_sizes("W x H: 50 x 61 cm, framed")] == ["50 x 61 cm"]


@given(st.integers(1, 200), st.sampled_from([2, 4, 8, 16]), st.integers(1, 15))
def test_every_fraction_is_exact_to_a_hundredth_of_a_millimetre(whole, below, above):
    (size,) = read_sizes(f"{whole} {above}/{below} x 10 in")
    assert size.height_mm == round(
        float((whole + Fraction(above, below)) * Fraction("25.4")), 2
    )


@given(st.text(alphabet="0123456789 x×,./½'\"cminhwd()-:ft", max_size=40))
def test_no_text_at_all_raises(text):
    for size in read_sizes(text):
        assert text[size.start : size.end] == size.written
