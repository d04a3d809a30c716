"""Whether a painting is likely to need a licence to leave, and what is asked when it comes in."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from decimal import Decimal
from typing import Any

from catalogue.argument.borders.asked import (
    Advice,
    Answer,
    Journey,
    ages,
    borders,
    question,
    said,
    sum_said,
    territory_of,
)
from catalogue.measure import DateSpan, Day


def leaving(
    made: DateSpan | None, materials: Collection[str], journey: Journey
) -> Iterator[Advice]:
    """What the rules of the country that it leaves say."""
    if journey.leaves is None or journey.leaves == journey.goes_to:
        return
    territory = territory_of(journey.leaves)
    rules = [row for row in borders()["licence"] if row["territory"] == territory]
    for row in rules:
        yield _licence(row, made, materials, journey)
    for row in borders()["stricter"]:
        if journey.leaves in row["countries"]:
            why = said("stricter", country=journey.leaves, why=row["why"])
            yield _ask("licence", journey.leaves, (why,), row["source"])
    if not rules:
        why = said("no_rule", country=journey.leaves)
        yield _ask("licence", journey.leaves, (why,), "vocab/borders.toml")


def coming_in(made: DateSpan | None, journey: Journey) -> Iterator[Advice]:
    """What the rules of the country that it goes to say."""
    if journey.goes_to is None or journey.leaves == journey.goes_to:
        return
    territory = territory_of(journey.goes_to)
    rules = [row for row in borders()["arrival"] if row["territory"] == territory]
    for row in rules:
        yield _arrival(row, made, journey)
    if not rules:
        why = said("no_arrival", country=journey.goes_to)
        yield _ask("arrival", journey.goes_to, (why,), "vocab/borders.toml")


def _licence(
    row: dict[str, Any], made: DateSpan | None, materials: Collection[str], journey: Journey
) -> Advice:
    because: list[str] = []
    if journey.goes_to and territory_of(journey.goes_to) == row["territory"]:
        territory = borders()["territories"][row["territory"]]["name"]
        return _advice(
            row, "licence", "unlikely", [said("same_territory", territory=territory)]
        )
    old = _old_enough(made, row["older_than"], journey.on, because)
    worth = _worth_enough(row, materials, journey, because)
    if journey.temporary:
        because.append(said("temporary"))
    because.append(row["except"])
    return _advice(row, "licence", _together(old, worth), because)


def _arrival(row: dict[str, Any], made: DateSpan | None, journey: Journey) -> Advice:
    territory = borders()["territories"][row["territory"]]["name"]
    if journey.leaves and territory_of(journey.leaves) == row["territory"]:
        return _advice(row, "arrival", "unlikely", [said("within", territory=territory)])
    because: list[str] = []
    begins = Day(row["from"].year, row["from"].month, row["from"].day)
    if journey.on < begins:
        because.append(said("not_yet", day=begins.iso))
        return _advice(row, "arrival", "unlikely", because)
    old = _old_enough(made, row["older_than"], journey.on, because)
    worth = _over(row["limit"], row["needs"], row["currency"], journey, because)
    because += [row["also"], said("record", what=", ".join(row["record"]))]
    return _advice(row, "arrival", _together(old, worth), because)


def _old_enough(made: DateSpan | None, limit: int, on: Day, because: list[str]) -> bool | None:
    """Whether it is older than so many years; None where that cannot be said."""
    least, most = ages(made, on)
    if least is not None and least > limit:
        because.append(said("old", age=least, limit=limit))
        return True
    if most is not None and most <= limit:
        younger = most if least is None else least
        because.append(said("young", age=most, least=younger, limit=limit))
        return False
    because.append(said("age_unknown", limit=limit))
    return None


def _worth_enough(
    row: dict[str, Any], materials: Collection[str], journey: Journey, because: list[str]
) -> bool | None:
    decided: bool | None = None
    found = False
    for limit in row["limits"]:
        if "if" in limit:
            money = sum_said(limit["limit"], row["currency"])
            because.append(said("told_limit", condition=limit["if"], sum=money))
        elif not found and (not limit["materials"] or set(limit["materials"]) & set(materials)):
            found = True
            decided = _over(limit["limit"], limit["name"], row["currency"], journey, because)
    if not found:
        because.append(said("no_limit"))
    return decided


def _over(
    limit: int, what: str, currency: str, journey: Journey, because: list[str]
) -> bool | None:
    money = sum_said(limit, currency)
    if journey.value is None or journey.currency is None:
        because.append(said("value_unknown", what=what, sum=money))
        return None
    if journey.currency != currency:
        because.append(said("other_currency", currency=journey.currency, what=what, sum=money))
        return None
    value = sum_said(journey.value, currency)
    because.append(said("worth", value=value, what=what, sum=money))
    return journey.value >= Decimal(limit)


def _together(old: bool | None, worth: bool | None) -> Answer:
    """Both are needed: one that fails settles it, one that is open leaves it open."""
    if old is False or worth is False:
        return "unlikely"
    return "likely" if old and worth else "ask"


def _advice(row: dict[str, Any], what: str, answer: Answer, because: list[str]) -> Advice:
    return Advice(
        key=row["key"], question=question(what), answer=answer, rule=row["name"],
        because=tuple(because), version=row["version"], source=row["source"],
    )  # fmt: skip


def _ask(what: str, country: str, because: tuple[str, ...], source: str) -> Advice:
    return Advice(
        key=country, question=question(what), answer="ask", rule=country,
        because=because, version="", source=source,
    )  # fmt: skip
