"""The course of condition from check to check: what was overlooked, what contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from catalogue.argument.course import unseen
from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.record import ConditionCheck, Finding, Work


def condition(work: Work, places: Places) -> Iterator[Remark]:
    """Checks on one day, findings not seen at the latest check, damage new twice or closed twice."""
    yield from _one_day(work, places)
    for finding in unseen(work):
        where = places.of(finding, "observations")
        latest = _called(work.checks[-1])
        yield check("finding.unseen").remark(where, finding.id, check=latest)
    for finding in work.findings:
        course = work.course(finding)
        for each in course[1:]:
            if each.change in words("new"):
                yield check("observation.new-again").remark(
                    places.of(finding, "observations"),
                    each.id,
                    check=_called(work.check_of(each)),
                    first=_called(work.check_of(course[0])),
                )
        yield from _closed_again(work, finding, places)


def _closed_again(work: Work, finding: Finding, places: Places) -> Iterator[Remark]:
    """A finding that is over, and is over again with nothing between: closed twice."""
    for earlier, later in pairwise(work.course(finding)):
        if earlier.change in words("over") and later.change in words("over"):
            yield check("observation.closed-again").remark(
                places.of(finding, "observations"),
                later.id,
                check=_called(work.check_of(later)),
                first=_called(work.check_of(earlier)),
            )


def _one_day(work: Work, places: Places) -> Iterator[Remark]:
    for earlier, later in pairwise(work.checks):
        if earlier.on == later.on:
            where = places.of(later, "on")
            yield check("checks.one-day").remark(where, later.id, others=_called(earlier))


def _called(made: ConditionCheck) -> str:
    return f"{made.number or 'the check'} of {made.on.iso}"
