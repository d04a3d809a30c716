"""What was spent against what was approved: from where on it is said, where it stops."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from catalogue.argument.costs import in_force, spending
from catalogue.measure import Day
from catalogue.record import (
    Approval,
    Departure,
    Hours,
    Job,
    Option,
    Outlay,
    PlannedStep,
    Proposal,
)

HOURS = (6, 2, 5, 4.5, 4, 9, 1.5, 3, 1.5, 8, 3.5)
MEND = Option(
    order=2, title="Mend", rate=55, currency="currency/euro", materials_cost=138,
    contingency_percent=10, tax_percent=21,
    steps=tuple(
        PlannedStep(order=place, kind="step/other", hours_likely=hours)
        for place, hours in enumerate(HOURS, start=1)
    ),
)  # fmt: skip
NOTHING = Option(order=1, title="Leave it", nothing=True)
PROPOSAL = Proposal(options=(NOTHING, MEND))
APPROVAL = Approval(proposal=PROPOSAL.id, option=MEND.id, on=Day(2026, 3, 9))


def job(*, hours=0.0, outlays=0.0, approvals=(APPROVAL,), departures=()):
    return Job(
        reason="reason/treatment", proposals=(PROPOSAL,), approvals=approvals,
        hours=(Hours(on=Day(2026, 4, 1), hours=hours),),
        outlays=(Outlay(on=Day(2026, 4, 1), what="film", amount=outlays),), departures=departures,
    )  # fmt: skip


def test_the_worked_proposal_is_what_was_approved():
    """Trade sheet, C14: 3697.52."""
    assert MEND.costs().likely.total == Decimal("3697.52")
    found = spending(job(hours=40, outlays=138))
    assert (found.approved, found.currency) == (Decimal("3697.52"), "currency/euro")
    assert found.spent == Decimal("2828.98")  # (40 × 55 + 138) × 1.21, by hand
    assert (found.percent, found.level) == (Decimal("76.5"), "within")


CAP = replace(APPROVAL, cap=1000)
UNTAXED = replace(MEND, tax_percent=None, rate=10)


@pytest.mark.parametrize(
    ("hours", "level"),
    [
        (0, "within"),
        (89.9, "within"),
        (90, "warn"),
        (99.9, "warn"),
        (100, "stop"),
        (140, "stop"),
    ],
)
def test_it_is_said_from_nine_tenths_on_and_stops_at_the_whole(hours, level):
    """Trade sheet, C14: warn at 90 %, stop new steps at 100 % until approved."""
    here = replace(
        job(hours=hours, approvals=(CAP,)),
        proposals=(replace(PROPOSAL, options=(NOTHING, UNTAXED)),),
    )
    assert spending(here).level == level


def test_a_departure_adds_what_the_client_agreed_to_and_no_other():
    agreed = Departure(on=Day(2026, 4, 2), what="A larger patch.", cost=100, approved=True)
    found = spending(job(hours=1, departures=(agreed, replace(agreed, approved=False))))
    assert found.approved == Decimal("3818.52")  # 3697.52 + 100 × 1.21


def test_the_last_approval_counts():
    later = replace(
        CAP, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a51", on=Day(2026, 5, 1), cap=5000
    )
    both = job(hours=1, approvals=(later, APPROVAL))
    assert in_force(both) == later
    assert spending(both).approved == 5000


def test_before_an_approval_there_is_nothing_to_measure_by():
    found = spending(job(hours=3, outlays=20, approvals=()))
    assert (found.spent, found.approved, found.percent) == (20, None, None)
    assert (found.hours, found.level) == (3, "within")


def test_an_approval_of_nothing_stops_the_first_hour():
    still = replace(APPROVAL, option=NOTHING.id)
    assert spending(job(approvals=(still,))).level == "within"
    free = spending(job(outlays=5, approvals=(still,)))
    assert (free.level, free.percent) == ("stop", None)
