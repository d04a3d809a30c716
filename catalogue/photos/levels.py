"""A photograph in tiles: how many levels of it there are, how large each is, which tiles lie where.

Level 0 is the photograph at full size, every further level half as large (rounded up), and the last
fits into one tile. So a page that shows 50 megapixels asks for no more than what its window holds.
"""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.photos.recipes import Box
from catalogue.photos.ways import Way

TILE_PX = 512


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiles:
    """What there is of one photograph in tiles; `width` and `height` in pixels, upright.

    Of a photograph that came along as a smaller copy they are the copy's. `ways` are the ways of
    looking at it, the plain one first.

    >>> fifty = Tiles(width=8660, height=5774)
    >>> fifty.levels, fifty.size(0), fifty.size(3), fifty.size(5)
    (6, (8660, 5774), (1083, 722), (271, 181))
    >>> fifty.across(0), fifty.down(0)
    (17, 12)
    """

    width: int
    height: int
    tile: int = TILE_PX
    ways: tuple[Way, ...] = ()

    @property
    def levels(self) -> int:
        """How many levels there are, 1 for what fits into one tile."""
        return halvings((self.width, self.height), self.tile) + 1

    def size(self, level: int) -> tuple[int, int]:
        """Width and height of a level."""
        return halved((self.width, self.height), level)

    def across(self, level: int) -> int:
        """How many tiles lie beside each other on a level."""
        return -(-self.size(level)[0] // self.tile)

    def down(self, level: int) -> int:
        """How many tiles lie below each other on a level."""
        return -(-self.size(level)[1] // self.tile)

    def holds(self, level: int, x: int, y: int) -> bool:
        """Whether there is such a tile.

        >>> small = Tiles(width=600, height=400)
        >>> small.holds(0, 1, 0), small.holds(0, 2, 0), small.holds(2, 0, 0)
        (True, False, False)
        """
        return (
            0 <= level < self.levels
            and 0 <= x < self.across(level)
            and 0 <= y < self.down(level)
        )

    def boxes(self, level: int) -> dict[tuple[int, int], Box]:
        """Where each tile of a level lies on it; those at the right and lower edge are smaller.

        >>> Tiles(width=600, height=400).boxes(0)
        {(0, 0): (0, 0, 512, 400), (1, 0): (512, 0, 88, 400)}
        """
        width, height = self.size(level)
        return {
            (x, y): (
                x * self.tile,
                y * self.tile,
                min(self.tile, width - x * self.tile),
                min(self.tile, height - y * self.tile),
            )
            for y in range(self.down(level))
            for x in range(self.across(level))
        }


def halved(size: tuple[int, int], times: int) -> tuple[int, int]:
    """A size halved so many times, rounded up.

    >>> halved((1083, 722), 1), halved((1, 1), 3)
    ((542, 361), (1, 1))
    """
    return -(-size[0] >> times), -(-size[1] >> times)


def halvings(size: tuple[int, int], longest_px: int) -> int:
    """How often a size must be halved until its longer side is at most so many pixels.

    >>> halvings((8660, 5774), 2600), halvings((100, 80), 2600)
    (2, 0)
    """
    return next(times for times in range(64) if max(halved(size, times)) <= longest_px)
