"""Which check belongs to which stage of which loan, and readings against what was agreed.

The stages are those of the trade sheet, US-25: before packing, in the crate, on arrival, in between, on
return.
"""

from __future__ import annotations

import pytest

from catalogue.argument.climate import ClimateReading, agreed, judged, outside
from catalogue.argument.loans import STAGES, stages
from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import ConditionCheck, Facility, Loan, Work

PAINTING = "work/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a10"
WHO = "party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a11"


def check(occasion, day):
    return ConditionCheck(occasion=f"occasion/{occasion}", on=Day.from_iso(day), by=WHO)


def course(loan=None, *checks):
    """The stages with the days of their checks."""
    found = stages(Work(checks=checks), loan)
    return [
        (each.occasion.partition("/")[2], each.check.on.iso if each.check else "")
        for each in found
    ]


def lent(began=None, ended=None):
    days = [Day.from_iso(each) if each else None for each in (began, ended)]
    return Loan(work=PAINTING, began=days[0], ended=days[1])


def test_a_loan_has_five_stages_even_before_anybody_has_looked():
    assert course() == [(each.partition("/")[2], "") for each in STAGES]


def test_each_check_stands_at_its_stage_in_the_order_of_the_way():
    found = course(
        lent("2026-05-01"),
        check("loan-return", "2026-09-02"),
        check("loan-out", "2026-04-20"),
        check("loan-arrival", "2026-05-03"),
        check("incoming", "2026-04-01"),
    )
    assert found == [
        ("loan-out", "2026-04-20"),
        ("loan-crate", ""),
        ("loan-arrival", "2026-05-03"),
        ("loan-mid-term", ""),
        ("loan-return", "2026-09-02"),
    ]


def test_somebody_who_looked_twice_stands_twice():
    found = course(
        None, check("loan-mid-term", "2026-06-01"), check("loan-mid-term", "2026-07-01")
    )
    assert [day for stage, day in found if stage == "loan-mid-term"] == [
        "2026-06-01",
        "2026-07-01",
    ]


FIRST = (check("loan-out", "2020-01-10"), check("loan-return", "2020-06-10"))
SECOND = (check("loan-out", "2026-04-20"), check("loan-return", "2026-09-02"))


@pytest.mark.parametrize(
    ("began", "days"),
    [
        ("2020-02-01", ["2020-01-10", "2020-06-10"]),
        ("2026-05-01", ["2026-04-20", "2026-09-02"]),
        (None, ["2026-04-20", "2026-09-02"]),
    ],
)
def test_the_checks_of_another_loan_are_not_taken_for_those_of_this_one(began, days):
    found = course(lent(began), *FIRST, *SECOND)
    assert [day for _, day in found if day] == days


def test_a_loan_that_has_not_begun_has_none_of_the_last_ones_checks():
    assert all(day == "" for _, day in course(lent("2030-01-01"), *FIRST, *SECOND))


def test_a_check_on_loan_that_says_no_more_counts_for_the_arrival_then_for_between():
    found = dict(course(None, check("on-loan", "2026-05-03"), check("on-loan", "2026-06-03")))
    assert found["loan-arrival"] == "2026-05-03"
    assert found["loan-mid-term"] == "2026-06-03"


# --- readings against what was agreed -------------------------------------------------------------

GREEN = Loan(
    work=PAINTING, humidity_least_percent=40, humidity_most_percent=60, humidity_swing_percent=10,
    temperature_least_c=16, temperature_most_c=25,
)  # fmt: skip


def test_a_loggers_readings_are_held_against_what_was_agreed():
    """Trade sheet C13, worked example: 10 of 12 in range, passes ten either way of the mean."""
    humidities = (52, 54, 58, 61, 63, 59, 55, 50, 47, 49, 52, 54)
    readings = [ClimateReading(2 * at, 20, each) for at, each in enumerate(humidities)]
    found = judged(readings, agreed(GREEN))
    assert round(found.humidity.in_range_percent, 1) == 83.3
    assert found.humidity.deviation == 8.5
    assert found.humidity.steady
    assert len(found.breaches) == 2


@pytest.mark.parametrize(
    ("temperature", "humidity", "beyond"),
    [
        (20, 50, ()),
        (16, 60, ()),
        (15.9, 50, ("temperature",)),
        (26, 61, ("temperature", "humidity")),
        (None, 39, ("humidity",)),
        (None, None, ()),
    ],
)
def test_a_reading_outside_is_named(temperature, humidity, beyond):
    assert outside(GREEN, temperature, humidity) == beyond


def test_what_nobody_agreed_is_no_bound():
    assert agreed(Loan(work=PAINTING)) is None
    assert outside(Loan(work=PAINTING), 50, 99) == ()
    assert outside(Loan(work=PAINTING, humidity_most_percent=60), 50, 20) == ()


# --- what cannot be agreed ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"began": Day(2026, 5, 1), "ended": Day(2026, 4, 1)}, "Loan.ended"),
        (
            {"covered_from": Day(2026, 5, 1), "covered_until": Day(2026, 4, 1)},
            "Loan.covered_until",
        ),
        (
            {"humidity_least_percent": 60, "humidity_most_percent": 40},
            "Loan.humidity_most_percent",
        ),
        ({"temperature_least_c": 25, "temperature_most_c": 16}, "Loan.temperature_most_c"),
        ({"insured_value": 100}, "Loan.currency"),
        ({"lux_most": -1}, "Loan.lux_most"),
        (
            {"facilities": (Facility(kind="facility/barrier", answer="answer/yes"),) * 2},
            "Loan.facilities",
        ),
    ],
)
def test_a_loan_that_cannot_be_is_refused(fields, said):
    with pytest.raises(BadData, match=said):
        Loan(work=PAINTING, **fields)
