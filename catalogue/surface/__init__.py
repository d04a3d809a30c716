"""Places on a painting in millimetres: front and back, words for places, what covers what."""

from __future__ import annotations

from catalogue.surface.boxes import Box, Sheet, mirror, mirror_degrees, upright
from catalogue.surface.covers import Cover, cover, distance_mm, grown, overlap_mm2
from catalogue.surface.shapes import Shape
from catalogue.surface.words import clock, in_words, nine_field

__all__ = [
    "Box",
    "Cover",
    "Shape",
    "Sheet",
    "clock",
    "cover",
    "distance_mm",
    "grown",
    "in_words",
    "mirror",
    "mirror_degrees",
    "nine_field",
    "overlap_mm2",
    "upright",
]
