"""What a chronology is made of: events, and claims about how many days lie between their ends."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import Literal

End = Literal["began", "ended"]


@dataclass(frozen=True, slots=True, order=True)
class Instant:
    """The day on which an event began or ended; `event` is the id of an `Event`."""

    event: str
    end: End


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened to a painting, or lasted: its making, a label's fixing, an ownership.

    `id` is that of the value of the record that tells of it, or of the work or party with what
    it is of them ("<id>/made"). `called` is how people call it ("I3"), `words` what it is. A
    `moment` begins and ends on one day.
    """

    id: str
    kind: str
    called: str
    words: str
    moment: bool = False

    @property
    def began(self) -> Instant:
        """Its first day."""
        return Instant(self.id, "began")

    @property
    def ended(self) -> Instant:
        """Its last day."""
        return Instant(self.id, "began" if self.moment else "ended")


class Firmness(IntEnum):
    """How hard a claim is to give up; of two that cannot both hold the lower is given up first."""

    WEAK = 1
    LIKELY = 2
    HARD = 3
    NATURE = 4
    """What cannot be otherwise: nothing ends before it begins. Never given up."""


@dataclass(frozen=True, slots=True)
class AtLeast:
    """That `later` lies `days` or more after `earlier`; less than nothing is so many days before.

    None is the day before the first of January of the year 1 (`Day.ordinal` 0), so a known day is
    a bound on both sides of it: at least its ordinal after None, and None at least minus its
    ordinal after it.
    """

    earlier: Instant | None
    later: Instant | None
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One thing that the record says about time, in one or more bounds that stand or fall together.

    `words` say it to a person; `rests_on` are the ids of the values that say it, `source` where
    that is known from (a rule's source, "the record"); `resolve` is what to do where it
    contradicts others. `key` is the same as long as the claim is ("date:<id>").
    """

    key: str
    words: str
    bounds: tuple[AtLeast, ...]
    firmness: Firmness
    rests_on: tuple[str, ...] = ()
    source: str = ""
    resolve: str = ""
