"""Where everything is, what is overdue, what is kept apart, and who is to be told of a conflict."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO

from catalogue.errors import BadData
from catalogue.house import balance, lacks_on_entry
from catalogue.linked.approvals import approval_holds, digest_of_proposal
from catalogue.measure import Day, read_date
from catalogue.record import (
    Approval,
    Content,
    Item,
    Job,
    Movement,
    Option,
    Piece,
    Proposal,
    Risk,
    Title,
    Work,
)
from catalogue.studio import Studio

WORK = Work(titles=(Title(text="Nets", kind="title/given"),))
INSECTS = Risk(kind="risk/live-insects", answer="answer/yes")
CAME = Day(2026, 10, 1)


@pytest.fixture
def house(empty_studio):
    """A studio with one work, in the house for one job."""
    for record in (ARTIST, CLIENT, WORK):
        empty_studio.save(record, who=WHO)
    return empty_studio


def here(house, **more):
    """The work's stay for a job, kept as it is said."""
    item = Item(work=WORK.document, came=CAME, **more)
    return house.save(
        Job(reason="reason/treatment", client=CLIENT.document, items=(item,)), who=WHO
    )


def moved(house, *moves):
    kept = house.work(WORK.id)
    return house.save(
        replace(kept.record, movements=(*kept.record.movements, *moves)), who=WHO, read=kept
    )


TO_BENCH = Movement(
    to="north window", reason="movement/bench", when=read_date("2 October 2026")
)


@pytest.mark.parametrize(
    "move",
    [
        TO_BENCH,
        replace(TO_BENCH, when=None),
        Movement(to="Bench 2, by the door"),
        Movement(to="easel", when=read_date("October 2026")),
    ],
)
def test_a_work_kept_apart_does_not_go_to_the_bench(house, move):
    """Trade sheet, US-1: a yes sets quarantine and blocks moving to the bench."""
    here(house, risks=(INSECTS,))
    with pytest.raises(BadData, match="live insects") as refused:
        moved(house, move)
    assert "on which day the danger was over" in refused.value.remedy
    assert house.work(WORK.id).record.movements == ()


@pytest.mark.parametrize(
    "move",
    [
        Movement(to="rack 3", reason="movement/store"),
        Movement(to="benchmark store"),
        replace(TO_BENCH, when=read_date("1 September 2026")),
    ],
)
def test_it_goes_anywhere_else_and_what_was_long_ago_may_be_told(house, move):
    here(house, risks=(INSECTS,))
    assert moved(house, move).record.movements == (move,)


@pytest.mark.parametrize("answer", ["answer/no", "answer/not-looked"])
def test_only_a_yes_keeps_it_apart(house, answer):
    here(house, risks=(replace(INSECTS, answer=answer),))
    assert moved(house, TO_BENCH).record.movements == (TO_BENCH,)


def test_once_the_danger_is_settled_the_way_is_open_and_the_yes_stays(house):
    kept = here(house, risks=(INSECTS,))
    over = replace(
        INSECTS, settled=Day(2026, 10, 20), settled_how="Frozen twice; no dust since."
    )
    (item,) = kept.record.items
    assert item.quarantine
    now = house.save(
        replace(kept.record, items=(replace(item, risks=(over,)),)), who=WHO, read=kept
    )
    assert not now.record.items[0].quarantine
    assert now.record.items[0].risks[0].answer == "answer/yes"
    moved(house, TO_BENCH)


def test_a_work_that_left_is_kept_apart_no_more(house):
    here(house, risks=(INSECTS,), left=Day(2026, 10, 2))
    moved(house, TO_BENCH)


def test_what_was_on_the_bench_before_may_be_worked_on_in_words(house):
    moved(house, TO_BENCH)
    here(house, risks=(INSECTS,))
    kept = house.work(WORK.id)
    house.save(replace(kept.record, medium="Oil on canvas"), who=WHO, read=kept)


def test_a_job_cannot_say_that_it_is_at_the_bench_either(house):
    with pytest.raises(BadData, match="kept apart"):
        here(house, risks=(INSECTS,), kept_at="Bench 1")
    kept = here(house, risks=(INSECTS,), kept_at="cold room")
    assert kept.record.items[0].kept_at == "cold room"


def test_where_it_is_comes_from_the_last_move_else_from_the_job(house):
    kept = here(house, kept_at="rack 3", risks=(INSECTS,))
    (told,) = house.whereabouts()
    assert (told.place, told.since, told.by) == ("rack 3", None, None)
    assert [risk.kind for risk in told.apart] == ["risk/live-insects"]
    to_photographer = Movement(
        to="photographer", keeper=CLIENT.document, reason="movement/photography",
        when=read_date("5 October 2026"), by=ARTIST.document,
    )  # fmt: skip
    long_ago = Movement(to="attic", when=read_date("1990"))
    moved(house, to_photographer, long_ago)
    (told,) = house.whereabouts()
    assert (told.place, told.keeper, told.by) == (
        "photographer",
        CLIENT.document,
        ARTIST.document,
    )
    assert told.since == read_date("5 October 2026")
    assert (told.job.id, told.work.id) == (kept.record.id, WORK.id)


