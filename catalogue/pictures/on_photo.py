"""A photograph with everything numbered on it: the marks of the condition map, laid over its pixels.

A frame that was drawn on the very photograph is drawn as it was; a place in mm goes where the
photograph shows it. Outlines and hatches are those of the map; a dark line lies under each light
one, so that they are seen on white paper and on black canvas alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from catalogue.argument.covering import side_of
from catalogue.argument.laid_on_photos import laid_on
from catalogue.errors import BadData
from catalogue.pictures.letters import LETTER, Field, Label, label_at
from catalogue.pictures.marks import Mark
from catalogue.pictures.signs import (
    SMALLEST,
    Kind,
    Point,
    hatches,
    outlined,
    outlined_fine,
    points,
    reach,
)
from catalogue.pictures.svg import Svg, element
from catalogue.record import Photo, Region, Work
from catalogue.surface import Calibration, Sheet

WIDE: Final = 560.0
"""Units of the paper for the width of a photograph: about what it has on a screen."""
_HIGHEST: Final = 5000.0

LeadsTo = Callable[[str], "str | None"]


@dataclass(frozen=True, slots=True)
class Numbered:
    """The drawing over one photograph, and the ids of the values that it shows."""

    picture: Svg
    shown: frozenset[str]


@dataclass(frozen=True, slots=True)
class _Laid:
    """One mark in upright pixels of the photograph."""

    mark: Mark
    corners: tuple[Point, ...]
    area: bool

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        across, down = zip(*self.corners, strict=True)
        return min(across), min(down), max(across), max(down)

    @property
    def size(self) -> float:
        left, top, right, bottom = self.bounds
        return (right - left) * (bottom - top)


def numbered(
    work: Work,
    photo: Photo,
    shown: Iterable[Mark],
    *,
    key: str,
    leads_to: LeadsTo,
) -> Numbered | None:
    """What of these marks lies on a photograph; None for one whose size in pixels is not known.

    `key` keeps its ids apart from others on a page, `leads_to` gives the address of a value by its id.
    """
    if not (photo.width and photo.height):
        return None
    scale = min(WIDE / photo.width, _HIGHEST / photo.height)
    field = Field(0, 0, 1, Sheet(photo.width * scale, photo.height * scale))
    laid = sorted(_on(work, photo, shown), key=lambda each: -each.size)
    kinds: Sequence[Kind] = list(dict.fromkeys(each.mark.kind for each in laid))
    taken: list[Label] = []
    # Numbers come after all outlines, or a hatch would lie over them.
    drawn = [*_reaches(laid, scale, leads_to)]
    drawn += [_outline(each, scale, key, leads_to) for each in laid]
    drawn += [_number(each, scale, field, taken) for each in laid]
    picture = element(
        "svg", hatches(kinds, key), *drawn, xmlns="http://www.w3.org/2000/svg", class_="on-photo",
        viewBox=f"0 0 {photo.width * scale:.2f} {photo.height * scale:.2f}", font_size=LETTER,
        font_family="system-ui, sans-serif", aria_hidden="true", focusable="false",
    )  # fmt: skip
    return Numbered(picture, frozenset(each.mark.value for each in laid))


def _on(work: Work, photo: Photo, shown: Iterable[Mark]) -> Iterator[_Laid]:
    """Each mark that this photograph shows; what is framed elsewhere goes by way of its mm."""
    framed = _frames(work)
    lies: dict[str, Calibration | None] = {}

    def calibration(other: Photo) -> Calibration | None:
        if other.id not in lies:
            lies[other.id] = laid_on(work, other)
        return lies[other.id]

    for mark in shown:
        regions = framed.get(mark.value, ())
        own = next((each for each in regions if each.photo == photo.id), None)
        if own is not None:
            yield _Laid(mark, own.corners, area=True)
            continue
        if photo.face is None or mark.side != side_of(photo.face):
            continue
        here = calibration(photo)
        if here is None:
            continue
        try:
            if mark.shape is not None:
                corners = tuple(here.to_pixel(corner) for corner in mark.shape.corners)
                laid = _Laid(mark, corners, area=mark.shape.kind == "area")
            else:
                corners = _by_way_of_mm(work, regions, mark.side, here, calibration)
                laid = _Laid(mark, corners, area=True)
        except BadData:
            continue
        if laid.corners and _meets(laid, photo):
            yield laid


def _frames(work: Work) -> dict[str, tuple[Region, ...]]:
    return {each.id: each.regions for each in work.inscriptions if each.regions}


def _by_way_of_mm(
    work: Work,
    regions: Iterable[Region],
    side: str,
    here: Calibration,
    calibration: Callable[[Photo], Calibration | None],
) -> tuple[Point, ...]:
    """A frame on another photograph of the side, where this one shows it; none where no one knows."""
    photos = {each.id: each for each in work.photos}
    for region in regions:
        other = photos.get(region.photo)
        if other is None or other.face is None or side_of(other.face) != side:
            continue
        there = calibration(other)
        if there is not None:
            return tuple(here.to_pixel(there.to_mm(corner)) for corner in region.corners)
    return ()


def _meets(laid: _Laid, photo: Photo) -> bool:
    left, top, right, bottom = laid.bounds
    return right > 0 and bottom > 0 and left < (photo.width or 0) and top < (photo.height or 0)


def _reaches(laid: Iterable[_Laid], scale: float, leads_to: LeadsTo) -> Iterator[Svg]:
    for each in laid:
        href = leads_to(each.mark.value)
        if href:
            corners = [(x * scale, y * scale) for x, y in each.corners]
            yield reach(corners, each.mark.kind, href, area=each.area)


def _outline(laid: _Laid, scale: float, key: str, leads_to: LeadsTo) -> Svg:
    mark = laid.mark
    corners = [(x * scale, y * scale) for x, y in laid.corners]
    told = [
        element("title", mark.said),
        element("polygon" if laid.area else "polyline", points=points(corners), class_="under"),
        *(
            outlined_fine(corners, area=laid.area)
            if mark.faint
            else outlined(corners, mark.kind, key, area=laid.area)
        ),
    ]
    href = leads_to(mark.value)
    if href:
        return element(
            "a", *told, href=href, tabindex="-1", class_=_group(mark), data_mark=mark.value
        )
    return element("g", *told, class_=_group(mark), data_mark=mark.value)


def _number(laid: _Laid, scale: float, field: Field, taken: list[Label]) -> Svg:
    left, top, right, bottom = (each * scale for each in laid.bounds)
    around = Label(left, top, right, bottom)
    if max(right - left, bottom - top) < SMALLEST:
        x, y = around.middle
        around = Label(x - SMALLEST, y - SMALLEST, x + SMALLEST, y + SMALLEST)
    mark = laid.mark
    told = label_at(mark.called, around, field, taken, faint=mark.faint)
    return element("g", told, class_=f"{_group(mark)} number-on", data_mark=mark.value)


def _group(mark: Mark) -> str:
    return f"mark {mark.kind}" + (" faint" if mark.faint else "")


def swatch(kind: Kind, key: str) -> Svg:
    """A small sign of a kind for a legend: its outline and its hatch."""
    corners: list[Point] = [(1.5, 1.5), (28.5, 1.5), (28.5, 14.5), (1.5, 14.5)]
    return element(
        "svg", hatches((kind,), key), *outlined(corners, kind, key, area=True),
        xmlns="http://www.w3.org/2000/svg", class_="swatch", viewBox="0 0 30 16",
        aria_hidden="true", focusable="false",
    )  # fmt: skip
