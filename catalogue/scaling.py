"""A photograph as a measure: its scale from a bar or the picture's corners, and places from its frames."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalogue.argument.covering import side_of
from catalogue.errors import BadData
from catalogue.record import Inscription, Photo, Work
from catalogue.surface import Box, Calibration, Known, from_corners, from_scale_bar

Pixel = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scaled:
    """A work whose photograph has a scale, how that came about, and the inscriptions that got a place."""

    work: Work
    calibration: Calibration
    placed: tuple[str, ...]


def by_bar(work: Work, photo: Photo, ends: Sequence[Pixel], mm: float) -> Scaled:
    """The scale from two pixels that are so many mm apart. Raises `BadData`."""
    if len(ends) != 2 or not mm > 0:
        raise BadData(
            "a scale bar has two ends and a length in mm",
            remedy="mark both ends of the bar, and type how long it is",
        )
    calibration = from_scale_bar(Known(ends[0], ends[1], mm))
    return Scaled(_with_scale(work, photo, calibration), calibration, ())


def by_corners(work: Work, photo: Photo, corners: Sequence[Pixel]) -> Scaled:
    """The scale from the picture's four corners, clockwise from its top left as seen on that side.

    The corners are kept as the painting's outline on the photograph. Inscriptions on the side that are
    framed on it, and have no place in mm yet, get it from their frame: the upright box around it.
    Raises `BadData` without the size of the work.
    """
    calibration = from_corners(corners, work.sheet, mirrored=photo.mirrored)
    marked = tuple((round(x, 1), round(y, 1)) for x, y in corners)
    told = _with_scale(work, replace(photo, outline=marked), calibration)
    inscriptions = [_placed(each, photo, calibration) for each in told.inscriptions]
    placed = tuple(
        after.number or after.id
        for before, after in zip(told.inscriptions, inscriptions, strict=True)
        if before != after
    )
    return Scaled(replace(told, inscriptions=tuple(inscriptions)), calibration, placed)


def without_outline(work: Work, photo: Photo) -> Work:
    """The work with no outline marked on this photograph; its scale stays."""
    return _with_photo(work, replace(photo, outline=()))


def _with_scale(work: Work, photo: Photo, calibration: Calibration) -> Work:
    middle = ((photo.width or 0) / 2, (photo.height or 0) / 2)
    return _with_photo(
        work, replace(photo, mm_per_pixel=round(calibration.mm_per_pixel(middle), 6))
    )


def _with_photo(work: Work, after: Photo) -> Work:
    return replace(
        work, photos=tuple(after if each.id == after.id else each for each in work.photos)
    )


def _placed(inscription: Inscription, photo: Photo, calibration: Calibration) -> Inscription:
    framed = next((each for each in inscription.regions if each.photo == photo.id), None)
    on_this_side = photo.face is not None and side_of(inscription.face) == side_of(photo.face)
    if framed is None or inscription.place is not None or not on_this_side or photo.mirrored:
        return inscription
    across, down = zip(*(calibration.to_mm(corner) for corner in framed.corners), strict=True)
    left, top = round(min(across), 1), round(min(down), 1)
    box = Box(left, top, round(max(across) - left, 1), round(max(down) - top, 1))
    return replace(inscription, place=box)
