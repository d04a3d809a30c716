"""US-1, entry receipt, on paper: the depositor goes home with an account of what was left, and no value.

The story and its acceptance facts are those of the trade sheet, section 1.1 (after Spectrum's object
entry and its note of 2018 about the privacy notice).
"""

from __future__ import annotations

import pytest
from made_records import ARTIST, CLIENT, WHO
from printed_papers import both

from catalogue.measure import Day
from catalogue.record import Content, Item, Job, Risk, Title, Work
from catalogue.terms import group

WORK = Work(titles=(Title(text="Sea Wall, Evening", kind="title/inscribed"),))
JOB = Job(
    reason="reason/treatment", client=CLIENT.document, owner=CLIENT.document,
    depositor=ARTIST.document, authority="The owner's letter of 20 November",
    insurance="25 000 pounds, the owner's policy", terms_version="2025-2",
    requirements="Keep the old stretcher.",
    items=(
        Item(
            work=WORK.document, came=Day(2026, 11, 25), due=Day(2027, 3, 1), arrived_by="by hand",
            condition="Tear upper left, seen from the front.",
            contents=(
                Content(kind="content/painting"), Content(kind="content/frame"),
                Content(kind="content/backing-board"), Content(kind="content/hardware", count=4),
                Content(kind="content/fragment", count=2),
                Content(kind="content/bag", what="labels"),
            ),
            risks=tuple(Risk(kind=danger.key, answer="answer/no") for danger in group("risk")),
        ),
    ),
)  # fmt: skip


@pytest.fixture
def receipt(empty_studio):
    for record in (ARTIST, CLIENT, WORK):
        empty_studio.save(record, who=WHO)
    number = empty_studio.save(JOB, who=WHO).record.number
    return number, both(empty_studio, number, "entry-receipt")


def test_it_carries_the_entry_number_and_the_day(receipt):
    number, told = receipt
    assert f"Entry number {number}" in told
    assert "Received on 25 November 2026" in told


def test_depositor_and_owner_stand_apart_with_the_authority_to_act(receipt):
    _, told = receipt
    assert "Brought by Ada Penhale" in told
    assert "Owner Mrs Quillan" in told
    assert "Authority to act for the owner The owner's letter of 20 November" in told


def test_it_says_reason_way_condition_requirements_and_the_day_of_return(receipt):
    _, told = receipt
    for said in (
        "Reason treatment", "How it came by hand", "Requirements Keep the old stretcher.",
        "Condition in brief Tear upper left, seen from the front.", "Return by 1 March 2027",
    ):  # fmt: skip
        assert said in told


def test_everything_that_came_is_counted_by_itself(receipt):
    _, told = receipt
    for said in (
        "1 × painting", "1 × frame", "1 × backing board", "4 × hanging hardware",
        "2 × loose fragment", "1 × bag or envelope (labels)", "10 in all",
    ):  # fmt: skip
        assert said in told


def test_every_danger_that_was_looked_for_is_answered(receipt):
    _, told = receipt
    for danger in group("risk"):
        assert f"{danger.label}: no" in told.replace("Broken", "broken")


def test_privacy_notice_terms_and_both_signatures_are_on_it(receipt):
    _, told = receipt
    assert "Privacy We keep the names on this receipt" in told
    assert "terms of business, version 2025-2" in told
    assert "For the depositor, who has read this receipt Ada Penhale Day" in told
    assert "For the studio Day" in told


def test_it_contains_no_valuation(receipt):
    _, told = receipt
    assert "25 000" not in told
    assert "policy" not in told
    assert "This receipt states no value." in told
