"""What works, parties and jobs have in common: names of things, notes, numbers, sizes, photographs."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.outline import Corner, check_outline
from catalogue.record.rules import (
    OPEN,
    Digest,
    Id,
    Instant,
    Language,
    Millimetres,
    PartyId,
    Text,
    Visibility,
    between,
    inside,
    new_id,
    term,
)

Rank = tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Release:
    """Somebody's word that one very text may leave the house.

    `digest` is the SHA-256 of the text released, so that a later edit takes it back.
    """

    by: Text
    at: Instant
    digest: Digest

    def __post_init__(self) -> None:
        rules.check(self)


def digest_of(text: str) -> str:
    """The SHA-256 of a text, as a `Release` names it."""
    return hashlib.sha256(text.encode()).hexdigest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Free text about something. It stays in the house until a person releases this very text."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("note")] = "note/description"
    text: Text
    language: Language | None = None
    by: PartyId | None = None
    on: Day | None = None
    released: Release | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.kind, self.text, self.id)

    @property
    def may_leave(self) -> bool:
        """Whether the text as it stands now is the one that was released."""
        return self.released is not None and self.released.digest == digest_of(self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number or other identifier: an inventory's, an authority's, one on an old list."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("number")]
    text: Text
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.text, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Title:
    """What a painting is or was called, and who calls it so (`kind`: inscribed, traditional ...)."""

    id: Id = field(default_factory=new_id)
    text: Text
    kind: Annotated[str, term("title")]
    language: Language | None = None
    preferred: bool = False
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (not self.preferred, self.kind, self.text, self.id)


SIZE_MEASURES = ("height_mm", "width_mm", "depth_mm", "diameter_mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One set of measures of one thing (`what`: support, framed, sight ...), in millimetres."""

    id: Id = field(default_factory=new_id)
    what: Annotated[str, term("size")]
    height_mm: Millimetres | None = None
    width_mm: Millimetres | None = None
    depth_mm: Millimetres | None = None
    diameter_mm: Millimetres | None = None
    by: PartyId | None = None
    on: Day | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if all(getattr(self, name) is None for name in SIZE_MEASURES):
            raise rules.refuse("Size", None, "a size needs at least one measure")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.what, rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photograph; `sha256` is of the untouched original, `width` and `height` are upright pixels.

    `mm_per_pixel` is the scale when it is known; `mirrored` says that left and right are swapped.
    `outline` are the four corners of the support on it, in upright pixels, clockwise from the top left
    corner of the side as a person sees it, wherever they lie on the photograph; none while not marked.
    `light_from` is where raking light came from, in degrees clockwise from the top of the side that
    is seen. `about` are the values of the record that it was taken for: a finding, a repair, a step. A record
    on its way in names its picture by `file_name` alone; one that is on its way out to strangers has
    only the digest.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, rules.matches(r"P[1-9]\d*", "a photo's number is P1")] | None = None
    sha256: Digest | None = None
    file_name: Text | None = None
    media_type: str | None = None
    width: Annotated[int, between(1, 1_000_000)] | None = None
    height: Annotated[int, between(1, 1_000_000)] | None = None
    view: Annotated[str, term("view")] = "view/whole"
    face: Annotated[str, term("face")] | None = None
    light: Annotated[str, term("light")] = "light/normal"
    light_from: Annotated[int, between(0, 359)] | None = None
    stage: Annotated[str, term("stage")] | None = None
    taken: Day | None = None
    by: PartyId | None = None
    mm_per_pixel: Annotated[float, between(0.0001, 100)] | None = None
    outline: tuple[Corner, ...] = ()
    mirrored: bool = False
    about: tuple[Annotated[str, inside()], ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.sha256 is None and self.file_name is None:
            raise rules.refuse("Photo.file_name", None, "a photo needs a file name or a digest")
        check_outline("Photo.outline", self.outline, self.width, self.height)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.file_name or "", self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Any file that proves something: a report, a letter, a certificate, a signed receipt.

    `sha256` is of the untouched original; `about` are the values of the record that it speaks of,
    none for the whole. A paper stays in the house unless somebody says otherwise.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, rules.matches(r"D[1-9]\d*", "a paper's number is D1")] | None = None
    kind: Annotated[str, term("paper")]
    title: Text
    sha256: Digest | None = None
    file_name: Text | None = None
    media_type: Text | None = None
    on: Day | None = None
    sender: PartyId | None = None
    proves: Text | None = None
    about: tuple[Annotated[str, inside()], ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = "visibility/studio"

    def __post_init__(self) -> None:
        rules.check(self)
        if self.sha256 is None and self.file_name is None:
            raise rules.refuse("Paper.file_name", None, "a paper needs a file name or a digest")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), rules.day_rank(self.on), self.id)
