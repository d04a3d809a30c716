"""What was done to a painting: earlier repairs as found, tests, and treatments step by step."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import DateSpan, Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.inscription import Sighting
from catalogue.record.location import Location
from catalogue.record.rules import (
    OPEN,
    Acidity,
    Celsius,
    Clock,
    Id,
    Millimetres,
    PartyId,
    Percent,
    Seconds,
    Siemens,
    Text,
    Visibility,
    between,
    inside,
    matches,
    new_id,
    term,
)

Hazard = Annotated[
    str,
    matches(r"(H|EUH)\d{3}[A-Za-z]{0,2}", "a hazard code is written H310, H360Df or EUH066"),
]
Precaution = Annotated[
    str,
    matches(
        r"P\d{3}(\+P\d{3})*",
        "a precaution is written P280, or P301+P330+P331 for several at once",
    ),
]


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialUse:
    """One material as it was used: which batch, in what part (`role`), in what strength.

    `concentration_percent` needs its `basis` (weight in volume, volume in volume, weight in weight).
    `data_sheet` is the day of the safety data sheet that was read; `signal`, `hazards` (H310,
    EUH066) and `precautions` (P280) are what it says, typed in as they stand there.
    """

    id: Id = field(default_factory=new_id)
    material: Annotated[str, term("material")]
    role: Annotated[str, term("use")] | None = None
    product: Text | None = None
    maker: Text | None = None
    lot: Text | None = None
    formulation_year: Annotated[int, between(1800, 2200)] | None = None
    concentration_percent: Percent | None = None
    basis: Annotated[str, term("concentration")] | None = None
    amount: Text | None = None
    opened: Day | None = None
    expires: Day | None = None
    data_sheet: Day | None = None
    signal: Text | None = None
    hazards: tuple[Hazard, ...] = ()
    precautions: tuple[Precaution, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.data_sheet is None and (self.signal or self.hazards or self.precautions):
            raise rules.refuse(
                "MaterialUse.data_sheet",
                None,
                "what a safety data sheet says goes with the day of the sheet",
            )
        if (self.concentration_percent is None) is not (self.basis is None):
            raise rules.refuse(
                "MaterialUse.basis",
                self.basis,
                "a concentration and its basis (w/v, v/v, w/w) go together",
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.material, self.lot or "", self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriorRepair:
    """A repair that was found: what and where it is, what it does to the painting, what to do with it.

    `writing_beneath` is None until somebody could look; `covers` are the inscriptions and older
    repairs known to be beneath. `kept_as` is the bag or envelope it went into.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"R[1-9]\d*", "a repair's number is R1")] | None = None
    kind: Annotated[str, term("repair")]
    materials: tuple[Annotated[str, term("material")], ...] = ()
    adhesive: Annotated[str, term("material")] | None = None
    adhesive_basis: Annotated[str, term("basis")] | None = None
    location: Location | None = None
    writing_beneath: bool | None = None
    covers: tuple[Annotated[str, inside("Inscription", "PriorRepair")], ...] = ()
    effects: tuple[Annotated[str, term("effect")], ...] = ()
    made: DateSpan | None = None
    by: PartyId | None = None
    decision: Annotated[str, term("decision")] | None = None
    reason: Text | None = None
    reversibility: Text | None = None
    kept_as: Text | None = None
    sightings: tuple[Sighting, ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.adhesive_basis is not None and self.adhesive is None:
            raise rules.refuse(
                "PriorRepair.adhesive_basis", self.adhesive_basis, "name the adhesive first"
            )
        if self.id in self.covers:
            raise rules.refuse("PriorRepair.covers", self.id, "it cannot lie over itself")

    @property
    def made_of(self) -> tuple[str, ...]:
        """All its materials (terms), what it is stuck on with among them."""
        return (*self.materials, self.adhesive) if self.adhesive else self.materials

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)

    def latest(self) -> Sighting | None:
        """The last state on record, None when nobody wrote one down."""
        return self.sightings[-1] if self.sightings else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Response:
    """What one layer did when it was tested."""

    id: Id = field(default_factory=new_id)
    layer: Annotated[str, term("layer")]
    seen: tuple[Annotated[str, term("response")], ...]

    def __post_init__(self) -> None:
        rules.check(self)
        if not self.seen:
            raise rules.refuse("Response.seen", (), "say what was seen, if only nothing")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.layer, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Test:
    """One test on one place: which agent in which strength for how long, and what each layer did.

    `inscription` is the one whose sensitivity was tested. `result` is the examiner's judgement.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"X[1-9]\d*", "a test's number is X1")] | None = None
    kind: Annotated[str, term("test")]
    on: Day | None = None
    by: PartyId | None = None
    location: Location | None = None
    inscription: Annotated[str, inside("Inscription")] | None = None
    materials: tuple[MaterialUse, ...] = ()
    ph: Acidity | None = None
    conductivity_ms_cm: Siemens | None = None
    temperature_c: Celsius | None = None
    dwell_s: Seconds | None = None
    applicator: Text | None = None
    rolls: Annotated[int, between(1, 1000)] | None = None
    area_mm2: Annotated[float, between(0.01, 1e6)] | None = None
    responses: tuple[Response, ...] = ()
    result: Annotated[str, term("result")] | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """Somebody's decision to go on against a `rule` of the order of work ("O4"), and why."""

    id: Id = field(default_factory=new_id)
    rule: Annotated[str, matches(r"[A-Z][A-Z0-9-]*", "a rule is named by its key, such as O4")]
    reason: Text
    by: PartyId | None = None
    on: Day | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.rule), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a treatment, in the `order` in which it was done (or is planned).

    Days are local days, `began_at` and `ended_at` local times. `addresses` are the findings and
    repairs it was done for, `covers` and `removes` what it hides or takes away. The surface
    temperature is measured, the set temperature read off the tool; both in °C. `overrides` are the
    rules of the order of work that it was done against; `emergency` is why it could not wait for an
    approval.
    """

    id: Id = field(default_factory=new_id)
    order: Annotated[int, between(1, 10_000)]
    kind: Annotated[str, term("step")]
    aim: Annotated[str, term("aim")] | None = None
    began: Day | None = None
    began_at: Clock | None = None
    ended: Day | None = None
    ended_at: Clock | None = None
    by: tuple[PartyId, ...] = ()
    location: Location | None = None
    materials: tuple[MaterialUse, ...] = ()
    set_temperature_c: Celsius | None = None
    surface_temperature_c: Celsius | None = None
    humidity_percent: Percent | None = None
    dwell_s: Seconds | None = None
    pressure_mbar: Annotated[float, between(0, 1100)] | None = None
    weight_kg: Annotated[float, between(0.001, 1000)] | None = None
    ph: Acidity | None = None
    conductivity_ms_cm: Siemens | None = None
    layers: Annotated[int, between(1, 1000)] | None = None
    overlap_mm: Millimetres | None = None
    edge: Annotated[str, term("edge")] | None = None
    addresses: tuple[Annotated[str, inside("Finding", "PriorRepair")], ...] = ()
    covers: tuple[Annotated[str, inside("Inscription", "PriorRepair", "Finding")], ...] = ()
    removes: tuple[
        Annotated[str, inside("PriorRepair", "Inscription", "Part", "Layer")], ...
    ] = ()
    outcome: Text | None = None
    departures: Text | None = None
    overrides: tuple[Override, ...] = ()
    emergency: Text | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        for day, clock, name in (
            (self.began, self.began_at, "began_at"),
            (self.ended, self.ended_at, "ended_at"),
        ):
            if clock is not None and day is None:
                raise rules.refuse(f"Step.{name}", clock, "a time of day needs its day")
        if self.ended and not self.began:
            raise rules.refuse("Step.ended", self.ended.iso, "nobody said when it began")
        if self.began and self.ended:
            began = (self.began.iso, self.began_at or "00:00")
            ended = (self.ended.iso, self.ended_at or "24:00")
            if ended < began:
                raise rules.refuse("Step.ended", " ".join(ended), f"it began {' '.join(began)}")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.order, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment:
    """One course of treatment: the steps of one campaign, in order."""

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"T[1-9]\d*", "a treatment's number is T1")] | None = None
    title: Text | None = None
    aim: Annotated[str, term("aim")] | None = None
    steps: tuple[Step, ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        orders = [step.order for step in self.steps]
        if len(set(orders)) < len(orders):
            twice = next(order for order in orders if orders.count(order) > 1)
            raise rules.refuse(
                "Treatment.steps", twice, "two steps cannot have one place in order"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)

    def label(self, step: Step) -> str:
        """How people call a step: "T1.3"."""
        return f"{self.number or 'T'}.{step.order}"
