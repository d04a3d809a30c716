"""Two checks of a work side by side, finding by finding, for both parties to sign."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.course import Compared, Comparison, compare_checks
from catalogue.argument.loans import is_of_a_loan
from catalogue.documents.condition import JUDGEMENTS, check_facts, legend
from catalogue.documents.given import Given
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Notice,
    Paragraph,
    Signature,
    Signatures,
    Table,
)
from catalogue.documents.seen import drawing, finding_said, judged, measured, wheres
from catalogue.documents.words import capital, joined, number_said, told, words
from catalogue.errors import BadData, NotOnFile
from catalogue.pictures.map import compared_maps
from catalogue.record import Observation, Work
from catalogue.terms import label


def comparison(given: Given) -> Document:
    """Two checks: those that were named, else the last two. Raises `NotOnFile`, `BadData`."""
    work = given.work
    both = compare_checks(work, *_two(work, given.checks))
    blocks = (
        Facts(told(given.identity(work))),
        *_looked(given, both),
        *_whole(both),
        *_findings(work, both),
        *_maps(work, both),
        *legend(work, both.first, both.second),
        Paragraph(words("every")["advice"], "small"),
        _signed(both),
    )
    number = joined((work.number or "", f"{both.first.number} – {both.second.number}"))
    return given.document("comparison", number, both.second.on, blocks)


def _two(work: Work, wanted: tuple[str, ...]) -> tuple[str, str]:
    if not wanted and len(work.checks) < 2:
        raise NotOnFile(
            f"{work.number or 'this work'} has fewer than two condition checks on file",
            remedy="a comparison is of two; one by somebody who may not be named is told on no paper",
        )
    first, *others = wanted or tuple(each.id for each in work.checks[-2:])
    if len(others) != 1 or others[0] == first:
        raise BadData("a comparison is of two checks", remedy="name two, such as K1,K2")
    return first, others[0]


def _looked(given: Given, both: Comparison) -> Iterator[Block]:
    """When and how somebody looked, then and now, and what makes the two hard to compare."""
    said = words("comparison")
    then, now = (dict(check_facts(given, check)) for check in (both.first, both.second))
    limits = words("condition")["limits"]
    then[limits], now[limits] = both.first.limits or "", both.second.limits or ""
    rows = tuple((name, then[name], now[name]) for name in then if then[name] or now[name])
    yield Heading(said["checks"])
    yield Table(("", said["then"], said["now"]), rows, (4, 8, 8))
    if both.method_changed:
        what = ", ".join(said["method"][each] for each in both.method_changed)
        yield Notice(said["method_title"], said["method_says"].format(what=what))


def _whole(both: Comparison) -> Iterator[Block]:
    said = words("comparison")
    rows = []
    for name in JUDGEMENTS:
        then, now = getattr(both.first, name), getattr(both.second, name)
        if then or now:
            rows.append(
                (
                    words("condition")[name],
                    *(label(each) if each else "" for each in (then, now)),
                )
            )
    if rows:
        yield Heading(words("condition")["judgement"])
        yield Table(("", said["then"], said["now"]), tuple(rows), (4, 8, 8))


def _findings(work: Work, both: Comparison) -> Iterator[Block]:
    said = words("comparison")
    yield Heading(words("condition")["findings"])
    if not both.findings:
        yield Paragraph(said["none"])
        return
    where = wheres(work)
    yield Table(
        (
            words("condition")["number"],
            said["finding"],
            said["then"],
            said["now"],
            said["change"],
        ),
        tuple(_row(each, where.get(each.finding.id, "")) for each in both.findings),
        (2, 8, 6, 6, 6),
    )


def _row(each: Compared, where: str) -> tuple[str, ...]:
    return (
        each.finding.number or "",
        joined((finding_said(each.finding), where), "\n"),
        _seen(each.then),
        _seen(each.now),
        _change(each),
    )


def _seen(seen: Observation | None) -> str:
    if seen is None:
        return str(words("comparison")["not_noted"])
    return joined((measured(seen), judged(seen)), "\n") or str(words("comparison")["noted"])


def _change(each: Compared) -> str:
    """The verdict, and how far each measure went: within what the ruler may be out is no change."""
    said = words("comparison")
    verdict = capital(said["verdict"][each.verdict])
    if each.then is None and each.now and each.verdict != "new":
        verdict = joined((verdict, said["between"]))
    lines = [verdict]
    for name, found in each.differences.items():
        measure, unit = said["measure"][name]
        if found.change:
            far = f"{'+' if found.change > 0 else '−'}{number_said(abs(found.change), unit)}"
            lines.append(
                joined((f"{measure} {far}", said["beyond" if found.significant else "within"]))
            )
    return "\n".join(lines)


def _maps(work: Work, both: Comparison) -> Iterator[Block]:
    said = words("comparison")
    drawn = compared_maps(work, both.first, both.second, key="maps", leads_to=lambda _: None)
    if drawn is not None:
        yield Heading(said["maps"])
        yield from drawing(drawn, said["maps_say"])


def _signed(both: Comparison) -> Signatures:
    said = words("comparison")
    loan = is_of_a_loan(both.first) and is_of_a_loan(both.second)
    roles = said["sign_loan"] if loan else said["sign"]
    return Signatures(tuple(Signature(role) for role in roles), words("every")["day"])
