"""Commissions as linked data: what is planned is not what was done, and points into the work it is about."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import full_job, full_work

from catalogue.errors import BadDocument
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.graph import graph
from catalogue.record import Hours, Item, Job, PlannedStep

WORK = full_work()
JOB = full_job(WORK)
OURS = "https://dorse.example/ns/1#"
BASE = "https://backs.example/"


def made(**said):
    return Job(id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2d01", reason="reason/treatment", **said)


def test_a_commission_that_says_no_more_than_before_is_written_as_before():
    """The keys of a document of before there were proposals."""
    item = Item(work=WORK.document, condition="torn")
    document = to_jsonld(made(items=(item,)))
    assert set(document) == {"@context", "id", "type", "classified_as", "part"}
    assert set(document["part"][0]) == {
        "id", "type", "classified_as", "used_specific_object", "condition_on_entry",
    }  # fmt: skip
    assert from_jsonld(document) == made(items=(item,))


def test_what_is_planned_points_into_the_work_and_not_into_the_job():
    (proposal,) = to_jsonld(JOB)["proposals"]
    (step,) = proposal["part"][1]["part"]
    label = WORK.inscriptions[0]
    assert step["would_cover"] == [{"id": f"{WORK.document}#{label.id}"}]
    found = {(str(s), str(p), str(o)) for s, p, o in graph(to_jsonld(JOB), base=BASE)}
    at = f"{BASE}{JOB.document}#{JOB.proposals[0].options[1].steps[0].id}"
    assert (at, f"{OURS}wouldCover", f"{BASE}{WORK.document}#{label.id}") in found


def test_a_plan_covers_and_removes_nothing_yet():
    """Who asks what lies under a patch is told of no patch that nobody made."""
    said = {str(p) for _, p, _ in graph(to_jsonld(JOB), base=BASE)}
    assert not said & {f"{OURS}covers", f"{OURS}removes"}
    assert said >= {f"{OURS}wouldCover", f"{OURS}wouldRemove", f"{OURS}wouldAddress"}


@pytest.mark.parametrize("work", [None, WORK.document], ids=["unnamed", "named"])
def test_a_pointer_comes_back_whether_or_not_its_work_is_named(work):
    step = PlannedStep(order=1, kind="step/patch", work=work, covers=(WORK.inscriptions[0].id,))
    hours = Hours(
        on=JOB.hours[0].on, hours=1, work=work, step=WORK.treatments[0].steps[0].id
    )  # fmt: skip
    option = replace(JOB.proposals[0].options[1], steps=(step,))
    job = made(proposals=(replace(JOB.proposals[0], options=(option,)),), hours=(hours,))
    assert from_jsonld(to_jsonld(job)) == job


def test_what_somebody_else_adds_is_left_alone():
    document = to_jsonld(JOB)
    document["part"].append({"id": "#x", "type": "Activity", "_label": "a visit"})
    document["proposals"][0]["part"].append({"id": "#y", "type": "PropositionalObject"})
    document["pieces"].append(
        {"id": "https://elsewhere.example/bag", "type": "HumanMadeObject"}
    )
    assert from_jsonld(document) == JOB


def nodes(held):
    if isinstance(held, dict):
        yield held
    for inner in (
        held.values() if isinstance(held, dict) else held if isinstance(held, list) else ()
    ):
        yield from nodes(inner)


def first_of(document, mark):
    """The first node of this sort."""
    return next(
        here
        for here in nodes(document)
        if any(
            isinstance(each, dict) and each.get("id") == OURS + mark
            for each in here.get("classified_as", [])
        )
    )


@pytest.mark.parametrize(
    ("mark", "key", "value", "says"),
    [
        ("activity/hours-worked", "hours_worked", "three", "a number is expected"),
        ("activity/hours-worked", "hours_worked", -3, "between 0 and 10000"),
        ("object/contents", "how_many", 1.5, "a whole number is expected"),
        ("object/proposal", "valid_until", "soon", "is not a day"),
        ("object/proposal", "valid_until", "2020-01-01", "it was made on"),
        ("object/option", "tax_percent", 101, "between 0 and 100"),
        ("activity/approval", "approved_text", "abc", "64 lower-case"),
        ("object/removed-piece", "gone_on", "2020-01-01", "taken off on"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(mark, key, value, says):
    document = to_jsonld(JOB)
    first_of(document, mark)[key] = value
    with pytest.raises(BadDocument, match=says) as refused:
        from_jsonld(document)
    assert refused.value.where.startswith("/")


def test_codes_of_a_data_sheet_that_are_no_texts_are_refused():
    document = to_jsonld(WORK)
    held = next(each for each in nodes(document) if "hazard_codes" in each)
    held["hazard_codes"] = ["H225", 319]
    with pytest.raises(BadDocument, match="where a text is expected"):
        from_jsonld(document)


def test_a_commission_of_the_first_format_is_read():
    """As it stood before a depositor, a proposal or a bag could be written down."""
    document = {
        "@context": to_jsonld(JOB)["@context"],
        "id": JOB.document,
        "type": "Activity",
        "classified_as": to_jsonld(made())["classified_as"],
        "client": [{"id": JOB.client, "type": "Actor"}],
        "approved_on": "2026-03-09",
    }
    job = from_jsonld(document)
    assert (job.client, job.approved, job.proposals, job.pieces) == (
        JOB.client,
        JOB.approved,
        (),
        (),
    )
