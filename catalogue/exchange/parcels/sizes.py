"""A size on the page of a parcel: in centimetres as it was measured, and in inches to a tenth."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from catalogue.exchange.parcels.chapter import words
from catalogue.record import Size
from catalogue.terms import label

MM_IN_AN_INCH: Final = Decimal("25.4")
"""Exactly, by definition since 1959 (international yard and pound agreement; from memory)."""

_TENTH: Final = Decimal("0.1")


def size_said(size: Size) -> str:
    """What was measured, and its measures.

    >>> size_said(Size(what="size/support", height_mm=457, width_mm=610)).replace("\\xa0", " ")
    'support: 45.7 cm high × 61 cm wide (18.0 × 24.0 in.)'
    """
    said = words("page")
    measures = [
        (Decimal(str(value)), how)
        for value, how in (
            (size.height_mm, said["height"]),
            (size.width_mm, said["width"]),
            (size.depth_mm, said["depth"]),
            (size.diameter_mm, said["diameter"]),
        )
        if value
    ]
    cm = " × ".join(f"{(mm / 10).normalize():f} cm {how}" for mm, how in measures)
    inches = " × ".join(
        str((mm / MM_IN_AN_INCH).quantize(_TENTH, ROUND_HALF_UP)) for mm, _how in measures
    )
    return f"{label(size.what)}: {cm} ({inches}\N{NO-BREAK SPACE}in.)"
