"""Canvas sizes that have a name.

French: the published table (an encyclopaedia's, two mirrors agree), copied here by hand from the sheet
of datable evidence and not from vocab/. British: the National Portrait Gallery's terms; sizes marked
so in vocab/ from memory. The worked figures are those of the trade sheet, C12.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import canvas_names, excise_width_mm, read_sizes
from catalogue.measure.canvas_sizes import canvas_sizes, french_size, table

# Number: long side / figure / paysage / marine, in cm.
PUBLISHED = """
0 18 14 12 10|1 22 16 14 12|2 24 19 16 14|3 27 22 19 16|4 33 24 22 19|5 35 27 24 22|6 41 33 27 24
8 46 38 33 27|10 55 46 38 33|12 61 50 46 38|15 65 54 50 46|20 73 60 54 50|25 81 65 60 54|30 92 73 65 60
40 100 81 73 65|50 116 89 81 73|60 130 97 89 81|80 146 114 97 89|100 162 130 114 97|120 195 130 114 97
""".replace("\n", "|").split("|")
ROWS = [[int(cell) for cell in row.split()] for row in PUBLISHED if row]
BRITISH = {
    "three-quarters": (30, 25), "half-length": (50, 40), "bishop's half-length": (56, 44), "kit-cat": (36, 28),
    "whole-length": (94, 58), "head": (24, 20), "head (narrow)": (24, 18), "small half-length": (44, 34),
    "bishop's whole-length": (106, 70),
}  # fmt: skip


def told(matches):
    return [(each.size.name, each.off_height_mm, each.off_width_mm) for each in matches]


@pytest.mark.parametrize(("number", "long", "figure", "paysage", "marine"), ROWS)
def test_the_french_table_is_the_published_one(number, long, figure, paysage, marine):
    for letter, short in (("F", figure), ("P", paysage), ("M", marine)):
        size = french_size(number, letter)
        assert (size.long_mm, size.short_mm) == (10 * long, 10 * short)


def test_nothing_is_in_the_tables_that_is_not_published():
    assert len(canvas_sizes()) == 3 * len(ROWS) + len(BRITISH)
    assert french_size(13) is None


@pytest.mark.parametrize(("name", "inches"), BRITISH.items())
def test_a_british_size_is_known_by_its_name(name, inches):
    long, short = (each * 25.4 for each in inches)
    assert canvas_names(long, short)[0].size.name == name
    assert canvas_names(short, long)[0].size.name == name


def test_the_worked_figures_of_the_sheet():
    # 610 x 500 is 12F exactly and not 24 x 20 in., which is the runner-up
    assert told(canvas_names(610, 500)) == [("12F", 0, 0), ("head", 0.4, -8)]
    assert told(canvas_names(605, 498))[0] == ("12F", -5, -2)
    assert told(canvas_names(609.6, 508))[0] == ("head", 0, 0)


def test_a_picture_on_its_side_has_the_same_name():
    assert told(canvas_names(500, 610))[0] == ("12F", 0, 0)
    assert told(canvas_names(495, 605))[0] == ("12F", -5, -5)


def test_an_old_canvas_may_be_further_off():
    assert canvas_names(625, 515) == ()
    old = table()["tolerance"]["old_mm"]
    assert told(canvas_names(625, 515, old)) == [("12F", 15, 15), ("head", 15.4, 7)]


def test_what_fits_no_name_has_none():
    assert canvas_names(1000, 1000) == ()


@given(st.sampled_from(canvas_sizes()), st.floats(-10, 10), st.floats(-10, 10), st.booleans())
def test_the_nearest_is_never_further_off_than_the_size_it_was_made_from(
    size, more, less, turned
):
    sides = (size.long_mm + more, size.short_mm + less)
    first, *others = canvas_names(*(sides[::-1] if turned else sides), tolerance_mm=10.01)
    assert first.off_mm <= max(abs(more), abs(less)) + 0.01
    assert all(first.off_mm <= other.off_mm <= 10.01 for other in others)
    assert len(others) <= 1


# National Portrait Gallery: 75 hundredths of a yard are 27 in, 165 are 59.4 in.
@pytest.mark.parametrize(("mark", "mm"), [(75, 685.8), (165, 1508.76)])
def test_the_excise_mark_counts_hundredths_of_a_yard(mark, mm):
    assert float(excise_width_mm(mark)) == mm
    inches = {75: "27", 165: "59.4"}[mark]
    assert read_sizes(f"width {inches} in.")[0].width_mm == mm


def test_a_written_size_finds_its_name():
    (size,) = read_sizes("36 x 28 in.")
    assert canvas_names(size.height_mm, size.width_mm)[0].size.name == "kit-cat"
