"""The rights of whoever made a painting: in pictures of it, and in its price when it is sold again."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from catalogue.argument.borders.asked import (
    Advice,
    Answer,
    Journey,
    borders,
    question,
    said,
    sum_said,
)
from catalogue.errors import BadSetting
from catalogue.measure import DateSpan


def image_rights(maker: str, died: DateSpan | None, journey: Journey) -> Advice:
    """Until when pictures of the work probably need somebody's leave."""
    row = borders()["image_rights"]
    answer, because = _runs(maker, died, row["years"], journey)
    return Advice(
        key="image-rights", question=question("image_rights"), answer=answer,
        rule=question("image_rights"), because=(because,), version=row["version"], source=row["source"],
    )  # fmt: skip


def resale(maker: str, died: DateSpan | None, journey: Journey) -> Advice:
    """Whether a share of the price is likely to be owed, and how much by the rates of the law."""
    row = borders()["resale"]
    answer, why = _runs(maker, died, row["years"], journey)
    because = [why]
    if answer != "unlikely":
        because += _share_said(journey)
        because.append(said("nationality"))
    return Advice(
        key="resale", question=question("resale"), answer=answer, rule=question("resale"),
        because=tuple(because), version=row["version"], source=row["source"],
    )  # fmt: skip


def share(price: Decimal) -> Decimal:
    """The share of a price in the currency of vocab/borders.toml, in whole cents, by its bands.

    Source: Directive 2001/84/EC, article 4, with the worked examples of trade sheet C20.

    >>> share(Decimal(80000)), share(Decimal(260000)), share(Decimal(10_000_000))
    (Decimal('2900.00'), Decimal('7100.00'), Decimal('12500.00'))
    """
    row = borders()["resale"]
    owed, below = Decimal(0), Decimal(0)
    for band in row["bands"]:
        top = Decimal(band["up_to"]) if "up_to" in band else price
        if top < below and price > below:
            raise BadSetting(
                "vocab/borders.toml: the bands of [resale] do not rise",
                remedy="order them by up_to, the one without it last",
            )
        owed += max(min(price, top) - below, Decimal(0)) * Decimal(band["percent"]) / 100
        below = top
    return min(owed, Decimal(row["at_most"])).quantize(Decimal("0.01"), ROUND_HALF_UP)


def _share_said(journey: Journey) -> Iterator[str]:
    row = borders()["resale"]
    currency = row["currency"]
    if journey.value is None or journey.currency != currency:
        yield said("no_price", currency=currency)
        return
    owed = sum_said(share(journey.value), currency)
    yield said("share", price=sum_said(journey.value, currency), share=owed)
    if journey.value < row["threshold"]:
        yield said("below", threshold=sum_said(row["threshold"], currency))


def _runs(
    maker: str, died: DateSpan | None, years: int, journey: Journey
) -> tuple[Answer, str]:
    """Whether a right still runs so many years after a death, and in which words."""
    if not maker:
        return "ask", said("maker_unknown")
    if died is None:
        return "ask", said("alive", maker=maker)
    latest = died.latest
    if latest is None:
        return "ask", said("maker_unknown")
    facts = {"maker": maker, "year": latest.year, "years": years, "until": latest.year + years}
    if journey.on.year > latest.year + years:
        return "unlikely", said("over", **facts)
    return "likely", said("until", **facts)