def test_what_left_is_nowhere_in_the_house(house):
    here(house, left=Day(2026, 10, 9))
    assert house.whereabouts() == ()


def test_the_overdue_list_begins_with_the_longest(house, monkeypatch):
    monkeypatch.setattr(Studio, "today", lambda self: Day(2026, 11, 25))
    other = house.save(Work(), who=WHO).record
    here(house, due=Day(2026, 11, 24))
    item = Item(work=other.document, came=CAME, due=Day(2026, 10, 26))
    house.save(Job(reason="reason/framing", items=(item,)), who=WHO)
    here(house, due=Day(2026, 11, 25))
    here(house, due=Day(2026, 11, 1), left=Day(2026, 11, 20))
    assert [(each.item.work, each.days) for each in house.overdue()] == [
        (other.document, 30), (WORK.document, 1),
    ]  # fmt: skip


def test_an_entry_number_is_issued_once_and_never_again(house):
    """Trade sheet, US-1: the number is issued once and never re-used."""
    first = here(house)
    second = here(house)
    assert first.record.number != second.record.number
    house.withdraw(second.document_id, who=WHO, why="entered twice")
    third = here(house)
    assert third.record.number not in (first.record.number, second.record.number)
    with pytest.raises(BadData):
        house.save(Job(number=first.record.number, reason="reason/other"), who=WHO)


def test_bags_and_proposals_are_numbered_in_their_job_and_an_approval_is_sealed(house):
    proposal = Proposal(options=(Option(order=1, title="Leave it", nothing=True),))
    approval = Approval(proposal=proposal.id, option=proposal.options[0].id, on=CAME)
    bag = Piece(work=WORK.document, kind="piece/tape", what="Three strips")
    kept = house.save(
        Job(reason="reason/treatment", proposals=(proposal,), approvals=(approval,),
            pieces=(bag, Piece(work=WORK.document, kind="piece/keys", what="Two keys"))),
        who=WHO,
    )  # fmt: skip
    now = kept.record
    assert [each.number for each in now.pieces] == ["B1", "B2"]
    assert now.proposals[0].number == "Q1"
    assert now.approvals[0].digest == digest_of_proposal(proposal)
    assert approval_holds(now, now.approvals[0])
    dearer = replace(now.proposals[0], valid_until=Day(2027, 1, 1))
    changed = house.save(replace(now, proposals=(dearer,)), who=WHO, read=kept).record
    assert not approval_holds(changed, changed.approvals[0])


def test_the_bags_balance():
    states = ("kept", "returned", "returned", "discarded")
    job = Job(
        reason="reason/treatment",
        pieces=tuple(
            Piece(
                work=WORK.document,
                kind="piece/label",
                what="A label",
                state=f"piece-state/{each}",
            )
            for each in states
        ),
    )
    found = balance(job)
    assert (found.taken, len(found.kept), len(found.returned), len(found.discarded)) == (
        4,
        1,
        2,
        1,
    )


WHOLE = Item(
    work=WORK.document, came=CAME, due=Day(2026, 12, 1), arrived_by="by hand", condition="Good.",
    contents=(Content(kind="content/painting"),),
    risks=tuple(
        Risk(kind=f"risk/{each}", answer="answer/no")
        for each in ("live-insects", "mould", "flaking-paint", "broken-glass", "unknown-powder")
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("job", "item", "lacks"),
    [
        (Job(reason="reason/other", client=CLIENT.document), WHOLE, []),
        (Job(reason="reason/other"), WHOLE, ["who the client is"]),
        (
            Job(reason="reason/other", client=CLIENT.document, depositor=ARTIST.document), WHOLE,
            ["by what right somebody who is not the owner brings it"],
        ),
        (
            Job(reason="reason/other", client=CLIENT.document, depositor=ARTIST.document,
                authority="Her letter"), WHOLE, [],
        ),
        (
            Job(reason="reason/other", client=CLIENT.document, owner=ARTIST.document,
                depositor=ARTIST.document), WHOLE, [],
        ),
        (
            Job(reason="reason/other", client=CLIENT.document), replace(WHOLE, due=None),
            ["the day on which it is to go back"],
        ),
        (
            Job(reason="reason/other", client=CLIENT.document), replace(WHOLE, risks=WHOLE.risks[1:]),
            ["whether it was looked over for broken glass"],
        ),
    ],
)  # fmt: skip
def test_what_a_receipt_cannot_do_without_is_said(job, item, lacks):
    assert list(lacks_on_entry(job, item)) == lacks


def test_who_treats_and_advises_on_the_same_work_is_told(house):
    treats = here(house).record
    item = Item(work=WORK.document)
    sells = house.save(Job(reason="reason/consignment", items=(item,)), who=WHO).record
    stores = house.save(Job(reason="reason/storage", items=(item,)), who=WHO).record
    assert [each.id for each in house.conflicts(treats)] == [sells.id]
    assert [each.id for each in house.conflicts(sells)] == [treats.id]
    assert house.conflicts(stores) == ()
