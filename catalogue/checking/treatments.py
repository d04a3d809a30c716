"""Treatments against what they touched: what they cover and take away, what was used for them."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.checking.inscriptions import lacking
from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.measure import Day
from catalogue.record import Inscription, MaterialUse, PriorRepair, Step, Work
from catalogue.terms import label, within


def treatments(work: Work, places: Places) -> Iterator[Remark]:
    """What a step hides unrecorded, what went and is not said to be gone, batches, the order of steps."""
    yield from _removed(work, places)
    inscribed = {each.id: each for each in work.inscriptions}
    for treatment in work.treatments:
        earlier: Step | None = None
        for step in treatment.steps:
            yield from _unrecorded(step, inscribed, places)
            yield from _batches(step.materials, step.began, places)
            if earlier and earlier.began and step.began and step.began < earlier.began:
                yield check("steps.order").remark(
                    places.of(step, "began"), step.id, earlier=treatment.label(earlier)
                )
            earlier = step
    for test in work.tests:
        yield from _batches(test.materials, test.on, places)


def _unrecorded(
    step: Step, inscribed: dict[str, Inscription], places: Places
) -> Iterator[Remark]:
    for key, field in (("cover.unrecorded", "covers"), ("remove.unrecorded", "removes")):
        for target in getattr(step, field):
            lacks = lacking(inscribed[target]) if target in inscribed else ()
            if lacks:
                yield check(key).remark(
                    places.of(step, field),
                    step.id,
                    what=places.named(target),
                    lacks=" and ".join(lacks),
                )


def _removed(work: Work, places: Places) -> Iterator[Remark]:
    """Repairs and inscriptions that one place says are gone, and the other doesn't."""
    taken = {
        target: treatment.label(step)
        for treatment in work.treatments
        for step in treatment.steps
        if step.began
        for target in step.removes
    }
    things: tuple[PriorRepair | Inscription, ...] = (*work.repairs, *work.inscriptions)
    for each in things:
        state = each.latest()
        gone = state is not None and state.state in words("gone")
        if each.id in taken and not gone:
            where = places.of(each, "sightings")
            yield check("removed.no-state").remark(where, each.id, step=taken[each.id])
        if isinstance(each, PriorRepair) and state and gone and each.id not in taken:
            where = places.of(each, "sightings")
            yield check("removed.no-step").remark(where, each.id, state=label(state.state))


def _batches(used: tuple[MaterialUse, ...], on: Day | None, places: Places) -> Iterator[Remark]:
    for each in used:
        if each.expires and on and each.expires < on:
            yield check("batch.expired").remark(
                places.of(each, "expires"), each.id, expires=each.expires.iso, used=on.iso
            )
        if each.data_sheet is None and not within(each.material, *words("no_data_sheet")):
            yield check("batch.no-data-sheet").remark(places.of(each, "data_sheet"), each.id)
