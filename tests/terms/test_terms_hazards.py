"""The words beside the codes of a data sheet, and the studio's own sheets that come before our reminders."""

from __future__ import annotations

import re

import pytest

from catalogue.errors import BadSetting
from catalogue.places import table
from catalogue.terms import hazard_says, precaution_says

CODES = table("hazard_codes.toml")


@pytest.mark.parametrize("code", [*CODES["hazards"], *CODES["precautions"]])
def test_a_code_has_the_form_of_the_ghs_and_words_of_ours(code):
    """GHS (UNECE): H2 are physical, H3 health, H4 the environment; P1 to P5."""
    assert re.fullmatch(r"(H[234]|EUH0)\d\d|P[1-5]\d\d", code)
    said = hazard_says(code) or precaution_says(code)
    assert said == said.strip().rstrip(".")
    assert said


def test_a_letter_behind_a_code_and_several_codes_at_once_are_understood():
    assert hazard_says("H360Df") == hazard_says("H360")
    assert precaution_says("P301+P330+P331") == (
        "if swallowed: rinse the mouth, do not make anybody vomit"
    )


@pytest.mark.parametrize("code", ["H999", "", "nonsense", "P"])
def test_nothing_is_said_of_a_code_that_is_not_in_the_file(code):
    assert hazard_says(code) == ""
    assert precaution_says(code) == ""


def test_a_file_without_its_tables_is_refused(monkeypatch):
    monkeypatch.setattr("catalogue.terms.hazards.table", lambda name: {})
    with pytest.raises(BadSetting, match=r"hazard_codes\.toml"):
        hazard_says("H225")
