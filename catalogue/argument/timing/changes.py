"""What one chronology knows otherwise than another: windows that moved, contradictions that came or went."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from catalogue.argument.chain import words
from catalogue.argument.chain.tenures import UNSAID
from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import Event, Instant
from catalogue.argument.timing.solving import Chronology, Contradiction


@dataclass(frozen=True, slots=True)
class Moved:
    """A beginning or an end that is known otherwise; None before or after: the event is not in that one."""

    event: Event
    instant: Instant
    before: Interval | None
    after: Interval | None

    def says(self) -> str:
        """What is known otherwise, in words."""
        which = "moved" if self.before and self.after else "came" if self.after else "went"
        return words.say(
            "falls",
            which,
            called=self.event.called,
            end=words.table("falls")[self.instant.end],
            before=words.instant(self.before or UNSAID),
            after=words.instant(self.after or UNSAID),
        )


@dataclass(frozen=True, slots=True)
class Changes:
    """All that differs: windows, and contradictions that are `resolved` or have `arisen`."""

    moved: tuple[Moved, ...]
    resolved: tuple[Contradiction, ...] = ()
    arisen: tuple[Contradiction, ...] = ()

    @property
    def elsewhere(self) -> tuple[Moved, ...]:
        """The windows of what is in both: not of what came or went itself."""
        return tuple(each for each in self.moved if each.before and each.after)


def changes(before: Chronology, after: Chronology) -> Changes:
    """What the second chronology knows otherwise than the first, in the order of their events."""
    had = {_members(each) for each in before.contradictions}
    has = {_members(each) for each in after.contradictions}
    return Changes(
        tuple(_moved(before, after)),
        tuple(each for each in before.contradictions if _members(each) not in has),
        tuple(each for each in after.contradictions if _members(each) not in had),
    )


def _moved(before: Chronology, after: Chronology) -> Iterator[Moved]:
    first = {instant: event for event in before.events for instant in _ends(event)}
    second = {instant: event for event in after.events for instant in _ends(event)}
    for instant in dict.fromkeys((*first, *second)):
        was = before.window(instant) if instant in first else None
        now = after.window(instant) if instant in second else None
        if was != now:
            event = first.get(instant) or second[instant]
            yield Moved(event, instant, was, now)


def _ends(event: Event) -> tuple[Instant, ...]:
    return (event.began,) if event.moment else (event.began, event.ended)


def _members(each: Contradiction) -> frozenset[str]:
    return frozenset(claim.key for claim in each.claims)
