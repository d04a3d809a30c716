"""Back and front with everything numbered on it: the photographs, the layers, the list in step."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from flask import url_for
from markupsafe import Markup

from catalogue.argument.covering import side_of
from catalogue.desk.asking import studio
from catalogue.pictures.map import KINDS
from catalogue.pictures.marks import SIDES, Mark, marks
from catalogue.pictures.on_photo import numbered, swatch
from catalogue.pictures.signs import Kind
from catalogue.record import Photo, Work

LAYERS: Final[tuple[Kind, ...]] = tuple(kind for kind in KINDS if kind != "planned")


@dataclass(frozen=True, slots=True)
class Side:
    """One side: the photograph that is shown, all to choose from, the drawing laid over it.

    Each to choose from comes with the address of the folder that shows it.
    """

    name: str
    photo: Photo | None
    choices: tuple[tuple[Photo, str], ...]
    picture: Markup


@dataclass(frozen=True, slots=True)
class Item:
    """One numbered thing in the list: where it leads, on which of the two photographs it is drawn."""

    mark: Mark
    page: str
    on: tuple[str, ...]

    @property
    def where(self) -> str:
        """Roughly where it is; its measures stand on the map."""
        return ", ".join(self.mark.where.split(", ")[:2])


@dataclass(frozen=True, slots=True)
class Layer:
    """All of one kind: whether it is switched on, its sign, its things."""

    kind: Kind
    on: bool
    sign: Markup
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """The light table of a folder, or of the leaf at the end of `endpoint`."""

    endpoint: str
    sides: tuple[Side, ...]
    layers: tuple[Layer, ...]

    @property
    def shown(self) -> tuple[Kind, ...]:
        """The layers that are switched on."""
        return tuple(each.kind for each in self.layers if each.on)

    @property
    def not_drawn(self) -> tuple[Item, ...]:
        """What neither photograph shows."""
        return tuple(item for each in self.layers for item in each.items if not item.on)


def light_table(
    work: Work, asked: Mapping[str, str], layers: list[str], endpoint: str = "folder.work"
) -> Table:
    """The table of a work; `asked` may name a photograph of a side, `layers` the kinds to show.

    Everything is drawn, whichever layers are on: switching one on again needs no second request.
    """
    every = marks(work)
    leads_to = _on_page(work, endpoint)
    sides, drawn = [], {}
    for name in SIDES:
        photos = _of_side(work, name)
        photo = next(
            (each for each in photos if asked.get(name, "") in (each.number, each.id)),
            studio().showing(work, f"face/{name}"),
        )
        laid = (
            numbered(work, photo, every, key=f"on-{name}", leads_to=leads_to) if photo else None
        )
        drawn[name] = laid.shown if laid else frozenset()
        choices = tuple(
            (each, _address(endpoint, work, asked, layers, name, each)) for each in photos
        )
        sides.append(Side(name, photo, choices, Markup(laid.picture if laid else "")))
    found = []
    for kind in LAYERS:
        items = tuple(
            Item(
                mark,
                leads_to(mark.value),
                tuple(name for name in SIDES if mark.value in drawn[name]),
            )
            for mark in every
            if mark.kind == kind
        )
        if items:
            is_on = not asked.get("layers") or kind in layers
            found.append(Layer(kind, is_on, Markup(swatch(kind, f"sign-{kind}")), items))
    return Table(endpoint, tuple(sides), tuple(found))


def _address(
    endpoint: str,
    work: Work,
    asked: Mapping[str, str],
    layers: list[str],
    side: str,
    photo: Photo,
) -> str:
    """The page with another photograph of a side, and all else as it is shown now."""
    same: dict[str, Any] = {each: asked[each] for each in SIDES if each in asked}
    if asked.get("layers"):
        same |= {"layers": "chosen", "show": layers}
    chosen = {**same, side: photo.number or photo.id}
    return url_for(endpoint, uuid=work.id, _anchor="picture", **chosen)


def _on_page(work: Work, endpoint: str) -> Callable[[str], str]:
    """Every mark leads to its slip on the same page; what a leaf has not, to the folder."""
    here = {each.id for each in work.repairs} | {each.id for each in work.tests}
    here |= {step.id for each in work.treatments for step in each.steps}
    folder = "" if endpoint == "folder.work" else url_for("folder.work", uuid=work.id)
    return lambda value: f"#{value}" if value in here else f"{folder}#{value}"


def _of_side(work: Work, side: str) -> tuple[Photo, ...]:
    """The photographs of a whole side that can be shown, in their order."""

    def is_of_it(photo: Any) -> bool:
        return (
            photo.sha256 is not None
            and photo.face is not None
            and side_of(photo.face) == side
            and photo.view == "view/whole"
        )

    return tuple(photo for photo in work.photos if is_of_it(photo))


def photos_by_face(work: Work) -> tuple[tuple[str | None, tuple[Photo, ...]], ...]:
    """The photographs face by face, front and back first; on each by view, light, stage and day."""
    faces = dict.fromkeys(
        ("face/front", "face/back", *(each.face for each in work.photos if each.face), None)
    )
    found = []
    for face in faces:
        photos = [each for each in work.photos if each.face == face]
        if photos:
            found.append((face, tuple(sorted(photos, key=_in_order))))
    return tuple(found)


def _in_order(photo: Photo) -> tuple[Any, ...]:
    """Whole views first, normal light first, then as the work went on."""
    day = photo.taken.iso if photo.taken else ""
    return (
        photo.view != "view/whole",
        photo.light != "light/normal",
        photo.light,
        day,
        photo.rank,
    )
