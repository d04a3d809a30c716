"""The plane that lays one grey picture on another, found by places that look alike and by outlines.

A plane is three rows of three numbers that take a point of the `other` to its point on the `photo`;
points are counted from the corner of a picture, so that the middle of its first pixel is 0.5, 0.5.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Any, TypeAlias

import cv2
import numpy as np

from catalogue.photos.upright import Pixels

Plane: TypeAlias = np.ndarray[Any, np.dtype[np.float64]]
Outlines: TypeAlias = np.ndarray[Any, np.dtype[np.float32]]

_MOST_PLACES = 2500
_TELLING = (
    0.8  # the best likeness must be so much nearer than the second: Lowe 2004, from memory
)
_NEAR_PX = 3.0
_OUTLINES_PX = 600  # outlines are compared on pictures of this size
_EQUALLY_SHARP = (
    1.4  # of pictures whose scales differ more, one is blurred: outlines would mislead
)
_THE_SAME = 0.03  # of the side: two planes so near each other say the same
_TRUSTED = (
    0.02  # outlines of pictures that are not equally sharp gain a little by lying wrongly
)
_BLURRED = (15, 5)  # how many pixels of them are taken together, coarsely first
_SEARCH_PX = 300
_LEANS = range(-6, 7)  # degrees: so askew may a camera be put back on its stand
_LEAST_SHARED = (
    0.02  # of the smaller picture must lie on the other, or there is nothing to compare
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How one picture lies on another: `points` places agree, outlines are `alike` from 0 to 1."""

    plane: Plane
    points: int
    alike: float


def by_places(photo: Pixels, other: Pixels) -> Lie | None:
    """How `other` lies on `photo` by places that look alike; None where fewer than four agree."""
    ours, theirs = _places(photo), _places(other)
    if min(len(ours[0]), len(theirs[0])) < 4:
        return None
    there, here = _paired(theirs, ours)
    if len(there) < 4:
        return None
    plane, agree = cv2.findHomography(
        there, here, cv2.USAC_MAGSAC, _NEAR_PX, maxIters=5000, confidence=0.999
    )
    if plane is None or not np.isfinite(plane).all():
        return None
    found = np.asarray(plane, np.float64)
    return Lie(plane=found, points=int(agree.sum()), alike=alike(photo, other, found))


def _places(grey: Pixels) -> tuple[Any, Any]:
    """Corner-counted points, and what each looks like in a way that light and turning change little."""
    window = max(1, max(grey.shape) // 64)
    evened = cv2.createCLAHE(clipLimit=3.0, tileGridSize=(window // 2 + 1, window // 2 + 1))
    # OpenCV's own list of names for type checkers lacks this one
    places = cv2.SIFT_create(  # type: ignore[attr-defined]
        nfeatures=_MOST_PLACES, contrastThreshold=0.02
    )
    keys, looks = places.detectAndCompute(evened.apply(grey), None)
    if looks is None:
        return np.empty((0, 2), np.float32), np.empty((0, 128), np.float32)
    # the root of each share (RootSIFT) tells apart better than the share itself
    looks = np.sqrt(looks / np.maximum(looks.sum(axis=1, keepdims=True), 1e-6))
    return np.array([each.pt for each in keys], np.float32) + 0.5, looks.astype(np.float32)


def _paired(theirs: tuple[Any, Any], ours: tuple[Any, Any]) -> tuple[Any, Any]:
    """The points of both whose looks are the nearest to each other, both ways, and tellingly so."""
    nearness = theirs[1] @ ours[1].T
    best = nearness.argmax(axis=1)
    rows = np.arange(len(best))
    first = nearness[rows, best]
    mutual = nearness.argmax(axis=0)[best] == rows
    nearness[rows, best] = -1
    second = nearness.max(axis=1)
    # looks are of length 1: their distance squared is 2 - 2 × nearness
    telling = (1 - first) < _TELLING**2 * (1 - second)
    chosen = mutual & telling
    return theirs[0][chosen], ours[0][best[chosen]]


def by_outlines(photo: Pixels, other: Pixels, plane: Plane) -> Plane | None:
    """`plane` made better by the outlines of both, coarsely first; None where they lead nowhere."""
    (here, shrunk), (there, their_shrunk) = _outlines(photo), _outlines(other)
    # cv2 looks for the way from the photo to the other, between middles of pixels
    way = _middles(their_shrunk @ np.linalg.inv(plane) @ np.linalg.inv(shrunk))
    found: Any = (way / way[2, 2]).astype(np.float32)
    unmasked: Any = None
    criteria = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 50, 1e-4)
    try:
        for blurred in _BLURRED:
            _, found = cv2.findTransformECC(
                here, there, found, cv2.MOTION_HOMOGRAPHY, criteria, unmasked, blurred
            )
        back = np.linalg.inv(_corners(found))
    except (cv2.error, np.linalg.LinAlgError):
        return None
    better: Plane = np.linalg.inv(shrunk) @ back @ their_shrunk
    return np.asarray(better / better[2, 2])


def by_search(photo: Pixels, other: Pixels) -> Plane:
    """Where `other` may lie on `photo` if both were taken from one stand: fitted, moved, leaning a little.

    Every lean is tried; for each the best place is where the outlines of both agree most (phase
    correlation).
    """
    best, found = -1.0, np.eye(3)
    here, shrunk = _outlines(photo, _SEARCH_PX)
    height, width = here.shape
    there, their_shrunk = _outlines(other, _SEARCH_PX)
    window = cv2.createHanningWindow((width, height), cv2.CV_32F)
    fitted = min(width / there.shape[1], height / there.shape[0])
    for lean in _LEANS:
        middle = there.shape[1] / 2, there.shape[0] / 2
        turned = np.vstack([cv2.getRotationMatrix2D(middle, lean, fitted), [0, 0, 1]])
        turned[:2, 2] += (width / 2 - middle[0], height / 2 - middle[1])
        laid = cv2.warpPerspective(there, turned, (width, height))
        (right, down), response = cv2.phaseCorrelate(laid, here, window)
        if response > best:
            moved = np.array([[1, 0, right], [0, 1, down], [0, 0, 1]])
            best = response
            found = np.linalg.inv(shrunk) @ _corners(moved @ turned) @ their_shrunk
    return found


# A point counted from the middle of the first pixel, counted from the corner of the picture.
_FROM_CORNER: Plane = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
_FROM_MIDDLE: Plane = np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]])


