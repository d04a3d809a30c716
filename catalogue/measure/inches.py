"""Millimetres as a catalogue prints them: centimetres as they were measured, and inches to a tenth."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import Final

MM_IN_AN_INCH: Final = Decimal("25.4")
"""Exactly, by definition since 1959 (international yard and pound agreement; from memory)."""

_TENTH: Final = Decimal("0.1")


def centimetres(mm: float) -> str:
    """A measure in centimetres, as exactly as it is known, without noughts at its end.

    >>> centimetres(610.5), centimetres(610), centimetres(1000)
    ('61.05', '61', '100')
    """
    return f"{(Decimal(str(mm)) / 10).normalize():f}"


def inches(mm: float) -> str:
    """A measure in inches, rounded to a tenth.

    >>> inches(254), inches(610.5)
    ('10.0', '24.0')
    """
    return str((Decimal(str(mm)) / MM_IN_AN_INCH).quantize(_TENTH, ROUND_HALF_UP))
