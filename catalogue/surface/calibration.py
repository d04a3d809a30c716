"""How the pixels of one photograph lie on a side of the painting: a scale bar, or known points.

Pixels are counted from the top left corner of the photograph as it lies in its file, x to the right
and y down. A photograph that stands on its head or on its side is no special case: whoever gives the
corners of the picture, gives them as they are with the picture's top up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, dist, hypot, isfinite, radians, sqrt
from typing import Final, Literal

from catalogue.errors import BadData
from catalogue.surface.boxes import Box, Corner, tidy
from catalogue.surface.shapes import Kind, Place, Shape

Pixel = tuple[float, float]
Method = Literal["scale bar", "corners", "points"]
Turn = Literal[0, 90, 180, 270]

OUT_BY_PIXELS: Final = 1
"""How far either end of a length that is measured on a photograph may be out."""
FARTHEST_MM: Final = 2
"""A photograph on which a known place lies further from where it should is no measure."""
_SHORTEST_PIXELS: Final = 10
_DECIMALS: Final = 3
_TURNS: Final[dict[int, tuple[int, int]]] = {0: (1, 0), 90: (0, 1), 180: (-1, 0), 270: (0, -1)}
"""Cosine and sine of how far a photograph is turned clockwise to bring the picture's top up."""
_MM_PER_INCH: Final = 25.4


@dataclass(frozen=True, slots=True)
class Known:
    """A length that is known, between two pixels: an end of a ruler, a side of the picture."""

    a: Pixel
    b: Pixel
    mm: float


