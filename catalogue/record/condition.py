"""The condition of a painting: what was looked at when, and each damage from check to check."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.location import Location
from catalogue.record.rules import (
    OPEN,
    Celsius,
    Id,
    Millimetres,
    PartyId,
    Percent,
    Text,
    Visibility,
    between,
    inside,
    matches,
    new_id,
    term,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionCheck:
    """One look at the whole painting: when, by whom, what for, in which light, with which limits.

    `condition`, `urgency` and `handling` are the examiner's judgement of the whole on that day, each
    on a scale of its own with a legend (vocab/terms). Two checks on one day are told apart by their
    numbers.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"K[1-9]\d*", "a check's number is K1")] | None = None
    occasion: Annotated[str, term("occasion")]
    on: Day
    by: PartyId
    at: Text | None = None
    lights: tuple[Annotated[str, term("light")], ...] = ()
    instruments: Text | None = None
    limits: Text | None = None
    framed: bool | None = None
    glazed: bool | None = None
    condition: Annotated[str, term("condition")] | None = None
    urgency: Annotated[str, term("urgency")] | None = None
    handling: Annotated[str, term("handling")] | None = None
    temperature_c: Celsius | None = None
    humidity_percent: Percent | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), *rules.number_rank(self.number), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """How one finding was on the day of one check; a later observation never replaces it.

    `change` is against the check before. `severity` and `extent` are on the scales of vocab/terms.
    """

    id: Id = field(default_factory=new_id)
    check: Annotated[str, inside("ConditionCheck", must=True)]
    location: Location | None = None
    length_mm: Millimetres | None = None
    gap_mm: Annotated[float, between(0, 10_000)] | None = None
    depth_mm: Millimetres | None = None
    area_mm2: Annotated[float, between(0.01, 1e10)] | None = None
    count: Annotated[int, between(1, 1_000_000)] | None = None
    extent: Annotated[str, term("extent")] | None = None
    severity: Annotated[str, term("severity")] | None = None
    stability: Annotated[str, term("stability")] | None = None
    change: Annotated[str, term("change")] | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like; the record knows the day of its check."""
        return (self.check, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One damage or alteration of one layer; it keeps its identity from check to check."""

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"F[1-9]\d*", "a finding's number is F1")] | None = None
    layer: Annotated[str, term("layer")]
    kind: Annotated[str, term("damage")]
    cause: Annotated[str, term("cause")] | None = None
    cause_certainty: Annotated[str, term("certainty")] | None = None
    observations: tuple[Observation, ...]
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if not self.observations:
            raise rules.refuse("Finding.observations", (), "a finding was seen at some check")
        checks = [each.check for each in self.observations]
        if len(set(checks)) < len(checks):
            twice = next(check for check in checks if checks.count(check) > 1)
            raise rules.refuse(
                "Finding.observations", twice, "one check has one observation of a finding"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)
