"""The lists of people and of commissions: as the records say, in order, a page at a time, kept up with saves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from catalogue.lists import PAGE
from catalogue.measure import Day
from catalogue.record import Item, Job, Party, PartyName, Title, Work
from catalogue.studio import Studio

WHO = "Nell Quince"


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        yield opened


def party(studio: Studio, name: str, *more: str, role: str = "role/client", **facts: object):
    names = (
        PartyName(text=name, preferred=True, **facts),
        *(PartyName(text=each) for each in more),
    )
    return studio.save(Party(kind="person", names=names, roles=(role,)), who=WHO)


def names(studio: Studio, *asked: object) -> list[str]:
    return [each.name for each in studio.people(*asked).lines]


def test_people_stand_by_the_name_they_are_sorted_by(studio):
    party(studio, "Ada Penhale", sort="Penhale, Ada")
    party(studio, "Zoë Abel", sort="Abel, Zoë")
    party(studio, "Mill & Son", role="role/dealer")
    assert names(studio) == ["Zoë Abel", "Mill & Son", "Ada Penhale"]
    assert names(studio, "", "role/dealer") == ["Mill & Son"]


@pytest.mark.parametrize("typed", ["zoe", "ZOË", "abel z", "Abel Zoë", "wren"])
def test_a_part_of_any_name_finds_a_person_whatever_its_accents(studio, typed):
    party(studio, "Zoë Abel", "Zoë Wren")
    party(studio, "Ada Penhale")
    assert names(studio, typed) == ["Zoë Abel"]
    assert names(studio, f"{typed} and nobody") == []


def test_a_list_follows_saves_and_what_is_set_aside(studio):
    kept = party(studio, "Ada Penhale")
    assert names(studio) == ["Ada Penhale"]
    named = (PartyName(text="Ada Penhallow", preferred=True),)
    studio.save(replace(kept.record, names=named), who=WHO, read=kept)
    assert names(studio) == ["Ada Penhallow"]
    other = party(studio, "A. Penhallow")
    studio.merge(other.document_id, kept.document_id, who=WHO, why="the same person")
    assert len(names(studio)) == 1
    studio.withdraw(kept.document_id, who=WHO, why="by mistake")
    assert names(studio) == []
    studio.reinstate(kept.document_id, who=WHO, why="it was none")
    assert len(names(studio)) == 1


def test_a_long_list_is_told_a_page_at_a_time_and_nobody_is_missing(studio):
    for number in range(PAGE + 5):
        party(studio, f"Client {number:03}")
    first, second = studio.people(), studio.people(page=2)
    assert (first.pages, first.total, len(first.lines), len(second.lines)) == (
        2,
        PAGE + 5,
        PAGE,
        5,
    )
    assert len({each.document for each in (*first.lines, *second.lines)}) == PAGE + 5
    assert studio.people(page=99) == second


def test_commissions_say_what_their_records_say_the_latest_first(studio):
    client = party(studio, "Zoë Abel")
    titles = (Title(text="Low Water", kind="title/given", preferred=True),)
    work = studio.save(Work(titles=titles), who=WHO).document_id
    came = Item(work=work, came=Day(2026, 2, 1), due=Day(2026, 5, 1))
    left = Item(work=work, came=Day(2025, 2, 1), left=Day(2025, 3, 1))
    old = studio.save(
        Job(reason="reason/framing", number="J2025-009", items=(left,)), who=WHO
    ).record
    new = studio.save(
        Job(reason="reason/treatment", number="J2026-010", client=client.document_id, items=(came, left)),
        who=WHO,
    ).record  # fmt: skip
    first, second = studio.commissions().lines
    assert (first.id, second.id) == (new.id, old.id)
    assert (first.number, first.client, first.reason) == (
        new.number, client.document_id, "reason/treatment",
    )  # fmt: skip
    assert (first.works, first.here, first.came, first.due) == (
        2,
        1,
        "2025-02-01",
        "2026-05-01",
    )
    assert (second.works, second.here, second.due) == (1, 0, "")
    assert [each.id for each in studio.commissions(here=True).lines] == [new.id]
    for asked in ("zoe", "j2026", "treatment abel", new.number):
        assert [each.id for each in studio.commissions(asked).lines] == [new.id], asked
