"""The course of condition from check to check: what was overlooked, what contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.record import ConditionCheck, Work


def condition(work: Work, places: Places) -> Iterator[Remark]:
    """Checks on one day, findings not seen at the latest check, damage that was new twice."""
    yield from _one_day(work, places)
    for finding in work.findings:
        course = work.course(finding)
        last = course[-1]
        latest = work.checks[-1]
        if last.check != latest.id and last.change not in words("over"):
            where = places.of(finding, "observations")
            yield check("finding.unseen").remark(where, finding.id, check=_called(latest))
        for each in course[1:]:
            if each.change in words("new"):
                yield check("observation.new-again").remark(
                    places.of(finding, "observations"),
                    each.id,
                    check=_called(work.check_of(each)),
                    first=_called(work.check_of(course[0])),
                )


def _one_day(work: Work, places: Places) -> Iterator[Remark]:
    for earlier, later in zip(work.checks, work.checks[1:], strict=False):
        if earlier.on == later.on:
            where = places.of(later, "on")
            yield check("checks.one-day").remark(where, later.id, others=_called(earlier))


def _called(made: ConditionCheck) -> str:
    return f"{made.number or 'the check'} of {made.on.iso}"
