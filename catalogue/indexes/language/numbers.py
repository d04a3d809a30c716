"""A figure as it is asked for: `>5cm`, `50..100`, `120gns` → the least and the most, in its own unit."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from catalogue.indexes.facts_of import key_of
from catalogue.indexes.language.fields import Figure, units
from catalogue.indexes.wish import AllOf, AnyOf, Fact, Measured, Wish
from catalogue.measure import read_money
from catalogue.reading import fold

_SIGNS = {"=>": ">=", "=<": "<=", "≥": ">=", "≤": "<=", "==": "=", "": "="}
_COMPARED = re.compile(r"\s*(>=|<=|=>|=<|==|[<>=≥≤])?\s*(.*)", re.DOTALL)
_NUMBER = re.compile(r"([-−]?\d{1,12}(?:[.,]\d{1,6})?)\s*(\D{0,12}?)\s*")
_RANGE = re.compile(r"\s*(.*?)\s*(?:\.\.+|…)\s*(.*?)\s*", re.DOTALL)
_SHORT_RANGE = re.compile(r"(\d+(?:[.,]\d+)?)\s*[-–]\s*(\d+(?:[.,]\d+)?\s*\D*)")
_FIRST_NUMBER = re.compile(r"\d+")


@dataclass(frozen=True, slots=True)
class _Amount:
    number: float
    unit: str


def measured(figure: Figure, typed: str) -> Wish | None:
    """What a value typed for a figure asks for; None when it is no figure.

    >>> from catalogue.indexes.language.fields import figures
    >>> measured(figures()["length"], "5cm..10cm")
    Measured(field='length', least=50.0, most=100.0)
    >>> measured(figures()["price"], "120gns").parts[1]
    Fact(field='unit', values=('guinea',))
    """
    bounds = _bounds(typed, figure.unit)
    if bounds is None:
        return _sum_of_money(figure, typed) if figure.money else None
    least, most = bounds
    if least is not None and most is not None and least > most:
        least, most = most, least
    asked = tuple(Measured(name, least, most) for name in figure.any_of or (figure.name,))
    return asked[0] if len(asked) == 1 else AnyOf(asked)


def compared(typed: str) -> bool:
    """Whether a text begins with a sign that compares and a figure: `>50`, `<= 3cm`.

    >>> compared(">50"), compared("<er>"), compared(">")
    (True, False, False)
    """
    found = _COMPARED.fullmatch(typed)
    return bool(found and found[1] and found[2][:1].isdigit())


def _bounds(typed: str, unit: str) -> tuple[float | None, float | None] | None:
    if between := _RANGE.fullmatch(typed) or _SHORT_RANGE.fullmatch(typed.strip()):
        return _between(between[1], between[2], unit)
    found = _COMPARED.fullmatch(typed)
    amount = _amount(found[2], unit) if found else None
    if found is None or amount is None:
        return None
    number = amount.number
    match _SIGNS.get(found[1] or "", found[1]):
        case ">":
            return math.nextafter(number, math.inf), None
        case ">=":
            return number, None
        case "<":
            return None, math.nextafter(number, -math.inf)
        case "<=":
            return None, number
    return number, number


def _between(first: str, last: str, unit: str) -> tuple[float | None, float | None] | None:
    least, most = _amount(first, unit), _amount(last, unit)
    if (first and least is None) or (last and most is None) or not (first or last):
        return None
    if least and most and most.unit and not least.unit:
        # 5..10cm: the unit behind the last figure is meant for both
        least = _amount(f"{first}{most.unit}", unit)
    return (least.number if least else None), (most.number if most else None)


def _amount(text: str, unit: str) -> _Amount | None:
    found = _NUMBER.fullmatch(text)
    if found is None:
        return None
    typed = fold(found[2])
    each = units(unit).get(typed) if typed else 1.0
    if each is None:
        return None
    number = float(found[1].replace(",", ".").replace("−", "-"))
    return _Amount(round(number * each, 6), found[2])


def _sum_of_money(figure: Figure, typed: str) -> Wish | None:
    """A sum as one writes it: its first figure, as the index holds it, and what it is counted in.

    >>> from catalogue.indexes.language.fields import figures
    >>> _sum_of_money(figures()["price"], "100..200gns").parts[0]
    Measured(field='price', least=100.0, most=200.0)
    """
    first, dots, last = typed.partition("..")
    amounts = read_money((last or first).lstrip("<>=≤≥ "))
    numbers = [_FIRST_NUMBER.search(each) for each in (first, last)]
    if not amounts or not any(numbers):
        return None
    low, high = (found[0] if found else "" for found in numbers)
    sign = "" if dots else typed[: len(typed) - len(typed.lstrip("<>=≤≥ "))].strip()
    bounds = _bounds(f"{sign}{low}{dots}{high}", figure.unit)
    if bounds is None:
        return None
    counted = tuple(dict.fromkeys(key_of(each.unit) for each in amounts[0].readings))
    return AllOf((Measured(figure.name, *bounds), Fact("unit", counted)))


def bounds_typed(least: float | None, most: float | None) -> str:
    """What to type for these bounds so that they are read again.

    >>> bounds_typed(50, 100), bounds_typed(math.nextafter(50, math.inf), None), bounds_typed(14, 14)
    ('50..100', '>50', '14')
    """
    if least is not None and least == most:
        return plain(least)
    over, under = just_over(least), just_under(most)
    if most is None and over is not None:
        return f">{plain(over)}"
    if least is None and under is not None:
        return f"<{plain(under)}"
    return f"{'' if least is None else plain(least)}..{'' if most is None else plain(most)}"


def just_over(bound: float | None) -> float | None:
    """The figure that a least one lies just over, as `>50` makes it; None when it is one itself."""
    return _just(bound, -math.inf)


def just_under(bound: float | None) -> float | None:
    """The figure that a greatest one lies just under, as `<50` makes it; None when it is one itself."""
    return _just(bound, math.inf)


def _just(bound: float | None, towards: float) -> float | None:
    if bound is None:
        return None
    beside = math.nextafter(bound, towards)
    return beside if len(repr(beside)) < len(repr(bound)) - 2 or beside == 0 else None


def plain(number: float) -> str:
    """A figure as one writes it: 50, 2.5."""
    text = f"{number:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
