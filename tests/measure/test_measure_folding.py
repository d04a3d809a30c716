"""Text as it is looked for, against Unicode's own tables and the two ways of spelling an umlaut."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import fold, spellings


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Straße", "strasse"),
        ("ÉCOLE", "ecole"),
        ("Ça", "ca"),
        ("ﬁnis", "finis"),
        ("Œuvre", "oeuvre"),
        ("Ærø", "aero"),
        ("Łódź", "lodz"),
        ("ſub", "sub"),
        ("№ 12½", "no 121⁄2"),
        ("e\u0301tude", "etude"),
    ],
)
def test_capitals_marks_and_ligatures_do_not_matter(text, folded):
    """Folding and compatibility forms: Unicode, CaseFolding.txt and UAX 15."""
    assert fold(text) == folded


@pytest.mark.parametrize(
    ("one", "other"), [("Müller", "Mueller"), ("Köhler", "Koehler"), ("Jörg", "Jorg")]
)
def test_an_umlaut_is_found_however_it_is_typed(one, other):
    assert set(spellings(one)) & set(spellings(other))


@given(st.text(max_size=40))
def test_folding_twice_changes_nothing_more(text):
    once = fold(text)
    assert fold(once) == once
    assert spellings(text)[0] == once


@given(st.text(max_size=40))
def test_composed_and_decomposed_text_fold_alike(text):
    assert fold(unicodedata.normalize("NFD", text)) == fold(unicodedata.normalize("NFC", text))
