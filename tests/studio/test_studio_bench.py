"""What a day begins with: what is here and needs a hand first, kept up with every save."""

from __future__ import annotations

from dataclasses import replace

import pytest

from catalogue.at_the_bench import Shown, Stay, Wait, in_order, needs, sentence, waiting
from catalogue.measure import Day
from catalogue.record import Item, Job, Party, PartyName, Step, Title, Treatment, Work
from catalogue.studio import Studio

WHO = "Nell Quince"
TODAY = Day(2026, 3, 10)
SHOWN = Shown(document="work/1", number="2026-001", title="Low Water", maker="Ada Penhale")
QUIET = Stay(
    shown=SHOWN, job="job/1", job_number="J2026-001", came=Day(2026, 2, 1), due=Day(2026, 6, 1),
    next_step="lift the tape", place="easel 1",
)  # fmt: skip


def wait(until: Day | None, *, rests: bool = False) -> Wait:
    return Wait(step="T1.2", kind="step/wait", since=Day(2026, 3, 1), until=until, rests=rests)


@pytest.mark.parametrize(
    ("change", "needed"),
    [
        ({}, ()),
        ({"due": Day(2026, 3, 9)}, ("overdue",)),
        ({"due": TODAY}, ("soon",)),
        ({"due": Day(2026, 3, 17)}, ("soon",)),
        ({"due": Day(2026, 3, 18)}, ()),
        ({"due": None}, ()),
        ({"stops": 2, "apart": ("live insects",)}, ("apart", "stopped")),
        ({"place": ""}, ("nowhere",)),
        ({"asked": "Q1"}, ("approval",)),
        ({"next_step": None}, ("unplanned",)),
        ({"wait": wait(Day(2026, 3, 11))}, ("drying",)),
        ({"wait": wait(TODAY)}, ("dry",)),
        ({"wait": wait(None)}, ("drying",)),
        ({"wait": wait(Day(2026, 3, 11), rests=True)}, ("drying",)),
        ({"wait": wait(TODAY, rests=True)}, ()),
    ],
)  # fmt: skip
def test_what_a_work_needs_on_a_day(change, needed):
    assert needs(replace(QUIET, **change), TODAY) == needed


def step(order: int, kind: str, began: Day | None = None, ended: Day | None = None) -> Step:
    return Step(order=order, kind=f"step/{kind}", began=began, ended=ended)


@pytest.mark.parametrize(
    ("steps", "until", "rests"),
    [
        ([step(1, "wait", Day(2026, 3, 1), Day(2026, 3, 8))], Day(2026, 3, 8), False),
        ([step(1, "dry-under-weight", Day(2026, 3, 1))], None, False),
        # a day of rest after moisture: rule O21 of vocab/order_rules.toml, common practice, no source
        ([step(1, "humidify", Day(2026, 3, 9), Day(2026, 3, 9))], TODAY, True),
        ([step(1, "humidify", Day(2026, 3, 9))], TODAY, True),
    ],
)
def test_a_wait_is_told_with_its_last_day(steps, until, rests):
    found = waiting(Work(treatments=(Treatment(number="T1", steps=tuple(steps)),)))
    assert (found.until, found.rests, found.step) == (until, rests, "T1.1")


@pytest.mark.parametrize(
    "steps",
    [
        [],
        [step(1, "wait")],
        [
            step(1, "wait", Day(2026, 3, 1), Day(2026, 3, 8)),
            step(2, "varnish", Day(2026, 3, 9)),
        ],
        [step(1, "surface-clean", Day(2026, 3, 9), Day(2026, 3, 9))],
    ],
)
def test_what_is_only_planned_or_over_is_no_wait(steps):
    assert waiting(Work(treatments=(Treatment(number="T1", steps=tuple(steps)),))) is None


