"""What the sample jobs tell of arrival, proposal, approval, time, money and bags: complete, possible, in order."""

from __future__ import annotations

from dataclasses import MISSING, fields
from decimal import Decimal

import pytest

from catalogue.argument.costs import spending
from catalogue.house import lacks_on_entry
from catalogue.linked.approvals import approval_holds
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.places import folder
from catalogue.record import (
    Approval,
    Content,
    Departure,
    Hours,
    Item,
    Job,
    Option,
    Outlay,
    Override,
    Piece,
    PlannedStep,
    Proposal,
    Risk,
)
from catalogue.record.rules import InWork, fields_of, values_within

SAMPLES = folder("sample_records")


def read(kind):
    paths = sorted((SAMPLES / kind).glob("*.json"))
    return {path.stem: from_jsonld(parse(path.read_bytes())) for path in paths}


WORKS = {work.document: work for work in read("works").values()}
JOBS = read("jobs")
EACH_JOB = pytest.mark.parametrize(
    "job", [pytest.param(job, id=name) for name, job in JOBS.items()]
)
ALL = [value for job in JOBS.values() for value in values_within(job)]
ALL += [value for work in WORKS.values() for value in values_within(work)]

KINDS = (
    Job, Item, Content, Risk, Proposal, Option, PlannedStep, Approval, Hours, Outlay, Departure,
    Piece, Override,
)  # fmt: skip


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_field_is_used_somewhere(kind):
    unused = {
        each.name
        for each in fields(kind)
        if each.name != "id"
        and each.default is not MISSING
        and all(
            getattr(value, each.name) == each.default for value in ALL if type(value) is kind
        )
    }
    assert unused == set()


@EACH_JOB
def test_every_work_came_with_what_a_receipt_asks_for(job):
    """Trade sheet, US-1: nothing that is mandatory lacks."""
    assert [said for item in job.items for said in lacks_on_entry(job, item)] == []


@EACH_JOB
def test_every_proposal_leaves_the_choice_of_doing_nothing(job):
    """Trade sheet, US-14."""
    assert all(each.leaves_a_choice for each in job.proposals)
    for proposal in job.proposals:
        assert len(proposal.options) >= 2
        assert all(option.risk or option.nothing for option in proposal.options)


@EACH_JOB
def test_every_approval_holds_and_was_given_in_time(job):
    for approval in job.approvals:
        proposal = job.proposal(approval)
        assert approval_holds(job, approval)
        assert proposal.on <= approval.on <= proposal.valid_until
        assert approval.by == job.client
        assert job.approved == approval.on


@EACH_JOB
def test_nobody_worked_before_it_was_approved_or_after_it_left(job):
    for each in (*job.hours, *job.outlays, *job.departures):
        assert job.approved is not None
        assert each.on > job.approved
        assert all(item.left is None or each.on <= item.left for item in job.items)


@EACH_JOB
def test_hours_are_on_steps_that_were_done_on_that_day(job):
    for each in job.hours:
        steps = {s.id: s for t in WORKS[each.work].treatments for s in t.steps}
        assert steps[each.step].began == each.on


@EACH_JOB
def test_what_points_into_a_work_points_at_something_of_its_kind(job):
    for value in values_within(job):
        rules = [(rule, rule.rule(InWork)) for rule in fields_of(type(value))]
        for rule, elsewhere in rules:
            held = getattr(value, rule.name)
            if elsewhere is None or not held:
                continue
            there = {
                each.id: type(each).__name__
                for each in values_within(WORKS[value.work])
                if hasattr(each, "id")
            }
            for target in held if rule.many else (held,):
                assert there[target] in elsewhere.kinds


@EACH_JOB
def test_no_money_was_spent_beyond_what_was_approved(job):
    assert spending(job).level in ("within", "warn")


def test_one_proposal_is_the_worked_figure():
    """Trade sheet, C14: 3697.52."""
    job = JOBS["j2026-006"]
    assert spending(job).approved == Decimal("3697.52")


@EACH_JOB
def test_a_danger_found_on_entry_was_settled_before_anybody_worked(job):
    for item in job.items:
        assert not item.quarantine
        for risk in item.risks:
            if risk.settled:
                assert item.came <= risk.settled
                assert all(
                    each.on >= risk.settled for each in job.hours if each.work == item.work
                )


@EACH_JOB
def test_every_bag_is_of_a_work_of_the_job_and_went_when_the_work_did(job):
    stays = {item.work: item for item in job.items}
    for piece in job.pieces:
        assert stays[piece.work].came <= piece.taken
        assert (piece.gone is None) == (stays[piece.work].left is None)
