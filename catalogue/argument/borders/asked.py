"""What is asked before a painting travels or is sold, and the form in which it is answered."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from catalogue import places
from catalogue.errors import BadData, BadSetting
from catalogue.measure import DateSpan, Day, read_date, read_money

Answer = Literal["likely", "unlikely", "ask", "no"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Journey:
    """From where to where (two letters of ISO 3166-1), worth what, on which day, for a time or for good.

    `value` is also the price where it is sold; None where nobody said. Raises `BadSetting` for what
    is no country, a value below nothing, or one without its currency.
    """

    leaves: str | None = None
    goes_to: str | None = None
    value: Decimal | None = None
    currency: str | None = None
    on: Day
    temporary: bool = False

    def __post_init__(self) -> None:
        for country in (self.leaves, self.goes_to):
            if country is not None and not (
                len(country) == 2 and country.isascii() and country.isupper()
            ):
                raise BadSetting(
                    f"{country!r} is no country", remedy="name it by two letters: GB, FR, DE"
                )
        if self.value is not None and not (self.value.is_finite() and self.value >= 0):
            raise BadSetting(f"{self.value} is no value", remedy="give a sum of 0 or more")
        if (self.value is None) is not (self.currency is None):
            raise BadSetting("a value goes with its currency", remedy="give both, or none")


def journey_typed(
    today: Day,
    *,
    leaves: str | None = None,
    goes_to: str | None = None,
    value: str | None = None,
    on: str | None = None,
    temporary: bool = False,
) -> Journey:
    """A journey as a person types it: "gb", "20000 EUR", "2026-11-29". Raises `BadData`, `BadSetting`.

    >>> typed = journey_typed(Day(2026, 11, 29), leaves="be", value="EUR 80,000")
    >>> typed.leaves, typed.value, typed.currency, typed.on.iso
    ('BE', Decimal('80000'), 'EUR', '2026-11-29')
    """
    amount, currency = _sum(value)
    return Journey(
        leaves=leaves.strip().upper() if leaves else None,
        goes_to=goes_to.strip().upper() if goes_to else None,
        value=amount,
        currency=currency,
        on=_day(on) if on else today,
        temporary=temporary,
    )


def _sum(typed: str | None) -> tuple[Decimal | None, str | None]:
    if not typed:
        return None, None
    found = read_money(typed)
    if len(found) != 1 or found[0].value is None or found[0].currency is None:
        raise BadData(f"{typed!r} is no sum", remedy='write it with its currency: "20000 EUR"')
    value = found[0].value
    return Decimal(value.numerator) / Decimal(value.denominator), found[0].currency


def _day(typed: str) -> Day:
    span = read_date(typed, circa=0)
    if span is None or span.earliest is None or span.earliest != span.latest:
        raise BadData(f"{typed!r} is no day", remedy="write it as 2026-11-29")
    return span.earliest


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One question, its answer, the facts that it rests on, and whose rule it is.

    `key` is the rule's in vocab/borders.toml; `version` says how far its figures can be trusted.
    """

    key: str
    question: str
    answer: Answer
    rule: str
    because: tuple[str, ...]
    version: str
    source: str

    @property
    def answered(self) -> str:
        """The answer in words."""
        said: str = borders()["answers"][self.answer]
        return said


def borders() -> dict[str, Any]:
    """The rules of vocab/borders.toml."""
    return places.table("borders.toml")


def standing_text() -> str:
    """What stands under every answer: that it is a question to ask."""
    said: str = borders()["standing"]["text"]
    return said


def question(name: str) -> str:
    """A question in the words of vocab/borders.toml."""
    said: str = borders()["questions"][name]
    return said


def said(name: str, **facts: object) -> str:
    """A sentence of vocab/borders.toml with the facts put in."""
    sentence: str = borders()["said"][name]
    return sentence.format(**facts)


def sum_said(value: Decimal | int, currency: str) -> str:
    """A sum with its currency.

    >>> sum_said(150000, "EUR"), sum_said(Decimal("2900.5"), "EUR")
    ('EUR 150,000', 'EUR 2,900.50')
    """
    value = Decimal(value)
    return (
        f"{currency} {value:,.0f}"
        if value == value.to_integral()
        else f"{currency} {value:,.2f}"
    )


def territory_of(country: str) -> str | None:
    """The territory of vocab/borders.toml that a country belongs to, None where it names none.

    >>> territory_of("FR"), territory_of("GB"), territory_of("CH")
    ('EU', 'GB', None)
    """
    for name, row in borders()["territories"].items():
        if country in row["countries"]:
            return str(name)
    return None


def ages(made: DateSpan | None, on: Day) -> tuple[int | None, int | None]:
    """The least and the greatest age in years on a day, as years less years; None where it is open.

    >>> from catalogue.measure import read_date
    >>> ages(read_date("1887"), Day(2026, 3, 2)), ages(None, Day(2026, 3, 2))
    ((139, 139), (None, None))
    """
    if made is None:
        return None, None
    least = on.year - made.latest.year if made.latest else None
    most = on.year - made.earliest.year if made.earliest else None
    return least, most
