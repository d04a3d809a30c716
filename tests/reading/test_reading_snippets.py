"""Signs from the keyboard: each letter types the sign that the card says."""

from __future__ import annotations

import pytest

from catalogue.reading import SIGNS, SNIPPETS, read
from catalogue.reading.nodes import walk

BECOMES = {sign.key: sign.becomes for sign in SIGNS}
SELECTED = {"lost_number": "12", "correction": "Galery", "foreign": "huile"}
TYPED_ON = {"correction": "Gallery", "foreign": "fr"}


@pytest.mark.parametrize("snippet", SNIPPETS, ids=lambda each: each.letter)
def test_a_letter_types_its_sign_around_the_selection(snippet):
    selected = SELECTED.get(snippet.sign, "Tide")
    typed = snippet.around(selected)
    at = snippet.caret or 0
    typed = typed[:at] + TYPED_ON.get(snippet.sign, "") + typed[at:]
    # an expansion, a doubtful letter and the like need a letter before them
    lead = "" if snippet.sign in ("hand", "turned") else "Low"
    lead = "[[High]]" if snippet.sign == "over" else lead
    reading = read(lead + typed)
    assert not reading.faults
    assert BECOMES[snippet.sign] in {type(node) for node in walk(reading.tree)}


def test_every_letter_types_one_thing():
    letters = [snippet.letter for snippet in SNIPPETS]
    assert len(set(letters)) == len(letters)
    assert all(letter.isascii() and letter.islower() for letter in letters)


def test_the_caret_stays_within_what_was_typed():
    for snippet in SNIPPETS:
        assert snippet.caret is None or 0 <= snippet.caret <= len(snippet.before)


def test_what_is_shown_of_a_snippet_keeps_a_place_for_the_selection():
    assert {each.letter: each.shown for each in SNIPPETS if each.letter in "grd"} == {
        "g": "[---]",
        "r": "[…]",
        "d": "_",
    }


def test_a_letter_and_its_accent_are_doubtful_together():
    doubtful = next(each for each in SNIPPETS if each.each)
    assert doubtful.around("e\u0301a") == "e\u0301_a_"
