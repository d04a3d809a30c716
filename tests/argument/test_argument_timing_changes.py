"""What must always hold of a chronology, and that a change comes to the same as solving anew.

The oracle of changes is `solve` itself, which is held against networkx beside this file.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_chronologies import SOME, Course, at_random, between, happenings, said
from timing_oracles import reasons, windows

from catalogue.argument.timing.claims import AtLeast, Claim, Firmness
from catalogue.argument.timing.solving import Chronology, solve
from catalogue.errors import BadData

EVENTS = happenings(5)
INSTANTS = [None, *(each for event in EVENTS for each in (event.began, event.ended))]
bounds = st.builds(
    AtLeast, st.sampled_from(INSTANTS), st.sampled_from(INSTANTS), st.integers(-40, 12)
)
claims_of = st.lists(
    st.tuples(st.lists(bounds, min_size=1, max_size=3), st.sampled_from(SOME)), max_size=14
).map(
    lambda rows: [
        said(f"c{number:02}", *each, firmness=firmness)
        for number, (each, firmness) in enumerate(rows)
    ]
)


def told(chronology: Chronology) -> object:
    """All that a chronology says, whatever the order of its claims."""
    return (
        windows(chronology), reasons(chronology), chronology.contradictions, chronology.aside,
    )  # fmt: skip


@given(claims_of, st.randoms(use_true_random=False))
def test_the_order_of_claims_and_events_does_not_matter(claims, chance):
    others, events = claims.copy(), EVENTS.copy()
    chance.shuffle(others)
    chance.shuffle(events)
    first, second = told(solve(EVENTS, claims)), told(solve(events, others))
    assert first == second


@given(claims_of)
def test_a_claim_more_never_widens_a_window_while_nothing_is_given_up(claims):
    before = solve(EVENTS, [])
    for count in range(1, len(claims) + 1):
        after = solve(EVENTS, claims[:count])
        if after.aside:
            return
        for instant, (first, last) in windows(before).items():
            now_first, now_last = windows(after)[instant]
            assert first is None or (now_first is not None and now_first >= first)
            assert last is None or (now_last is not None and now_last <= last)
        before = after


def shifted(claim: Claim, by: int) -> Claim:
    def moved(bound: AtLeast) -> AtLeast:
        change = by * ((bound.earlier is None) - (bound.later is None))
        return replace(bound, days=bound.days + change)

    return replace(claim, bounds=tuple(map(moved, claim.bounds)))


@given(claims_of, st.integers(-800_000, 800_000))
def test_when_all_dates_shift_all_windows_shift(claims, by):
    first, second = solve(EVENTS, claims), solve(EVENTS, [shifted(each, by) for each in claims])
    assert windows(second) == {
        instant: tuple(None if day is None else day + by for day in window)
        for instant, window in windows(first).items()
    }
    assert reasons(first) == reasons(second)
    assert [claim.key for claim in first.aside] == [claim.key for claim in second.aside]


def hold_against_anew(before: Chronology, after: Chronology) -> None:
    anew = solve(after.events, after.claims)
    assert after == anew
    assert told(after) == told(anew)
    was, now = windows(before), windows(after)
    assert after.touched == {instant.event for instant in was if was[instant] != now[instant]}


@settings(max_examples=60)
@given(claims_of, claims_of, st.randoms(use_true_random=False))
def test_any_changes_come_to_the_same_as_solving_anew(first, others, chance):
    chronology = solve(EVENTS, first)
    for claim in others:
        after = chronology.with_claim(claim)
        hold_against_anew(chronology, after)
        chronology = after
        if chance.random() < 0.5:
            after = chronology.without_claim(chance.choice(chronology.claims).key)
            hold_against_anew(chronology, after)
            chronology = after


@settings(max_examples=60)
@given(claims_of, claims_of, st.randoms(use_true_random=False))
def test_several_changes_at_once_come_to_the_same(first, others, chance):
    chronology = solve(EVENTS, first)
    gone = chance.sample(first, chance.randint(0, len(first)))
    after = chronology.changed(gone=[each.key for each in gone], come=others)
    kept = {each.key for each in first} - {each.key for each in gone} | {c.key for c in others}
    assert {each.key for each in after.claims} == kept
    hold_against_anew(chronology, after)


@pytest.mark.parametrize("seed", range(4))
def test_changes_of_a_big_chronology_come_to_the_same(seed):
    """Nothing is contradicted here, so each is worked out from what was known."""
    course, chance = Course(40, 240, seed), random.Random(seed)
    chronology = solve(course.events, course.claims)
    assert not chronology.contradictions
    touched = 0
    for _ in range(15):
        claim = chance.choice(chronology.claims)
        looser = replace(
            claim, bounds=tuple(replace(each, days=each.days - 400) for each in claim.bounds)
        )
        for after in (
            chronology.without_claim(claim.key),
            chronology.with_claim(looser),
            chronology.with_claim(looser).with_claim(claim),
        ):
            assert not after.contradictions
            anew = solve(after.events, after.claims)
            assert after == anew
            assert told(after) == told(anew)
        gone = chronology.without_claim(claim.key)
        hold_against_anew(chronology, gone)
        touched += len(gone.touched)
        chronology = gone
    assert touched


def test_a_contradiction_comes_and_goes_with_its_claim():
    events, claims = happenings(1), []
    label = events[0].began
    claims = [said("a", *between(label, 10, 20)), said("b", *between(label, 5, 18))]
    chronology = solve(events, claims)
    wrong = chronology.with_claim(said("c", *between(label, 30, None)))
    assert [claim.key for claim in wrong.aside] == ["a", "b", "c"]
    assert wrong.touched == {"e000"}
    right = wrong.with_claim(said("c", *between(label, 12, None)))
    assert not right.contradictions
    assert windows(right)[label] == (12, 18)
    assert right.claims[-1].key == "c"
    softer = wrong.with_claim(said("c", *between(label, 30, None), firmness=Firmness.WEAK))
    assert [claim.key for claim in softer.aside] == ["c"]
    assert windows(wrong.without_claim("c")) == windows(chronology)


def test_a_change_leaves_the_chronology_before_it_as_it_was():
    events, claims = at_random(3)
    chronology = solve(events, claims)
    before = told(chronology)
    for claim in claims:
        chronology.without_claim(claim.key)
        chronology.with_claim(replace(claim, bounds=()))
    assert told(chronology) == before


def test_a_claim_comes_once():
    (event,) = happenings(1)
    with pytest.raises(BadData, match="two claims have the key 'a'"):
        solve([event], []).changed(come=[said("a"), said("a", *between(event.began, 1, 2))])


def test_what_is_not_altered_is_not_touched():
    events = happenings(3)
    one, other = events[0].began, events[1].began
    chronology = solve(
        events, [said("a", *between(one, 10, 20)), said("b", AtLeast(one, other, 5))]
    )
    assert chronology.with_claim(said("a", *between(one, 10, 19))).touched == {"e000"}
    assert chronology.with_claim(said("a", *between(one, 11, 20))).touched == {"e000", "e001"}
    assert chronology.with_claim(said("a", *between(one, 10, 20))).touched == frozenset()
    assert chronology.with_claim(said("c", *between(one, 9, 21))).touched == frozenset()
