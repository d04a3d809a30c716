"""US-1, entry receipt: a painting is logged the minute it arrives, and the depositor gets a receipt.

The story and its acceptance facts are those of the trade sheet, section 1.1 (after Spectrum's object
entry). What is printed of it is held by the tests of documents.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO

from catalogue.errors import BadData
from catalogue.house import lacks_on_entry
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.measure import Day, read_date
from catalogue.record import Content, Item, Job, Movement, Risk, Title, Work
from catalogue.studio import Studio
from catalogue.terms import group

CAME = Day(2026, 11, 25)
WORK = Work(titles=(Title(text="Sea Wall, Evening", kind="title/inscribed"),))
NO = tuple(Risk(kind=danger.key, answer="answer/no") for danger in group("risk"))
ARRIVED = Item(
    work=WORK.document, came=CAME, arrived_by="by hand", packing="blanket", due=Day(2027, 3, 1),
    condition="Tear upper left, seen from the front.", risks=NO,
    contents=(
        Content(kind="content/painting"), Content(kind="content/frame"),
        Content(kind="content/backing-board"), Content(kind="content/hardware", count=4),
        Content(kind="content/fragment", count=2), Content(kind="content/bag", what="labels"),
    ),
)  # fmt: skip
JOB = Job(
    reason="reason/treatment", client=CLIENT.document, terms_version="2025-2", items=(ARRIVED,)
)


@pytest.fixture
def house(empty_studio):
    for record in (ARTIST, CLIENT, WORK):
        empty_studio.save(record, who=WHO)
    return empty_studio


def test_the_entry_number_is_unique_issued_once_and_never_used_again(house):
    first = house.save(JOB, who=WHO)
    house.withdraw(first.document_id, who=WHO, why="the owner turned back at the door")
    second = house.save(replace(JOB, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b02"), who=WHO)
    assert first.record.number
    assert second.record.number
    assert first.record.number != second.record.number
    again = replace(JOB, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b03", number=first.record.number)
    with pytest.raises(BadData, match="taken"):
        house.save(again, who=WHO)


def test_depositor_and_owner_are_two_fields_and_a_stranger_needs_authority():
    brought = replace(JOB, depositor=ARTIST.document, owner=CLIENT.document)
    assert list(lacks_on_entry(brought, ARRIVED)) == [
        "by what right somebody who is not the owner brings it"
    ]
    with_word = replace(brought, authority="The owner's letter of 20 November")
    assert list(lacks_on_entry(with_word, ARRIVED)) == []


@pytest.mark.parametrize(
    "reason",
    [
        "examination", "treatment", "valuation", "consignment", "purchase-offer", "loan", "storage",
        "framing", "return-visit",
    ],
)  # fmt: skip
def test_the_reason_is_one_of_the_nine(reason):
    assert replace(JOB, reason=f"reason/{reason}").reason == f"reason/{reason}"


def test_another_reason_is_refused():
    with pytest.raises(BadData, match="reason"):
        replace(JOB, reason="reason/curiosity")


def test_the_day_of_return_is_asked_for_and_there_is_a_list_of_what_is_overdue(
    house, monkeypatch
):
    assert list(lacks_on_entry(JOB, replace(ARRIVED, due=None))) == [
        "the day on which it is to go back"
    ]
    kept = house.save(JOB, who=WHO).record
    monkeypatch.setattr(Studio, "today", lambda self: Day(2027, 3, 1))
    assert house.overdue() == ()
    monkeypatch.setattr(Studio, "today", lambda self: Day(2027, 3, 8))
    (late,) = house.overdue()
    assert (late.job.number, late.days) == (kept.number, 7)
    assert house.bench().here[0].overdue


def test_frame_board_hardware_fragments_and_labels_are_counted_each_by_itself():
    counted = {each.kind: each.count for each in ARRIVED.contents}
    assert counted == {
        "content/painting": 1, "content/frame": 1, "content/backing-board": 1,
        "content/hardware": 4, "content/fragment": 2, "content/bag": 1,
    }  # fmt: skip
    with pytest.raises(BadData):
        Content(kind="content/frame", count=0)


@pytest.mark.parametrize("danger", [each.key for each in group("risk")])
def test_each_danger_must_be_answered_and_a_yes_keeps_it_off_the_bench(house, danger):
    others = tuple(risk for risk in NO if risk.kind != danger)
    (lacks,) = lacks_on_entry(JOB, replace(ARRIVED, risks=others))
    assert lacks.startswith("whether it was looked over for ")
    found = replace(ARRIVED, risks=(*others, Risk(kind=danger, answer="answer/yes")))
    assert found.quarantine
    house.save(replace(JOB, items=(found,)), who=WHO)
    read = house.work(WORK.id)
    to_bench = Movement(
        to="Bench 1", reason="movement/bench", when=read_date("26 November 2026")
    )
    with pytest.raises(BadData, match="kept apart"):
        house.save(replace(read.record, movements=(to_bench,)), who=WHO, read=read)


def test_the_five_questions_are_those_of_the_sheet():
    """Live insects, mould, flaking paint, broken glass, unknown powder."""
    assert {each.name for each in group("risk")} == {
        "live-insects", "mould", "flaking-paint", "broken-glass", "unknown-powder",
    }  # fmt: skip


def test_two_answers_to_one_question_are_refused():
    with pytest.raises(BadData, match="one answer"):
        replace(ARRIVED, risks=(*NO, Risk(kind="risk/mould", answer="answer/yes")))


def test_what_was_said_at_the_door_comes_back_as_it_was_said():
    assert from_jsonld(to_jsonld(JOB)) == JOB
