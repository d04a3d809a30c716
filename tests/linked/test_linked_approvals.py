"""An approval is of the very words that were proposed: it holds until one of them changes."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields, replace

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import full_job, full_work, jobs

from catalogue.linked.approvals import approval_holds, digest_of_proposal, sealed
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.record import Note, Option, PlannedStep, Proposal

WORK = full_work()
JOB = full_job(WORK)
JOB = replace(
    JOB, approvals=sealed(replace(JOB, approvals=(replace(JOB.approvals[0], digest=None),)))
)
PROPOSAL, APPROVAL = JOB.proposals[0], JOB.approvals[0]
OPTION, STEP = PROPOSAL.options[1], PROPOSAL.options[1].steps[0]


def with_proposal(proposal):
    return replace(JOB, proposals=(proposal,))


def with_option(**changed):
    return with_proposal(
        replace(PROPOSAL, options=(PROPOSAL.options[0], replace(OPTION, **changed)))
    )


def test_it_holds_as_long_as_nothing_changed():
    assert approval_holds(JOB, APPROVAL)
    assert approval_holds(from_jsonld(to_jsonld(JOB)), APPROVAL)


OTHERWISE = {
    "order": 9, "title": "Mend", "nothing": True, "aim": "aim/restoration", "steps": (),
    "risk": "None.", "retreatability": None, "on_inscriptions": None, "rate": 60,
    "currency": "currency/pound-sterling", "materials_cost": 139, "outside_cost": None,
    "contingency_percent": 5, "tax_percent": 20,
}  # fmt: skip


@pytest.mark.parametrize("name", [each.name for each in fields(Option) if each.name != "id"])
def test_any_word_of_the_option_takes_it_back(name):
    assert not approval_holds(with_option(**{name: OTHERWISE[name]}), APPROVAL)


STEP_OTHERWISE = {
    "order": 3, "kind": "step/patch", "work": None, "text": None, "location": None,
    "materials": (), "hours_low": None, "hours_likely": 7, "hours_high": None, "addresses": (),
    "covers": (), "removes": (),
}  # fmt: skip


@pytest.mark.parametrize(
    "name", [each.name for each in fields(PlannedStep) if each.name != "id"]
)
def test_so_does_any_word_of_a_step(name):
    changed = replace(STEP, **{name: STEP_OTHERWISE[name]})
    assert not approval_holds(with_option(steps=(changed,)), APPROVAL)


def test_so_does_another_option_beside_it_and_a_later_day():
    assert not approval_holds(
        with_proposal(
            replace(PROPOSAL, options=(*PROPOSAL.options, Option(order=3, title="Line")))
        ),
        APPROVAL,
    )
    assert not approval_holds(with_proposal(replace(PROPOSAL, valid_until=None)), APPROVAL)


def test_what_the_client_was_not_asked_may_change():
    noted = replace(PROPOSAL, number="Q7", notes=(Note(text="Rang twice."),))
    assert approval_holds(with_proposal(noted), APPROVAL)


def test_an_approval_that_names_no_text_holds_for_none():
    assert not approval_holds(JOB, replace(APPROVAL, digest=None))


def test_what_was_sealed_stays_sealed():
    moved = with_option(rate=80)
    assert sealed(moved) == moved.approvals
    assert not approval_holds(moved, moved.approvals[0])


def test_the_digest_is_what_the_standard_library_makes_of_the_document():
    """SHA-256 (FIPS 180-4) of the JSON, keys in order, written anew from the stored document."""
    (stored,) = to_jsonld(with_proposal(replace(PROPOSAL, number=None, notes=())))["proposals"]

    def bare(held):
        if isinstance(held, dict):
            return {key: bare(each) for key, each in held.items() if key != "_label"}
        return [bare(each) for each in held] if isinstance(held, list) else held

    text = json.dumps(bare(stored), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    assert digest_of_proposal(PROPOSAL) == hashlib.sha256(text.encode("utf-8")).hexdigest()


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(jobs)
def test_every_approval_is_sealed_and_holds_once_it_comes_back(job):
    fresh = replace(job, approvals=tuple(replace(each, digest=None) for each in job.approvals))
    kept = replace(fresh, approvals=sealed(fresh))
    again = from_jsonld(to_jsonld(kept))
    assert all(approval_holds(again, each) for each in again.approvals)


def test_two_proposals_that_differ_in_order_only_are_one():
    turned = Proposal(id=PROPOSAL.id, options=PROPOSAL.options[::-1], on=PROPOSAL.on,
                      by=PROPOSAL.by, valid_until=PROPOSAL.valid_until)  # fmt: skip
    assert digest_of_proposal(turned) == digest_of_proposal(PROPOSAL)
