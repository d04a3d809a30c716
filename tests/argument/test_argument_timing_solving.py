"""The solver against networkx (Bellman-Ford): 1,000 networks at random, feasible and not, and bigger ones.

Oracle: networkx 3, `negative_edge_cycle` and `single_source_bellman_ford_path_length`; how few reasons
there can be by `single_source_shortest_path_length` over the arcs that lie on a shortest way.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from made_chronologies import Course, at_random, between, said
from timing_oracles import bounds_of, can_hold, fewest_reasons, reasons, standing, windows

from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness, Instant
from catalogue.argument.timing.solving import MOST_DAYS, solve
from catalogue.errors import BadData, NotOnFile
from catalogue.measure import Day


def moment(name):
    return Event(id=name, kind="", called=name, words="", moment=True)


def lasting(name):
    return Event(id=name, kind="", called=name, words="")


def the_bigger():
    """Some that can hold and some with contradictions planted in them."""
    for seed in range(6):
        course = Course(40, 240, seed)
        yield course.events, course.claims + course.plant(seed // 2 % 3)


@pytest.fixture(scope="module")
def solved():
    networks = [*map(at_random, range(1000)), *the_bigger()]
    return [(events, claims, solve(events, claims)) for events, claims in networks]


def test_networkx_finds_the_same_ones_feasible(solved):
    feasible = Counter()
    for events, claims, chronology in solved:
        holds = can_hold(events, claims)
        feasible[holds] += 1
        assert holds == (not chronology.contradictions) == (not chronology.aside)
    assert min(feasible.values()) > 250  # both kinds are well represented


def test_networkx_finds_the_same_windows(solved):
    for events, _, chronology in solved:
        assert windows(chronology) == bounds_of(events, standing(chronology))


def test_every_contradiction_is_one_and_none_of_its_claims_can_be_spared(solved):
    sizes = Counter()
    for events, _, chronology in solved:
        for each in chronology.contradictions:
            sizes[len(each.claims)] += 1
            assert not can_hold(events, each.claims)
            for claim in each.claims:
                assert can_hold(events, [other for other in each.claims if other != claim])
    assert {1, 2, 3, 4} <= set(sizes)


def test_the_softest_of_a_contradiction_give_way(solved):
    for _, _, chronology in solved:
        for each in chronology.contradictions:
            softest = min(claim.firmness for claim in each.claims)
            assert each.aside == tuple(c for c in each.claims if c.firmness == softest)
            assert each.firm == (softest is Firmness.HARD)
        given_up = {claim for each in chronology.contradictions for claim in each.aside}
        assert given_up == set(chronology.aside)


def test_no_contradiction_with_what_stands_is_untold(solved):
    for events, _, chronology in solved:
        rest = standing(chronology)
        told = [set(each.claims) for each in chronology.contradictions]
        for claim in chronology.aside:
            if not can_hold(events, [*rest, claim]):
                assert any(claim in each and each - {claim} <= set(rest) for each in told)


def test_no_claim_is_told_twice_against_the_same(solved):
    for _, _, chronology in solved:
        told = [frozenset(each.claims) for each in chronology.contradictions]
        assert len(told) == len(set(told))


def test_every_chain_adds_up_to_its_bound(solved):
    chains = 0
    for _, _, chronology in solved:
        for event in chronology.events:
            for instant in (event.began, event.ended):
                window = chronology.window(instant)
                for bound, sign in (("earliest", 1), ("latest", -1)):
                    chain = chronology.why(instant, bound)
                    day = window.earliest if bound == "earliest" else window.latest
                    if day is None:
                        assert chain == ()
                        continue
                    assert (chain[-1].at, chain[-1].day) == (instant, day)
                    assert all(link.claim not in chronology.aside for link in chain)
                    assert leads(chronology, None, 0, chain[0], sign)
                    for before, link in pairwise(chain):
                        assert leads(chronology, before.at, before.day.ordinal, link, sign)
                    chains += 1
    assert chains > 3000


def leads(chronology, at, day, link, sign):
    """Whether a bound of the link's claim takes a day at one instant to that of the link."""
    moments = {event.id for event in chronology.events if event.moment}

    def same(one, other):
        if one is None or other is None:
            return one is other
        return one == other or (one.event == other.event and one.event in moments)

    return any(
        same(bound.earlier if sign > 0 else bound.later, at)
        and same(bound.later if sign > 0 else bound.earlier, link.at)
        and day + sign * bound.days == link.day.ordinal
        for bound in link.claim.bounds
    )


