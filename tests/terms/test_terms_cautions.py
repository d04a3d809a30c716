"""Cautions: every row is called by terms that are on file, and sends nobody to work on its word alone."""

from __future__ import annotations

import pytest

from catalogue.terms import cautions, known
from catalogue.terms.cautions import rows


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.key)
def test_a_row_is_whole_and_its_terms_are_on_file(row):
    assert row.says
    assert row.source
    assert [key for key in row.terms if not known(key)] == []


def test_there_is_one_standing_row_and_it_defers_to_sheet_rules_and_licence():
    (standing,) = (row for row in rows() if not row.terms)
    for word in ("safety data sheet", "local rules", "licensed", "the conservator decides"):
        assert word in standing.says


# What the brief of the studio asks to be cautioned about; common practice, no source.
@pytest.mark.parametrize(
    ("named", "key"),
    [
        ("material/white-spirit", "solvents"),
        ("material/ammonia-solution", "ammonia"),
        ("step/patch-heat-set", "heat"),
        ("step/remove-tape", "blades"),
        ("material/lead-white", "lead"),
        ("damage/mould-active", "mould"),
    ],
)
def test_a_danger_is_named_with_the_standing_words_before_it(named, key):
    found = [each.key for each in cautions([named])]
    assert found[0] == "first"
    assert key in found


def test_a_narrower_term_is_as_dangerous_as_the_broader_one():
    assert {each.key for each in cautions(["damage/mould-inactive"])} >= {"first", "mould"}


@pytest.mark.parametrize(
    "named", [[], ["material/water"], ["https://elsewhere.example/x"], ["step/photograph"]]
)
def test_nothing_is_said_where_nothing_is_to_be_minded(named):
    assert cautions(named) == ()
