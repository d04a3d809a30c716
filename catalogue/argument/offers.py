"""What a buyer is told of an offer: the price that is asked, where it is told at all."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from catalogue.record import Offer
from catalogue.terms import label

_SPACE: Final = "\N{NARROW NO-BREAK SPACE}"


def price_said(offer: Offer) -> str:
    """The price asked with its currency, "" where it is not told (`Offer.told`).

    >>> boats = "work/7a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a10"
    >>> told = Offer(work=boats, status="offer-status/for-sale", asked=2400, currency="currency/euro")
    >>> price_said(told) == f"2{_SPACE}400 euro"
    True
    """
    if not offer.told or offer.asked is None or offer.currency is None:
        return ""
    amount = Decimal(str(offer.asked))
    figure = f"{amount:,.2f}" if amount % 1 else f"{amount:,.0f}"
    return f"{figure.replace(',', _SPACE)} {label(offer.currency)}"
