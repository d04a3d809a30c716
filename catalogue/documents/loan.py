"""The condition check of a loan: one paper that travels with the work, filled in and signed at every stage.

What was found at a check on file is printed; a stage without one leaves room for a hand. All stages
share one map, and both parties sign each of them.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.loans import Stage, stages
from catalogue.documents.condition import (
    JUDGEMENTS,
    check_facts,
    face_up,
    legend,
    map_of,
    photos_of,
)
from catalogue.documents.given import Given
from catalogue.documents.loan_terms import called, climate, house, packing, parties
from catalogue.documents.model import (
    Block,
    Document,
    Facts,
    Heading,
    Paragraph,
    Points,
    Signature,
    Signatures,
    Table,
)
from catalogue.documents.seen import (
    finding_said,
    judged,
    measured,
    ninths,
    photographs,
    released,
)
from catalogue.documents.words import (
    capital,
    joined,
    told,
    words,
)
from catalogue.record import ConditionCheck, Loan, Observation, Work
from catalogue.terms import label

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
MOST_COLUMNS = 5
"""Stages side by side in one table; more would leave no room to write."""
LONGEST_IN_A_CELL = 60
"""Letters of one text in the narrow column of a stage."""
ROOM_FOR_NEW = 3
"""Empty rows for what is found on the way."""


def loan_check(given: Given) -> Document:
    """The paper of the latest loan of a work, or of a work about to be lent on terms not yet on file.

    With numbers of checks it is about these, whatever they were made for.
    """
    work, loan = given.work, given.loan()
    found = _chosen(work, given.checks) or stages(work, loan)
    latest = next((each.check for each in reversed(found) if each.check), None)
    said = words("loan-check")
    blocks = (
        Facts(told(given.identity(work))),
        *parties(given, loan),
        *house(loan),
        *climate(loan, found),
        *packing(loan),
        *_cautions(work, latest),
        Heading(said["stages"]),
        *_looked(given, found),
        *_long_limits(found),
        Paragraph(said["stages_say"], "small"),
        *_findings(work, found),
        *_map(work, latest, found),
        *(photographs(given, photos_of(work, latest), said["photographs"]) if latest else ()),
        *_signed(given, loan, found),
        Paragraph(words("every")["advice"], "small"),
        *legend(work, *(each.check for each in found if each.check)),
    )
    number = joined((work.number or "", (given.job.number if given.job else "") or ""))
    return given.document("loan-check", number, latest.on if latest else None, blocks)


def _chosen(work: Work, wanted: tuple[str, ...]) -> tuple[Stage, ...]:
    """The checks that were asked for as stages, in the order in which they were made."""
    checks: list[ConditionCheck] = [work.value("checks", each) for each in wanted]
    return tuple(
        Stage(each.occasion, each) for each in sorted(checks, key=lambda check: check.rank)
    )


def _cautions(work: Work, latest: ConditionCheck | None) -> Iterator[Block]:
    said = words("loan-check")
    if latest is not None:
        yield from face_up(work, latest)
    yield Heading(said["cautions"])
    yield Points(tuple(said["always"]))


def _looked(given: Given, found: tuple[Stage, ...]) -> Iterator[Block]:
    """When, where and how somebody looked at each stage, with room for what is still to come."""
    facts = [dict(_facts(given, each.check)) if each.check else {} for each in found]
    names = list(dict(_facts(given, None)))
    for part in _parts(found):
        rows = tuple(
            (name, *(facts[place].get(name, "") for place in part))
            for name in names
            if name in words("loan-check")["by_hand"]
            or any(facts[place].get(name) for place in part)
        )
        head = (words("loan-check")["stage_head"], *(_head(found[it], it) for it in part))
        yield Table(head, rows, _shares(4, part), ruled=True)


def _facts(given: Given, check: ConditionCheck | None) -> Iterator[tuple[str, str]]:
    """A check told line by line; without one the names of the lines alone."""
    said = words("condition")
    if check is None:
        keys = (
            "on",
            "at",
            "by",
            "lights",
            "instruments",
            "framed",
            "glazed",
            "climate",
            "limits",
        )
        yield from ((said[key], "") for key in (*keys, *JUDGEMENTS))
        return
    yield from (row for row in check_facts(given, check) if row[0] != said["occasion"])
    long = _is_long(check.limits)
    yield said["limits"], words("loan-check")["below"] if long else check.limits or ""
    for name in JUDGEMENTS:
        key = getattr(check, name)
        yield said[name], capital(label(key)) if key else ""


def _is_long(limits: str | None) -> bool:
    return len(limits or "") > LONGEST_IN_A_CELL


def _long_limits(found: tuple[Stage, ...]) -> Iterator[Block]:
    """What a check could not see, where it takes more room than a cell has."""
    rows = [
        (_head(each, place), each.check.limits or "")
        for place, each in enumerate(found)
        if each.check and _is_long(each.check.limits)
    ]
    if rows:
        yield Heading(words("condition")["limits"], 2)
        yield Facts(tuple(rows))


def _findings(work: Work, found: tuple[Stage, ...]) -> Iterator[Block]:
    """Every finding down the page, every stage across it; the last rows are for what is new."""
    said = words("loan-check")
    where = ninths(work)
    yield Heading(said["findings"])
    for part in _parts(found):
        rows = [
            (
                joined(
                    (
                        joined((each.number or "", finding_said(each)), " "),
                        where.get(each.id, ""),
                    ),
                    "\n",
                ),
                *(_seen(work, each.observations, found[place].check) for place in part),
            )
            for each in work.findings
        ]
        rows += [("",) * (len(part) + 1)] * ROOM_FOR_NEW
        head = (said["finding"], *(_head(found[place], place) for place in part))
        yield Table(head, tuple(rows), _shares(5, part), ruled=True)
    yield Paragraph(said["findings_say"], "small")


def _seen(
    work: Work, observations: tuple[Observation, ...], check: ConditionCheck | None
) -> str:
    """What was seen of a finding at a check; "" leaves the cell to be written in."""
    if check is None:
        return ""
    seen = next((each for each in observations if each.check == check.id), None)
    if seen is None:
        return str(words("loan-check")["not_noted"])
    change = capital(label(seen.change)) if seen.change else ""
    told = joined((change, measured(seen), judged(seen), *released(seen.notes)), "\n")
    return told or str(words("comparison")["noted"])


def _map(
    work: Work, latest: ConditionCheck | None, found: tuple[Stage, ...]
) -> Iterator[Block]:
    said = words("loan-check")
    drawn = tuple(map_of(work, latest, said["map"], said["map_says"]))
    yield from drawn or (Heading(said["map"]), Paragraph(said["no_map"]))


def _signed(given: Given, loan: Loan | None, found: tuple[Stage, ...]) -> Iterator[Block]:
    """Two lines for each stage: for the lender and for the borrower."""
    said = words("loan-check")
    lender = given.name_of(loan.lender) if loan else ""
    borrower = given.name_of(loan.borrower) if loan else ""
    yield Heading(said["signatures"])
    for place, each in enumerate(found):
        yield Heading(_head(each, place), 2)
        yield Signatures(
            (
                Signature(said["sign_lender"], lender),
                Signature(said["sign_borrower"], borrower),
            ),
            words("every")["day"],
        )


def _parts(found: tuple[Stage, ...]) -> Iterator[range]:
    """The stages in as many tables as leave room to write."""
    for first in range(0, len(found), MOST_COLUMNS):
        yield range(first, min(first + MOST_COLUMNS, len(found)))


def _shares(first: int, part: range) -> tuple[int, ...]:
    return (first, *(3,) * len(part))


def _head(stage: Stage, place: int) -> str:
    number = (stage.check.number or "") if stage.check else ""
    return joined((f"{LETTERS[place % len(LETTERS)]} {capital(called(stage))}", number))
