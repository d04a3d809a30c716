"""Photographs: untouched originals in; what screens, documents and exports show of them out."""

from __future__ import annotations

from catalogue.photos.derivatives import crop, derivative, shown
from catalogue.photos.levels import Tiles
from catalogue.photos.names import clean_name
from catalogue.photos.picture import PictureFacts, inspect, size_in_pixels
from catalogue.photos.recipes import RECIPES, Box, Outline, Recipe
from catalogue.photos.source import LIMIT_MEGAPIXELS
from catalogue.photos.stripped import strip
from catalogue.photos.ways import Way

__all__ = [
    "LIMIT_MEGAPIXELS",
    "RECIPES",
    "Box",
    "Outline",
    "PictureFacts",
    "Recipe",
    "Tiles",
    "Way",
    "clean_name",
    "crop",
    "derivative",
    "inspect",
    "shown",
    "size_in_pixels",
    "strip",
]
