"""A chronology: what all claims together leave of each event, why, and which of them cannot all hold.

`standing` finds the claims that stand, `lengths` the first and last days that they leave; here they
become days and reasons again. A change is worked out from what was known as long as nothing
is contradicted, and from the beginning otherwise.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Literal

from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import Claim, Event, Instant
from catalogue.argument.timing.lengths import NO_WAY, ORIGIN, Reach
from catalogue.argument.timing.network import days_of
from catalogue.argument.timing.points import (
    MOST_DAYS,
    Points,
    arcs_of,
    check,
    nature_of,
    points_of,
    refuse_twice,
)
from catalogue.argument.timing.standing import Contradiction, Hearing, in_order
from catalogue.errors import NotOnFile
from catalogue.measure import Day

__all__ = ["MOST_DAYS", "Chronology", "Contradiction", "Link", "solve"]

Which = Literal["earliest", "latest"]


@dataclass(frozen=True, slots=True)
class Link:
    """One step of a reason: by this claim, and those before it, `at` is bounded by `day`."""

    claim: Claim
    at: Instant
    day: Day


@dataclass(frozen=True, slots=True)
class _Known:
    """What a chronology rests on: events as points, claims by key, how far each point can be."""

    points: Points
    claims: Mapping[str, Claim]
    reach: Reach
    instants: Sequence[Instant]
    links: dict[tuple[Which, int], tuple[Link, int]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Chronology:
    """Made by `solve`; a change gives another one.

    `aside` are the claims given up, in no bound: soft ones that firmer ones refute, and those that
    contradict their equals. `touched` are the ids of the events whose window the last change
    altered.
    """

    events: tuple[Event, ...]
    claims: tuple[Claim, ...]
    contradictions: tuple[Contradiction, ...]
    aside: tuple[Claim, ...]
    touched: frozenset[str] = field(compare=False)
    _known: _Known = field(compare=False, repr=False)

    def window(self, instant: Instant) -> Interval:
        """The first and the last day that the claims leave for an instant; None = open."""
        point, reach = self._point(instant), self._known.reach
        earliest, latest = reach.earliest(point), reach.latest(point)
        return Interval(
            None if earliest is None else _day(earliest),
            None if latest is None else _day(latest),
        )

    def why(self, instant: Instant, bound: Which) -> tuple[Link, ...]:
        """The reasons for a bound, each resting on those before it: as few as there can be.

        Nothing where the bound is open. Of reasons equally few the firmer are told, then by key.
        """
        chain: list[Link] = []
        point = self._point(instant)
        known = self._known.reach.out if bound == "latest" else self._known.reach.home
        if known[point] == NO_WAY:
            return ()
        while point != ORIGIN:
            link, point = self._link(bound, point)
            chain.append(link)
        return tuple(reversed(chain))

    def with_claim(self, claim: Claim) -> Chronology:
        """The chronology with one claim more, or one of the same key replaced."""
        return self.changed(come=(claim,))

    def without_claim(self, key: str) -> Chronology:
        """The chronology without one claim."""
        return self.changed(gone=(key,))

    def changed(self, *, gone: Iterable[str] = (), come: Iterable[Claim] = ()) -> Chronology:
        """The chronology without the claims of some keys and with others, all at once."""
        old = self._known
        claims = {each.key: each for each in self.claims}
        gone, come = set(gone), tuple(come)
        for key in gone:
            if key not in claims:
                raise NotOnFile(
                    f"there is no claim {key!r} to take away",
                    remedy="The keys are those of the chronology's claims.",
                )
            del claims[key]
        refuse_twice(come)
        for claim in come:
            check(claim, old.points)
            if claim.key in claims:
                gone.add(claim.key)
            claims[claim.key] = claim
        after = self._kept_up(gone, come, claims) or solve(self.events, claims.values())
        moved = old.reach.moved(after._known.reach)
        return replace(after, touched=frozenset(old.instants[each].event for each in moved))

    def _kept_up(
        self, gone: Collection[str], come: Iterable[Claim], claims: Mapping[str, Claim]
    ) -> Chronology | None:
        """The chronology of these claims from what was known; None where something is contradicted.

        For then a claim given up may come back, or another be given up.
        """
        if self.contradictions:
            return None
        old = self._known
        reach = old.reach.changed(
            [arc for key in gone for arc in arcs_of(old.claims[key], old.points)],
            [arc for claim in come for arc in arcs_of(claim, old.points)],
        )
        if reach is None:
            return None
        every = {key: each for key, each in old.claims.items() if key not in gone}
        known = _Known(old.points, every | dict(claims), reach, old.instants)
        return Chronology(self.events, tuple(claims.values()), (), (), frozenset(), known)

    def _point(self, instant: Instant) -> int:
        if instant.event not in self._known.points:
            raise NotOnFile(
                f"there is no event {instant.event!r} in this chronology",
                remedy="Ask for an instant of one of its events.",
            )
        first, last = self._known.points[instant.event]
        return first if instant.end == "began" else last

    def _link(self, bound: Which, point: int) -> tuple[Link, int]:
        """The last reason for the bound of a point, and the point on which it rests.

        Found from the lengths alone, so that it is the same whatever changes led there.
        """
        known = self._known
        if (bound, point) not in known.links:
            network = known.reach.network
            if bound == "latest":
                lengths, back = known.reach.out, network.behind[point]
                day = days_of(lengths[point])
            else:
                lengths, back = known.reach.home, network.ahead[point]
                day = -days_of(lengths[point])
            _, key, before = min(
                (-known.claims[key].firmness, key, other)
                for other, far, key in back
                if lengths[other] + far == lengths[point]
            )
            link = Link(known.claims[key], known.instants[point], _day(day))
            known.links[bound, point] = link, before
        return known.links[bound, point]


def solve(events: Iterable[Event], claims: Iterable[Claim]) -> Chronology:
    """The chronology of some events, from all claims about them at once.

    That no event ends before it begins is added here, as claims of nature without words.

    >>> from catalogue.argument.timing.claims import AtLeast, Firmness
    >>> label = Event(id="i1", kind="inscription", called="I1", words="a label", moment=True)
    >>> patch = Event(id="r1", kind="repair", called="R1", words="a patch over it", moment=True)
    >>> said = [
    ...     Claim(key="date:i1", words="the firm moved there in 1917", firmness=Firmness.HARD,
    ...           bounds=(AtLeast(None, label.began, Day(1917, 3, 1).ordinal),)),
    ...     Claim(key="over:r1", words="the patch lies over the label", firmness=Firmness.HARD,
    ...           bounds=(AtLeast(label.began, patch.began, 0),)),
    ... ]
    >>> chronology = solve([label, patch], said)
    >>> chronology.window(patch.began)
    Interval(earliest=Day(year=1917, month=3, day=1), latest=None)
    >>> [link.claim.words for link in chronology.why(patch.began, "earliest")]
    ['the firm moved there in 1917', 'the patch lies over the label']
    """
    events, claims = tuple(events), tuple(claims)
    points, instants = points_of(events)
    refuse_twice(claims)
    for claim in claims:
        check(claim, points)
    every = in_order((*claims, *nature_of(events)))
    heard = Hearing(len(instants), every, points)
    known = _Known(
        points, {each.key: each for each in every}, Reach.of(heard.network), instants
    )
    aside = tuple(in_order(heard.aside.values()))
    return Chronology(events, claims, tuple(heard.contradictions), aside, frozenset(), known)


@lru_cache(maxsize=10_000)
def _day(ordinal: int) -> Day:
    return Day.from_ordinal(ordinal)
