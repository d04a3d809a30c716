"""The set of photographs that a painting gets before treatment, and what of it is missing (US-4)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Final, Literal

from catalogue.argument.covering import side_of
from catalogue.errors import BadSetting
from catalogue.places import table
from catalogue.record import Photo, Work
from catalogue.terms import known, label, within

FILE: Final = "photo_set.toml"
Level = Literal["must", "warn", "optional"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """One photograph of the set, as vocab/photo_set.toml has it."""

    code: str
    level: Level
    says: str
    view: str = ""
    faces: tuple[str, ...] = ()
    lights: tuple[str, ...] = ()
    when: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    part: str = ""
    each: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lacking:
    """A photograph that is not there: which of the set, of what (a face, or a value's number), its id."""

    wanted: Wanted
    of: str
    value: str = ""

    @property
    def says(self) -> str:
        """In words: "N-V, back: the whole back ..."."""
        return f"{self.wanted.code}, {self.of}: {self.wanted.says}"


def missing(work: Work) -> tuple[Lacking, ...]:
    """What of the set is missing, the order of the file kept. A mirrored photograph counts for none.

    >>> [(each.wanted.code, each.of) for each in missing(Work())]
    [('N-R', 'front'), ('N-V', 'back'), ('N-E', 'top tacking edge'), ('N-E', 'right tacking edge'), \
('N-E', 'bottom tacking edge'), ('N-E', 'left tacking edge')]
    """
    return tuple(each for wanted in photo_set() for each in _missing(work, wanted))


def _missing(work: Work, wanted: Wanted) -> Iterator[Lacking]:
    for field in wanted.each:
        for value in getattr(work, field):
            if not _has_detail(work, value):
                named = f"{value.number or ''} {label(value.kind)}".strip()
                yield Lacking(wanted, named, value.id)
    if not wanted.each and _is_called_for(work, wanted):
        shown = {
            face
            for face in wanted.faces
            if any(_is(photo, wanted, face) for photo in work.photos)
        }
        if wanted.view == "view/edge" or not shown:
            for face in wanted.faces:
                if face not in shown:
                    yield Lacking(wanted, label(face))
                    if wanted.view != "view/edge":
                        return  # one of the faces is enough


def _is_called_for(work: Work, wanted: Wanted) -> bool:
    kinds = [each.kind for each in work.findings]
    steps = [step.kind for treatment in work.treatments for step in treatment.steps]
    parts = [part.kind for part in work.parts]
    return (
        (not wanted.when or any(within(kind, *wanted.when) for kind in kinds))
        and (not wanted.before or any(within(kind, *wanted.before) for kind in steps))
        and (not wanted.part or any(within(kind, wanted.part) for kind in parts))
    )


def _is(photo: Photo, wanted: Wanted, face: str) -> bool:
    of_face = photo.face == face or (
        wanted.view == "view/whole"
        and photo.face is not None
        and side_of(photo.face) == side_of(face)
    )
    return (
        of_face
        and photo.view == wanted.view
        and (not wanted.lights or photo.light in wanted.lights)
        and (photo.stage is None or photo.stage in table(FILE)["stages"])
        and not photo.mirrored
    )


def _has_detail(work: Work, value: Any) -> bool:
    """Whether some photograph with a scale shows it: by what it is about, or by a region on it."""
    regions = {region.photo for region in getattr(value, "regions", ())}
    return any(
        photo.mm_per_pixel
        and not photo.mirrored
        and (value.id in photo.about or photo.id in regions)
        for photo in work.photos
    )


@cache
def photo_set() -> tuple[Wanted, ...]:
    """The whole set. Raises `BadSetting` naming the row that is wrong."""
    return tuple(_wanted(row) for row in table(FILE)["photo"])


def _wanted(row: dict[str, Any]) -> Wanted:
    told: dict[str, Any] = {
        name: tuple(value) if isinstance(value, list) else value for name, value in row.items()
    }
    try:
        wanted = Wanted(**told)
    except TypeError as wrong:
        raise BadSetting(f"vocab/{FILE}, {row.get('code', '?')}: {wrong}") from None
    terms = (
        *wanted.faces,
        *wanted.lights,
        *wanted.when,
        *wanted.before,
        *filter(None, (wanted.view, wanted.part)),
    )
    for term in terms:
        if not known(term):
            raise BadSetting(
                f"vocab/{FILE}, {wanted.code}: there is no term {term!r}",
                remedy="see vocab/terms",
            )
    return wanted
