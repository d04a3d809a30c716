"""US-15, the client's approval: who, when, which words, which option, up to what sum, with which permissions.

The story and its acceptance facts are those of the trade sheet, section 1.4; that work stops at the whole
of what was approved is its C14.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO

from catalogue.errors import BadData, Stopped
from catalogue.linked.approvals import approval_holds
from catalogue.measure import Day
from catalogue.record import (
    Approval,
    Departure,
    Hours,
    Item,
    Job,
    Option,
    Override,
    PlannedStep,
    Proposal,
    Step,
    Treatment,
    Work,
)

WORK = Work()
LEAVE = Option(order=1, title="Leave it", nothing=True)
CLEAN = Option(
    order=2, title="Dry clean the front", rate=50, currency="currency/euro",
    steps=(PlannedStep(order=1, kind="step/dry-clean", hours_likely=10),),
)  # fmt: skip
PROPOSAL = Proposal(options=(LEAVE, CLEAN))
APPROVAL = Approval(
    proposal=PROPOSAL.id, option=CLEAN.id, by=CLIENT.document, on=Day(2026, 3, 9), cap=500,
    photos=True, publication=False, samples=False, removed="Comes back in a bag.",
)  # fmt: skip
JOB = Job(
    reason="reason/treatment", client=CLIENT.document, items=(Item(work=WORK.document),),
    proposals=(PROPOSAL,),
)  # fmt: skip


@pytest.fixture
def house(empty_studio):
    for record in (ARTIST, CLIENT, WORK):
        empty_studio.save(record, who=WHO)
    return empty_studio


def begin(house, **said):
    """Write down that a step begins today."""
    read = house.work(WORK.id)
    order = sum(len(each.steps) for each in read.record.treatments) + 1
    step = Step(order=order, kind="step/dry-clean", began=house.today(), **said)
    treatment = Treatment(
        id=WORK.id, steps=(*(s for t in read.record.treatments for s in t.steps), step)
    )
    return house.save(replace(read.record, treatments=(treatment,)), who=WHO, read=read)


def stopped_by(house, **said):
    """The rules that stop a step which begins today."""
    try:
        begin(house, **said)
    except Stopped as stop:
        return {stop.rule, *(each.rule for each in stop.refusals)} - {""}
    return set()


def test_it_says_who_when_which_option_up_to_what_and_each_permission_by_itself(house):
    kept = house.save(replace(JOB, approvals=(APPROVAL,)), who=WHO).record
    (given,) = kept.approvals
    assert (given.by, given.on, given.cap) == (CLIENT.document, Day(2026, 3, 9), 500)
    assert kept.option(given) == CLEAN
    assert (given.photos, given.publication, given.samples) == (True, False, False)
    assert given.removed == "Comes back in a bag."


def test_it_is_of_the_words_that_were_proposed_and_of_no_later_ones(house):
    read = house.save(replace(JOB, approvals=(APPROVAL,)), who=WHO)
    kept = read.record
    assert len(kept.approvals[0].digest) == 64
    assert approval_holds(kept, kept.approvals[0])
    dearer = replace(kept.proposals[0], options=(LEAVE, replace(CLEAN, rate=60)))
    changed = house.save(replace(kept, proposals=(dearer,)), who=WHO, read=read).record
    assert not approval_holds(changed, changed.approvals[0])


@pytest.mark.parametrize(
    "wrong",
    [
        {"proposal": "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b99"},
        {"option": "5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b99"},
        {"digest": "not a digest"},
    ],
)
def test_nobody_approves_what_was_not_proposed(wrong):
    with pytest.raises(BadData):
        replace(JOB, approvals=(replace(APPROVAL, **wrong),))


def test_no_step_begins_before_it_is_approved(house):
    read = house.save(JOB, who=WHO)
    assert "O1" in stopped_by(house)
    house.save(replace(read.record, approvals=(APPROVAL,)), who=WHO, read=read)
    assert "O1" not in stopped_by(house)


def test_an_approval_of_other_words_is_none(house):
    read = house.save(replace(JOB, approvals=(APPROVAL,)), who=WHO)
    dearer = replace(read.record.proposals[0], options=(LEAVE, replace(CLEAN, rate=60)))
    house.save(replace(read.record, proposals=(dearer,)), who=WHO, read=read)
    assert "O1" in stopped_by(house)


def test_an_emergency_says_why_and_may_begin(house):
    house.save(JOB, who=WHO)
    assert "O1" not in stopped_by(house, emergency="A flap of canvas hung by two threads.")
    with pytest.raises(BadData):
        Step(order=1, kind="step/face", emergency=" ")


WORKED = Hours(on=Day(2026, 3, 10), hours=10)


def test_at_the_whole_of_what_was_approved_no_new_step_begins(house):
    """Trade sheet, C14: stop new steps at 100 % until approved."""
    read = house.save(replace(JOB, approvals=(APPROVAL,), hours=(WORKED,)), who=WHO)
    with pytest.raises(Stopped, match=r"has spent 500\.00 of the 500\.00") as refused:
        begin(house)
    assert refused.value.rule == "COST"
    assert house.work(WORK.id).record.treatments == ()
    agreed = Departure(on=Day(2026, 3, 11), what="The back as well", cost=200, approved=True)
    house.save(replace(read.record, departures=(agreed,)), who=WHO, read=read)
    assert "COST" not in stopped_by(house)


def test_below_it_nothing_stops(house):
    nearly = replace(WORKED, hours=9.5)
    house.save(replace(JOB, approvals=(APPROVAL,), hours=(nearly,)), who=WHO)
    assert "COST" not in stopped_by(house)


@pytest.mark.parametrize(
    "said",
    [
        {"overrides": (Override(rule="COST", reason="The owner said so at the door."),)},
        {"emergency": "The flap hung by two threads."},
    ],
)
def test_with_a_written_reason_one_goes_on(house, said):
    house.save(replace(JOB, approvals=(APPROVAL,), hours=(WORKED,)), who=WHO)
    assert "COST" not in stopped_by(house, **said)
