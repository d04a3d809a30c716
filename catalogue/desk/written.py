"""What is written on a slip: the fields of the reading page as typed, and what they make of a record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from catalogue.desk.forms import as_number
from catalogue.desk.frame import BOX, OUTLINE, as_typed, corners_typed
from catalogue.desk.lying import beneath, joined, ticked
from catalogue.errors import BadData
from catalogue.reading import read
from catalogue.record import Inscription, Photo, Region, Sighting, Transcript, Work
from catalogue.studio import Studio
from catalogue.terms import group

FRAME = (*BOX, OUTLINE)
PLACE = ("x_mm", "y_mm", "width_mm", "height_mm")
LOOKS = ("shape", "edge", "paper", "adhesive")
"""What is chosen from the words for how a label is made."""
SEVERAL = frozenset({"techniques", "lies_over", "across", "colours"})
"""Fields with a box to tick for each answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """Every field as a text, as the form holds it; "" is a field left empty.

    `lying` says that the page asked what it lies over and runs across: a box that nobody ticked
    sends nothing, and so does a page that never had one. `looks` says the same of what a label is made of,
    `whose` of whose hand it is held to be. `machine` names the draft by machine that was taken in.
    """

    kind: str = "inscription/label"
    face: str = "face/back"
    part: str = ""
    techniques: tuple[str, ...] = ()
    languages: str = ""
    hand: str = ""
    whose: str = ""
    written_by: str = ""
    written_by_certainty: str = ""
    orientation: str = "0"
    x_mm: str = ""
    y_mm: str = ""
    width_mm: str = ""
    height_mm: str = ""
    photo: str = ""
    region: str = ""
    frame_x: str = ""
    frame_y: str = ""
    frame_width: str = ""
    frame_height: str = ""
    frame_turn: str = ""
    frame_outline: str = ""
    started_from: str = ""
    machine: str = ""
    markup: str = ""
    light: str = ""
    certainty: str = ""
    preferred: str = "yes"
    state: str = ""
    covered_by: str = ""
    lying: str = ""
    lies_over: tuple[str, ...] = ()
    across: tuple[str, ...] = ()
    looks: str = ""
    shape: str = ""
    edge: str = ""
    paper: str = ""
    adhesive: str = ""
    complete_percent: str = ""
    colours: tuple[str, ...] = ()

    @classmethod
    def of(
        cls, inscription: Inscription | None, photo: Photo | None, start: Transcript | None
    ) -> Slip:
        """The slip of an inscription as it is kept, None for a new one; `start` is an earlier reading."""
        shown = photo.id if photo else ""
        if inscription is None:
            face = photo.face if photo and photo.face else "face/back"
            return cls(photo=shown, face=face, state="state/present")
        region = next((each for each in inscription.regions if each.photo == shown), None)
        place = inscription.place
        framed = as_typed(region.corners) if region else {}
        placed = {name: f"{getattr(place, name):g}" for name in PLACE} if place else {}
        read = (
            {"started_from": start.id, "markup": start.markup, "light": start.light or "",
             "certainty": start.certainty or ""} if start else {}
        )  # fmt: skip
        return cls(
            kind=inscription.kind,
            face=inscription.face,
            part=inscription.part or "",
            techniques=inscription.techniques,
            languages=", ".join(inscription.languages),
            hand=inscription.hand or "",
            written_by=inscription.written_by or "",
            written_by_certainty=inscription.written_by_certainty or "",
            orientation=str(inscription.orientation),
            lies_over=inscription.lies_over,
            across=inscription.across,
            **{name: getattr(inscription, name) or "" for name in LOOKS},
            complete_percent=_percent(inscription),
            colours=inscription.colours,
            photo=shown,
            region=region.id if region else "",
            **placed,
            **framed,
            **read,
        )

    @classmethod
    def from_typed(cls, typed: Mapping[str, Any]) -> Slip:
        """The slip that a form or a draft holds; what it does not know is passed over."""
        told: dict[str, Any] = {}
        for each in fields(cls):
            if each.name in SEVERAL:
                many = (
                    typed.getlist(each.name)
                    if hasattr(typed, "getlist")
                    else typed.get(each.name, ())
                )
                told[each.name] = tuple(str(one) for one in many)
            elif each.name == "markup":
                # A browser sends every line end as CR LF; what was typed was one sign.
                told[each.name] = str(typed.get(each.name, "")).replace("\r\n", "\n")
            else:
                told[each.name] = str(typed.get(each.name, "")).strip()
        return cls(**told)

    def typed(self) -> dict[str, Any]:
        """The fields as a draft keeps them."""
        return {each.name: getattr(self, each.name) for each in fields(self)}

    def applied(
        self, work: Work, before: Inscription | None, studio: Studio, by: str | None
    ) -> Inscription:
        """The inscription as the slip says, read by the party `by`. Raises `BadData` naming the field."""
        base = before or Inscription(kind=self.kind, face=self.face)
        return replace(
            base,
            kind=self.kind,
            face=self.face,
            part=self.part or None,
            techniques=self._techniques(base),
            languages=tuple(self.languages.replace(",", " ").split()),
            hand=self.hand or None,
            **(self._whose() if self.whose else {}),
            orientation=self._orientation(),
            place=self._place(base, studio),
            regions=self._regions(work, base),
            transcripts=self._transcripts(base, studio, by),
            sightings=self._sightings(base, studio, by),
            lies_over=ticked(base.lies_over, self.lies_over, beneath(work, base))
            if self.lying
            else base.lies_over,
            across=ticked(base.across, self.across, joined(work, base))
            if self.lying
            else base.across,
            **(self._looks(base) if self.looks else {}),
        )

    def _whose(self) -> dict[str, Any]:
        """Whose hand it is held to be, and how firmly: without somebody there is nothing to be sure of."""
        return {
            "written_by": self.written_by or None,
            "written_by_certainty": (self.written_by_certainty or None)
            if self.written_by
            else None,
        }

    def _looks(self, base: Inscription) -> dict[str, Any]:
        """What it is made of, and how much of it is left."""
        typed = self.complete_percent.rstrip("% ")
        left: float | None = base.complete_percent
        if typed != _percent(base):
            left = as_number(typed, "how much of it is left") if typed else None
        offered = {each.key for each in group("colour")}
        before = [each for each in base.colours if each in self.colours or each not in offered]
        return {
            **{name: getattr(self, name) or None for name in LOOKS},
            "complete_percent": left,
            "colours": (*before, *(each for each in self.colours if each not in before)),
        }

    def _techniques(self, base: Inscription) -> tuple[str, ...]:
        """Those ticked, and those from other people's vocabularies, which the page does not offer."""
        offered = {each.key for each in group("technique")}
        return (*(each for each in base.techniques if each not in offered), *self.techniques)

    def _orientation(self) -> int:
        turned = as_number(self.orientation or "0", "orientation")
        if turned != int(turned):
            raise BadData("orientation: whole degrees are enough", remedy="such as 90")
        return int(turned) % 360

    def _place(self, base: Inscription, studio: Studio) -> Any:
        typed = [getattr(self, name) for name in PLACE]
        if not any(typed):
            return None
        if not all(typed):
            raise BadData("the place in mm needs all four numbers, or none of them")
        if base.place and typed == [f"{getattr(base.place, name):g}" for name in PLACE]:
            return base.place
        return studio.place(
            *(as_number(each, name) for each, name in zip(typed, PLACE, strict=True))
        )

    def _regions(self, work: Work, base: Inscription) -> tuple[Region, ...]:
        """Those on other photos, and on this one the frame as it stands now."""
        before = next((each for each in base.regions if each.id == self.region), None)
        others = tuple(each for each in base.regions if each is not before)
        typed = {name: text for name in FRAME if (text := getattr(self, name))}
        if before and typed == as_typed(before.corners):
            # Kept to the digit that it came with, which the page rounds.
            return base.regions
        if not {*typed} - {"frame_turn"}:
            return others
        photo = work.photo(self.photo)
        corners = corners_typed(typed, photo)
        if corners is None:
            return others
        if before:
            return (*others, replace(before, corners=corners))
        return (*others, Region(photo=photo.id, corners=corners))

    def _transcripts(
        self, base: Inscription, studio: Studio, by: str | None
    ) -> tuple[Transcript, ...]:
        """Every earlier reading as it was, and the new one if anything new was typed."""
        start = next((each for each in base.transcripts if each.id == self.started_from), None)
        said = (self.markup, self.light or None, self.certainty or None)
        if not self.markup.strip() or (
            start and said == (start.markup, start.light, start.certainty)
        ):
            return base.transcripts
        markup, light, certainty = said
        read(
            markup
        )  # what cannot be a label is refused here, while it still stands on the slip
        first = bool(self.preferred)
        new = Transcript(
            markup=markup,
            by=by,
            on=studio.today(),
            light=light,
            certainty=certainty,
            preferred=first,
        )
        earlier = (
            replace(each, preferred=False) if first and each.preferred else each
            for each in base.transcripts
        )
        return (*earlier, new)

    def _sightings(
        self, base: Inscription, studio: Studio, by: str | None
    ) -> tuple[Sighting, ...]:
        if not self.state:
            return base.sightings
        covered_by = self.covered_by or None
        seen = Sighting(state=self.state, on=studio.today(), by=by, covered_by=covered_by)
        return (*base.sightings, seen)


def _percent(inscription: Inscription) -> str:
    left = inscription.complete_percent
    return "" if left is None else f"{left:g}"
