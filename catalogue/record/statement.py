"""What somebody decided about one statement found in a reading: that these letters are a price, a date ..."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.rules import (
    OPEN,
    Id,
    PartyId,
    Text,
    Visibility,
    between,
    inside,
    new_id,
    term,
)

Offset = Annotated[int, between(0, 1_000_000)]
"""A place in the markup of a reading, counted in code points from 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """One statement of a reading, and what a person made of it (`standing`).

    `start` and `end` (the first letter behind it) are places in the markup of `transcript`; `written`
    is what is seen there. `value` is what it comes to (the EDTF of a date, a sum with its currency),
    in the person's own words where they corrected it; None where the letters say all of it.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("statement")]
    written: Text
    transcript: Annotated[str, inside("Transcript", must=True)]
    start: Offset
    end: Offset
    standing: Annotated[str, term("standing")]
    value: Text | None = None
    by: PartyId | None = None
    on: Day | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.end <= self.start:
            raise rules.refuse("Statement.end", self.end, "it must lie behind the start")
        if self.standing == "standing/corrected" and self.value is None:
            raise rules.refuse("Statement.value", None, "a correction says what is right")

    @property
    def stands(self) -> bool:
        """Whether somebody accepted it, as it was found or corrected."""
        return self.standing in ("standing/accepted", "standing/corrected")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.transcript, self.start, self.end, self.kind, self.id)
