"""A size on the page of a parcel: in centimetres as it was measured, and in inches to a tenth."""

from __future__ import annotations

from catalogue.exchange.parcels.chapter import words
from catalogue.measure.inches import centimetres, inches
from catalogue.record import Size
from catalogue.terms import label


def size_said(size: Size) -> str:
    """What was measured, and its measures.

    >>> size_said(Size(what="size/support", height_mm=457, width_mm=610)).replace("\\xa0", " ")
    'support: 45.7 cm high × 61 cm wide (18.0 × 24.0 in.)'
    """
    said = words("page")
    measures = [
        (value, how)
        for value, how in (
            (size.height_mm, said["height"]),
            (size.width_mm, said["width"]),
            (size.depth_mm, said["depth"]),
            (size.diameter_mm, said["diameter"]),
        )
        if value
    ]
    cm = " × ".join(f"{centimetres(mm)} cm {how}" for mm, how in measures)
    figures = " × ".join(inches(mm) for mm, _how in measures)
    return f"{label(size.what)}: {cm} ({figures}\N{NO-BREAK SPACE}in.)"
