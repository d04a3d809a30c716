"""How much of a side is lost, filled or retouched: what overlaps is counted once.

An outline drawn by hand is taken to be half a millimetre out all round, so that an area is uncertain
by its way round times half a millimetre (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, log10
from typing import Any

import shapely  # type: ignore[import-untyped]

from catalogue.surface.boxes import Sheet
from catalogue.surface.plane import geometry
from catalogue.surface.shapes import Place
from catalogue.surface.turning import measured

OUT_BY_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """How much of something (`of_mm2`) some places take up together, and how uncertain that is."""

    area_mm2: float
    plus_minus_mm2: float
    of_mm2: float

    @property
    def percent(self) -> float:
        """Of the whole, 0 to 100."""
        return self.area_mm2 / self.of_mm2 * 100

    @property
    def plus_minus_percent(self) -> float:
        """How far `percent` may be out, either way."""
        return self.plus_minus_mm2 / self.of_mm2 * 100

    def in_words(self) -> str:
        """In two significant digits.

        >>> Extent(area_mm2=274.4, plus_minus_mm2=62.6, of_mm2=305_000).in_words()
        '0.090 % ± 0.021 % (270 mm² ± 63 mm²)'
        """
        return (
            f"{two_digits(self.percent)} % ± {two_digits(self.plus_minus_percent)} % "
            f"({two_digits(self.area_mm2)} mm² ± {two_digits(self.plus_minus_mm2)} mm²)"
        )


def extent(places: Iterable[Place], sheet: Sheet | None) -> Extent:
    """How much of a side these places take up; what lies over its edge does not count.

    Raises `BadData` when the size is not known.
    """
    size = measured(sheet)
    taken = _together(places).intersection(geometry(size.whole))
    return Extent(
        area_mm2=round(taken.area, 4),
        plus_minus_mm2=round(taken.length * OUT_BY_MM, 4),
        of_mm2=size.width_mm * size.height_mm,
    )


def union_area_mm2(places: Iterable[Place]) -> float:
    """The area that places cover together, in square millimetres; points and lines have none.

    >>> from catalogue.surface.boxes import Box
    >>> union_area_mm2([Box(0, 0, 10, 10), Box(5, 0, 10, 10)])
    150.0
    """
    return round(float(_together(places).area), 4)


def outside_mm2(places: Iterable[Place], allowed: Iterable[Place]) -> float:
    """The area of places that lies outside others: retouching that leaves its losses and fills.

    >>> from catalogue.surface.boxes import Box
    >>> outside_mm2([Box(0, 0, 10, 10)], [Box(0, 0, 8, 10), Box(6, 0, 3, 10)])
    10.0
    """
    return round(float(_together(places).difference(_together(allowed)).area), 4)


def two_digits(value: float) -> str:
    """A number in two significant digits, as plain figures.

    >>> [two_digits(each) for each in (0.08997, 12.34, 1.0, 274.4, 0)]
    ['0.090', '12', '1.0', '270', '0']
    """
    if value == 0:
        return "0"
    decimals = 1 - floor(log10(abs(float(f"{value:.1e}"))))
    return f"{round(value, decimals):.{max(decimals, 0)}f}"


def _together(places: Iterable[Place]) -> Any:
    areas = [each for each in map(geometry, places) if each.area]
    return shapely.union_all(areas)
