"""Names: likeness without false certainty."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import JaroWinkler

from catalogue.measure import compare, likeness, rank
from catalogue.measure.names import ALIKE
from catalogue.places import table


# The library's distance against published figures: MARTHA, DIXON and DWAYNE from Winkler's paper
# "String Comparator Metrics ..." (1990, table of examples); the others from the trade sheet, C9.
@pytest.mark.parametrize(
    ("a", "b", "value"),
    [
        ("MARTHA", "MARHTA", 0.961),
        ("DIXON", "DICKSONX", 0.813),
        ("DWAYNE", "DUANE", 0.840),
        ("oesterveld", "osterveld", 0.870),
        ("vandermeulen", "vermeulen", 0.925),
        ("harrowell", "horrowell", 0.896),
        ("oesterveld", "vandermeulen", 0.506),
    ],
)
def test_the_distance_of_the_library_is_that_of_jaro_and_winkler(a, b, value):
    assert round(JaroWinkler.similarity(a, b), 3) == value


# What the trade sheet's C9 calls a variant and a false friend.
def test_our_rules_part_the_false_friend_that_letters_alone_call_alike():
    assert likeness("oesterveld", "osterveld") >= ALIKE
    assert likeness("harrowell", "horrowell") >= ALIKE
    assert likeness("van der Meulen", "Vermeulen") < ALIKE
    assert likeness("Jan van der Meulen", "Jan Vermeulen") < ALIKE
    assert likeness("oesterveld", "vandermeulen") < 0.5


def test_order_case_and_accents_do_not_matter():
    assert likeness("Vöss, Anna", "anna voss") == 1.0
    assert likeness("", "x") == 0.0


def test_the_most_alike_come_first():
    assert rank("penhal", ["Quillan", "Penhale", "Trewin"])[0][0] == "Penhale"


# Variants of one name. Common practice, no source; the names are invented.
@pytest.mark.parametrize(
    ("a", "b", "way"),
    [
        ("Ada Penhale", "PENHALE, Ada", "same"),
        ("Mrs Ada Penhale", "Ada Penhale", "same"),
        ("R. Penhale, R.A.", "R. Penhale", "same"),
        ("J. Harrowell pinxit", "J. Harrowell", "same"),
        ("Vöss, Anna", "Anna Voess", "umlaut"),
        ("A. Penhale", "Ada Penhale", "initials"),
        ("Penhale, A.R.", "Ada Rosa Penhale", "initials"),
        ("I. Quillan", "Jan Quillan", "initials"),
        ("Jan Quillan", "Johannes Quillan", "twin"),
        ("Giovanni Quillan", "Jean Quillan", "twin"),
        ("Wm. Trewin", "William Trewin", "twin"),
        ("Corn. Quillan", "Cornelis Quillan", "twin"),
        ("Barthol. Quillan", "Bartholomeus Quillan", "shortened"),
        ("Penhale", "Ada Penhale", "family"),
        ("Ada Penhale", "Ada Rosa Penhale", "fewer"),
        ("Pieter van der Quill", "Pieter Quill", "particles"),
        ("Pieter Vanderquill", "Pieter van der Quill", "particles"),
        ("Quill, Pieter van der", "Pieter van der Quill", "same"),
        ("Aelbert Cuijlper", "Aelbert Kuylper", "spelling"),
        ("Jan Jacobsz. Quill", "Jan Jacobszoon Quill", "spelling"),
        ("Pieter Jansz", "Pieter Jansz Quill", "fewer"),
        ("Ada Burney", "Ada Bumey", "misread"),
        ("Ada Wardle", "Ada VVardle", "misread"),
        ("Ada Cledwyn", "Ada Dedwyn", "misread"),
        ("Ada Müller", "Ada Miiller", "misread"),
        ("Trewin & Son Ltd", "Trewin and Son", "firm"),
        ("Ada Penhale, née Trewin", "Ada Trewin", "other"),
        ("Giovanni Quillano, called il Bassone", "il Bassone", "other"),
        ("Ada Penhale (1840-1926)", "A. Penhale (1840-1926)", "lives"),
        ("Иван Квиллан", "Ivan Kvillan", "same"),
    ],
)
def test_variants_are_alike_and_it_says_why(a, b, way):
    found = compare(a, b)
    assert found.score >= ALIKE, found
    assert way in found.ways
    assert found.why
    assert likeness(b, a) == pytest.approx(found.score)


# People who are easily taken for one another: common practice, no source.
@pytest.mark.parametrize(
    ("a", "b"),
    [
        ("Ada Penhale", "Trewin"),
        ("A. P.", "B. Q."),
        ("Jan Quillan", "Johannes Trewin"),
        ("Jan Quillan", "Pieter Quillan"),
        ("Quillan, Jan", "Quillan, Jacob"),
        ("J. Quillan", "Pieter Quillan"),
        ("Johann Friedrich Trewin", "Johann Wilhelm Trewin"),
        ("Mario Quillano", "Maria Quillano"),
        ("Louis Quillan", "Louise Quillan"),
        ("Jan Quillan the Elder", "Jan Quillan the Younger"),
        ("Jan Quillan d. Ä.", "Quillan, Jan, de Jonge"),
        ("Giovanni Quillano il Vecchio", "Giovanni Quillano il Giovane"),
        ("J. Trewin sen.", "J. Trewin, jun."),
        ("Jan Quillan (1600-1660)", "Jan Quillan (1702-1770)"),
        ("Trewin & Sons, framers", "Penhale & Sons, framers"),
        ("Jan Quillan, called il Bassone", "Pieter Trewin, called il Bassone"),
    ],
)
def test_different_people_are_not_alike(a, b):
    assert likeness(a, b) < ALIKE, compare(a, b)


def test_a_better_reason_stands_above_a_weaker_one():
    asked = "Jan van der Quill"
    order = [
        "Quill, Jan van der",
        "Johannes van der Quill",
        "J. van der Quill",
        "Quill",
        "Pieter Quill",
    ]
    assert [name for name, _ in rank(asked, reversed(order))] == order


def test_every_way_has_words_and_every_row_of_the_table_is_of_use():
    rows = table("names_alike.toml")
    assert all(rows["why"].values())
    assert all(
        len(pair) == 3 and 0 < pair[2] < 1 for each in rows["misread"] for pair in each["pairs"]
    )
    assert all(len(set(row)) > 1 for row in rows["given"]["twins"])


parts = st.sampled_from(
    ["Jan", "J.", "Quill", "van der", ",", "the Elder", "(1600-1660)", "&", "née", "called", "Sons",
     "R.A.", "d'", "Иван", "-", ".", "Dr", "1", "ü", "sz"]
)  # fmt: skip


@given(
    st.text(max_size=30) | st.lists(parts, max_size=7).map(" ".join),
    st.text(max_size=30) | st.lists(parts, max_size=7).map(" ".join),
)
def test_likeness_is_the_same_from_both_sides_and_lies_between_0_and_1(a, b):
    assert 0 <= likeness(a, b) <= 1
    assert likeness(a, b) == pytest.approx(likeness(b, a))
    assert likeness(a, a) == pytest.approx(1.0) or not any(letter.isalnum() for letter in a)


def test_ten_kilobytes_of_a_name_are_answered():
    for a, b in product(["Quill " * 2000, "Q" * 10_000, "Quill, " * 1500], repeat=2):
        assert 0 <= likeness(a, b) <= 1
