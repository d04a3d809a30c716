"""What lender and borrower agreed, as it stands on the papers of a loan: no value is among it."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.climate import agreed, outside
from catalogue.argument.loans import Stage
from catalogue.documents.given import Given
from catalogue.documents.model import Block, Facts, Heading, Notice, Paragraph, Table
from catalogue.documents.seen import released
from catalogue.documents.words import (
    asked,
    capital,
    day_said,
    joined,
    labels,
    number_said,
    told,
    words,
)
from catalogue.measure import Day
from catalogue.record import ConditionCheck, Loan
from catalogue.terms import group, label


def parties(given: Given, loan: Loan | None) -> Iterator[Block]:
    """Between whom, for what, how long, and from which day to which it is covered: no value."""
    said = words("loan-check")
    if loan is None:
        yield Notice(said["no_loan_title"], said["no_loan"])
        return
    period = said["from_to"].format(began=_day(loan.began), ended=_day(loan.ended))
    cover = said["from_to"].format(
        began=_day(loan.covered_from), ended=_day(loan.covered_until)
    )
    yield Heading(said["agreed"])
    yield Facts(
        asked(
            (
                (said["lender"], given.name_of(loan.lender) or said["lender_unnamed"]),
                (said["borrower"], given.name_of(loan.borrower)),
                (said["show"], joined((loan.title or "", loan.venue or ""), "\n")),
                (said["period"], period if loan.began or loan.ended else ""),
                (said["cover"], cover if loan.covered_from or loan.covered_until else ""),
                (said["basis"], capital(label(loan.value_basis)) if loan.value_basis else ""),
            )
        )
        + told(((said["courier"], given.name_of(loan.courier)),))
    )
    yield Paragraph(said["value"], "small")
    for text in released(loan.notes):
        yield Paragraph(text)


def house(loan: Loan | None) -> Iterator[Block]:
    """What the borrower answered about the house, and the questions that nobody has asked yet."""
    said = words("loan-check")
    if loan is None:
        return
    answers = {each.kind: each for each in loan.facilities}
    yield Heading(said["house"])
    if answers:
        rows = (
            (capital(label(each.kind)), label(each.answer), each.note or "")
            for each in loan.facilities
        )
        yield Table((said["question"], said["answer"], said["note"]), tuple(rows), (8, 3, 9))
    # A question of one's own is not among those that somebody forgot to ask.
    known = {*answers, "facility/other"}
    open_ = [each.key for each in group("facility") if each.key not in known]
    if open_:
        yield Paragraph(said["not_asked"].format(what=labels(open_)), "small")


def climate(loan: Loan | None, found: tuple[Stage, ...]) -> Iterator[Block]:
    """The limits that were agreed, and which readings at the checks lay outside them."""
    said = words("loan-check")
    if loan is None:
        return
    yield Heading(said["climate"])
    yield Facts(
        asked(
            (
                (said["humidity"], _humidity(loan)),
                (
                    said["temperature"],
                    _range(loan.temperature_least_c, loan.temperature_most_c, "°C"),
                ),
                (
                    said["light"],
                    joined((number_said(loan.lux_most, "lux"), loan.light or ""), "; "),
                ),
            )
        )
        + told(((said["protocol"], loan.climate or ""),))
    )
    if agreed(loan) is None:
        return
    read = [each for each in found if each.check and _was_read(each.check)]
    for each in read:
        assert each.check is not None
        beyond = outside(loan, each.check.temperature_c, each.check.humidity_percent)
        key = "outside" if beyond else "inside"
        yield Paragraph(
            said[key].format(
                stage=called(each),
                day=day_said(each.check.on),
                what=", ".join(said["measures"][name] for name in beyond),
            )
        )
    if not read:
        yield Paragraph(said["no_reading"], "small")


def _was_read(check: ConditionCheck) -> bool:
    return check.temperature_c is not None or check.humidity_percent is not None


def _humidity(loan: Loan) -> str:
    said = words("loan-check")
    swing = number_said(loan.humidity_swing_percent, "%")
    between = _range(loan.humidity_least_percent, loan.humidity_most_percent, "%")
    return joined((between, said["swing"].format(swing=swing) if swing else ""))


def _range(least: float | None, most: float | None, unit: str) -> str:
    said = words("loan-check")
    if least is None and most is None:
        return ""
    if least is None or most is None:
        key, value = ("at_most", most) if least is None else ("at_least", least)
        return str(said[key].format(value=number_said(value, unit)))
    return str(said["between"].format(least=number_said(least), most=number_said(most, unit)))


def packing(loan: Loan | None) -> Iterator[Block]:
    """How it was agreed that the work is packed, carried, handled and fixed to the wall."""
    said = words("loan-check")
    if loan is None:
        return
    yield Heading(said["packing"])
    yield Facts(
        asked(
            (
                (
                    said["measures_agreed"],
                    joined((capital(labels(loan.packing)), loan.packing_says or ""), "\n"),
                ),
                (said["transport"], loan.transport or ""),
                (said["handling"], loan.handling or ""),
                (said["fixing"], loan.fixing or ""),
            )
        )
    )


def called(stage: Stage) -> str:
    """What a stage is called on the paper; a check made for something else by its occasion."""
    named: dict[str, str] = words("loan-check")["stage"]
    return named.get(stage.occasion.partition("/")[2], label(stage.occasion))


def _day(day: Day | None) -> str:
    return day_said(day) or "…"
