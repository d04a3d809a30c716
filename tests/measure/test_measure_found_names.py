"""Names in running text: found where something shows that they are names, and only there."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.measure import find_names


def told(text):
    return [(each.written, each.value["kind"]) for each in find_names(text)]


# common practice, no source
@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("J. TREWIN & SONS, CARVERS & GILDERS", [("J. TREWIN & SONS", "firm")]),
        ("Trewin, Penhale & Co., Ltd., London", [("Trewin, Penhale & Co., Ltd.", "firm")]),
        ("Galerie Morvane Paris", [("Galerie Morvane", "firm")]),
        ("Kunsthandlung P. H. Quill, Berlin", [("Kunsthandlung P. H. Quill", "firm")]),
        ("Gebr. Trewin, Köln", [("Gebr. Trewin", "firm")]),
        ("Trewin et Cie, 12 rue des Lilas", [("Trewin et Cie", "firm")]),
        ("Trewin GmbH & Co. KG", [("Trewin GmbH & Co. KG", "firm")]),
        ("Messrs. Trewin, 48 Hart Lane", [("Messrs. Trewin", "firm")]),
        ("lent by the Trewin Gallery", [("Trewin Gallery", "firm")]),
        ("The Sale of Trewin & Sons", [("Trewin & Sons", "firm")]),
        ("Trewin Academy of Arts, Summer Exhibition 1934", [("Trewin Academy of Arts", "institution")]),
        ("St Quill's Church", [("St Quill's Church", "institution")]),
        ("Mrs. A. Penhale", [("Mrs. A. Penhale", "person")]),
        ("Mr. & Mrs. J. Penhale", [("Mr. & Mrs. J. Penhale", "person")]),
        ("Dr. Hans Trewin, Lindenstr. 4", [("Dr. Hans Trewin", "person")]),
        ("Baron von Trewin", [("Baron von Trewin", "person")]),
        ("Vve Trewin", [("Vve Trewin", "person")]),
        ("A. Penhale", [("A. Penhale", "person")]),
        ("Wm. Penhale", [("Wm. Penhale", "person")]),
        ("A. Penhale, R.A.", [("A. Penhale, R.A.", "person")]),
        ("Ada Penhale Esq.", [("Ada Penhale Esq.", "person")]),
        ("Low Tide, by Ada Penhale", [("Ada Penhale", "person")]),
        ("Oil on canvas by A. Penhale 1887", [("A. Penhale", "person")]),
        ("No. 12. A. Penhale. Low Tide", [("A. Penhale", "person")]),
        ("TO BE RETURNED TO A. PENHALE", [("A. PENHALE", "person")]),
        ("Owner: Ada Penhale", [("Ada Penhale", "person")]),
        ("Artist: A. Penhale Title: Low Tide", [("A. Penhale", "person")]),
        ("A. Penhale\nJ. Trewin & Son", [("A. Penhale", "person"), ("J. Trewin & Son", "firm")]),
        ("A. Penhale …", [("A. Penhale", "person")]),
    ],
)  # fmt: skip
def test_a_name_is_found_where_something_shows_it(text, found):
    assert told(text) == found


@pytest.mark.parametrize(
    "text",
    [
        "Ada Penhale", "Low Tide", "Jan van der Quill, 12 May 1934", "CARVERS & GILDERS", "Fine Art Dealers", "The Museum",
        "Picture Frame Makers", "By Appointment", "Moonlight by Night", "by Candlelight", "G.W. Railway", "U.S. Customs",
        "London, W.C.", "S.W.1", "N. York", "W. London", "Gallery", "Ltd", "& Sons", "M", "…", "",
    ],
)  # fmt: skip
def test_capitals_alone_and_words_of_a_trade_are_no_name(text):
    assert told(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "Trewin & So…", "…win & Sons", "Galerie Mor…", "Galerie …", "A. Penha…", "by Ada Penhale Quil…", "by Ada …hale",
        "Mrs. …", "Owner: Ada Pen…", "J.…A. Penhale", "Tre…win & Sons", "Penhale…& Sons",
    ],
)  # fmt: skip
def test_nothing_is_read_of_a_name_of_which_a_part_is_lost(text):
    assert told(text) == []


def test_the_value_is_the_name_taken_apart():
    (found,) = find_names("framed by Mrs. Ada van der Quill, R.A.")
    assert found.kind == "name"
    assert found.value == {
        "kind": "person", "family": "van der Quill", "given": "Ada", "honorifics": "Mrs. R.A.",
    }  # fmt: skip


LABEL = "J. TREWIN & SONS, 48 Hart Lane\nLow Tide, by Mrs. Ada Penhale, R.A.\nGalerie Morvane, Ghent"


@given(st.integers(0, len(LABEL)), st.integers(0, 6))
def test_no_find_crosses_or_touches_a_lost_part(at, lost):
    torn = LABEL[:at] + "…" + LABEL[at + lost :]
    for each in find_names(torn):
        assert "…" not in torn[max(each.start - 1, 0) : each.end + 1]


pieces = st.lists(
    st.sampled_from([
        "Ada", "A.", "Penhale", "& Sons", "Ltd", "Galerie", "Mrs.", "by", "…", "\n", ",", "van der", "R.A.", "Museum", "of", "Owner:",
        "Esq.", "Trewin", "the", "S.W.1", "Bros.", "(", ")", "and", "d'Orme", "12",
    ])
).map(" ".join)  # fmt: skip


@given(st.one_of(st.text(), pieces, pieces.map(lambda text: text.replace(" ", ""))))
@example("& Sons " * 100)
@example("A. " * 300)
def test_a_find_is_what_the_text_says_there_and_plain_data(text):
    found = find_names(text)
    for each in found:
        assert text[each.start : each.end] == each.written
        assert "\n" not in each.written
        assert "…" not in each.written
        assert json.loads(json.dumps(each.value)) == each.value
    assert all(one.end <= other.start for one, other in pairwise(found))
