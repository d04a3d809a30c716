"""What a photograph can show: which inscriptions were there on its day, on the face it looks at.

The generator of regions and the drawing ask the same questions here.
"""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.record import Inscription, Photo, Work
from catalogue.surface import Box
from drawing.dressing import Dressing, wear_of
from drawing.geometry import Camera, Corners, outline

BEHIND = ("face/back", "face/stretcher-bar", "face/lining")
"""Faces that a photograph of the back shows; they share one plane of millimetres."""

THERE = ("state/present", "state/partly-covered", "state/revealed")
THROUGH_CLOTH = ("light/transmitted", "light/infrared")


def state_on(inscription: Inscription, photo: Photo) -> str:
    """The state that was last seen on or before the day of the photo; present unless somebody says so."""
    seen = [
        sighting
        for sighting in inscription.sightings
        if not (photo.taken and sighting.on) or sighting.on.iso <= photo.taken.iso
    ]
    if seen:
        return seen[-1].state
    later = [sighting.state for sighting in inscription.sightings]
    return "state/covered" if later[:1] == ["state/revealed"] else "state/present"


def loose(work: Work, photo: Photo, dressing: Dressing) -> Inscription | None:
    """The label that the photo shows by itself, off the painting."""
    number = dressing.loose.get(photo.number or "")
    return work.inscription(number) if number else None


def on_face(work: Work, photo: Photo) -> tuple[Inscription, ...]:
    """Every inscription with a place on the face that the photo looks at, lowest first."""
    faces = BEHIND if photo.face == "face/back" else (photo.face,)
    placed = [each for each in work.inscriptions if each.place and each.face in faces]
    return tuple(_lowest_first(placed))


def _lowest_first(placed: list[Inscription]) -> Iterable[Inscription]:
    above = {each.id for each in placed}
    waiting = list(placed)
    while waiting:
        now = [each for each in waiting if not any(below in above for below in each.lies_over)]
        # Two that lie over each other cannot be: then the order of the numbers has to do.
        now = now or waiting[:1]
        yield from now
        above -= {each.id for each in now}
        waiting = [each for each in waiting if each not in now]


def readable(work: Work, photo: Photo, dressing: Dressing) -> tuple[Inscription, ...]:
    """The inscriptions that one can see in the photo, those deepest down first."""
    alone = loose(work, photo, dressing)
    if alone:
        return (alone,)
    through = photo.light in THROUGH_CLOTH
    return tuple(
        each
        for each in on_face(work, photo)
        if state_on(each, photo) in THERE
        or (through and state_on(each, photo) == "state/covered")
    )


def camera(work: Work, photo: Photo, dressing: Dressing) -> Camera:
    """How the photo looks at its face, from what the record says of it and the skew in the table."""
    assert photo.width
    assert photo.height
    assert photo.mm_per_pixel
    alone = loose(work, photo, dressing)
    place = alone.place if alone else None
    if alone and place:
        sideways = alone.orientation % 180 == 90
        wide, high = place.width_mm, place.height_mm
        face = (high, wide) if sideways else (wide, high)
    else:
        support = next(size for size in work.sizes if size.what == "size/support")
        face = (support.width_mm or 0.0, support.height_mm or 0.0)
    skew = dressing.skew.get(photo.number or "", 0.0)
    return Camera(photo.width, photo.height, photo.mm_per_pixel, *face, skew)


def corners(
    work: Work, photo: Photo, inscription: Inscription, dressing: Dressing
) -> Corners | None:
    """The corners of an inscription on the face that the photo looks at, in mm."""
    if inscription.place is None:
        return None
    if loose(work, photo, dressing):
        look = camera(work, photo, dressing)
        whole = Box(x_mm=0, y_mm=0, width_mm=look.face_width_mm, height_mm=look.face_height_mm)
        return outline(whole, 0)
    askew = wear_of(dressing, inscription).askew
    return outline(inscription.place, inscription.orientation + askew)
