"""What stands on an object: where it sits, how it was made, how it was read, what became of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.reading import Reading, read
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.rules import (
    OPEN,
    Id,
    Language,
    PartyId,
    Text,
    Visibility,
    WorkId,
    between,
    inside,
    matches,
    new_id,
    term,
)
from catalogue.record.statement import Statement
from catalogue.surface import Box

Corner = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """The part of one photograph where something is seen.

    `corners` are upright pixels, clockwise from the top left corner as the text runs: four for a
    box, turned or not, so that a label that was glued askew is still framed as it was drawn.
    """

    id: Id = field(default_factory=new_id)
    photo: Annotated[str, inside("Photo", must=True)]
    corners: tuple[Corner, ...]
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if not 3 <= len(self.corners) <= 500:
            raise rules.refuse("Region.corners", self.corners, "a region has 3 to 500 corners")
        if abs(_twice_area(self.corners)) < 2:
            raise rules.refuse("Region.corners", self.corners, "a region must enclose an area")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.photo, self.corners, self.id)


def _twice_area(corners: tuple[Corner, ...]) -> float:
    following = corners[1:] + corners[:1]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(corners, following, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Transcript:
    """One person's reading of an inscription, kept in the markup as typed and never deleted.

    `light` is what it was read under; `certainty` how sure the reader was of the whole. At most
    one transcript of an inscription is `preferred`.
    """

    id: Id = field(default_factory=new_id)
    markup: str
    by: PartyId | None = None
    on: Day | None = None
    light: Annotated[str, term("light")] | None = None
    certainty: Annotated[str, term("certainty")] | None = None
    preferred: bool = False
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.id)

    def reading(self) -> Reading:
        """The markup as read: its renderings and faults."""
        return read(self.markup)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """What state an inscription was in on one day; a later sighting never replaces an earlier one.

    `covered_by` names what lies over it in words ("paper tape R1", "new lining").
    """

    id: Id = field(default_factory=new_id)
    state: Annotated[str, term("state")]
    on: Day | None = None
    by: PartyId | None = None
    covered_by: Text | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """What one person found on laying an inscription beside another, on this painting or elsewhere.

    `other` is the other inscription and `work` the work it stands on. Whether two labels are of one
    printed form is only ever said here, by a person; that they are not is remembered alike.
    """

    id: Id = field(default_factory=new_id)
    other: Id
    work: WorkId
    verdict: Annotated[str, term("verdict")]
    by: PartyId | None = None
    on: Day | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.work, self.other, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inscription:
    """One thing that stands on a painting: a signature, a label, a stamp, a chalk mark.

    `face` is where it sits, `part` the id of the part that bears it (None: the painting itself);
    `place` is in mm on that face, origin top left as seen on that side; `orientation` is degrees
    clockwise as seen on that side with the picture's top up. `statements` are what was decided
    about what its readings say. `lies_over` are the inscriptions and repairs beneath it; `across`
    are those whose join it runs across, so that it came when all of them were there.

    `hand` tells hands on one work apart ("A"); `written_by` is whose hand somebody believes it to be,
    `written_by_certainty` how firmly: a signature is the artist's only where that is said.

    `shape` is the outline that a label was made in, `edge` how it ends or was cut down since; `paper`
    is the colour of its paper, `colours` those of what is printed or stamped; `complete_percent` how
    much of it is left. `compared` is what came of laying it beside others.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"I[1-9]\d*", "an inscription's number is I1")] | None = None
    kind: Annotated[str, term("inscription")]
    face: Annotated[str, term("face")]
    part: Annotated[str, inside("Part", "Layer", must=True)] | None = None
    techniques: tuple[Annotated[str, term("technique")], ...] = ()
    languages: tuple[Language, ...] = ()
    hand: Text | None = None
    written_by: PartyId | None = None
    written_by_certainty: Annotated[str, term("certainty")] | None = None
    orientation: Annotated[int, between(0, 359)] = 0
    place: Box | None = None
    regions: tuple[Region, ...] = ()
    transcripts: tuple[Transcript, ...] = ()
    statements: tuple[Statement, ...] = ()
    sightings: tuple[Sighting, ...] = ()
    lies_over: tuple[Annotated[str, inside("Inscription", "PriorRepair")], ...] = ()
    across: tuple[
        Annotated[str, inside("Inscription", "PriorRepair", "Part", "Layer")], ...
    ] = ()
    shape: Annotated[str, term("shape")] | None = None
    edge: Annotated[str, term("edge")] | None = None
    materials: tuple[Annotated[str, term("material")], ...] = ()
    paper: Annotated[str, term("colour")] | None = None
    colours: tuple[Annotated[str, term("colour")], ...] = ()
    adhesive: Annotated[str, term("material")] | None = None
    complete_percent: Annotated[float, between(0, 100)] | None = None
    compared: tuple[Comparison, ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if any(each.other == self.id for each in self.compared):
            raise rules.refuse("Inscription.compared", self.id, "it is no other than itself")
        if self.id in self.lies_over:
            raise rules.refuse("Inscription.lies_over", self.id, "it cannot lie over itself")
        if self.id in self.across:
            raise rules.refuse("Inscription.across", self.id, "it cannot run across itself")
        if sum(transcript.preferred for transcript in self.transcripts) > 1:
            raise rules.refuse("Inscription.transcripts", "two", "only one can be preferred")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)

    def size_mm(self) -> tuple[float, float] | None:
        """How wide and how high it is as its own text runs, from its place; None where not measured."""
        if self.place is None:
            return None
        measured = (self.place.width_mm, self.place.height_mm)
        return measured[::-1] if self.orientation % 180 == 90 else measured

    def preferred(self) -> Transcript | None:
        """The transcript to show first: the preferred one, else the latest, else None."""
        if not self.transcripts:
            return None
        return max(self.transcripts, key=lambda each: (each.preferred, *each.rank))

    def latest(self) -> Sighting | None:
        """The last state on record, None when nobody wrote one down."""
        return self.sightings[-1] if self.sightings else None
