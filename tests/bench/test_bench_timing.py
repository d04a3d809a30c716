"""Timings of a chronology, as Markdown rows; how they are run is said in test_bench.py."""

from __future__ import annotations

import statistics
import time
from functools import partial

import networkx
import pytest
from made_chronologies import Course
from test_bench import median_ms, told
from timing_oracles import bounds_of, graph_of, windows

from catalogue.argument.timing.solving import Chronology, solve

pytestmark = pytest.mark.bench
SIZES = ((50, 500), (500, 5000), (2000, 20_000))


def own_ms(action, times: int) -> float:
    """The median of the time that the processor spent on it, whatever else the machine did."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        action()
        taken.append((time.process_time() - start) * 1000)
    return statistics.median(taken)


def explained(chronology: Chronology) -> int:
    """Every window and every chain of reasons asked for; how many links these have."""
    links = 0
    for event in chronology.events:
        for instant in dict.fromkeys((event.began, event.ended)):
            chronology.window(instant)
            links += len(chronology.why(instant, "earliest"))
            links += len(chronology.why(instant, "latest"))
    return links


@pytest.mark.parametrize(("events", "claims"), SIZES)
def test_a_chronology(events, claims):
    course = Course(events, claims)
    name = f"{events} events, {claims} claims"
    chronology = solve(course.events, course.claims)
    assert windows(chronology) == bounds_of(course.events, course.claims)
    alone = median_ms(lambda: solve(course.events, course.claims), 9)
    every = median_ms(lambda: explained(solve(course.events, course.claims)), 9)
    own = own_ms(lambda: explained(solve(course.events, course.claims)), 9)
    told(f"{name}: solved", f"{alone:.1f} ms")
    told(
        f"{name}: solved, with every reason of every bound",
        f"{every:.1f} ms",
        f"{explained(chronology)} links; {own:.1f} ms of the processor",
    )
    changed = course.chance.sample(course.claims, 40)
    without = [chronology.without_claim(claim.key) for claim in changed]
    left = iter(changed * 2)
    right = iter(list(zip(without, changed, strict=True)) * 2)
    out = median_ms(lambda: chronology.without_claim(next(left).key), 40)
    back = median_ms(lambda: (lambda one, claim: one.with_claim(claim))(*next(right)), 40)
    told(f"{name}: one claim taken away", f"{out:.1f} ms", f"{alone / out:.0f} times as quick")
    told(f"{name}: one claim added", f"{back:.1f} ms", f"{alone / back:.0f} times as quick")


@pytest.mark.parametrize(("events", "claims"), SIZES[:2])
def test_a_chronology_beside_bellman_ford(events, claims):
    """The floor that everybody has: the same bounds by networkx, without reasons or contradictions."""
    course = Course(events, claims)
    graph = graph_of(course.events, course.claims)
    origin = next(iter(graph))
    taken = median_ms(
        lambda: [
            networkx.single_source_bellman_ford_path_length(each, origin)
            for each in (graph, graph.reverse(copy=False))
        ],
        3,
    )
    told(f"{events} events, {claims} claims: bounds by networkx", f"{taken:.1f} ms")


@pytest.mark.parametrize(
    ("what", "plant"), [("wrong dates", Course.misdate), ("wrong orders", Course.plant)]
)
def test_ten_contradictions(what, plant):
    course = Course(500, 5000)
    claims = course.claims + plant(course, 10)
    chronology = solve(course.events, claims)
    taken = median_ms(partial(solve, course.events, claims), 5)
    told(
        f"500 events, 5000 claims, 10 {what} planted",
        f"{taken:.1f} ms",
        f"{len(chronology.contradictions)} contradictions told, {len(chronology.aside)} claims aside",
    )
