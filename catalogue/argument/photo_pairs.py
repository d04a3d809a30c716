"""Before and after: photographs of one side to hold beside each other, and what speaks against it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import Final, Literal

from catalogue.record import Photo, Work

FACES: Final = ("face/front", "face/back")
BEFORE: Final = ("stage/incoming", "stage/before")
AFTER: Final = ("stage/after", "stage/outgoing")
_SAME: Final = 0.02
"""How far two shapes, or two scales, may differ and still be taken for the same."""

Doubt = Literal["light", "scale", "crop"]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two photographs of one whole side; `doubts` are what makes them hard to compare."""

    face: str
    before: Photo
    after: Photo

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """The light differs, the scale differs or is not known, the one shows more than the other."""
        found: list[Doubt] = []
        if self.before.light != self.after.light:
            found.append("light")
        scales = (self.before.mm_per_pixel, self.after.mm_per_pixel)
        if None in scales or _differ(scales[0] or 0, scales[1] or 0):
            found.append("scale")
        if _differ(_shape(self.before), _shape(self.after)):
            found.append("crop")
        return tuple(found)


def before_and_after(work: Work) -> tuple[Pair, ...]:
    """For each side its best pair: in the same light if there is one, else the latest of both.

    >>> [Pair("face/back", Photo(file_name="a.jpg", light="light/raking"), Photo(file_name="b.jpg")).doubts]
    [('light', 'scale')]
    """
    return tuple(pair for face in FACES for pair in _best(work, face))


def _best(work: Work, face: str) -> Iterator[Pair]:
    pairs = (
        Pair(face, *each) for each in product(_of(work, face, BEFORE), _of(work, face, AFTER))
    )
    yield from sorted(pairs, key=_rank)[:1]


def _of(work: Work, face: str, stages: tuple[str, ...]) -> list[Photo]:
    return [
        each
        for each in work.photos
        if each.face == face
        and each.view == "view/whole"
        and each.stage in stages
        and not each.mirrored
    ]


def _rank(pair: Pair) -> tuple[object, ...]:
    days = (pair.before.taken, pair.after.taken)
    return (
        "light" in pair.doubts,
        len(pair.doubts),
        *(-(day.ordinal if day else 0) for day in days),
    )


def _shape(photo: Photo) -> float:
    return photo.width / photo.height if photo.width and photo.height else 0


def _differ(one: float, other: float) -> bool:
    return bool(one and other) and abs(one - other) > _SAME * max(one, other)
