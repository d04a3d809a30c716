"""Figures as written, exactly: arithmetic, no source needed; which sign is which: common practice."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure.figures import figure


@pytest.mark.parametrize(
    ("written", "value", "step"),
    [
        ("25", "25", "1"), ("25.40", "25.4", "1/100"), ("63,5", "63.5", "1/10"), (".5", "1/2", "1/10"),
        ("30 1/8", "241/8", "1/8"), ("30-1/8", "241/8", "1/8"), ("30⅛", "241/8", "1/8"), ("30 ⅛", "241/8", "1/8"),
        ("30³⁄₁₆", "483/16", "1/16"), ("30 3 / 16", "483/16", "1/16"), ("½", "1/2", "1/2"), ("0.500", "1/2", "1/1000"),
        ("1.250.000", "1250000", "1"), ("1.250,50", "1250.5", "1/100"), ("1,250.5", "1250.5", "1/10"), ("1 250", "1250", "1"),
    ],
)  # fmt: skip
def test_a_figure_is_this_number_and_tells_apart_this_step(written, value, step):
    for thousands in (True, False):
        found = figure(written, thousands=thousands)
        assert (found.value, found.step) == (Fraction(value), Fraction(step))


@pytest.mark.parametrize(
    ("written", "as_thousands"), [("1.250", 1250), ("1,250", 1250), ("12.500", 12500)]
)
def test_one_sign_before_three_figures_is_what_the_reader_knows_it_to_be(written, as_thousands):
    assert figure(written, thousands=True).value == as_thousands
    assert figure(written, thousands=False).value == Fraction(as_thousands, 1000)


@pytest.mark.parametrize(
    "written",
    ["1/0", "0/8", "8/8", "25 17/16", "25 17/0", "1/2/3", "1.5 1/2", "1.2.3", "1,2,3", "1,250.000,5", "½½", "", "a", "1/a", "."],
)  # fmt: skip
def test_what_is_no_number_is_none(written):
    assert figure(written, thousands=True) is None
    assert figure(written, thousands=False) is None


@given(
    st.integers(0, 10**9),
    st.integers(0, 99),
    st.sampled_from([(",", "."), (".", ","), (" ", ","), ("'", ".")]),
)
def test_every_number_with_grouped_thousands_comes_back(whole, part, signs):
    apart, decimal = signs
    written = f"{whole:,}".replace(",", apart) + f"{decimal}{part:02d}"
    assert figure(written, thousands=True).value == Fraction(whole * 100 + part, 100)


@given(st.text(alphabet="0123456789 ./,-½⅛'’⁄³₈a", max_size=12))
def test_no_text_at_all_raises(written):
    found = figure(written, thousands=True)
    assert found is None or (found.value >= 0 and 0 < found.step <= 1)
