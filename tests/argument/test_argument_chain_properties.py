"""The figures of the chain of hands against counting day by day, over made-up chains."""

from __future__ import annotations

import random
from itertools import product

import pytest
from test_argument_chain import made

from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.held import held
from catalogue.argument.chain.passages import length, passages
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import window
from catalogue.argument.spans import Interval
from catalogue.measure import Day

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
