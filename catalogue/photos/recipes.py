"""How a derivative is to be made, and the three that every screen asks for."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeAlias

from catalogue.errors import BadSetting

Box: TypeAlias = tuple[int, int, int, int]
"""x, y, width, height in pixels of the original as a person sees it, upright."""

Outline: TypeAlias = tuple[tuple[float, float], ...]
"""The corners of an area, in pixels of the original as a person sees it, upright."""

_MADE_BY = 2  # counts up when a recipe begins to give other bytes; old files then lie unused


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """How a derivative is made.

    `longest_px` bounds its longer side (None: as large as the original; never enlarged);
    `box` is the part that is shown (None: all); `quality` is JPEG's, 1 to 95. A `mirrored` one
    carries the word MIRRORED burnt into a corner, so that it can't pass for a view of the back.
    The areas in `covered` are painted over, so that nothing of them can be had back.
    """

    longest_px: int | None = None
    box: Box | None = None
    quality: int = 85
    mirrored: bool = False
    covered: tuple[Outline, ...] = ()

    def __post_init__(self) -> None:
        if self.longest_px is not None and self.longest_px < 1:
            raise BadSetting(
                f"a picture cannot be {self.longest_px} pixels long; give 1 or more"
            )
        if not 1 <= self.quality <= 95:
            raise BadSetting(f"the quality {self.quality} is not between 1 and 95")
        if self.box is not None and (min(self.box[:2]) < 0 or min(self.box[2:]) < 1):
            raise BadSetting(
                f"the box {self.box} is not x, y, width, height with x and y from 0 "
                "and a width and height of at least 1"
            )
        if any(len(each) < 3 for each in self.covered):
            raise BadSetting("an area to be covered needs three corners or more")

    @property
    def key(self) -> str:
        """The recipe as part of a file name.

        >>> Recipe(longest_px=320, box=(10, 20, 300, 400), mirrored=True).key
        '2-320-q85-10x20x300x400-mirrored'
        >>> Recipe(longest_px=320, covered=(((0, 0), (9, 0), (9, 9)),)).key
        '2-320-q85-covered-a3d0bc02f4ac3bd4a3e7a9d8dde5b33d'
        """
        parts = [f"{_MADE_BY}", f"{self.longest_px or 'full'}", f"q{self.quality}"]
        if self.box is not None:
            parts.append("x".join(map(str, self.box)))
        parts += ["mirrored"] * self.mirrored
        if self.covered:
            areas = repr([[(float(x), float(y)) for x, y in each] for each in self.covered])
            parts += ["covered", hashlib.sha256(areas.encode()).hexdigest()[:32]]
        return "-".join(parts)


RECIPES: Mapping[str, Recipe] = MappingProxyType(
    {
        "thumb": Recipe(longest_px=320, quality=80),
        "screen": Recipe(longest_px=2000, quality=85),
        "full": Recipe(quality=90),
    }
)
