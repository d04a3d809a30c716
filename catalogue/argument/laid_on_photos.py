"""How a photograph lies on its side of the painting, from what is framed on it and was measured too.

The painting's four corners, marked on the photograph, say it best, however it was held. Without them
an inscription that is framed on a photograph and has its place in mm says where both meet; several
bear each other out. A photograph cut to the painting's own outline needs none.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import Final

from catalogue.argument.covering import side_of
from catalogue.errors import BadData
from catalogue.record import Photo, Work
from catalogue.surface import Calibration, Sheet, from_corners

Bounds = tuple[float, float, float, float]
"""Left, top, right and bottom of an upright box, in pixels or in mm."""

MAY_BE_OUT: Final = 0.015
"""How far a frame may lie from where its measures put it, as a part of the painting's diagonal."""
CUT_TO_OUTLINE: Final = 0.015
"""How far a photograph may differ from the painting's own size to be taken as cut to its outline."""
_TURNS: Final = 4


def laid_on(work: Work, photo: Photo) -> Calibration | None:
    """How the pixels of a photograph lie in mm on its side; None where nothing on record says it.

    The outline marked on it comes first, the map from its four corners to the size of the side. Else the
    frames of inscriptions with a place are held against these places, for the photograph as it
    lies and turned by a quarter, a half and three quarters; what fits worse than `MAY_BE_OUT` is none.
    """
    sheet = work.sheet
    if sheet is None or photo.face is None or not (photo.width and photo.height):
        return None
    if photo.outline:
        try:
            return from_corners(photo.outline, sheet, mirrored=photo.mirrored)
        except BadData:
            # The size on file was changed since they were marked: what else is known has to do.
            pass
    pairs = list(_framed_and_measured(work, photo))
    if pairs:
        found = [_fitted(pairs, turn, photo) for turn in range(_TURNS if len(pairs) > 1 else 1)]
        off, best = min(((_off(each, pairs), each) for each in found), key=lambda it: it[0])
        near = MAY_BE_OUT * hypot(sheet.width_mm, sheet.height_mm)
        return best if off <= near else None
    return _cut_to_outline(photo, sheet)


def _framed_and_measured(work: Work, photo: Photo) -> Iterator[tuple[Bounds, Bounds]]:
    """The upright boxes, in pixels and in mm, of what is framed on the photo and measured on its side."""
    for each in work.inscriptions:
        if each.place is None or side_of(each.face) != side_of(photo.face or ""):
            continue
        for region in each.regions:
            if region.photo == photo.id:
                across, down = zip(*region.corners, strict=True)
                yield (min(across), min(down), max(across), max(down)), each.place.bounds
                break


def _corners(box: Bounds) -> list[complex]:
    left, top, right, bottom = box
    return [
        complex(*each) for each in ((left, top), (right, top), (right, bottom), (left, bottom))
    ]


def _fitted(pairs: Sequence[tuple[Bounds, Bounds]], turn: int, photo: Photo) -> Calibration:
    """The map without distortion that brings the corners nearest to theirs; `turn` in quarters.

    Plane points are complex numbers here: turning and scaling are then one factor.
    """
    seen, meant = [], []
    for pixels, place in pairs:
        corners = _corners(pixels)
        if photo.mirrored:
            corners = [corners[1], corners[0], corners[3], corners[2]]
        seen += [each.conjugate() if photo.mirrored else each for each in corners]
        measured = _corners(place)
        meant += measured[turn:] + measured[:turn]
    from_, to = sum(seen) / len(seen), sum(meant) / len(meant)
    spread = sum(abs(each - from_) ** 2 for each in seen)
    factor = (
        sum((a - from_).conjugate() * (b - to) for a, b in zip(seen, meant, strict=True))
        / spread
    )
    if len(pairs) == 1 and photo.mm_per_pixel and abs(factor):
        # One label is short: what the photograph's own scale says carries further.
        factor = factor / abs(factor) * photo.mm_per_pixel
    shift = to - factor * from_
    flip = -1 if photo.mirrored else 1
    matrix = (
        factor.real, -factor.imag * flip, shift.real,
        factor.imag, factor.real * flip, shift.imag,
        0.0, 0.0, 1.0,
    )  # fmt: skip
    return Calibration(matrix=matrix, method="points", scale_error=0.01)


def _off(calibration: Calibration, pairs: Sequence[tuple[Bounds, Bounds]]) -> float:
    """How far the worst middle of a frame lies from the middle of its place, in mm."""
    worst = 0.0
    for pixels, place in pairs:
        x, y = calibration.to_mm(_middle(pixels))
        across, down = _middle(place)
        worst = max(worst, hypot(x - across, y - down))
    return worst


def _middle(box: Bounds) -> tuple[float, float]:
    left, top, right, bottom = box
    return (left + right) / 2, (top + bottom) / 2


def _cut_to_outline(photo: Photo, sheet: Sheet) -> Calibration | None:
    """The photograph as the painting itself, where its shape (and its scale, if known) say so."""
    if photo.view != "view/whole" or photo.mirrored or not (photo.width and photo.height):
        return None
    scale = sheet.width_mm / photo.width
    alike = [scale, sheet.height_mm / photo.height]
    if photo.mm_per_pixel:
        alike.append(photo.mm_per_pixel)
    if any(abs(one / other - 1) > CUT_TO_OUTLINE for one, other in pairwise(alike)):
        return None
    return Calibration(
        matrix=(scale, 0.0, 0.0, 0.0, sheet.height_mm / photo.height, 0.0, 0.0, 0.0, 1.0),
        method="corners",
        scale_error=CUT_TO_OUTLINE,
    )
