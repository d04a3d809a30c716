"""Seeded events and claims: some drawn from a true course of things, so that all can hold; some at random."""

from __future__ import annotations

import random
from collections.abc import Iterator

from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness, Instant
from catalogue.measure import Day

FIRST, LAST = Day(1650, 1, 1).ordinal, Day(2026, 1, 1).ordinal
SOME = (Firmness.HARD, Firmness.HARD, Firmness.LIKELY, Firmness.WEAK)


def said(key: str, *bounds: AtLeast, firmness: Firmness = Firmness.HARD) -> Claim:
    return Claim(key=key, words=key, bounds=bounds, firmness=firmness)


def between(instant: Instant, first: int | None, last: int | None) -> Iterator[AtLeast]:
    """That an instant lies within two days."""
    if first is not None:
        yield AtLeast(None, instant, first)
    if last is not None:
        yield AtLeast(instant, None, -last)


def happenings(count: int) -> list[Event]:
    """Every third is a moment."""
    return [
        Event(id=f"e{n:03}", kind="", called=f"E{n}", words="", moment=n % 3 == 0)
        for n in range(count)
    ]


class Course:
    """A true course of `events` events, and `claims` claims that it bears out."""

    def __init__(self, events: int, claims: int, seed: int = 7) -> None:
        self.chance = random.Random(seed)
        self.events = happenings(events)
        self.days: dict[Instant, int] = {}
        for event in self.events:
            began = self.chance.randint(FIRST, LAST)
            self.days[event.began] = began
            self.days[event.ended] = (
                began if event.moment else began + self.chance.randint(0, 9000)
            )
        self.in_time = sorted(self.days, key=lambda instant: (self.days[instant], instant))
        self.claims = [self._date(n) for n in range(claims * 3 // 10)]
        self.claims += [self._order(n) for n in range(claims - len(self.claims))]
        self.chance.shuffle(self.claims)

    def _date(self, number: int) -> Claim:
        """A date of an event: its year, its decade, a bound on one side."""
        event = self.chance.choice(self.events)
        width = self.chance.choice((0, 365, 3650, 7300))
        before, after = self.chance.randint(0, width), self.chance.randint(0, width)
        first, last = self.days[event.began] - before, self.days[event.ended] + after
        open_end = self.chance.randrange(4)
        bounds = (
            *between(event.began, first if open_end != 1 else None, None),
            *between(event.ended, None, last if open_end != 2 else None),
        )
        return said(f"date:{number}", *bounds, firmness=self.chance.choice(SOME))

    def _order(self, number: int) -> Claim:
        """What lies over what, who followed whom: of two that lie near each other in time."""
        place = self.chance.randrange(len(self.in_time) - 1)
        later = min(place + self.chance.randint(1, 40), len(self.in_time) - 1)
        bound = AtLeast(self.in_time[place], self.in_time[later], 0)
        return said(f"order:{number}", bound, firmness=self.chance.choice(SOME))

    def plant(self, count: int) -> list[Claim]:
        """Hard claims that this course does not bear out: a later thing before an earlier one."""
        return [
            said(
                f"planted:{number}",
                AtLeast(self.in_time[-1 - 9 * number], self.in_time[9 * number], 0),
            )
            for number in range(1, count + 1)
        ]

    def misdate(self, count: int) -> list[Claim]:
        """Likely dates that this course does not bear out: a generation after the thing ended."""
        events = self.events[:: len(self.events) // count][:count]
        return [
            said(
                f"misdated:{event.id}",
                *between(event.began, self.days[event.ended] + 12_000, None),
                firmness=Firmness.LIKELY,
            )
            for event in events
        ]


def at_random(seed: int) -> tuple[list[Event], list[Claim]]:
    """A few events and claims of which nobody knows whether they can hold; about half can."""
    chance = random.Random(seed)
    events = happenings(chance.randint(1, 7))
    instants = [None, *(each for event in events for each in (event.began, event.ended))]
    reach = chance.choice((3, 30, 30_000))
    claims = []
    for number in range(chance.randint(0, 14)):
        bounds = [
            AtLeast(
                chance.choice(instants), chance.choice(instants),
                chance.randint(-reach, reach // 3),
            )
            for _ in range(chance.choice((1, 1, 1, 2, 3)))
        ]  # fmt: skip
        claims.append(said(f"c{number:02}", *bounds, firmness=chance.choice(SOME)))
    return events, claims
