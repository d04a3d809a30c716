"""A painting, and everything about it that may be told, piece by piece."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.errors import NotOnFile
from catalogue.measure import DateSpan, Day
from catalogue.record import rules
from catalogue.record.common import Note, Number, Photo, Rank, Size, Title
from catalogue.record.inscription import Inscription
from catalogue.record.rules import OPEN, Id, PartyId, Text, Visibility, matches, new_id, term

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

    `original` is None where nobody knows whether it belongs to the picture from the start.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("part")]
    materials: tuple[Annotated[str, term("material")], ...] = ()
    original: bool | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.id)


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
    inscriptions: tuple[Inscription, ...] = ()
    photos: tuple[Photo, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        parts = {part.id for part in self.parts}
        photos = {photo.id for photo in self.photos}
        for inscription in self.inscriptions:
            if inscription.part is not None and inscription.part not in parts:
                raise rules.refuse("Inscription.part", inscription.part, "no such part here")
            for region in inscription.regions:
                if region.photo not in photos:
                    raise rules.refuse("Region.photo", region.photo, "no such photo here")

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"work/{self.id}"

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
        for inscription in self.inscriptions:
            if wanted in (inscription.id, inscription.number):
                return inscription
        raise NotOnFile(f"{self.number or 'this work'} has no inscription {wanted}")

    def photo(self, wanted: str) -> Photo:
        """The photo with this number ("P1") or id. Raises `NotOnFile`."""
        for photo in self.photos:
            if wanted in (photo.id, photo.number):
                return photo
        raise NotOnFile(f"{self.number or 'this work'} has no photo {wanted}")
