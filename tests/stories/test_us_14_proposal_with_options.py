"""US-14, a proposal with options: always one that leaves the painting as it is, each with what it means.

The story and its acceptance facts are those of the trade sheet, section 1.4; the three aims are ICOM-CC's
(New Delhi, 2008).
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import Approval, Job, Option, PlannedStep, Proposal
from catalogue.terms import group

LEAVE = Option(
    order=1, title="Leave it, with a board behind", nothing=True, aim="aim/preventive"
)
MEND = Option(
    order=2, title="Mend and patch", aim="aim/remedial",
    steps=(
        PlannedStep(order=1, kind="step/tear-mend", hours_low=6, hours_likely=8, hours_high=12),
        PlannedStep(order=2, kind="step/patch", hours_likely=2),
    ),
    risk="The ink may run.", retreatability="The patch comes off with warmth.",
    on_inscriptions="Half the title is covered; it is read and photographed first.",
    rate=50, currency="currency/euro", materials_cost=100, tax_percent=21,
)  # fmt: skip
PROPOSAL = Proposal(on=Day(2026, 3, 4), valid_until=Day(2026, 6, 4), options=(LEAVE, MEND))


def test_an_option_says_aim_steps_risk_retreatability_and_what_becomes_of_the_writing():
    assert MEND.aim == "aim/remedial"
    assert [step.kind for step in MEND.steps] == ["step/tear-mend", "step/patch"]
    assert MEND.risk
    assert MEND.retreatability
    assert MEND.on_inscriptions


def test_it_says_hours_and_a_range_of_costs():
    costs = MEND.costs()
    assert [each.hours for each in (costs.low, costs.likely, costs.high)] == [
        Decimal("7.6"), 10, Decimal("14.6"),
    ]  # fmt: skip
    assert [each.total for each in (costs.low, costs.likely, costs.high)] == [
        Decimal("580.80"), Decimal("726.00"), Decimal("1004.30"),
    ]  # fmt: skip


def test_it_holds_up_to_a_day_that_is_not_before_it_was_made():
    assert PROPOSAL.valid_until == Day(2026, 6, 4)
    with pytest.raises(BadData, match="made on"):
        replace(PROPOSAL, valid_until=Day(2026, 3, 3))


def test_nobody_can_approve_where_doing_nothing_was_not_offered():
    pushed = replace(PROPOSAL, options=(MEND,))
    assert not pushed.leaves_a_choice
    approval = Approval(proposal=pushed.id, option=MEND.id, on=Day(2026, 3, 9))
    with pytest.raises(BadData, match="doing nothing is among"):
        Job(reason="reason/treatment", proposals=(pushed,), approvals=(approval,))
    Job(reason="reason/treatment", proposals=(PROPOSAL,), approvals=(approval,))


def test_the_aims_are_the_three_of_icom_cc():
    """ICOM-CC, resolution on terminology, New Delhi 2008: preventive, remedial, restoration."""
    assert {each.name for each in group("aim")} == {"preventive", "remedial", "restoration"}


@pytest.mark.parametrize(
    ("said", "rule"),
    [
        ({"hours_low": 3}, "likely hours first"),
        ({"hours_likely": 3, "hours_low": 4}, "rise from low to high"),
        ({"hours_likely": 3, "hours_high": 2}, "rise from low to high"),
        ({"hours_likely": -1}, "between"),
    ],
)
def test_hours_that_cannot_be_are_refused(said, rule):
    with pytest.raises(BadData, match=rule):
        PlannedStep(order=1, kind="step/tear-mend", **said)


def test_a_sum_needs_its_currency_and_each_thing_its_own_place_in_the_order():
    with pytest.raises(BadData, match="currency"):
        Option(order=1, title="Mend", rate=50)
    with pytest.raises(BadData, match="one place in order"):
        replace(PROPOSAL, options=(LEAVE, replace(MEND, order=1)))
    with pytest.raises(BadData, match="one place in order"):
        replace(MEND, steps=(MEND.steps[0], replace(MEND.steps[1], order=1)))