def test_no_chain_could_be_shorter(solved):
    for events, _, chronology in solved:
        fewest = fewest_reasons(events, standing(chronology))
        for (instant, bound), chain in reasons(chronology).items():
            assert len(chain) == (fewest[instant][bound == "latest"] or 0)


def test_john_and_fred():
    """The example of Dechter, Meiri and Pearl 1991 as a simple network; from memory.

    John drives (30 to 40 minutes) and leaves between 7:10 and 7:20; Fred comes in a carpool (40 to 50)
    and arrives between 8:00 and 8:10; John arrived 10 to 20 minutes after Fred left. Days stand for
    minutes after seven. When did each of these happen? The answer is the first row and column
    of the paper's table of shortest ways.
    """
    john_left, john_came, fred_left, fred_came = map(moment, ("1", "2", "3", "4"))

    def takes(key, first, last, shortest, longest):
        a, b = first.began, last.began
        return said(key, AtLeast(a, b, shortest), AtLeast(b, a, -longest))

    claims = [
        said("John left", *between(john_left.began, 10, 20)),
        takes("John drives", john_left, john_came, 30, 40),
        takes("John came after Fred left", fred_left, john_came, 10, 20),
        takes("Fred is driven", fred_left, fred_came, 40, 50),
        said("Fred came", *between(fred_came.began, 60, 70)),
    ]
    chronology = solve([john_left, john_came, fred_left, fred_came], claims)
    assert [
        windows(chronology)[event.began]
        for event in (john_left, john_came, fred_left, fred_came)
    ] == [(10, 20), (40, 50), (20, 30), (60, 70)]
    assert [link.claim.key for link in chronology.why(fred_left.began, "latest")] == [
        "Fred came",
        "Fred is driven",
    ]
    # with a bus of an hour at least instead of the car he cannot have met that
    by_bus = said("John drives", AtLeast(john_left.began, john_came.began, 60))
    assert {claim.key for claim in chronology.with_claim(by_bus).contradictions[0].claims} == {
        "John left", "John drives", "John came after Fred left", "Fred is driven", "Fred came",
    }  # fmt: skip


LABEL, PATCH, OWNED = moment("i1"), moment("r1"), lasting("e1")


def dated(key, event, first, last, firmness=Firmness.HARD):
    return said(key, *between(event.began, first, last), firmness=firmness)


def test_a_soft_claim_loses_to_a_firmer_one():
    hard, soft = dated("a", LABEL, 10, 20), dated("b", LABEL, 30, 40, Firmness.LIKELY)
    chronology = solve([LABEL], [hard, soft])
    (told,) = chronology.contradictions
    assert (told.claims, told.aside, told.firm) == ((hard, soft), (soft,), False)
    assert windows(chronology)[LABEL.began] == (10, 20)


def test_of_two_alike_neither_stands():
    one, other = dated("a", LABEL, 10, 20), dated("b", LABEL, 30, 40)
    chronology = solve([LABEL], [one, other])
    (told,) = chronology.contradictions
    assert (told.claims, told.aside, told.firm) == ((one, other), (one, other), True)
    assert chronology.window(LABEL.began) == Interval()


