"""A painting, and everything about it that may be told, piece by piece."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Annotated, Any, cast

from catalogue.errors import NotOnFile
from catalogue.measure import DateSpan, Day
from catalogue.record import rules
from catalogue.record.common import Note, Number, Paper, Photo, Rank, Size, Title
from catalogue.record.condition import ConditionCheck, Finding, Observation
from catalogue.record.inscription import Inscription
from catalogue.record.provenance import (
    Citation,
    Exhibition,
    Inquiry,
    Movement,
    ProvenanceEvent,
    Relation,
)
from catalogue.record.rules import (
    OPEN,
    Id,
    PartyId,
    Pointer,
    Text,
    Visibility,
    between,
    matches,
    new_id,
    term,
)
from catalogue.record.treatment import PriorRepair, Test, Treatment
from catalogue.surface import Sheet

StudioNumber = Annotated[str, matches(r"\d{4}-\d{3,}", "a studio's number is written 2026-041")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Attribution:
    """Who is said to have made it, in which trade sense (`qualifier`), by whom, when.

    `artist` is None where the maker is unknown; `written` keeps the wording it came in.
    """

    id: Id = field(default_factory=new_id)
    qualifier: Annotated[str, term("qualifier")] = "qualifier/by"
    artist: PartyId | None = None
    written: Text | None = None
    said_by: PartyId | None = None
    on: Day | None = None
    preferred: bool = False
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.artist is None and self.qualifier != "qualifier/unknown":
            raise rules.refuse(
                "Attribution.artist",
                None,
                "only the qualifier 'unknown' goes without an artist",
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (not self.preferred, rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A physical part that bears something or has a history: stretcher, frame, lining, board.

    `original` is None where nobody knows whether it belongs to the picture from the start; `fitted`
    is when it came to the picture.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("part")]
    materials: tuple[Annotated[str, term("material")], ...] = ()
    original: bool | None = None
    fitted: DateSpan | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of the construction, lowest first: canvas, size, ground, paint, varnish, lining.

    `position` counts from the back: 1 is the lowest; None where nobody has looked. `basis` is how
    it is known: seen, tested, told, guessed; None where it is not known. `applied` is when it came
    to the picture.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("layer")]
    position: Annotated[int, between(1, 1000)] | None = None
    materials: tuple[Annotated[str, term("material")], ...] = ()
    colour: Text | None = None
    original: bool | None = None
    basis: Annotated[str, term("basis")] | None = None
    applied: DateSpan | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.position or 1 << 30, self.kind, self.id)


NUMBERED = {
    "inscriptions": "I", "photos": "P", "findings": "F", "repairs": "R", "checks": "K",
    "tests": "X", "treatments": "T", "provenance": "E", "inquiries": "S", "papers": "D",
    "proposals": "Q", "pieces": "B",
}  # fmt: skip
"""The values of a work, of a job or of both that people call by a number, and the letter before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One painting. `number` is the studio's own ("2026-041"), None until the first save."""

    id: Id = field(default_factory=new_id)
    number: StudioNumber | None = None
    numbers: tuple[Number, ...] = ()
    titles: tuple[Title, ...] = ()
    attributions: tuple[Attribution, ...] = ()
    made: DateSpan | None = None
    materials: tuple[Annotated[str, term("material")], ...] = ()
    medium: Text | None = None
    sizes: tuple[Size, ...] = ()
    parts: tuple[Part, ...] = ()
    layers: tuple[Layer, ...] = ()
    inscriptions: tuple[Inscription, ...] = ()
    checks: tuple[ConditionCheck, ...] = ()
    findings: tuple[Finding, ...] = ()
    repairs: tuple[PriorRepair, ...] = ()
    tests: tuple[Test, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    provenance: tuple[ProvenanceEvent, ...] = ()
    exhibitions: tuple[Exhibition, ...] = ()
    citations: tuple[Citation, ...] = ()
    relations: tuple[Relation, ...] = ()
    movements: tuple[Movement, ...] = ()
    inquiries: tuple[Inquiry, ...] = ()
    photos: tuple[Photo, ...] = ()
    papers: tuple[Paper, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        for pointer in dangling(self):
            if pointer.rule.must:
                where = f"{type(pointer.owner).__name__}.{pointer.field}"
                kinds = " or ".join(
                    re.sub(r"(?<=.)(?=[A-Z])", " ", it) for it in pointer.rule.kinds
                )
                raise rules.refuse(where, pointer.target, f"no such {kinds.lower()} here")
        for relation in self.relations:
            if relation.to == self.document:
                raise rules.refuse("Relation.to", relation.to, "that is this very painting")

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"work/{self.id}"

    @property
    def sheet(self) -> Sheet | None:
        """The size of its two sides, in mm: that of the support; None while nobody has measured it."""
        for size in self.sizes:
            width, height = (
                size.width_mm or size.diameter_mm,
                size.height_mm or size.diameter_mm,
            )
            if size.what == "size/support" and width and height:
                return Sheet(width, height)
        return None

    def title(self) -> str:
        """The title to show: the preferred one, else the first, else that it has none."""
        return self.titles[0].text if self.titles else "untitled"

    def attribution(self) -> Attribution | None:
        """The attribution to show: the preferred one, else the latest, None where there is none."""
        if not self.attributions:
            return None
        return max(
            self.attributions, key=lambda each: (each.preferred, rules.day_rank(each.on))
        )

    def inscription(self, wanted: str) -> Inscription:
        """The inscription with this number ("I2") or id. Raises `NotOnFile`."""
        return cast("Inscription", self.value("inscriptions", wanted))

    def photo(self, wanted: str) -> Photo:
        """The photo with this number ("P1") or id. Raises `NotOnFile`."""
        return cast("Photo", self.value("photos", wanted))

    def value(self, kind: str, wanted: str) -> Any:
        """The value of one field ("repairs") with this number ("R1") or id. Raises `NotOnFile`."""
        for each in getattr(self, kind):
            if wanted == each.id or (wanted and wanted == getattr(each, "number", None)):
                return each
        raise NotOnFile(
            f"{self.number or 'this work'} has no {kind.removesuffix('s')} {wanted}"
        )

    def check_of(self, observation: Observation) -> ConditionCheck:
        """The check at which something was observed."""
        return next(check for check in self.checks if check.id == observation.check)

    def course(self, finding: Finding) -> tuple[Observation, ...]:
        """What was observed of a finding from check to check, the first first."""
        return tuple(sorted(finding.observations, key=lambda each: self.check_of(each).rank))


def dangling(record: object) -> Iterator[Pointer]:
    """Every pointer in a record to a value that is not in it, or is of another kind."""
    pointers: list[Pointer] = []
    kinds: dict[str, str] = {}
    for value in rules.values_within(record):
        pointers += rules.pointers(value)
        own = getattr(value, "id", None)
        if own is not None:
            kinds[own] = type(value).__name__
    for pointer in pointers:
        kind = kinds.get(pointer.target)
        if kind is None or (pointer.rule.kinds and kind not in pointer.rule.kinds):
            yield pointer
