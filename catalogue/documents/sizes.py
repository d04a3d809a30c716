"""Sizes as a catalogue prints them: centimetres, and inches in brackets, height first."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from catalogue.documents.words import words
from catalogue.record import Size

MM_IN_AN_INCH: Final = Decimal("25.4")
"""By definition since 1959 (ISO 31-1 and its successor ISO 80000-3; from memory)."""


def in_cm_and_inches(size: Size) -> str:
    """The measures of a size in centimetres as they were taken, and in inches to a tenth.

    >>> in_cm_and_inches(Size(what="size/support", height_mm=500, width_mm=610.5)).replace("\\xa0", " ")
    '50 × 61.05 cm (19.7 × 24.0 in.)'
    >>> in_cm_and_inches(Size(what="size/support", diameter_mm=254)).replace("\\xa0", " ")
    'diameter 25.4 cm (10.0 in.)'
    """
    flat = [size.height_mm, size.width_mm, size.depth_mm]
    there = [Decimal(str(each)) for each in flat if each is not None]
    told = []
    if there:
        told.append(_both(there))
    if size.diameter_mm is not None:
        told.append(
            f"{words('identity')['diameter']} {_both([Decimal(str(size.diameter_mm))])}"
        )
    return ", ".join(told)


def _both(measures: list[Decimal]) -> str:
    cm = " × ".join(_plain(each / 10) for each in measures)
    tenth = Decimal("0.1")
    inches = " × ".join(
        str((each / MM_IN_AN_INCH).quantize(tenth, ROUND_HALF_UP)) for each in measures
    )
    space = "\N{NO-BREAK SPACE}"
    return f"{cm}{space}cm ({inches}{space}in.)"


def _plain(value: Decimal) -> str:
    """A figure without noughts at its end.

    >>> _plain(Decimal("61.0")), _plain(Decimal("100"))
    ('61', '100')
    """
    return f"{value.normalize():f}"
