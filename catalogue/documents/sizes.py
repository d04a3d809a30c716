"""Sizes as a catalogue prints them: centimetres, and inches in brackets, height first."""

from __future__ import annotations

from catalogue.documents.words import words
from catalogue.measure.inches import centimetres, inches
from catalogue.record import Size


def in_cm_and_inches(size: Size) -> str:
    """The measures of a size in centimetres as they were taken, and in inches to a tenth.

    >>> in_cm_and_inches(Size(what="size/support", height_mm=500, width_mm=610.5)).replace("\\xa0", " ")
    '50 × 61.05 cm (19.7 × 24.0 in.)'
    >>> in_cm_and_inches(Size(what="size/support", diameter_mm=254)).replace("\\xa0", " ")
    'diameter 25.4 cm (10.0 in.)'
    """
    flat = [size.height_mm, size.width_mm, size.depth_mm]
    there = [each for each in flat if each is not None]
    told = []
    if there:
        told.append(_both(there))
    if size.diameter_mm is not None:
        told.append(f"{words('identity')['diameter']} {_both([size.diameter_mm])}")
    return ", ".join(told)


def _both(measures: list[float]) -> str:
    cm = " × ".join(map(centimetres, measures))
    space = "\N{NO-BREAK SPACE}"
    return f"{cm}{space}cm ({' × '.join(map(inches, measures))}{space}in.)"
