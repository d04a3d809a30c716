"""Two readings of one label, side by side."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import Levenshtein

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
    assert not found.counted
    assert found.edits == 10_001


def test_each_line_has_its_own_rate_and_the_words_in_which_they_part():
    first, second = "Lot 38|Sea Wall|Bath", "Lot 88|Sea Wall, Evening|Bath"
    lot, wall, bath = compare(read(first), read(second)).lines
    assert (lot.edits, lot.words) == (1, (("38", "88"),))
    assert wall.words == (("Wall", "Wall, Evening"),)
    assert (bath.error_rate, bath.words) == (0.0, ())


def test_the_rate_has_a_yardstick_and_the_agreement_has_none():
    short, long = read("Bath"), read("Bath, Lot 38")
    assert compare(short, long).error_rate == 8 / 4
    assert compare(long, short).error_rate == 8 / 12
    assert compare(short, long).agreement == compare(long, short).agreement == 1 - 8 / 12
    assert compare(read(""), read("")).agreement == 1


typed = st.text(st.sampled_from("abAB éß\u0301\n.[]+_"), max_size=40)


@given(typed, typed)
def test_the_edits_are_those_of_a_second_engine(first, second):
    # rapidfuzz, Levenshtein.distance with unit costs, on the same letters
    found = compare(read(first), read(second))
    mine, yours = letters(first), letters(second)
    assert found.edits == Levenshtein.distance(mine, yours)
    assert found.edits == textbook(mine, yours)
    assert found.agreement == pytest.approx(Levenshtein.normalized_similarity(mine, yours))


def letters(typed):
    """What was seen, letter by letter with its accents, without capitals and line ends."""
    seen = read(typed).seen().replace("\n", " ")
    return [each.casefold() for each in re.findall(r".[\u0300-\u036f]*", seen)]


def textbook(a, b):
    """Wagner and Fischer 1974, as it stands in the textbooks - from memory."""
    row = list(range(len(b) + 1))
    for i, mine in enumerate(a, 1):
        diagonal, row[0] = row[0], i
        for j, yours in enumerate(b, 1):
            diagonal, row[j] = (
                row[j],
                min(row[j] + 1, row[j - 1] + 1, diagonal + (mine != yours)),
            )
    return row[-1]


@given(typed, typed)
def test_nothing_of_either_reading_is_left_out_of_the_lines(first, second):
    found = compare(read(first), read(second))
    stretches = [each for line in found.lines for each in line.stretches]
    assert "".join(each.first for each in stretches) == read(first).seen()
    assert "".join(each.second for each in stretches) == read(second).seen()
    assert sum(line.edits for line in found.lines) == found.edits
    assert all(bool(line.words) == bool(line.edits) for line in found.lines)


@given(typed, typed)
def test_the_edits_are_the_same_from_either_side(first, second):
    there, back = (
        compare(read(first), read(second)),
        compare(read(second), read(first)),
    )
    assert there.edits == back.edits
    assert there.agreement == back.agreement
    assert there.verdict == back.verdict
