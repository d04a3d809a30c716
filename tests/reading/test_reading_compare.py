"""Two readings of one label, side by side."""

import pytest

from catalogue.reading import compare, read


def test_readings_are_compared_on_what_was_seen():
    # worked by hand: two edits in seventeen letters
    found = compare(read("Sea Wall, Evening"), read("Sea Wall Evenina"))
    assert (found.edits, round(found.error_rate, 3), found.verdict) == (2, 0.118, "minor")


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("Gal.(erie)", "Gal."),
        ("H[arbour]", "H[---]"),
        ("LOW TIDE", "Low Tide"),
        ("Low|Tide", "Low Tide"),
        ("Caf\u00e9", "Cafe\u0301"),
        ("Lot 3_8", "Lot 38"),
    ],
)
def test_what_the_editor_adds_is_no_difference(first, second):
    assert compare(read(first), read(second)).verdict == "agree"
    assert not compare(read(first), read(second)).differences


def test_a_difference_says_what_each_saw_and_where():
    first, second = "Lot [[12]] 38 Bath", "Lot [[12]] 88 Bath"
    (found,) = compare(read(first), read(second)).differences
    assert (found.first, found.second) == ("3", "8")
    assert first[found.first_at] == "3"
    assert second[found.second_at] == "8"


def test_an_empty_reading_is_a_rival():
    found = compare(read(""), read("Lot 3"))
    assert (found.error_rate, found.verdict) == (1.0, "rivals")
    (apart,) = found.differences
    assert (apart.first, apart.second, apart.first_at) == ("", "Lot 3", 0)


@pytest.mark.parametrize(
    ("first", "second", "edits"),
    [("kitten", "sitting", 3), ("flaw", "lawn", 2), ("intention", "execution", 5)],
)
def test_edits_are_counted_as_in_the_handbooks(first, second, edits):
    # intention/execution: Jurafsky and Martin, Speech and Language Processing, chapter on edit
    # distance (unit costs); the others: the usual textbook examples - from memory
    assert compare(read(first), read(second)).edits == edits


def test_long_texts_are_compared_without_waiting():
    found = compare(read("ab" * 5_000), read("ba" * 5_000 + "c"))
    assert found.verdict == "rivals"
