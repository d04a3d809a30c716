"""The figures of the chain of hands against counting day by day, over made-up chains."""

from __future__ import annotations

import random
from itertools import product

import pytest
from chain_events import event, party, work_of
from hypothesis import HealthCheck, Phase, given, settings
from made_records import works
from test_argument_chain import made

from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.falling import re_read, without, would_fall
from catalogue.argument.chain.held import held
from catalogue.argument.chain.passages import length, passages
from catalogue.argument.chain.resting import rests_on, supports
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import window
from catalogue.argument.spans import Interval
from catalogue.hands import asked, hands, held_by
from catalogue.measure import Day
from catalogue.terms import group

SEEDS = range(150)


@pytest.mark.parametrize("seed", SEEDS)
def test_coverage_against_counting_day_by_day(seed):
    rng = random.Random(seed)
    over = window(rng.choice(("europe-1933", "unesco-1970", "war-1939")))
    first, last = over.first.ordinal, over.last.ordinal
    tenures = [made(rng, n, first - 900, last + 900) for n in range(rng.randint(0, 6))]
    found = coverage(tenures, over)
    proven = {day for each in tenures for day in ordinals(each.proven, first, last)}
    possible = {day for each in tenures for day in ordinals(each.perhaps, first, last)}
    assert found.proven_days == len(proven)
    assert found.possible_days == len(proven | possible)
    assert found.proven_days <= found.possible_days <= found.days == last - first + 1
    assert found.unsaid_days <= found.possible_days - found.proven_days
    assert sum(length(each.days) for each in found.stretches) == found.days
    assert [each.days.earliest for each in found.stretches[1:]] == [
        each.days.latest.beside(1) for each in found.stretches[:-1]
    ]
    for each in found.stretches:
        assert bool(each.tenures) == (each.known != "nobody")
        day = each.days.earliest
        on_it = held(tenures, day)
        assert bool(on_it.certain) == (each.known == "proven")
        assert bool(on_it.certain or on_it.possible) == (each.known != "nobody")


@pytest.mark.parametrize("seed", SEEDS)
def test_gaps_and_overlaps_against_every_choice_of_days(seed):
    rng = random.Random(seed)
    base = Day(1930, 1, 1).ordinal
    left, came = (closed(rng, n, base) for n in range(2))
    (only,) = passages([left, came])
    gaps, overlaps = [], []
    for end, start in product(ordinals(left.ended, 0, 10**7), ordinals(came.began, 0, 10**7)):
        gaps.append(max(start - end - 1, 0))
        overlaps.append(end - start + 1 if end > start else 0)
    assert only.gap_days == min(gaps)
    assert only.most_gap == max(gaps)
    assert only.overlap_days == min(overlaps)
    assert only.most_overlap == max(overlaps)


def test_an_open_end_leaves_open_how_long():
    day = Day(1930, 1, 1)
    left = Tenure(
        event="a",
        number="E1",
        name="A",
        hold="owner",
        began=Interval(day, day),
        ended=Interval(),
    )
    came = Tenure(
        event="b",
        number="E2",
        name="B",
        hold="owner",
        began=Interval(None, day),
        ended=Interval(),
    )
    (only,) = passages([left, came])
    assert (only.gap, only.overlap, only.most_gap, only.most_overlap) == (
        None,
        None,
        None,
        None,
    )
    assert only.says()


def closed(rng: random.Random, place: int, base: int) -> Tenure:
    ends = sorted(base + rng.randint(0, 30) for _ in range(4))
    days = [Day.from_ordinal(end) for end in ends]
    return Tenure(
        event=f"e{place}", number=f"E{place}", name=f"N{place}", hold="owner",
        began=Interval(days[0], days[1]), ended=Interval(days[2], days[3]),
    )  # fmt: skip


def ordinals(days: Interval | None, first: int, last: int) -> range:
    if days is None:
        return range(0)
    start = max(days.earliest.ordinal if days.earliest else first, first)
    end = min(days.latest.ordinal if days.latest else last, last)
    return range(start, end + 1)


# --- whole provenances, made up without sense -------------------------------------------------------


@pytest.mark.parametrize("seed", SEEDS)
def test_whatever_is_recorded_becomes_a_chain(seed):
    rng = random.Random(seed)
    kinds = [each.key.removeprefix("provenance/") for each in group("provenance")]
    roles = [each.key.removeprefix("capacity/") for each in group("capacity")]
    years = [None, "1931", "by 1937", "c. 1940", "1934/1936", "after 1950", "3 March 1938"]

    def some_event(order: int):
        parties = [
            party(f"N{rng.randint(1, 5)}", rng.choice(roles)) for _ in range(rng.randint(0, 3))
        ]
        return event(
            order, rng.choice(kinds), *parties, when=rng.choice(years), until=rng.choice(years),
            passage=rng.choice([None, "direct", "not-known", "gap"]),
            grade=rng.choice([None, "primary", "oral"]), cited=rng.random() < 0.8,
            certainty=rng.choice([None, "probable", "doubtful"]),
        )  # fmt: skip

    work = work_of(*(some_event(n) for n in range(1, rng.randint(2, 9))))
    found = hands(work)
    for each in found.tenures:
        assert each.event in {it.id for it in work.provenance}
        if each.surely:
            assert each.perhaps
            assert each.surely.within(each.perhaps) == each.surely
    for each in found.windows:
        assert each.owned.proven_days <= each.known.proven_days
        assert each.owned.possible_days <= each.known.possible_days
        assert "not an accusation" in each.says()[-1]
    for each in found.passages:
        assert each.says()
        assert not (each.gap and each.overlap)
        assert each.most_gap is None or each.gap_days <= each.most_gap
        assert each.most_overlap is None or each.overlap_days <= each.most_overlap
        assert not any(it.beside for it in (*each.before, *each.after))
        assert all(it.beside for it in each.beside)
    owners = {each.name for some in held_by(work, "1938").owners for each in some}
    for_others = [it for it in found.tenures if it.hold in ("agent", "auctioneer")]
    assert all(it.beside for it in for_others)
    assert owners <= {it.name for it in found.tenures if it.hold == "owner"}


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.generate],
)
@given(works())
def test_whatever_a_record_can_be_is_answered(work):
    assert hands(work).windows
    assert asked(work)
    for event_of in work.provenance:
        rests_on(work, event_of.id)
    for source in (*work.inscriptions, *work.papers, *work.citations):
        falls = would_fall(work, source.id)
        assert set(falls.fallen) | set(falls.weakened) <= set(supports(work, source.id))
        after = without(work, source.id)
        assert not any(
            each.source == source.id for it in after.provenance for each in it.evidence
        )
    for mark in work.inscriptions:
        shown = mark.preferred()
        if shown:
            same = re_read(work, mark.id, shown.markup)
            assert not same.look_again
