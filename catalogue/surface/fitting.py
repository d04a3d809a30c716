"""The map from a photograph to a side of the painting, from its corners or from any known points.

A photograph taken at an angle shows the picture's rectangle as some other four-sided figure; the
projective map between the two undoes that. Four points always fit, so that they prove nothing: a
fifth point, or a known length, is what bears a calibration out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import atan2, dist
from typing import Final, Literal

import numpy
from numpy.typing import NDArray

from catalogue.errors import BadData
from catalogue.surface.boxes import Corner, Sheet
from catalogue.surface.calibration import OUT_BY_PIXELS, Calibration, Known, Pixel, borne_out
from catalogue.surface.turning import measured

Edge = Literal["top", "right", "bottom", "left"]
Pair = tuple[Pixel, Corner]
_Numbers = NDArray[numpy.float64]

_EDGES: Final = ("top", "right", "bottom", "left")
_UNLIKE: Final = 1.3
"""A picture seen so much too wide or too high for its size is tilted by 40°, or not that picture."""
_ROUNDS: Final = 6


def from_corners(
    corners: Sequence[Pixel],
    sheet: Sheet | None,
    *,
    more: Sequence[Pair] = (),
    checks: Iterable[Known] = (),
    mirrored: bool = False,
) -> Calibration:
    """The calibration of a photograph that shows all four corners of a side whose size is known.

    `corners` are the pixels of top left, top right, bottom right and bottom left as seen on that side
    with the picture's top up, wherever they lie on the photograph. `more` are further points with
    their place in mm, `checks` known lengths. Raises `BadData`: no size, corners out of order, a
    picture of other proportions, or something known that lies more than 2 mm off.
    """
    size = measured(sheet)
    if len(corners) != 4:
        raise BadData(f"a picture has four corners, not {len(corners)}")
    _check_order(corners, mirrored=mirrored)
    _check_proportions(corners, size)
    width, height = size.width_mm, size.height_mm
    places = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    pairs = [*zip(corners, places, strict=True), *more]
    return _calibrated(pairs, "corners", checks)


def from_points(pairs: Sequence[Pair], *, checks: Iterable[Known] = ()) -> Calibration:
    """The calibration from four or more pixels whose places in mm are known, by least squares.

    Raises `BadData` for fewer, for points that lie on one line, and when one lies more than 2 mm off.
    """
    return _calibrated(pairs, "points", checks)


def in_order(corners: Sequence[Pixel], top: Edge) -> tuple[Pixel, ...]:
    """Four corners marked in any order, from the picture's top left on, clockwise.

    `top` is the edge of the photograph towards which the picture's top lies: "bottom" for a picture
    that was tumbled over its bottom edge.

    >>> in_order([(90, 80), (10, 10), (10, 80), (90, 10)], top="bottom")
    ((90, 80), (10, 80), (10, 10), (90, 10))
    """
    if len(corners) != 4:
        raise BadData(f"a picture has four corners, not {len(corners)}")
    x, y = (sum(each) / 4 for each in zip(*corners, strict=True))
    # Clockwise on the photograph, where y grows downwards, beginning left of the middle.
    round_ = sorted(corners, key=lambda corner: atan2(corner[1] - y, corner[0] - x))
    first = _EDGES.index(top)
    return tuple(round_[first:] + round_[:first])


def off_straight_mm(corners: Sequence[Pixel], sheet: Sheet | None) -> float:
    """How far the worst corner lies off if the photograph is taken as straight on.

    That is what a scale alone would be wrong by; within 2 mm a scale bar does.
    """
    size = measured(sheet)
    width, height = size.width_mm, size.height_mm
    places = numpy.array([(0, 0), (width, 0), (width, height), (0, height)], float)
    # Turned, moved and scaled alike in both directions: four numbers for eight measures.
    rows, values = [], []
    for (x, y), (across, down) in zip(corners, places, strict=True):
        rows += [(x, -y, 1, 0), (y, x, 0, 1)]
        values += [across, down]
    found = numpy.linalg.lstsq(numpy.array(rows, float), numpy.array(values), rcond=None)[0]
    off = (numpy.array(rows, float) @ found - numpy.array(values)).reshape(4, 2)
    return float(numpy.hypot(off[:, 0], off[:, 1]).max())


def _calibrated(
    pairs: Sequence[Pair], method: Literal["corners", "points"], checks: Iterable[Known]
) -> Calibration:
    if len(pairs) < 4:
        raise BadData(f"{len(pairs)} known points are too few: four at least, better six")
    pixels = numpy.array([pixel for pixel, _ in pairs], float)
    places = numpy.array([place for _, place in pairs], float)
    if not (numpy.isfinite(pixels).all() and numpy.isfinite(places).all()):
        raise BadData("a known point is no number")
    matrix = _fitted(pixels, places)
    calibration = Calibration(
        matrix=tuple(float(each) for each in matrix.ravel()),
        method=method,
        scale_error=_scale_error(pixels),
    )
    off = [dist(calibration.to_mm(pixel), place) for pixel, place in pairs]
    return Calibration(
        matrix=calibration.matrix,
        method=method,
        scale_error=calibration.scale_error,
        residual_mm=borne_out(calibration.matrix, checks, max(off) if len(pairs) > 4 else None),
    )


def _fitted(pixels: _Numbers, places: _Numbers) -> _Numbers:
    """The projective map that takes the pixels to the places, by least squares in mm.

    Both are moved to their middle and scaled first, or the equations would be too uneven to solve.
    An equation counts by the depth of its point, which isn't known before it is solved: hence some
    rounds, the depths of each from the one before.
    """
    from_, to = _evened(pixels), _evened(places)
    near = _through(from_, pixels)
    far = _through(to, places)
    rows, values = _equations(near, far)
    depths = numpy.ones(len(pixels))
    for _ in range(_ROUNDS):
        weights = numpy.repeat(1 / depths, 2)
        found, _, rank, _ = numpy.linalg.lstsq(
            rows * weights[:, None], values * weights, rcond=1e-9
        )
        if rank < 8:
            raise BadData(
                "these points lie on one line, or three of four do: they fix no picture",
                remedy="mark points near all four corners",
            )
        depths = near @ found[6:] + 1
        if depths.min() <= 0:
            raise BadData(
                "these points cannot be of one flat picture", remedy="mark them again"
            )
    between = numpy.append(found, 1).reshape(3, 3)
    matrix: _Numbers = numpy.linalg.inv(to) @ between @ from_
    return matrix


def _equations(near: _Numbers, far: _Numbers) -> tuple[_Numbers, _Numbers]:
    rows = []
    for (x, y), (across, down) in zip(near, far, strict=True):
        rows.append((x, y, 1, 0, 0, 0, -x * across, -y * across))
        rows.append((0, 0, 0, x, y, 1, -x * down, -y * down))
    return numpy.array(rows, float), far.ravel()


def _evened(points: _Numbers) -> _Numbers:
    """The map that moves points to their middle, and their mean distance from it to 1."""
    middle = points.mean(axis=0)
    reach = numpy.hypot(*(points - middle).T).mean()
    if not reach:
        raise BadData("these points are all one and the same")
    scale = 1 / reach
    return numpy.array(
        [(scale, 0, -scale * middle[0]), (0, scale, -scale * middle[1]), (0, 0, 1)]
    )


def _through(matrix: _Numbers, points: _Numbers) -> _Numbers:
    return points @ matrix[:2, :2].T + matrix[:2, 2]


def _scale_error(pixels: _Numbers) -> float:
    """A pixel at either end of the longest way between two of the points."""
    longest = max(dist(one, other) for one in pixels for other in pixels)
    return 2 * OUT_BY_PIXELS / longest


def _check_order(corners: Sequence[Pixel], *, mirrored: bool) -> None:
    turns = [
        (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        for (ax, ay), (bx, by), (cx, cy) in zip(
            corners,
            [*corners[1:], corners[0]],
            [*corners[2:], *corners[:2]],
            strict=True,
        )
    ]
    if mirrored:
        turns = [-turn for turn in turns]
    if all(turn > 0 for turn in turns):
        return
    if all(turn < 0 for turn in turns):
        raise BadData(
            "the corners go round the wrong way"
            + (" for a mirrored photograph" if mirrored else ", or the photograph is mirrored"),
            remedy="mark top left, top right, bottom right, bottom left, as seen on that side",
        )
    raise BadData(
        "these corners are not those of one picture: their sides cross, or one lies within",
        remedy="mark top left, top right, bottom right, bottom left, as seen on that side",
    )


def _check_proportions(corners: Sequence[Pixel], sheet: Sheet) -> None:
    a, b, c, d = corners
    seen = (dist(a, b) + dist(c, d)) / (dist(b, c) + dist(d, a))
    unlike = seen / (sheet.width_mm / sheet.height_mm)
    if not 1 / _UNLIKE <= unlike <= _UNLIKE:
        raise BadData(
            f"on the photograph the picture is {seen:.2f} times as wide as high, by its size "
            f"{sheet.width_mm / sheet.height_mm:.2f} times",
            remedy="has height been taken for width, or another edge for the top?",
        )
