"""What a work of a commission is worth and to whom, and under whose insurance it stands at each moment.

Both stay in the house: values and policies are between the owner, the studio and whoever insures.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.proposal import Money
from catalogue.record.rules import Id, PartyId, Text, WorkId, between, new_id, term


@dataclass(frozen=True, slots=True, kw_only=True)
class Valuation:
    """A value that somebody put on a work on a day: of which kind (`basis`), from `low` to `high`.

    `high` is None where it is one sum; `until` is the last day on which it counts, `grounds` what it
    rests on. It is an opinion of its day, and no offer.
    """

    id: Id = field(default_factory=new_id)
    work: WorkId
    basis: Annotated[str, term("value-basis")]
    low: Money
    high: Money | None = None
    currency: Annotated[str, term("currency")]
    on: Day | None = None
    until: Day | None = None
    by: PartyId | None = None
    grounds: Text | None = None
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.high is not None and self.high < self.low:
            raise rules.refuse("Valuation.high", self.high, "the higher sum comes second")
        if self.on and self.until and self.until < self.on:
            raise rules.refuse(
                "Valuation.until", self.until.iso, f"it was made on {self.on.iso}"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.work, self.basis, self.id)

    def stands(self, on: Day) -> bool:
        """Whether it counts on a day: made by then, and not over."""
        made = self.on is None or self.on <= on
        return made and (self.until is None or on <= self.until)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Who bears the risk of a work from one day to another, both in it: the owner's policy, the studio's ...

    `work` is None where it is every work of the commission; a damage must be reported to the insurer
    within `report_hours`.
    """

    id: Id = field(default_factory=new_id)
    work: WorkId | None = None
    holder: Annotated[str, term("risk-holder")]
    since: Day | None = None
    until: Day | None = None
    policy: Text | None = None
    insured_for: Money | None = None
    currency: Annotated[str, term("currency")] | None = None
    report_hours: Annotated[int, between(1, 8760)] | None = None
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.since and self.until and self.until < self.since:
            raise rules.refuse("Cover.until", self.until.iso, f"it begins on {self.since.iso}")
        if self.insured_for is not None and self.currency is None:
            raise rules.refuse("Cover.currency", None, "a sum needs its currency")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.since), self.holder, self.work or "", self.id)

    def holds(self, work: str, on: Day) -> bool:
        """Whether it is about a work on a day."""
        about = self.work is None or self.work == work
        begun = self.since is None or self.since <= on
        return about and begun and (self.until is None or on <= self.until)
