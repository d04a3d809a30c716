"""Outlines as they are typed: four numbers for a box, two for a point, well-known text for the rest."""

from __future__ import annotations

import re
from collections.abc import Mapping

from catalogue.desk.forms import as_number
from catalogue.desk.typed import BOX
from catalogue.errors import BadData
from catalogue.surface import Box, Shape


def typed_shape(numbers: Mapping[str, str], outline: str) -> Shape | None:
    """The shape that a form says, None where it says nothing; all in mm. Raises `BadData`.

    >>> typed_shape({"x_mm": "120", "y_mm": "140", "width_mm": "60", "height_mm": "45"}, "").area_mm2
    2700.0
    >>> typed_shape({"x_mm": "120", "y_mm": "140"}, "").kind
    'point'
    """
    if outline and any(numbers.values()):
        raise BadData("say it in numbers or as an outline, not both")
    try:
        if outline:
            return Shape.from_wkt(_tidy(outline))
        return _box(numbers) if any(numbers.values()) else None
    except ValueError as refused:
        if isinstance(refused, BadData):
            raise
        raise BadData(str(refused)) from None


def _box(typed: Mapping[str, str]) -> Shape:
    x, y, width, height = (
        as_number(typed[name], name.removesuffix("_mm")) if typed.get(name) else None
        for name in BOX
    )
    if x is None or y is None:
        raise BadData("from the left and from the top go together")
    if width is None and height is None:
        return Shape("point", ((x, y),))
    if width is None or height is None:
        raise BadData("width and height go together; leave both empty for a point")
    return Shape.of_box(Box(x, y, width, height))


def _tidy(typed: str) -> str:
    """Well-known text with its keyword in capitals and its blanks where they belong.

    >>> _tidy("linestring(120 140,150  152)")
    'LINESTRING (120 140, 150 152)'
    """
    text = " ".join(typed.split()).upper()
    text = re.sub(r"\s*,\s*", ", ", text)
    text = re.sub(r"\s*\(\s*", "(", text)
    text = re.sub(r"\s*\)", ")", text)
    return re.sub(r"^([A-Z]+)\(", r"\1 (", text)
