"""Sums in a job book: with a sign of their own, or in the currency that the book is kept in."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.exchange.books.rows import Written
from catalogue.job_books.entry import joined
from catalogue.job_books.told import said
from catalogue.measure import outside, read_money
from catalogue.terms import label


@dataclass(frozen=True, slots=True)
class SumRead:
    """The first sum of a cell, in words and as amount and currency (a term); what is left; doubts."""

    told: tuple[str, ...] = ()
    amount: float | None = None
    currency: str | None = None
    rest: str = ""
    remarks: tuple[str, ...] = ()


def read(cell: Written, currency: str) -> SumRead:
    """The sum that a cell names; `currency` is that of sums without a sign, "" where it is left open.

    >>> read(Written("£60 10s", "£60 10s"), "").told, read(Written("1.250,-", "1.250,-"), "euro").amount
    (('60.5 pound sterling',), 1250.0)
    """
    words = said("row")
    text = cell.text
    found = read_money(text)
    figure = None if found else figure_of(cell)
    if figure is not None and currency:
        own = f"currency/{currency}"
        return SumRead((f"{figure:.10g} {label(own)}",), figure, own)
    if not found:
        why = words["no_sum"].format(why="").rstrip(" :")
        return SumRead(
            rest=text, remarks=(words["no_currency"] if figure is not None else why,)
        )
    reading = found[0].readings[0]
    remarks = (words["several_sums"] if len(found) > 1 else "", found[0].doubt)
    return SumRead(
        told=(f"{float(reading.value):.10g} {label(reading.concept)}",),
        amount=float(reading.value),
        currency=reading.concept,
        rest=joined(outside(text, [(each.start, each.end) for each in found])),
        remarks=tuple(filter(None, remarks)),
    )


def figure_of(cell: Written) -> float | None:
    """The number of a cell that holds nothing else, None where it holds more.

    >>> [figure_of(Written(text, text)) for text in ("1250", "1.250,00", "1'250.-", "12,5", "gratis")]
    [1250.0, 1250.0, 1250.0, 12.5, None]
    """
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return float(cell.value) if cell.value >= 0 else None
    text = cell.text.strip().removesuffix(",-").removesuffix(".-").removesuffix(".–")
    for sign in ("'", "’", "\N{NO-BREAK SPACE}", " "):
        text = text.replace(sign, "")
    last = max(text.rfind(","), text.rfind("."))
    if last >= 0:
        behind = text[last + 1 :]
        before = text[:last].replace(",", "").replace(".", "")
        # Three figures behind the last sign are thousands.
        text = before + behind if len(behind) == 3 else f"{before}.{behind}"
    return float(text) if text.replace(".", "", 1).isdecimal() and text.isascii() else None
