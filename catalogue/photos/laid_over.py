"""How two photographs of one thing lie on each other: in another light, from a slightly other place.

Places that look alike are found on both (SIFT) and a plane is laid through those that agree (RANSAC,
a homography); in raking light, which turns light into dark, outlines have the last word (ECC on
gradient magnitudes). Worked out on small copies, told in pixels of the photographs, upright. The figures
and the words are in vocab/laid_over.toml; what was found is kept, refusals too.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

import cv2
import numpy as np

from catalogue.errors import BadPicture
from catalogue.photos.alignment import Lie, aligned, by_places, times_as_large
from catalogue.photos.derivatives import read_original, write_whole
from catalogue.photos.levels import halvings
from catalogue.photos.source import LIMIT_MEGAPIXELS, take_apart
from catalogue.photos.upright import Pixels, size_upright, upright
from catalogue.places import table

Shown: TypeAlias = tuple[Path, str]
"""A photograph's file, and its digest."""

_MADE_BY = 1  # counts up when planes come out otherwise; what was kept then lies unused
_LONGEST_PX = 1000
_SAME = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlay:
    """How one photograph lies on another.

    `matrix` has nine numbers, row by row: it takes a point of the other, in its upright pixels, to its
    point on the photo. `sure` is from 0 to 1; `says` says it in words.
    """

    matrix: tuple[float, ...]
    sure: float
    says: str


def laid_over(
    photo: Shown, other: Shown, cache: Path, *, limit_megapixels: float = LIMIT_MEGAPIXELS
) -> Overlay:
    """How `other` lies on `photo`; looked up where it was worked out before.

    Raises `BadPicture`, with the reason, where they do not show one thing that could be laid over.
    """
    if photo[1] == other[1]:
        return Overlay(matrix=_SAME, sure=1.0, says=table("laid_over.toml")["words"]["same"])
    kept = _kept_at(cache, photo[1], other[1])
    if kept.is_file():
        return _told(json.loads(kept.read_text("ascii")))
    found = _found(_small(photo, limit_megapixels), _small(other, limit_megapixels))
    write_whole(kept, json.dumps(found).encode("ascii"))
    return _told(found)


def _kept_at(cache: Path, photo: str, other: str) -> Path:
    figures = json.dumps(table("laid_over.toml")["figures"], sort_keys=True)
    made_by = f"{_MADE_BY}-{hashlib.sha256(figures.encode()).hexdigest()[:8]}"
    return cache / photo[:2] / f"{photo}-under-{other}-{made_by}.json"


def _small(shown: Shown, limit_megapixels: float) -> tuple[Pixels, int]:
    """A photograph small and in grey, and how often it was halved."""
    source = take_apart(read_original(shown[0]))
    times = halvings(size_upright(source, limit_megapixels), _LONGEST_PX)
    pixels, _ = upright(source, times, limit_megapixels)
    if pixels.ndim == 3:
        pixels = cv2.cvtColor(pixels, cv2.COLOR_RGB2GRAY)  # type: ignore[assignment]
    return pixels, times


def _found(photo: tuple[Pixels, int], other: tuple[Pixels, int]) -> dict[str, Any]:
    """What is kept: the plane and how sure it is, or why there is none."""
    figures = table("laid_over.toml")["figures"]
    small, theirs = photo[0], other[0]
    lie = aligned(small, theirs, figures["sure_points"])
    if lie is None or not _agrees(lie, figures):
        mirrored = by_places(small, np.ascontiguousarray(theirs[:, ::-1]))
        agrees = mirrored is not None and mirrored.points >= figures["least_points"]
        return {"refused": "mirrored" if agrees else "none"}
    scale = np.diag([2.0 ** other[1], 2.0 ** other[1], 1.0])
    plane = np.diag([2.0 ** photo[1], 2.0 ** photo[1], 1.0]) @ lie.plane @ np.linalg.inv(scale)
    middle, least, most = times_as_large(lie.plane, theirs)
    if least <= 0 or most / least > figures["largest_slant"]:
        return {"refused": "slanted"}
    larger = middle * 2.0 ** (photo[1] - other[1])
    if not 1 / figures["largest_scale"] <= larger <= figures["largest_scale"]:
        return {"refused": "scale", "times": f"{max(larger, 1 / larger):.1f}"}
    return {
        "matrix": [float(each) for each in (plane / plane[2, 2]).flatten()],
        "points": lie.points,
        "alike": lie.alike,
    }


def _agrees(lie: Lie, figures: Any) -> bool:
    if lie.points >= figures["least_points"]:
        return bool(lie.alike >= figures["least_alike"])
    return bool(lie.alike >= figures["least_by_outlines"])


def _told(found: dict[str, Any]) -> Overlay:
    rows = table("laid_over.toml")
    figures, words = rows["figures"], rows["words"]
    if "refused" in found:
        why, said = found["refused"], rows["refused"]
        filling = {"limit": f"{figures['largest_scale']:g}", "times": found.get("times", "")}
        raise BadPicture(said[why].format(**filling), remedy=said[f"{why}_remedy"])
    points, alike = found["points"], found["alike"]
    # either many places agree, or outlines do; each may make up for half of the other
    share_of_points = min(1.0, points / figures["sure_points"])
    share_alike = min(1.0, alike / figures["sure_alike"])
    sure = round((share_of_points + share_alike) / 2, 2)
    key = "outlines" if points < figures["least_points"] else "roughly"
    key = "firm" if sure >= figures["firm"] and key == "roughly" else key
    return Overlay(
        matrix=tuple(found["matrix"]), sure=sure, says=words[key].format(points=points)
    )
