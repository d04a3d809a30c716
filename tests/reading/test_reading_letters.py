"""The letters that are there as evidence: `Reading.seen_letters()`."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.reading import read

signs = st.lists(
    st.sampled_from(
        ["a", "É", "e\u0301", "7_", "[", "]", "[...]", "[[", "]]", "<<", ">>", "(?)", " ", "|",
         "-|", "=|", "@h ", "@p ", "@h(chalk) ", "word", "A.", "(bc)", "\\[", "{{a crown}}", "…"]
    ),
    max_size=14,
).map("".join)  # fmt: skip


@given(signs)
def test_they_are_the_seen_text_and_its_places(typed):
    reading = read(typed)
    letters = reading.seen_letters()
    assert "".join(each.letter for each in letters) == reading.seen()
    assert tuple(each.start for each in letters) == reading.seen_at()
    assert all(each.start < each.end <= len(typed) for each in letters)


@pytest.mark.parametrize(
    ("typed", "doubtful"),
    [("W.7_", "7"), ("Be_r", "e"), ("Berger(?) 12", "Berger"), ("[ab_]", ""), ("ab", "")],
)
def test_doubtful_letters_are_told(typed, doubtful):
    letters = read(typed).seen_letters()
    assert "".join(each.letter for each in letters if each.doubtful) == doubtful


@pytest.mark.parametrize(
    ("typed", "struck"),
    [("[[412]]<<421>>", "412"), ("[[4 [[1]] 2]] 5", "4 1 2"), ("412", "")],
)
def test_struck_letters_are_told(typed, struck):
    letters = read(typed).seen_letters()
    assert "".join(each.letter for each in letters if each.struck) == struck


def test_each_letter_knows_its_hand_also_inside_another_sign():
    letters = read("a @p b [[c @h(pencil) d]] e").seen_letters()
    told = [(each.letter, each.hand and each.hand.technique) for each in letters]
    assert [each for each in told if each[0].strip()] == [
        ("a", None), ("b", "printed"), ("c", "printed"), ("d", "handwritten"), ("e", "handwritten"),
    ]  # fmt: skip


def test_a_line_end_inside_a_word_is_told():
    letters = read("Reichs-|kammer|der Neu=|stadt").seen_letters()
    assert [each.joins for each in letters if each.letter == "\n"] == [True, False, True]


@pytest.mark.parametrize(
    ("typed", "ends"), [("7_x", [2, 3]), ("\\[a", [2, 3]), ("e\u0301a", [2, 3]), ("[...]", [5])]
)
def test_a_letter_ends_where_its_sign_does(typed, ends):
    assert [each.end for each in read(typed).seen_letters()] == ends
