"""Names: attribution words taken off, likeness without false certainty."""

from __future__ import annotations

import pytest

from catalogue.measure import likeness, rank, read_attribution


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("Circle of Ada Penhale", ("qualifier/circle-of", "Ada Penhale")),
        ("attributed to A. Penhale", ("qualifier/attributed-to", "A. Penhale")),
        ("After Ada Penhale", ("qualifier/after", "Ada Penhale")),
        (
            "formerly attributed to Ada Penhale",
            ("qualifier/formerly-attributed-to", "Ada Penhale"),
        ),
        ("Ada Penhale", (None, "Ada Penhale")),
        ("Byatt Afterman", (None, "Byatt Afterman")),
    ],
)
def test_attribution_words_are_told_from_names(written, found):
    assert read_attribution(written) == found


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
