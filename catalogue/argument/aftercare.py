"""When a work is to be looked at again, by what was found and done; and how complete a value is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue.errors import BadSetting
from catalogue.measure import Day
from catalogue.measure.days import days_in
from catalogue.places import table
from catalogue.record import VALUES, Work
from catalogue.record.rules import fields_of
from catalogue.terms import concept, within


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAgain:
    """One row of vocab/aftercare.toml: after how many months to look, and what it goes by."""

    key: str
    months: int
    why: str
    source: str
    findings: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Due:
    """The day by which somebody is to look again, and the row that says so."""

    on: Day
    row: LookAgain


@cache
def rows() -> tuple[LookAgain, ...]:
    """The rows of vocab/aftercare.toml. Raises `BadSetting`."""
    try:
        found = tuple(_row(each) for each in table("aftercare.toml")["look_again"])
        for term in (t for each in found for t in (*each.findings, *each.states, *each.steps)):
            concept(term)
    except (KeyError, TypeError, ValueError) as wrong:
        raise _spoilt(wrong) from None
    return found


def _row(held: Mapping[str, Any]) -> LookAgain:
    if not isinstance(held["months"], int) or held["months"] < 1:
        raise ValueError(f"{held['key']}: months is a whole number from 1 on")
    return LookAgain(
        key=held["key"],
        months=held["months"],
        why=held["why"],
        source=held["source"],
        findings=tuple(held.get("findings", ())),
        states=tuple(held.get("while", ())),
        steps=tuple(held.get("steps", ())),
    )


def _spoilt(wrong: Exception) -> BadSetting:
    return BadSetting(
        f"vocab/aftercare.toml: {wrong}", remedy="see the lines at the top of that file"
    )


def look_again(work: Work) -> Due | None:
    """When a work is to be looked at next; None where nobody has looked and nothing was done.

    The months count from the last check, those of a mend from the day on which it was ended.
    """
    checked = max((check.on for check in work.checks), default=None)
    due = [
        Due(months_on(day, row.months), row)
        for row in rows()
        for day in _from(work, row, checked)
    ]
    return min(due, key=lambda each: each.on, default=None)


def _from(work: Work, row: LookAgain, checked: Day | None) -> list[Day]:
    """The days from which the months of a row count: none where it does not hold."""
    if row.steps:
        return _done(work, row.steps, checked)
    if checked is None:
        return []
    return [checked] if not row.findings or _stands(work, row) else []


def _done(work: Work, kinds: tuple[str, ...], checked: Day | None) -> list[Day]:
    """The last day on which such a step was done, unless somebody looked after the treatment was over."""
    days = [
        step.ended or step.began
        for treatment in work.treatments
        for step in treatment.steps
        if within(step.kind, *kinds)
    ]
    done = max((day for day in days if day), default=None)
    if done is None:
        return []
    seen = checked is not None and checked > done and not _of_the_treatment(work, checked)
    return [] if seen else [done]


_OF_THE_TREATMENT = (
    "occasion/during-treatment",
    "occasion/after-treatment",
    "occasion/outgoing",
)


def _of_the_treatment(work: Work, day: Day) -> bool:
    """Whether the check of that day belonged to the treatment or saw the work out: a mend was fresh then."""
    return all(check.occasion in _OF_THE_TREATMENT for check in work.checks if check.on == day)


def _stands(work: Work, row: LookAgain) -> bool:
    for finding in work.findings:
        latest = work.course(finding)[-1]
        moving = not row.states or latest.stability in row.states
        if moving and within(finding.kind, *row.findings):
            return True
    return False


def months_on(day: Day, months: int) -> Day:
    """The same day so many months on; the last of the month where that has no such day.

    >>> months_on(Day(2026, 11, 30), 3).iso
    '2027-02-28'
    """
    first = day.first_of_month(months)
    return Day(first.year, first.month, min(day.day, days_in(first.year, first.month)))


# --- how complete a value is -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Completeness:
    """How much of what belongs to a value is there, by weight in percent, and the fields that lack."""

    percent: float
    lacking: tuple[str, ...]


@cache
def weights() -> dict[str, dict[str, float]]:
    """What each field counts for, by kind of value. Raises `BadSetting`."""
    known = {kind.__name__: {rule.name for rule in fields_of(kind)} for kind in VALUES}
    try:
        found: dict[str, dict[str, float]] = table("aftercare.toml")["weights"]
        for kind, fields in found.items():
            strange = set(fields) - known[kind]
            if strange:
                raise ValueError(f"{kind} has no field {', '.join(sorted(strange))}")
    except (KeyError, TypeError, ValueError) as wrong:
        raise _spoilt(wrong) from None
    return found


def completeness(value: object) -> Completeness:
    """How complete a value is, by the weights of its kind; a kind without weights is complete.

    >>> from catalogue.record import Inscription
    >>> completeness(Inscription(kind="inscription/date", face="face/back")).lacking
    ('place', 'transcripts', 'techniques', 'sightings')
    """
    counted = weights().get(type(value).__name__, {})
    lacking = tuple(name for name in counted if getattr(value, name) in (None, ()))
    all_of_it = sum(counted.values())
    there = all_of_it - sum(counted[name] for name in lacking)
    return Completeness(100 * there / all_of_it if all_of_it else 100.0, lacking)