def _middles(plane: Plane) -> Plane:
    """A plane for points counted from the corner, as one for points counted from the first middle."""
    return np.asarray(_FROM_MIDDLE @ plane @ _FROM_CORNER)


def _corners(plane: Plane) -> Plane:
    """The other way round."""
    return np.asarray(_FROM_CORNER @ np.asarray(plane, np.float64) @ _FROM_MIDDLE)


def _outlines(grey: Pixels, longest_px: int = _OUTLINES_PX) -> tuple[Outlines, Plane]:
    """How strongly light changes at each place, against its surroundings; and how it was shrunk."""
    shrink = min(1.0, longest_px / max(grey.shape))
    size = max(8, round(grey.shape[1] * shrink)), max(8, round(grey.shape[0] * shrink))
    shrunken = cv2.resize(grey, size, interpolation=cv2.INTER_AREA).astype(np.float32)
    small = cv2.GaussianBlur(shrunken, (0, 0), 1.5)
    strong = cv2.magnitude(
        cv2.Sobel(small, cv2.CV_32F, 1, 0), cv2.Sobel(small, cv2.CV_32F, 0, 1)
    )
    around = cv2.GaussianBlur(strong, (0, 0), 24)
    shrunk = np.diag([size[0] / grey.shape[1], size[1] / grey.shape[0], 1.0])
    return (strong / (around + 2.0)).astype(np.float32), shrunk


def alike(photo: Pixels, other: Pixels, plane: Plane) -> float:
    """How alike the outlines are where `other` lies on `photo`: their correlation, 0 for none."""
    (here, shrunk), (there, their_shrunk) = _outlines(photo), _outlines(other)
    way = _middles(shrunk @ plane @ np.linalg.inv(their_shrunk))
    size = here.shape[1], here.shape[0]
    laid = cv2.warpPerspective(there, way, size)
    shared = cv2.warpPerspective(np.ones_like(there), way, size) > 0.99
    if shared.sum() < _LEAST_SHARED * min(here.size, there.size):
        return 0.0
    found = np.corrcoef(here[shared], laid[shared])[0, 1]
    return max(0.0, float(found)) if np.isfinite(found) else 0.0


def aligned(photo: Pixels, other: Pixels, enough_points: int) -> Lie | None:
    """How `other` lies on `photo`; None where nothing on them agrees.

    Where fewer than `enough_points` places agree, as in raking light, outlines have the last word.
    """
    found = by_places(photo, other)
    lies = [found] if found is not None and _may_be(found.plane, other) else []
    if found is not None and lies:
        middle, _, _ = times_as_large(found.plane, other)
        if found.points >= enough_points or not 1 / _EQUALLY_SHARP < middle < _EQUALLY_SHARP:
            return found
    begins = [*((each.plane, each.points) for each in lies), (by_search(photo, other), 0)]
    for plane, points in begins:
        better = by_outlines(photo, other, plane)
        if better is not None and _may_be(better, other):
            lies.append(Lie(plane=better, points=points, alike=alike(photo, other, better)))
    best = max(lies, key=lambda each: each.alike + _TRUSTED * (each is found), default=found)
    if found is None or best is None or best.points:
        return best
    if furthest(found.plane, best.plane, other) < _THE_SAME * max(photo.shape):
        return Lie(plane=best.plane, points=found.points, alike=best.alike)
    return best


def _may_be(plane: Plane, other: Pixels) -> bool:
    """Whether a plane is worth looking at: neither folded nor mirrored."""
    return times_as_large(plane, other)[1] > 0


def furthest(plane: Plane, other_plane: Plane, other: Pixels) -> float:
    """How far apart two planes put the corners of a picture, in pixels of the photo, at most."""
    return float(
        np.linalg.norm(corners(plane, other) - corners(other_plane, other), axis=1).max()
    )


def corners(plane: Plane, other: Pixels) -> Any:
    """Where the corners of `other` lie on the photo, clockwise from its top left."""
    height, width = other.shape[:2]
    four = np.array([[[0, 0], [width, 0], [width, height], [0, height]]], np.float64)
    return cv2.perspectiveTransform(four, plane)[0]


def times_as_large(plane: Plane, other: Pixels) -> tuple[float, float, float]:
    """How many times as large things of `other` are on the photo: at its middle, least, most.

    Below nothing where they are mirrored there.
    """
    height, width = other.shape[:2]
    found = []
    for x, y in ((width / 2, height / 2), (0, 0), (width, 0), (width, height), (0, height)):
        w = plane[2] @ (x, y, 1)
        if w == 0:
            return 0.0, 0.0, 0.0
        grows = np.linalg.det(plane) / w**3
        found.append(float(np.sign(grows) * sqrt(abs(grows))))
    return found[0], min(found), max(found)
