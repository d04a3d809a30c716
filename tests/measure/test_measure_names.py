"""Names: likeness without false certainty."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import compare, likeness, rank
from catalogue.measure.names import ALIKE


# Jaro-Winkler values of the trade sheet's section C9, computed there with another implementation.
@pytest.mark.parametrize(
    ("a", "b", "least", "most"),
    [
        ("oesterveld", "osterveld", 0.86, 1.0),
        ("harrowell", "horrowell", 0.89, 1.0),
        ("oesterveld", "vandermeulen", 0.0, 0.6),
    ],
)
def test_likeness_is_where_the_trade_sheet_has_it(a, b, least, most):
    assert least <= likeness(a, b) <= most


def test_order_case_and_accents_do_not_matter():
    assert likeness("Vöss, Anna", "anna voss") == 1.0
    assert likeness("", "x") == 0.0


def test_the_most_alike_come_first():
    assert rank("penhal", ["Quillan", "Penhale", "Trewin"])[0][0] == "Penhale"


# Jaro-Winkler of the folded letters, as worked out in the trade sheet's C9.
@pytest.mark.parametrize(
    ("a", "b", "score"),
    [
        ("vandermeulen", "vermeulen", 0.925),
        ("harrowell", "horrowell", 0.896),
        ("oesterveld", "vandermeulen", 0.506),
    ],
)
def test_the_letters_of_one_word_are_compared_as_jaro_and_winkler_do(a, b, score):
    assert likeness(a, b) == pytest.approx(score, abs=0.001)


@pytest.mark.parametrize(
    ("a", "b", "why"),
    [
        ("Ada Penhale", "PENHALE, Ada", "the same but for capitals, accents, titles and order"),
        (
            "Mrs Ada Penhale",
            "Ada Penhale",
            "the same but for capitals, accents, titles and order",
        ),
        ("Vöss, Anna", "Anna Voess", "the same but for how an umlaut is spelt"),
        ("A. Penhale", "Ada Penhale", "initials"),
        ("Jan Quillan", "Johannes Quillan", "twin names"),
        ("Penhale", "Ada Penhale", "a word left out"),
        ("P. van der Quill", "Pieter Quill", "initials, a word left out"),
        ("Trewin & Son Ltd", "Trewin and Son", "letters without words for a firm"),
        ("A. P.", "", "nothing to compare"),
    ],
)
def test_it_says_why_two_names_are_alike(a, b, why):
    found = compare(a, b)
    assert found.why == why
    assert (found.score >= ALIKE) == bool(b)


@pytest.mark.parametrize(
    ("a", "b"),
    [("Ada Penhale", "Trewin"), ("A. P.", "B. Q."), ("Jan Quillan", "Johannes Trewin")],
)
def test_different_names_are_not_alike(a, b):
    assert likeness(a, b) < ALIKE


@given(st.text(max_size=30), st.text(max_size=30))
def test_likeness_is_the_same_from_both_sides_and_lies_between_0_and_1(a, b):
    assert 0 <= likeness(a, b) <= 1
    assert likeness(a, b) == pytest.approx(likeness(b, a))
