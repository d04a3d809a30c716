"""One loan of one work: to whom, for how long, in which air and light, how it is packed and covered."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.proposal import Money
from catalogue.record.rules import (
    Celsius,
    Id,
    PartyId,
    Percent,
    Text,
    WorkId,
    between,
    new_id,
    term,
)

Lux = Annotated[float, between(0, 200_000)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Facility:
    """What the borrower answered to one question about the house (`kind`: alarm, fire detection ...)."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("facility")]
    answer: Annotated[str, term("answer")]
    note: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Loan:
    """What lender and borrower agreed about one work. `title` is what it is shown in, `venue` where.

    `lender` is None where the client, or the owner beside the client, lends. Climate is agreed in %
    of relative humidity and °C, `humidity_swing_percent` the most that either side of the mean may
    be within a day, `lux_most` the most light on the picture. `packing` are the measures of
    vocab/terms that were agreed. Insurance runs nail to nail: `covered_from` the day it comes off the
    wall to `covered_until` the day it hangs there again. `insured_value` is between the two
    parties alone; `value_basis` says what kind of value it is.
    """

    id: Id = field(default_factory=new_id)
    work: WorkId
    lender: PartyId | None = None
    borrower: PartyId | None = None
    title: Text | None = None
    venue: Text | None = None
    began: Day | None = None
    ended: Day | None = None
    facilities: tuple[Facility, ...] = ()
    climate: Text | None = None
    humidity_least_percent: Percent | None = None
    humidity_most_percent: Percent | None = None
    humidity_swing_percent: Percent | None = None
    temperature_least_c: Celsius | None = None
    temperature_most_c: Celsius | None = None
    lux_most: Lux | None = None
    light: Text | None = None
    packing: tuple[Annotated[str, term("packing")], ...] = ()
    packing_says: Text | None = None
    transport: Text | None = None
    courier: PartyId | None = None
    handling: Text | None = None
    fixing: Text | None = None
    covered_from: Day | None = None
    covered_until: Day | None = None
    insured_value: Money | None = None
    currency: Annotated[str, term("currency")] | None = None
    value_basis: Annotated[str, term("value-basis")] | None = None
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        for first, last, rule in _IN_ORDER:
            least, most = getattr(self, first), getattr(self, last)
            if least is not None and most is not None and most < least:
                said = most.iso if isinstance(most, Day) else most
                raise rules.refuse(f"Loan.{last}", said, rule)
        if self.insured_value is not None and self.currency is None:
            raise rules.refuse("Loan.currency", None, "a sum needs its currency")
        asked = [each.kind for each in self.facilities]
        if len(set(asked)) < len(asked):
            twice = next(kind for kind in asked if asked.count(kind) > 1)
            raise rules.refuse("Loan.facilities", twice, "each question has one answer")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.began), self.work, self.id)


_IN_ORDER = (
    ("began", "ended", "a loan cannot end before it begins"),
    ("covered_from", "covered_until", "cover cannot end before it begins"),
    ("humidity_least_percent", "humidity_most_percent", "the most is not below the least"),
    ("temperature_least_c", "temperature_most_c", "the most is not below the least"),
)
