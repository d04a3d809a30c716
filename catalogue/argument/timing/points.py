"""Events and claims as points and arcs of a network; what cannot be taken in is refused in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness, Instant
from catalogue.argument.timing.lengths import ORIGIN
from catalogue.argument.timing.network import Arc, length_of
from catalogue.errors import BadData

Points = Mapping[str, tuple[int, int]]
"""Of every event, the points of its first and its last day; those of a moment are one."""

MOST_DAYS: Final = 3_652_425_000
"""The most days that a bound may have, ten million years: more is a slip."""

_NATURE: Final = "nature:"
_ORIGIN: Final = Instant("", "began")


def points_of(events: Iterable[Event]) -> tuple[dict[str, tuple[int, int]], list[Instant]]:
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


def nature_of(events: Iterable[Event]) -> Iterable[Claim]:
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


def refuse_twice(claims: Iterable[Claim]) -> None:
    """Refuse claims of the same key."""
    seen: set[str] = set()
    for claim in claims:
        if claim.key in seen:
            raise BadData(
                f"two claims have the key {claim.key!r}",
                remedy="Give one of them another key, or make them one claim of several bounds.",
            )
        seen.add(claim.key)


def check(claim: Claim, points: Points) -> None:
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


def arcs_of(claim: Claim, points: Points) -> tuple[Arc, ...]:
    """A claim in the network: the earlier instant lies no further than minus `days` after the later."""
    return tuple(
        (_point(each.later, points), _point(each.earlier, points), length_of(-each.days), claim.key)
        for each in claim.bounds
    )  # fmt: skip


def _point(instant: Instant | None, points: Points) -> int:
    if instant is None:
        return ORIGIN
    first, last = points[instant.event]
    return first if instant.end == "began" else last
