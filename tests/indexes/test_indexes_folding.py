"""Words as compared. Umlauts written out as in DIN 5007, variant 2 (from memory)."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.indexes.folding import forms, tokens

LETTERS = st.text(st.characters(categories=["L", "Nd", "Mn", "Zs", "Po", "Pd"]), max_size=40)


def found_by(typed: str, text: str) -> bool:
    """Whether a word typed by somebody meets one of a text."""
    [asked] = tokens(typed)
    return any(not set(asked.forms).isdisjoint((*it.forms, *it.parts)) for it in tokens(text))


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("muller", "Müller"),
        ("mueller", "Müller"),
        ("Müller", "Mueller"),
        ("Müller", "MULLER"),
        ("Müller", "Mu\u0308ller"),
        ("strasse", "Straße"),
        ("STRASSE", "Straße"),
        ("Geneve", "GENÈVE"),
        ("soren", "Søren"),
        ("soeren", "Søren"),
        ("Aarhus", "Århus"),
        ("lodz", "Łódź"),
        ("oeuvre", "Œuvre"),
        ("office", "oﬃce"),
        ("1234", "No. 1.234"),
        ("1,234", "no 1234"),
        ("1’234", "1,234"),
        ("234", "1.234"),
        ("1234567", "1.234.567,50"),
        ("a", "A. J."),
    ],
)
def test_spellings_that_meet(typed, text):
    assert found_by(typed, text)


@pytest.mark.parametrize(
    ("typed", "text"),
    [("muller", "Mueller"), ("harbour", "harbours"), ("1234", "12.34"), ("12345", "12.34.5"),
     ("of", "often"), ("1899", "189.9")],
)  # fmt: skip
def test_spellings_that_do_not(typed, text):
    assert not found_by(typed, text)


@given(LETTERS)
def test_words_lie_in_order_and_hold_every_letter(text):
    at = -1
    inside: set[int] = set()
    for number, token in enumerate(tokens(text)):
        assert token.position == number
        assert at <= token.start < token.end
        assert token.forms
        at = token.end
        inside.update(range(token.start, token.end))
    for place, sign in enumerate(text):
        if unicodedata.category(sign) in ("Lu", "Ll", "Lo", "Nd"):
            assert place in inside


@given(LETTERS)
def test_composed_and_decomposed_texts_are_the_same_words(text):
    def words(form):
        return [token.forms for token in tokens(unicodedata.normalize(form, text))]

    assert words("NFC") == words("NFD")


@given(st.text(max_size=20))
def test_forms_are_few_and_never_empty(word):
    assert all(forms(word))
    assert len(forms(word)) <= 3