def test_what_a_contradicted_statement_contradicts_is_told_too():
    """As in the dating of labels: each pair that cannot both hold is told."""
    claims = [dated("a", LABEL, 10, 20), dated("b", LABEL, 30, 40), dated("c", LABEL, 15, 35)]
    claims.append(dated("d", LABEL, 32, 50, Firmness.WEAK))
    chronology = solve([LABEL], claims)
    assert [{c.key for c in each.claims} for each in chronology.contradictions] == [
        {"a", "b"},
        {"a", "d"},
    ]
    assert [claim.key for claim in chronology.aside] == ["a", "b", "d"]
    assert windows(chronology)[LABEL.began] == (15, 35)


def test_a_refuted_claim_does_not_speak_against_its_equals():
    hard = dated("a", LABEL, 10, 20)
    likely = [
        dated("b", LABEL, 12, 18, Firmness.LIKELY),
        dated("c", LABEL, 30, 40, Firmness.LIKELY),
    ]
    chronology = solve([LABEL], [hard, *likely])
    assert [claim.key for claim in chronology.aside] == ["c"]
    assert windows(chronology)[LABEL.began] == (12, 18)


def test_a_claim_may_contradict_itself():
    wrong = said("a", *between(OWNED.began, 20, None), *between(OWNED.ended, None, 10))
    (told,) = solve([OWNED], [wrong]).contradictions
    assert told.claims == told.aside == (wrong,)
    assert told.firm


def test_nature_is_no_member_of_a_contradiction():
    began, ended = dated("a", OWNED, 20, None), said("b", *between(OWNED.ended, None, 10))
    (told,) = solve([OWNED], [began, ended]).contradictions
    assert told.claims == (began, ended)


def test_nature_is_a_link_of_a_chain():
    chronology = solve([OWNED], [dated("a", OWNED, 20, None)])
    assert [
        (link.claim.key, link.claim.firmness, link.at.end, link.day.ordinal)
        for link in chronology.why(OWNED.ended, "earliest")
    ] == [("a", Firmness.HARD, "began", 20), ("nature:e1", Firmness.NATURE, "ended", 20)]


def test_of_reasons_equally_few_the_firmer_are_told():
    chronology = solve(
        [LABEL], [dated("a", LABEL, 10, None, Firmness.WEAK), dated("b", LABEL, 10, None)]
    )
    assert [link.claim.key for link in chronology.why(LABEL.began, "earliest")] == ["b"]


def test_what_contradicts_nature_as_given_is_refused():
    claims = [
        dated("a", LABEL, 10, 20, Firmness.NATURE),
        dated("b", LABEL, 30, 40, Firmness.NATURE),
    ]
    with pytest.raises(BadData, match="a, b"):
        solve([LABEL], claims)
    first = solve([LABEL], claims[:1])
    with pytest.raises(BadData, match="a, b"):
        first.with_claim(claims[1])


def test_nothing_is_known_of_nothing():
    empty = solve([], [])
    assert (empty.events, empty.claims, empty.contradictions, empty.aside) == ((), (), (), ())
    chronology = solve([LABEL, OWNED], [])
    assert set(windows(chronology).values()) == {(None, None)}
    assert set(reasons(chronology).values()) == {()}
    assert chronology.touched == frozenset()


def test_a_claim_without_bounds_says_nothing():
    assert solve([LABEL], [said("a")]).window(LABEL.began) == Interval()


def test_a_moment_has_one_day():
    last = Instant("i1", "ended")
    chronology = solve([LABEL], [said("a", AtLeast(None, last, 10))])
    assert chronology.window(LABEL.began) == chronology.window(last)
    assert solve([LABEL], [said("a", AtLeast(LABEL.began, last, 1))]).contradictions


@pytest.mark.parametrize(
    ("claims", "says"),
    [
        ([dated("a", PATCH, 1, 2)], "'a' is about an event that is not there: 'r1'"),
        ([dated("a", LABEL, 1, 2), dated("a", LABEL, 1, 3)], "two claims have the key 'a'"),
        ([dated("a", LABEL, MOST_DAYS + 1, None)], f"'a' has a bound of {MOST_DAYS + 1} days"),
        ([dated("a", LABEL, None, 10**40)], "'a' has a bound of -1000"),
        ([dated("a", LABEL, 1.5, None)], "a whole number of days"),
        ([dated("nature:i1", LABEL, 1, 2)], "'nature:i1' is kept for what cannot be otherwise"),
    ],
    ids=["unknown event", "same key", "too many days", "far too many", "half a day", "nature's key"],
)  # fmt: skip
def test_what_cannot_be_taken_in_is_refused_in_words(claims, says):
    with pytest.raises(BadData) as refused:
        solve([LABEL], claims)
    assert says in str(refused.value)
    assert refused.value.remedy


