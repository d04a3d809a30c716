"""Costs and dilutions against the worked examples of the trade sheet (C14, C15), and by other ways of reckoning."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.measure.costs import Figures, cost_settings, thread_hours
from catalogue.measure.dilution import dilute, grams

HOURS = (6, 2, 5, 4.5, 4, 9, 1.5, 3, 1.5, 8, 3.5)
FIGURES = Figures(rate=55, materials=138, contingency_percent=10, tax_percent=21)


def test_the_worked_proposal():
    """Trade sheet, C14 (arithmetic; common practice)."""
    likely = FIGURES.costs([(None, hours, None) for hours in HOURS]).likely
    assert (likely.hours, likely.work) == (48, 2640)
    assert likely.work + likely.materials == 2778
    assert (likely.contingency, likely.net) == (Decimal("277.80"), Decimal("3055.80"))
    assert (likely.tax, likely.total) == (Decimal("641.72"), Decimal("3697.52"))


def test_low_and_high_are_the_hours_times_the_studios_factors():
    """Trade sheet, C14: hours times 0.8, 1 and 1.3."""
    found = FIGURES.costs([(None, hours, None) for hours in HOURS])
    assert [each.hours for each in (found.low, found.likely, found.high)] == [
        Decimal("38.4"), 48, Decimal("62.4"),
    ]  # fmt: skip


def test_bounds_that_somebody_judged_come_before_the_factors():
    found = Figures(rate=10).costs([(1, 2, 5), (None, 10, None)])
    assert [each.hours for each in (found.low, found.likely, found.high)] == [9, 12, 18]


def test_threads_of_a_tear():
    """Trade sheet, C14: 62 mm at 14 threads a cm are 87 threads, at 6 minutes each 8.7 hours."""
    assert thread_hours(62, 14) == (87, Decimal("8.7"))


percents = st.integers(0, 100)
sums = st.integers(0, 10**7).map(lambda cents: cents / 100)


@given(st.integers(0, 4000), sums, sums, sums, percents, percents)
def test_a_total_is_within_two_half_cents_of_the_exact_fraction(
    quarters, rate, materials, outside, contingency, tax
):
    """Against exact fractions: what is rounded is the work, the contingency and the tax, once each."""
    hours = Decimal(quarters) / 4
    found = Figures(
        rate=rate, materials=materials, outside=outside, contingency_percent=contingency,
        tax_percent=tax,
    ).at(hours)  # fmt: skip
    before = sum(Fraction(str(each)) for each in (materials, outside))
    before += Fraction(hours) * Fraction(str(rate))
    exact = before * (100 + contingency) / 100 * (100 + tax) / 100
    assert abs(Fraction(found.total) - exact) <= Fraction(1, 200) * (4 + 2 + 1)
    assert found.total == found.net + found.tax
    assert found.total == found.total.quantize(Decimal("0.01"))


def test_halves_of_a_cent_go_up_as_on_an_invoice():
    assert Figures(materials=0.1, tax_percent=5).at(Decimal(0)).tax == Decimal("0.01")


def test_the_settings_are_those_of_the_sheet():
    """Trade sheet, C14: warn at 90 %, stop at 100 %."""
    settings = cost_settings()
    assert (settings.warn_percent, settings.stop_percent) == (90, 100)


def test_the_worked_dilutions():
    """Trade sheet, C15: 0.5 % w/v in 200 ml is 1.0 g; 100 ml of 0.5 % from 25 % take 2.0 ml."""
    assert grams(0.5, 200) == 1.0
    found = dilute(25, 0.5, 100)
    assert (found.stock_ml, found.diluent_ml) == (2.0, 98.0)


@given(st.integers(1, 100), st.integers(1, 100), st.floats(0.1, 10_000))
def test_what_is_dissolved_stays_the_same(stock, share, total):
    wanted = stock * share / 100
    found = dilute(stock, wanted, total)
    assert found.stock_ml * stock == pytest.approx(found.total_ml * wanted)
    assert found.stock_ml + found.diluent_ml == pytest.approx(total)


@pytest.mark.parametrize("asked", [(5, 10, 100), (120, 1, 100), (5, 0, 100), (5, 1, 0)])
def test_what_cannot_be_made_is_refused(asked):
    with pytest.raises(BadData):
        dilute(*asked)


@pytest.mark.parametrize("asked", [(101, 10), (-1, 10), (5, -1)])
def test_no_solution_is_stronger_than_all_of_it(asked):
    with pytest.raises(BadData):
        grams(*asked)
