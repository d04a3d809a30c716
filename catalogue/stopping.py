"""The gate of the order of work: a step that a rule stops is not saved without its written reason.

What was done before the work was on file here is history: it is told by a check of the record, and
kept as it was. Everything else - a step that is planned in the log, one of today, one that is
changed now - has to pass, whoever saves it and from where.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from catalogue.argument.order import Breach, breaches
from catalogue.errors import Stopped
from catalogue.measure import Day
from catalogue.record import Job, Step, Work

_MORE = "write on the step why it is done all the same (the rule's name, the reason), or mend it first"


def touches_steps(before: Work | None, after: Work) -> bool:
    """Whether a change adds or alters a step, or a check; only then are the rules asked."""
    return bool(_changed(before, after))


def refuse_stops(before: Work | None, after: Work, jobs: Iterable[Job], since: Day) -> None:
    """Raise `Stopped` with all that a rule stops among the steps that are new or changed.

    `since` is the day on which the work came on file; steps that began earlier are history.
    """
    changed = _changed(before, after)
    live = {each.id for each in changed if not _is_history(each, since)}
    stops = [each for each in breaches(after, jobs) if each.stops and each.value in live]
    if stops:
        raise Stopped(
            f"{len(stops)} thing{'s' if len(stops) > 1 else ''} must be seen to first",
            refusals=tuple(_refusal(each) for each in stops),
            remedy=_MORE,
        )


def _refusal(breach: Breach) -> Stopped:
    return Stopped(
        f"{breach.rule.key}: {breach.says}", rule=breach.rule.key, remedy=breach.rule.remedy
    )


def _changed(before: Work | None, after: Work) -> list[Any]:
    known = {each.id: each for each in _held(before)} if before else {}
    return [each for each in _held(after) if known.get(each.id) != each]


def _held(work: Work) -> list[Any]:
    steps = [step for treatment in work.treatments for step in treatment.steps]
    return [*steps, *work.checks]


def _is_history(each: Any, since: Day) -> bool:
    day = each.began if isinstance(each, Step) else each.on
    return day is not None and day < since
