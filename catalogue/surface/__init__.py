"""Places on a painting in millimetres: front and back, words for places, what covers what."""

from __future__ import annotations

from catalogue.surface.boxes import Box, Sheet
from catalogue.surface.covers import Cover, cover, distance_mm, grown, overlap_mm2
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
from catalogue.surface.words import clock, in_words, nine_field

__all__ = [
    "Box",
    "Cover",
    "Place",
    "Shape",
    "Sheet",
    "clock",
    "cover",
    "distance_mm",
    "grown",
    "in_words",
    "mirror",
    "mirror_degrees",
    "moved",
    "nine_field",
    "overlap_mm2",
    "tumble",
    "tumble_degrees",
    "upright",
    "upright_degrees",
]
