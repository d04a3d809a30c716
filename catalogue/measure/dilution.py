"""How much stock makes so much of a weaker solution: C1·V1 = C2·V2.

The tool reckons and prescribes nothing: which strength is right is the conservator's to say.
"""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.errors import BadData


@dataclass(frozen=True, slots=True)
class Dilution:
    """So much stock, made up to so much in all, in ml; both strengths in the same basis."""

    stock_ml: float
    diluent_ml: float
    total_ml: float


def dilute(stock_percent: float, wanted_percent: float, total_ml: float) -> Dilution:
    """What to take of a stock for so much of a weaker solution. Raises `BadData`.

    Both strengths are on one basis (w/v, v/v); volumes are taken to add up.

    >>> dilute(25, 0.5, 100)
    Dilution(stock_ml=2.0, diluent_ml=98.0, total_ml=100)
    """
    if total_ml <= 0 or wanted_percent <= 0 or stock_percent > 100:
        raise BadData("a strength lies between 0 and 100 %, and there is some of it")
    if wanted_percent > stock_percent:
        raise BadData(
            f"{wanted_percent:g} % cannot be made from {stock_percent:g} %",
            remedy="take a stronger stock",
        )
    stock = total_ml * wanted_percent / stock_percent
    return Dilution(stock, total_ml - stock, total_ml)


def grams(percent_w_v: float, total_ml: float) -> float:
    """How many grams of a solid go into so much of a w/v solution: grams in 100 ml. Raises `BadData`.

    >>> grams(0.5, 200)
    1.0
    """
    if not 0 <= percent_w_v <= 100 or total_ml < 0:
        raise BadData("a strength lies between 0 and 100 %, a volume is not less than nothing")
    return percent_w_v * total_ml / 100
