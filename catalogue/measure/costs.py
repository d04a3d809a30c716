"""What work comes to: hours, materials and outside services, with contingency and tax, in whole cents.

Sums are decimals and are rounded half up to the cent where a line is drawn, as on an invoice.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from catalogue.errors import BadSetting
from catalogue.places import table

CENT = Decimal("0.01")

Bounds = tuple[float | None, float | None, float | None]
"""The low, the likely and the high hours of one step; None where nobody judged them."""


@dataclass(frozen=True, slots=True)
class CostSettings:
    """What vocab/costs.toml says: see there."""

    low: Decimal
    high: Decimal
    warn_percent: Decimal
    stop_percent: Decimal
    minutes_a_thread: Decimal


@cache
def cost_settings() -> CostSettings:
    """The studio's own figures. Raises `BadSetting`."""
    try:
        said = table("costs.toml").items()
        found = CostSettings(**{name: exact(value) for name, value in said})
        if not 0 < found.low <= 1 <= found.high:
            raise ValueError("low is at most 1, high at least 1")
        if not 0 < found.warn_percent <= found.stop_percent:
            raise ValueError("a warning comes before the stop")
    except (TypeError, ValueError, ArithmeticError) as wrong:
        raise BadSetting(
            f"vocab/costs.toml: {wrong}", remedy="see the lines at the top of that file"
        ) from None
    return found


@dataclass(frozen=True, slots=True)
class Costs:
    """What so many hours come to, line by line; `net` is before tax, `total` with it."""

    hours: Decimal
    work: Decimal
    materials: Decimal
    outside: Decimal
    contingency: Decimal
    net: Decimal
    tax: Decimal
    total: Decimal


@dataclass(frozen=True, slots=True)
class CostRange:
    """The same with the low, the likely and the high hours."""

    low: Costs
    likely: Costs
    high: Costs


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What costs are worked out from: a rate for an hour, sums, and percentages."""

    rate: float = 0
    materials: float = 0
    outside: float = 0
    contingency_percent: float = 0
    tax_percent: float = 0

    def at(self, hours: Decimal) -> Costs:
        """What so many hours come to.

        >>> Figures(rate=55, materials=138, contingency_percent=10, tax_percent=21).at(Decimal(48)).total
        Decimal('3697.52')
        """
        work = cents(hours * exact(self.rate))
        materials, outside = cents(exact(self.materials)), cents(exact(self.outside))
        before = work + materials + outside
        contingency = cents(before * exact(self.contingency_percent) / 100)
        net = before + contingency
        tax = cents(net * exact(self.tax_percent) / 100)
        return Costs(hours, work, materials, outside, contingency, net, tax, net + tax)

    def costs(self, steps: Iterable[Bounds]) -> CostRange:
        """What the steps come to; bounds that nobody judged are the studio's own factors."""
        settings = cost_settings()
        low = likely = high = Decimal(0)
        for least, middle, most in steps:
            expected = exact(middle or 0)
            likely += expected
            low += expected * settings.low if least is None else exact(least)
            high += expected * settings.high if most is None else exact(most)
        return CostRange(self.at(low), self.at(likely), self.at(high))


def thread_hours(length_mm: float, threads_a_cm: float) -> tuple[int, Decimal]:
    """How many threads a tear crosses, and the hours to join them one by one.

    >>> thread_hours(62, 14)
    (87, Decimal('8.7'))
    """
    threads = int(
        (exact(length_mm) / 10 * exact(threads_a_cm)).to_integral_value(ROUND_HALF_UP)
    )
    hours = threads * cost_settings().minutes_a_thread / 60
    return threads, hours.quantize(Decimal("0.1"), ROUND_HALF_UP)


def exact(number: float | Decimal) -> Decimal:
    """The decimal that a number is written as: 0.1 is a tenth."""
    return number if isinstance(number, Decimal) else Decimal(str(number))


def cents(amount: Decimal) -> Decimal:
    """A sum in whole cents, halves up."""
    return amount.quantize(CENT, ROUND_HALF_UP)