def test_what_needs_a_hand_comes_first_and_is_said_in_one_sentence():
    def of(number: str, **change: object) -> Stay:
        return replace(QUIET, shown=replace(SHOWN, number=number), **change)

    here = in_order(
        (
            of("4"),
            of("2", due=Day(2026, 3, 1)),
            of("5", asked="Q1"),
            of("1", apart=("mould",)),
            of("6", due=Day(2026, 2, 1), stops=1),
            of("3", stops=3),
        ),
        TODAY,
    )
    assert [each.stay.shown.number for each in here] == ["1", "6", "2", "3", "5", "4"]
    assert sentence(here) == (
        "Today: one work is to be kept apart, 2 are overdue and one is stopped until something "
        "is supplied."
    )
    assert sentence(here[-2:]) == "Nothing in the house needs a hand today."
    assert here[1].late_days == 37


@pytest.fixture
def house():
    with Studio.open("memory:") as studio:
        yield studio


def kept(studio: Studio, title: str) -> str:
    titles = (Title(text=title, kind="title/given", preferred=True),)
    return studio.save(Work(titles=titles), who=WHO).document_id


def job_of(work: str, **more: object) -> Job:
    item = Item(work=work, came=Day(2026, 2, 1), **more)
    return Job(reason="reason/treatment", items=(item,))


def test_the_bench_follows_every_save(house):
    work = kept(house, "Low Water")
    assert house.bench().here == ()
    read = house.save(job_of(work, kept_at="easel 1"), who=WHO)
    (line,) = house.bench().here
    assert (line.stay.shown.title, line.stay.place) == ("Low Water", "easel 1")

    before = house.read(work)
    titles = (replace(before.record.titles[0], text="High Water"),)
    house.save(replace(before.record, titles=titles), who=WHO, read=before)
    assert house.bench().here[0].stay.shown.title == "High Water"
    assert house.bench().latest[0].title == "High Water"

    item = replace(read.record.items[0], left=Day(2026, 3, 1))
    house.save(replace(read.record, items=(item,)), who=WHO, read=read)
    assert house.bench().here == ()


def test_a_name_that_was_corrected_is_told_as_it_is_now(house):
    work = house.new_work(title="Low Water", artist="Ada Penhale", who=WHO)
    house.save(job_of(work.document_id), who=WHO)
    assert house.bench().here[0].stay.shown.maker == "Ada Penhale"
    artist = house.find_party("Ada Penhale")
    named = (PartyName(text="Ada Penhallow", preferred=True),)
    house.save(replace(artist.record, names=named), who=WHO, read=artist)
    assert house.bench().here[0].stay.shown.maker == "Ada Penhallow"
    assert house.bench().latest[0].maker == "Ada Penhallow"


def test_a_second_commission_of_the_same_work_is_looked_at_as_well(house):
    work = kept(house, "Low Water")
    first = house.save(job_of(work), who=WHO)
    assert [each.id for each in house.jobs_of(work)] == [first.record.id]
    second = house.save(job_of(work, kept_at="rack 2"), who=WHO)
    assert {each.id for each in house.jobs_of(work)} == {first.record.id, second.record.id}
    assert {each.stay.job for each in house.bench().here} == {
        first.document_id, second.document_id,
    }  # fmt: skip


def test_what_is_set_aside_is_not_on_the_bench_and_comes_back(house):
    work = kept(house, "Low Water")
    job = house.save(job_of(work), who=WHO).document_id
    for document in (work, job):
        house.withdraw(document, who=WHO, why="by mistake")
        assert house.bench().here == ()
        house.reinstate(document, who=WHO, why="it was none")
        assert len(house.bench().here) == 1


def test_parties_and_works_that_have_no_job_do_not_matter(house):
    work = kept(house, "Low Water")
    house.save(job_of(work), who=WHO)
    before = house.bench().here
    house.save(Party(kind="person", names=(PartyName(text="Una Sele"),)), who=WHO)
    kept(house, "Nets")
    assert house.bench().here == before
    assert house.bench().works == 2
