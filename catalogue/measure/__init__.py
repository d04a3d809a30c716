"""Text → value → text: days and spans of days, EDTF, sizes, names, and text as it is looked for."""

from __future__ import annotations

from catalogue.measure.attributions import attribution_term, read_attribution
from catalogue.measure.dates import read_date, why_not
from catalogue.measure.days import DateSpan, Day, overlaps
from catalogue.measure.edtf_days import read_edtf
from catalogue.measure.folding import fold, spellings
from catalogue.measure.names import Likeness, compare, likeness, rank
from catalogue.measure.sizes import WrittenSize, read_sizes

__all__ = [
    "DateSpan",
    "Day",
    "Likeness",
    "WrittenSize",
    "attribution_term",
    "compare",
    "fold",
    "likeness",
    "overlaps",
    "rank",
    "read_attribution",
    "read_date",
    "read_edtf",
    "read_sizes",
    "spellings",
    "why_not",
]