@dataclass(frozen=True, slots=True)
class Length:
    """A length measured on a photograph; `ends_mm` and `scale_mm` are how far it may be out.

    `ends_mm` because either end is known to a pixel, `scale_mm` because the scale itself is.
    """

    mm: float
    ends_mm: float
    scale_mm: float

    @property
    def plus_minus_mm(self) -> float:
        """Both together; they are independent."""
        return hypot(self.ends_mm, self.scale_mm)

    def in_words(self) -> str:
        """Such as a label's width.

        >>> Length(148.818, 0.169, 0.251).in_words()
        '148.8 mm ± 0.3 mm'
        """
        return f"{self.mm:.1f} mm ± {max(self.plus_minus_mm, 0.1):.1f} mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """How the pixels of one photograph lie on one side, in plain numbers, ready to be kept.

    `matrix` takes a pixel to mm: nine numbers, row by row, of a projective map of the plane, whose
    last row is more than 0 for what the photograph shows of the picture. `scale_error` is how far a
    length may be out because of the scale, as a fraction of it. `residual_mm` is how far the worst of
    the known points and lengths lies from where it should: None when nothing was known beyond what
    the scale was made from. `placed` is False when only lengths can be told, as from a scale bar
    without the picture's corner.
    """

    matrix: tuple[float, ...]
    method: Method
    scale_error: float
    residual_mm: float | None = None
    placed: bool = True

    def __post_init__(self) -> None:
        if len(self.matrix) != 9 or not all(isfinite(each) for each in self.matrix):
            raise ValueError("Calibration.matrix: nine numbers")
        if not _determinant(self.matrix):
            raise ValueError("Calibration.matrix: it takes the whole photograph to a line")

    def mm_per_pixel(self, at: Pixel = (0, 0)) -> float:
        """The scale around a pixel; from a scale bar it is the same everywhere."""
        a, b, c, d, e, f, g, h, i = self.matrix
        x, y = at
        depth = _in_front(g * x + h * y + i)
        across, down = (a * x + b * y + c) / depth, (d * x + e * y + f) / depth
        turned = (a - g * across) * (e - h * down) - (b - h * across) * (d - g * down)
        return sqrt(abs(turned)) / depth

    def pixels_per_mm(self, at: Pixel = (0, 0)) -> float:
        """The other way round."""
        return 1 / self.mm_per_pixel(at)

    def pixels_per_inch(self, at: Pixel = (0, 0)) -> float:
        """As a printer is told it."""
        return _MM_PER_INCH / self.mm_per_pixel(at)

    def length(self, a: Pixel, b: Pixel) -> Length:
        """The straight way between two pixels, in mm."""
        mm = dist(_through(self.matrix, a), _through(self.matrix, b))
        ends = OUT_BY_PIXELS * (self.mm_per_pixel(a) + self.mm_per_pixel(b))
        return Length(mm, ends, mm * self.scale_error)

    def to_mm(self, pixel: Pixel) -> Corner:
        """Where a pixel lies on the side, to a thousandth of a mm. Raises `BadData`."""
        if not self.placed:
            raise BadData(
                "this photograph has a scale but no corner of the picture",
                remedy="mark where the picture's top left corner lies, or all four corners",
            )
        across, down = _through(self.matrix, pixel)
        return round(across, _DECIMALS), round(down, _DECIMALS)

    def to_pixel(self, corner: Corner) -> Pixel:
        """Where a place in mm lies on the photograph. Raises `BadData`."""
        if not self.placed:
            raise BadData("this photograph has a scale but no corner of the picture")
        return _through(_inverse(self.matrix), corner)

    def shape(self, kind: Kind, pixels: Iterable[Pixel]) -> Shape:
        """The shape in mm that was drawn over the photograph. Raises `ValueError` for a wrong one."""
        return Shape(kind, tuple(self.to_mm(pixel) for pixel in pixels))

    def pixels(self, place: Place) -> tuple[Pixel, ...]:
        """The corners of a place where they lie on the photograph."""
        shape = Shape.of_box(place) if isinstance(place, Box) else place
        return tuple(self.to_pixel(corner) for corner in shape.corners)

    def in_words(self) -> str:
        """What it rests on, and whether anything bears it out."""
        if self.residual_mm is None:
            return f"from the {self.method}; nothing else that is known bears it out"
        return f"from the {self.method}; what is known lies within {self.residual_mm:.1f} mm"


def from_scale_bar(
    bar: Known,
    *,
    origin: Pixel | None = None,
    turned: Turn = 0,
    checks: Iterable[Known] = (),
) -> Calibration:
    """The scale of a photograph taken straight on, from a bar of known length lying on the side.

    `origin` is the pixel of the picture's top left corner as seen on that side with its top up, and
    `turned` how far the photograph has to be turned clockwise for that. `checks` are other known
    lengths. Raises `BadData` when one is out by more than 2 mm: the photograph is tilted, or the bar
    doesn't lie in the plane of the picture.

    >>> scale = from_scale_bar(Known((0, 0), (1184, 0), 100))
    >>> round(scale.pixels_per_mm(), 2), round(scale.pixels_per_inch(), 1)
    (11.84, 300.7)
    """
    long = _known_pixels(bar)
    scale = bar.mm / long
    turn_cos, turn_sin = (scale * each for each in _TURNS[turned])
    x, y = origin or (0, 0)
    matrix = (
        turn_cos, -turn_sin, -turn_cos * x + turn_sin * y,
        turn_sin, turn_cos, -turn_sin * x - turn_cos * y,
        0.0, 0.0, 1.0,
    )  # fmt: skip
    return Calibration(
        matrix=matrix,
        method="scale bar",
        scale_error=2 * OUT_BY_PIXELS / long,
        residual_mm=borne_out(matrix, checks),
        placed=origin is not None,
    )


def borne_out(
    matrix: tuple[float, ...], checks: Iterable[Known], points_mm: float | None = None
) -> float | None:
    """How far the worst known length, or point, lies from where it should; None without any.

    Raises `BadData` when that is further than a measure may be.
    """
    off = [] if points_mm is None else [points_mm]
    for check in checks:
        _known_pixels(check)
        off.append(abs(dist(_through(matrix, check.a), _through(matrix, check.b)) - check.mm))
    worst = max(off, default=None)
    if worst is not None and worst > FARTHEST_MM:
        raise BadData(
            f"what is known lies {worst:.1f} mm from where this photograph puts it; "
            f"{FARTHEST_MM} mm is the most",
            remedy="mark the points again, check the sizes that were typed, or photograph it "
            "straight on with the scale in the plane of the picture",
        )
    return worst


def tilted(degrees: float) -> float:
    """How much shorter a scale seems that is tilted out of the plane, as a fraction.

    >>> round(tilted(10), 3)
    0.015
    """
    return 1 - cos(radians(degrees))


def _known_pixels(known: Known) -> float:
    long = dist(known.a, known.b)
    if not (isfinite(long) and 0 < known.mm <= 100_000):
        raise BadData(f"a length of {known.mm!r} mm between {known.a} and {known.b} is none")
    if long < _SHORTEST_PIXELS:
        raise BadData(
            f"the ends of the {known.mm:g} mm lie {long:.0f} pixels apart: too near for a scale",
            remedy="mark the two ends of a longer piece",
        )
    return long


def _in_front(depth: float) -> float:
    if depth <= 0:
        raise BadData("this pixel lies beyond the horizon of the picture's plane")
    return depth


def _through(matrix: tuple[float, ...], point: tuple[float, float]) -> tuple[float, float]:
    a, b, c, d, e, f, g, h, i = matrix
    x, y = point
    depth = _in_front(g * x + h * y + i)
    return tidy((a * x + b * y + c) / depth), tidy((d * x + e * y + f) / depth)


def _determinant(matrix: tuple[float, ...]) -> float:
    a, b, c, d, e, f, g, h, i = matrix
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def _inverse(matrix: tuple[float, ...]) -> tuple[float, ...]:
    a, b, c, d, e, f, g, h, i = matrix
    whole = _determinant(matrix)
    return tuple(
        each / whole
        for each in (
            e * i - f * h, c * h - b * i, b * f - c * e,
            f * g - d * i, a * i - c * g, c * d - a * f,
            d * h - e * g, b * g - a * h, a * e - b * d,
        )
    )  # fmt: skip
