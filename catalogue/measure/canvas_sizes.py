"""Canvas sizes that have a name: French numbers, British names, and which of them a picture is.

The tables, with their sources, are in vocab/canvas_sizes.toml. A name found for a measured size says
that it fits, not that the canvas was bought as such: it may have been cut or stretched again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any, Final

from catalogue import places

_INCH_MM: Final = 25.4


@dataclass(frozen=True, slots=True)
class CanvasSize:
    """One size of a table, long side first: "12F" among the French, "kit-cat" among the British.

    `upright` is how its long side usually stands, None where nobody says.
    """

    name: str
    table: str
    long_mm: float
    short_mm: float
    upright: bool | None = None


@dataclass(frozen=True, slots=True)
class CanvasMatch:
    """A named size that a measured one fits, and by how many mm the measured one is larger."""

    size: CanvasSize
    off_height_mm: float
    off_width_mm: float

    @property
    def off_mm(self) -> float:
        """The larger of the two differences, without its sign."""
        return max(abs(self.off_height_mm), abs(self.off_width_mm))


def canvas_names(
    height_mm: float, width_mm: float, tolerance_mm: float = 10
) -> tuple[CanvasMatch, ...]:
    """The nearest named size and the runner-up, either way up; fewer where fewer fit.

    Within `tolerance_mm` on both sides: 10 for a canvas of today, 20 for an old one.

    >>> [(match.size.name, match.off_height_mm, match.off_width_mm) for match in canvas_names(605, 498)]
    [('12F', -5.0, -2.0), ('head', -4.6, -10.0)]
    >>> canvas_names(1000, 1000)
    ()
    """
    matches = [_match(size, height_mm, width_mm) for size in canvas_sizes()]
    fitting = [match for match in matches if match.off_mm <= tolerance_mm]
    return tuple(sorted(fitting, key=_how_near)[:2])


def _match(size: CanvasSize, height_mm: float, width_mm: float) -> CanvasMatch:
    upright = height_mm >= width_mm
    height, width = (size.long_mm, size.short_mm) if upright else (size.short_mm, size.long_mm)
    return CanvasMatch(size, round(height_mm - height, 2), round(width_mm - width, 2))


def _how_near(match: CanvasMatch) -> tuple[float, float, str]:
    return match.off_mm, abs(match.off_height_mm) + abs(match.off_width_mm), match.size.name


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("canvas_sizes.toml")


@cache
def canvas_sizes() -> tuple[CanvasSize, ...]:
    """Every named size, the French ones first."""
    return (*_french(), *_british())


def _french() -> Iterator[CanvasSize]:
    formats = table()["french"]["format"]
    for number, (long_cm, *short_cm) in table()["french"]["cm"].items():
        for (letter, row), short in zip(formats.items(), short_cm, strict=True):
            yield CanvasSize(
                f"{number}{letter}", "French", long_cm * 10.0, short * 10.0, row["upright"]
            )


def _british() -> Iterator[CanvasSize]:
    for row in table()["british"]:
        long, short = (round(side * _INCH_MM, 2) for side in row["inches"])
        yield CanvasSize(row["name"], "British", long, short)


def french_size(number: int, letter: str = "F") -> CanvasSize | None:
    """The size of a French number and format (F, P or M), None where there is none.

    >>> size = french_size(12)
    >>> size.long_mm, size.short_mm
    (610.0, 500.0)
    """
    name = f"{number}{letter}"
    return next((size for size in canvas_sizes() if size.name == name), None)


def excise_width_mm(hundredths: int) -> Decimal:
    """The width of a canvas by its British excise mark, in mm: the mark counts hundredths of a yard.

    >>> excise_width_mm(75)
    Decimal('685.80')
    """
    return (Decimal(table()["excise"]["yard_mm"]) * hundredths / 100).quantize(Decimal("0.01"))
