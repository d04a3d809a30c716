"""Prices as people write them → exact amounts, each with the years in which it was written so.

Words, signs and years are in vocab/money.toml. What may be read in two ways is read in both, the
likelier first; what may be no price at all is kept and says so. Nothing is read across "…" (a lost
part of a label), and no figure that touches one: its other figures may be lost.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import reduce
from operator import or_
from typing import Final

from catalogue.measure.figures import Refusal
from catalogue.measure.money_figures import MoneyReading, Part, Piece, pieces
from catalogue.measure.tariff import Use, per_euro

_GAP: Final = re.compile(r"[ \t\u00a0]*(?:(?:and|und|et|en|e|&)[ \t\u00a0]+)?")
"""What may stand between pounds and shillings; on a line of its own they are another amount."""


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount of money found in a text, from `start` to `end`, and every way to read it.

    The likeliest reading stands first. `doubt` says why it may be no price, "" where nothing speaks
    against it.
    """

    written: str
    start: int
    end: int
    readings: tuple[MoneyReading, ...]
    doubt: str = ""

    @property
    def currency(self) -> str:
        """The likeliest currency."""
        return self.readings[0].currency

    @property
    def value(self) -> Fraction:
        """How much of it, exactly."""
        return self.readings[0].value

    @property
    def use(self) -> Use:
        """The days in which it was written so, in whichever way it is read."""
        return reduce(or_, (reading.use for reading in self.readings))


def read_money(text: str) -> tuple[Amount, ...]:
    """The amounts of money in a text, in its order; an empty tuple when there is none.

    >>> [(each.currency, str(each.value)) for each in read_money("12 gns, now £31 10s.")]
    [('GBP', '63/5'), ('GBP', '63/2')]
    >>> [str(each.value) for each in read_money("£31.10")[0].readings]
    ['311/10', '63/2']
    >>> read_money("£31.10…")
    ()
    """
    return tuple(
        Amount(
            text[piece.start : piece.end],
            piece.start,
            piece.end,
            tuple(dict.fromkeys(part.reading for part in piece.parts)),
            piece.doubt,
        )
        for piece in _joined(text)
        if piece.parts
    )


def money_refused(text: str) -> tuple[Refusal, ...]:
    """What looks like money in a text and cannot be, with the reason.

    >>> money_refused("£3 20s")[0].why
    '20s is no part of a pound: write it as pounds'
    """
    return tuple(
        Refusal(text[piece.start : piece.end], piece.start, piece.end, piece.why_not)
        for piece in _joined(text)
        if piece.why_not
    )


def in_euros(reading: MoneyReading) -> Decimal | None:
    """A reading in euros at the rate that was fixed for its currency, to a cent, half up.

    None where none ever was. It is arithmetic, and says nothing of what the money could buy.

    >>> in_euros(read_money("850 guilders")[0].readings[0])
    Decimal('385.71')
    """
    rate = per_euro(reading.currency)
    if rate is None:
        return None
    cents = reading.value / Fraction(rate) * 100
    return Decimal(int(cents + Fraction(1, 2))).scaleb(-2)


def _joined(text: str) -> list[Piece]:
    """The pieces of a text, those that are parts of one amount joined."""
    joined: list[Piece] = []
    for piece in pieces(text):
        both = _together(text, joined[-1], piece) if joined else None
        joined[-1:] = [both] if both else [*joined[-1:], piece]
    return [
        replace(piece, parts=tuple(part for part in piece.parts if not part.only_with))
        for piece in joined
    ]


def _together(text: str, first: Piece, second: Piece) -> Piece | None:
    """Two pieces as one amount: pounds with shillings, marks with pfennigs; None where they are two."""
    if second.why_not or not _GAP.fullmatch(text, first.end, second.start):
        return None
    if first.why_not:
        belongs = all(part.size < 1 for part in second.parts)
        return replace(first, end=second.end) if belongs else None
    pairs = [(one, other) for one in first.parts for other in second.parts if _fit(one, other)]
    if not pairs:
        return None
    sums = tuple(_sum(one, other) for one, other in pairs if other.reading.value < one.size)
    if sums:
        return Piece(first.start, second.end, sums)
    unit = pairs[0][0].reading.unit
    written = text[second.start : second.end]
    why = f"{written} is no part of a {unit}: write it as {unit}s"
    return Piece(first.start, second.end, (), why_not=why)


def _fit(one: Part, other: Part) -> bool:
    """Whether the second is in a smaller unit of the same currency."""
    same = one.reading.currency == other.reading.currency
    return same and one.size > other.size and other.only_with in (None, one.reading.unit)


def _sum(one: Part, other: Part) -> Part:
    value = one.reading.value + other.reading.value
    use = one.reading.use & other.reading.use
    return Part(replace(one.reading, value=value, use=use), other.size)
