"""Places on a painting in millimetres: front and back, words for places, what covers what.

What clips and joins areas needs shapely, what fits a photograph numpy, and both take a tenth of a
second to load: those names are fetched when somebody first asks for one.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

from catalogue.surface.bars import CrossBar, Edges, Stretcher, Strip
from catalogue.surface.boxes import Box, Sheet
from catalogue.surface.calibration import (
    Calibration,
    Known,
    Length,
    from_scale_bar,
    tilted,
)
from catalogue.surface.place_reader import read_place
from catalogue.surface.shapes import Place, Shape
from catalogue.surface.turning import (
    mirror,
    mirror_degrees,
    moved,
    tumble,
    tumble_degrees,
    upright,
    upright_degrees,
)
from catalogue.surface.words import (
    clock,
    clock_in_words,
    field_in_words,
    hour_region,
    in_words,
    nine_field,
    ninth,
    off_in_words,
)
from catalogue.surface.written_places import Distance, WrittenPlace

if TYPE_CHECKING:
    from catalogue.surface.areas import Extent, extent, outside_mm2, two_digits, union_area_mm2
    from catalogue.surface.covering import (
        Cover,
        cover,
        covered_fraction,
        covers,
        distance_mm,
        overlap_mm2,
    )
    from catalogue.surface.fitting import from_corners, from_points, in_order, off_straight_mm
    from catalogue.surface.lying import Lying, lying_on
    from catalogue.surface.plane import grown

_FETCHED: Final = {
    "areas": ("Extent", "extent", "outside_mm2", "two_digits", "union_area_mm2"),
    "covering": ("Cover", "cover", "covered_fraction", "covers", "distance_mm", "overlap_mm2"),
    "fitting": ("from_corners", "from_points", "in_order", "off_straight_mm"),
    "lying": ("Lying", "lying_on"),
    "plane": ("grown",),
}

__all__ = [
    "Box",
    "Calibration",
    "Cover",
    "CrossBar",
    "Distance",
    "Edges",
    "Extent",
    "Known",
    "Length",
    "Lying",
    "Place",
    "Shape",
    "Sheet",
    "Stretcher",
    "Strip",
    "WrittenPlace",
    "clock",
    "clock_in_words",
    "cover",
    "covered_fraction",
    "covers",
    "distance_mm",
    "extent",
    "field_in_words",
    "from_corners",
    "from_points",
    "from_scale_bar",
    "grown",
    "hour_region",
    "in_order",
    "in_words",
    "lying_on",
    "mirror",
    "mirror_degrees",
    "moved",
    "nine_field",
    "ninth",
    "off_in_words",
    "off_straight_mm",
    "outside_mm2",
    "overlap_mm2",
    "read_place",
    "tilted",
    "tumble",
    "tumble_degrees",
    "two_digits",
    "union_area_mm2",
    "upright",
    "upright_degrees",
]

if not TYPE_CHECKING:

    def __getattr__(name: str) -> object:
        for module, names in _FETCHED.items():
            if name in names:
                return getattr(import_module(f"{__name__}.{module}"), name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
