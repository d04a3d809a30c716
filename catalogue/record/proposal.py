"""What a client is asked to agree to: a proposal with its options, planned step by step, and the answer."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.measure.costs import CostRange, Figures
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.location import Location
from catalogue.record.rules import (
    Digest,
    Id,
    PartyId,
    Percent,
    Text,
    WorkId,
    between,
    in_work,
    inside,
    matches,
    new_id,
    term,
)
from catalogue.record.treatment import MaterialUse

Hour = Annotated[float, between(0, 10_000)]
"""Hours of work, with a fraction."""

Money = Annotated[float, between(0, 1e9)]
"""A sum in the currency that is named beside it; it is counted in whole cents, as a decimal."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedStep:
    """One step as it is foreseen, in the `order` in which it is to be done.

    `work` is None where the job has one work only. `addresses`, `covers` and `removes` are ids of
    values of that work. `hours_low` and `hours_high` bound the likely hours; None where nobody
    judged them, and then the studio's own factors stand in.
    """

    id: Id = field(default_factory=new_id)
    order: Annotated[int, between(1, 10_000)]
    kind: Annotated[str, term("step")]
    work: WorkId | None = None
    text: Text | None = None
    location: Location | None = None
    materials: tuple[MaterialUse, ...] = ()
    hours_low: Hour | None = None
    hours_likely: Hour | None = None
    hours_high: Hour | None = None
    addresses: tuple[Annotated[str, in_work("Finding", "PriorRepair")], ...] = ()
    covers: tuple[Annotated[str, in_work("Inscription", "PriorRepair", "Finding")], ...] = ()
    removes: tuple[
        Annotated[str, in_work("PriorRepair", "Inscription", "Part", "Layer")], ...
    ] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.hours_likely is None and (self.hours_low, self.hours_high) != (None, None):
            raise rules.refuse("PlannedStep.hours_likely", None, "say the likely hours first")
        bounds = (self.hours_low, self.hours_likely, self.hours_high)
        said = [hours for hours in bounds if hours is not None]
        if said != sorted(said):
            raise rules.refuse(
                "PlannedStep.hours_likely", self.hours_likely, "hours rise from low to high"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.order, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way to go on. `nothing` marks the one that leaves the painting as it is, or only guards it.

    `rate` is for an hour, `materials_cost` and `outside_cost` are sums, all in `currency`;
    `on_inscriptions` says what becomes of what stands on the back.
    """

    id: Id = field(default_factory=new_id)
    order: Annotated[int, between(1, 10_000)]
    title: Text
    nothing: bool = False
    aim: Annotated[str, term("aim")] | None = None
    steps: tuple[PlannedStep, ...] = ()
    risk: Text | None = None
    retreatability: Text | None = None
    on_inscriptions: Text | None = None
    rate: Money | None = None
    currency: Annotated[str, term("currency")] | None = None
    materials_cost: Money | None = None
    outside_cost: Money | None = None
    contingency_percent: Percent | None = None
    tax_percent: Percent | None = None

    def __post_init__(self) -> None:
        rules.check(self)
        orders = [step.order for step in self.steps]
        if len(set(orders)) < len(orders):
            twice = next(order for order in orders if orders.count(order) > 1)
            raise rules.refuse(
                "Option.steps", twice, "two steps cannot have one place in order"
            )
        priced = any((self.rate, self.materials_cost, self.outside_cost))
        if priced and self.currency is None:
            raise rules.refuse("Option.currency", None, "a sum needs its currency")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.order, self.id)

    def costs(self) -> CostRange:
        """What it comes to with the low, the likely and the high hours, in its currency.

        >>> plan = PlannedStep(order=1, kind="step/tear-mend", hours_likely=48)
        >>> option = Option(order=1, title="Mend", steps=(plan,), rate=55, materials_cost=138,
        ...     currency="currency/euro", contingency_percent=10, tax_percent=21)
        >>> option.costs().likely.total
        Decimal('3697.52')
        """
        return self.figures().costs(
            [(step.hours_low, step.hours_likely, step.hours_high) for step in self.steps]
        )

    def figures(self) -> Figures:
        """The sums and percentages that its costs are worked out from."""
        return Figures(
            rate=self.rate or 0,
            materials=self.materials_cost or 0,
            outside=self.outside_cost or 0,
            contingency_percent=self.contingency_percent or 0,
            tax_percent=self.tax_percent or 0,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """What was put to the client on one day, with the ways to go on; valid up to a day."""

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"Q[1-9]\d*", "a proposal's number is Q1")] | None = None
    on: Day | None = None
    by: PartyId | None = None
    valid_until: Day | None = None
    options: tuple[Option, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.on and self.valid_until and self.valid_until < self.on:
            raise rules.refuse(
                "Proposal.valid_until", self.valid_until.iso, f"it was made on {self.on.iso}"
            )
        orders = [option.order for option in self.options]
        if len(set(orders)) < len(orders):
            twice = next(order for order in orders if orders.count(order) > 1)
            raise rules.refuse(
                "Proposal.options", twice, "two options cannot have one place in order"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)

    @property
    def leaves_a_choice(self) -> bool:
        """Whether doing nothing, or only guarding the painting, is among the options."""
        return any(option.nothing for option in self.options)


@dataclass(frozen=True, slots=True, kw_only=True)
class Approval:
    """Somebody's word that one option of one proposal may be carried out.

    `digest` is the SHA-256 of the proposal as it was approved, so that a later edit is seen; it is
    None until the first save, which puts it there.
    `cap` is the most that may be spent, tax included, in the option's currency. `photos`,
    `publication` and `samples` are each a permission of its own, None where nobody asked;
    `removed` says what is to become of what is taken off.
    """

    id: Id = field(default_factory=new_id)
    proposal: Annotated[str, inside("Proposal", must=True)]
    option: Annotated[str, inside("Option", must=True)]
    digest: Digest | None = None
    by: PartyId | None = None
    on: Day
    cap: Money | None = None
    photos: bool | None = None
    publication: bool | None = None
    samples: bool | None = None
    removed: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.id)
