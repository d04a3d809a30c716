"""What was found and done, as LIDO's events: earlier repairs, condition checks, treatments.

LIDO has no event for a look at the condition: a check is an Attribute assignment with the term for it
as its method, a treatment and an earlier repair are Restorations (standards sheet, section 3).
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.exchange.lido.actors import Telling, detail, noted
from catalogue.exchange.lido.pen import element
from catalogue.exchange.lido.terms import (
    analog,
    dated,
    iso,
    named,
    numbered,
    on_day,
    said,
    term,
)
from catalogue.measure import DateSpan
from catalogue.record import ConditionCheck, PriorRepair, Step, Treatment
from catalogue.terms import label


def care(telling: Telling) -> Iterator[str]:
    """Earlier repairs as found, then the looks at it, then what was done."""
    work = telling.work
    yield from (_repair(telling, each) for each in work.repairs)
    yield from (_check(telling, each) for each in work.checks)
    yield from (_treatment(telling, each) for each in work.treatments)


def _repair(telling: Telling, repair: PriorRepair) -> str:
    """One earlier repair as it was found."""
    body = telling.event(
        repair.id,
        "restoration",
        repair.number,
        "PriorRepair",
        dated("eventDate", repair.made),
        term("eventMethod", repair.kind),
        _used(repair.made_of),
        *map(noted, repair.notes),
    )
    told = said("earlier_repair").format(what=label(repair.kind))
    return telling.happened("PriorRepair", repair.id, told, body)


def _check(telling: Telling, check: ConditionCheck) -> str:
    """One look at the condition: who, when, the judgement, what was found that day."""
    body = telling.event(
        check.id,
        "assignment",
        check.number,
        "ConditionCheck",
        telling.actor(None, check.by, "capacity/restorer", "ConditionCheck.by"),
        dated("eventDate", on_day(check.on)),
        term("eventMethod", "activity/condition-check"),
        detail("ConditionCheck.occasion", label(check.occasion)),
        detail("ConditionCheck.condition", check.condition and label(check.condition)),
        detail("ConditionCheck.limits", check.limits),
        *_found(telling, check),
        *map(noted, check.notes),
    )
    told = said("check").format(what=label(check.occasion))
    return telling.happened("ConditionCheck", check.id, told, body)


def _found(telling: Telling, check: ConditionCheck) -> Iterator[str]:
    """Each finding as it was on the day of that check, in words."""
    for each in telling.work.findings:
        for seen in each.observations:
            if seen.check == check.id:
                scales = (seen.extent, seen.severity, seen.stability, seen.change)
                words = ", ".join(label(key) for key in (each.kind, each.layer, *scales) if key)
                number = each.number or ""
                told = said("finding").format(number=number, what=words).strip()
                yield detail("Finding", told)


def _treatment(telling: Telling, treatment: Treatment) -> str:
    """One course of treatment, its steps in words and by their terms."""
    steps = treatment.steps
    people = sorted({person for step in steps for person in step.by})
    kinds = dict.fromkeys(step.kind for step in steps)
    used = dict.fromkeys(use.material for step in steps for use in step.materials)
    body = telling.event(
        treatment.id,
        "restoration",
        treatment.number,
        "Treatment",
        named("eventName", treatment.title) if treatment.title else "",
        *(telling.actor(None, each, "capacity/restorer", "Step.by") for each in people),
        dated("eventDate", _whole(treatment)),
        *(term("eventMethod", key) for key in kinds),
        _used(tuple(used)),
        *(
            detail(analog("Step", each.id), _step(each), each.kind, each.order)
            for each in steps
        ),
        *map(noted, treatment.notes),
    )
    what = treatment.title or ", ".join(map(label, kinds))
    return telling.happened(
        "Treatment", treatment.id, said("treatment").format(what=what), body
    )


def _step(step: Step) -> str:
    days = "/".join(filter(None, (iso(step.began), iso(step.ended))))
    words = ", ".join(filter(None, (label(step.kind), days)))
    return said("step").format(order=step.order, what=words)


def _used(materials: tuple[str, ...]) -> str:
    told = (term("termMaterialsTech", key, type=numbered("material")) for key in materials)
    return element("eventMaterialsTech", element("materialsTech", *told))


def _whole(treatment: Treatment) -> DateSpan | None:
    """From the first day of its steps to the last, None where no step says its day."""
    days = [day for step in treatment.steps for day in (step.began, step.ended) if day]
    return on_day(min(days), max(days)) if days else None
