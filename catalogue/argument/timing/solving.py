"""A chronology: what all claims together leave of each event, why, and which of them cannot all hold.

`standing` finds the claims that stand, `lengths` the first and last days that they leave; here they
become days and reasons again. A change of one claim is worked out from what was known where nothing
is contradicted, and from the beginning otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final, Literal

from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness, Instant
from catalogue.argument.timing.lengths import NO_WAY, ORIGIN, Reach
from catalogue.argument.timing.network import days_of
from catalogue.argument.timing.standing import (
    Contradiction,
    Hearing,
    Points,
    arcs_of,
    in_order,
)
from catalogue.errors import BadData, NotOnFile
from catalogue.measure import Day

__all__ = ["MOST_DAYS", "Chronology", "Contradiction", "Link", "solve"]

MOST_DAYS: Final = 3_652_425_000
"""The most days that a bound may have, ten million years: more is a slip."""

Which = Literal["earliest", "latest"]

_NATURE: Final = "nature:"
_ORIGIN: Final = Instant("", "began")


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
        known = {each.key: each for each in self.claims} | {claim.key: claim}
        _check(claim, self._known.points)
        return self._after(tuple(known.values()), claim.key)

    def without_claim(self, key: str) -> Chronology:
        """The chronology without one claim."""
        claims = tuple(each for each in self.claims if each.key != key)
        if len(claims) == len(self.claims):
            raise NotOnFile(
                f"there is no claim {key!r} to take away",
                remedy="The keys are those of the chronology's claims.",
            )
        return self._after(claims, key)

    def _after(self, claims: tuple[Claim, ...], key: str) -> Chronology:
        """The chronology of these claims, which differ from its own in one key."""
        old, points = self._known, self._known.points
        new = {each.key: each for each in claims if each.key == key}
        gone = arcs_of(old.claims[key], points) if key in old.claims else ()
        come = arcs_of(new[key], points) if key in new else ()
        reach = None if self.contradictions else old.reach.changed(gone, come)
        if reach is None:
            after = solve(self.events, claims)
        else:
            every = {each: old.claims[each] for each in old.claims if each != key} | new
            known = _Known(points, every, reach, old.instants)
            after = Chronology(self.events, claims, (), (), frozenset(), known)
        moved = old.reach.moved(after._known.reach)
        return replace(after, touched=frozenset(old.instants[each].event for each in moved))

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

    >>> from catalogue.argument.timing.claims import Event
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
    points, instants = _points(events)
    _refuse_twice(claims)
    for claim in claims:
        _check(claim, points)
    every = in_order((*claims, *_nature(events)))
    heard = Hearing(len(instants), every, points)
    known = _Known(
        points, {each.key: each for each in every}, Reach.of(heard.network), instants
    )
    aside = tuple(in_order(heard.aside.values()))
    return Chronology(events, claims, tuple(heard.contradictions), aside, frozenset(), known)


def _points(events: Iterable[Event]) -> tuple[dict[str, tuple[int, int]], list[Instant]]:
    """Points for the ends of events, by their ids, and what each point is; the origin is nothing's."""
    points: dict[str, tuple[int, int]] = {}
    instants = [_ORIGIN]
    for event in sorted(events, key=lambda event: event.id):
        if event.id in points:
            raise BadData(
                f"two events have the id {event.id!r}", remedy="Give one of them another id."
            )
        first = len(instants)
        instants.append(event.began)
        if not event.moment:
            instants.append(event.ended)
        points[event.id] = first, len(instants) - 1
    return points, instants


def _nature(events: Iterable[Event]) -> Iterable[Claim]:
    """That what lasts ends on the day it begins or later."""
    for event in events:
        if not event.moment:
            yield Claim(
                key=_NATURE + event.id,
                words="",
                bounds=(AtLeast(event.began, event.ended, 0),),
                firmness=Firmness.NATURE,
                rests_on=(event.id,),
            )


def _refuse_twice(claims: Sequence[Claim]) -> None:
    seen: set[str] = set()
    for claim in claims:
        if claim.key in seen:
            raise BadData(
                f"two claims have the key {claim.key!r}",
                remedy="Give one of them another key, or make them one claim of several bounds.",
            )
        seen.add(claim.key)


def _check(claim: Claim, points: Points) -> None:
    """Refuse a claim that cannot be put into the network."""
    if claim.key.startswith(_NATURE):
        raise BadData(
            f"the key {claim.key!r} is kept for what cannot be otherwise",
            remedy=f"Let the key begin with something else than {_NATURE!r}.",
        )
    for bound in claim.bounds:
        for instant in (bound.earlier, bound.later):
            if instant is not None and instant.event not in points:
                raise BadData(
                    f"the claim {claim.key!r} is about an event that is not there: {instant.event!r}",
                    remedy="Give the event as well, or leave the claim out.",
                )
        if type(bound.days) is not int or not -MOST_DAYS <= bound.days <= MOST_DAYS:
            raise BadData(
                f"the claim {claim.key!r} has a bound of {bound.days} days",
                remedy=f"A bound is a whole number of days, {MOST_DAYS} at the most.",
            )


@lru_cache(maxsize=10_000)
def _day(ordinal: int) -> Day:
    return Day.from_ordinal(ordinal)