def test_a_change_is_refused_like_the_first_claims():
    chronology = solve([LABEL], [dated("a", LABEL, 1, 2)])
    for wrong in (dated("b", PATCH, 1, 2), dated("b", LABEL, 10**40, None)):
        with pytest.raises(BadData):
            chronology.with_claim(wrong)
    with pytest.raises(NotOnFile, match="no claim 'b'"):
        chronology.without_claim("b")
    with pytest.raises(NotOnFile, match="no claim 'nature:i1'"):
        chronology.without_claim("nature:i1")


def test_questions_about_unknown_events_are_refused():
    chronology = solve([LABEL], [])
    with pytest.raises(NotOnFile, match="'r1'"):
        chronology.window(PATCH.began)
    with pytest.raises(NotOnFile, match="'r1'"):
        chronology.why(PATCH.began, "earliest")


def test_two_events_of_one_id_are_refused():
    with pytest.raises(BadData, match="two events have the id 'i1'"):
        solve([LABEL, LABEL], [])


def test_days_far_from_any_calendar():
    chronology = solve(
        [LABEL, PATCH],
        [
            dated("a", LABEL, -MOST_DAYS, MOST_DAYS),
            said("b", AtLeast(LABEL.began, PATCH.began, MOST_DAYS)),
            said("c", AtLeast(PATCH.began, LABEL.began, -MOST_DAYS)),
        ],
    )
    assert windows(chronology)[PATCH.began] == (0, 2 * MOST_DAYS)
    latest = chronology.window(PATCH.began).latest
    assert latest == Day.from_ordinal(2 * MOST_DAYS)


def day_after_day(count):
    """Moments, each a day after the one before, the first on day 5."""
    events = [moment(f"m{n:04}") for n in range(count)]
    claims = [dated("first", events[0], 5, 5)] + [
        said(f"then:{n:04}", AtLeast(a.began, b.began, 1), AtLeast(b.began, a.began, -1))
        for n, (a, b) in enumerate(pairwise(events))
    ]
    return events, claims


def test_a_chain_of_thousands():
    events, claims = day_after_day(3000)
    chronology = solve(events, claims)
    last = events[-1].began
    assert windows(chronology)[last] == (3004, 3004)
    assert len(chronology.why(last, "latest")) == 3000


def test_a_contradiction_of_hundreds():
    """Each claim is left out for a try: this takes seconds when a try costs more than its length."""
    events, claims = day_after_day(299)
    chronology = solve(events, [*claims, dated("last", events[-1], None, 302)])
    assert len(chronology.contradictions[0].claims) == 300
    assert len(chronology.aside) == 300


def test_a_thousand_dates_that_all_differ():
    likely = [dated(f"b{n}", LABEL, 10 + n, 10 + n, Firmness.LIKELY) for n in range(1000)]
    chronology = solve([LABEL], [dated("a", LABEL, 0, 5), *likely])
    assert len(chronology.contradictions) == len(chronology.aside) == 1000
    assert windows(chronology)[LABEL.began] == (0, 5)


def test_a_claim_stands_or_falls_whole():
    """Of a claim about two events the half that nobody contradicts goes with the other."""
    two = Claim(
        key="b", words="b", firmness=Firmness.LIKELY,
        bounds=(*between(LABEL.began, 30, 40), *between(PATCH.began, 50, 60)),
    )  # fmt: skip
    chronology = solve([LABEL, PATCH], [dated("a", LABEL, 10, 20), two])
    assert chronology.window(PATCH.began) == Interval()
