"""Text → value → text: days and spans of days, EDTF, sizes, names, and text as it is looked for."""

from __future__ import annotations

from catalogue.measure.addresses import find_addresses
from catalogue.measure.attributions import attribution_term, read_attribution
from catalogue.measure.canvas_sizes import (
    CanvasMatch,
    CanvasSize,
    canvas_names,
    excise_width_mm,
)
from catalogue.measure.dates import Understood, read_date, understand, why_not
from catalogue.measure.dates_in_text import FoundDate, find_dates
from catalogue.measure.days import DateSpan, Day, overlaps
from catalogue.measure.edtf_days import read_edtf
from catalogue.measure.finds import Found, outside
from catalogue.measure.folding import fold, spellings
from catalogue.measure.found_names import find_names
from catalogue.measure.money import Amount, in_euros, money_refused, read_money
from catalogue.measure.money_figures import MoneyReading
from catalogue.measure.names import Likeness, compare, likeness, rank
from catalogue.measure.price_codes import CodeReading, PriceKey, decode, why_no_code
from catalogue.measure.sizes import WrittenSize, read_sizes, sizes_refused
from catalogue.measure.tariff import Use
from catalogue.measure.written_names import WrittenName, read_name

__all__ = [
    "Amount",
    "CanvasMatch",
    "CanvasSize",
    "CodeReading",
    "DateSpan",
    "Day",
    "Found",
    "FoundDate",
    "Likeness",
    "MoneyReading",
    "PriceKey",
    "Understood",
    "Use",
    "WrittenName",
    "WrittenSize",
    "attribution_term",
    "canvas_names",
    "compare",
    "decode",
    "excise_width_mm",
    "find_addresses",
    "find_dates",
    "find_names",
    "fold",
    "in_euros",
    "likeness",
    "money_refused",
    "outside",
    "overlaps",
    "rank",
    "read_attribution",
    "read_date",
    "read_edtf",
    "read_money",
    "read_name",
    "read_sizes",
    "sizes_refused",
    "spellings",
    "understand",
    "why_no_code",
    "why_not",
]
