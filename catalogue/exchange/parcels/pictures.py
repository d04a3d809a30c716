"""Which photographs leave as copies, and how large; the choices and their words are in vocab/parcel.toml."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue import places
from catalogue.errors import BadSetting
from catalogue.record import Photo, Work

SMALLEST_PX, LARGEST_PX = 100, 20_000
"""How long the longer side of a copy may be asked to be; none is ever larger than its original."""


@dataclass(frozen=True, slots=True)
class Pictures:
    """What somebody wants of photographs: `which` is one of `choices`, `longest_px` bounds a copy.

    "" and None mean as vocab/parcel.toml says.
    """

    which: str = ""
    longest_px: int | None = None

    def __post_init__(self) -> None:
        if self.which and self.which not in choices():
            raise BadSetting(
                f"there is no choice of photographs called {self.which[:80]!r}",
                remedy=f"choose one of: {', '.join(choices())}",
            )
        if self.longest_px is not None and not SMALLEST_PX <= self.longest_px <= LARGEST_PX:
            raise BadSetting(
                f"copies of photographs cannot be {self.longest_px} pixels long",
                remedy=f"give {SMALLEST_PX} to {LARGEST_PX} pixels for the longer side",
            )

    @property
    def said(self) -> bool:
        """Whether anything was asked for."""
        return bool(self.which) or self.longest_px is not None

    def of(self, work: Work) -> list[Photo]:
        """The photographs of a work that come along."""
        return chosen(work, _takes()[self.which or settings()["which"]])


def chosen(work: Work, takes: Sequence[str]) -> list[Photo]:
    """The photographs of a work of certain sorts; `takes` is as in vocab/parcel.toml."""
    if "all" in takes:
        return list(work.photos)
    with_text = {region.photo for each in work.inscriptions for region in each.regions}
    return [
        photo
        for photo in work.photos
        if ("whole" in takes and photo.view == "view/whole")
        or ("inscriptions" in takes and photo.id in with_text)
        or ("values" in takes and photo.about)
    ]


def settings() -> dict[str, Any]:
    """How copies are made, and which, where nobody says."""
    said: dict[str, Any] = places.table("parcel.toml")["pictures"]
    return said


@cache
def choices() -> dict[str, str]:
    """The choices of photographs, each with the sentence shown beside it."""
    return {each["name"]: each["says"] for each in places.table("parcel.toml")["choice"]}


@cache
def _takes() -> dict[str, tuple[str, ...]]:
    return {
        each["name"]: tuple(each["takes"]) for each in places.table("parcel.toml")["choice"]
    }
