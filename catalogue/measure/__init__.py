"""Text → value → text: days and spans of days, EDTF, names."""

from __future__ import annotations

from catalogue.measure.dates import read_date, why_not
from catalogue.measure.days import DateSpan, Day, overlaps
from catalogue.measure.edtf import read_edtf
from catalogue.measure.names import likeness, rank, read_attribution

__all__ = [
    "DateSpan",
    "Day",
    "likeness",
    "overlaps",
    "rank",
    "read_attribution",
    "read_date",
    "read_edtf",
    "why_not",
]
