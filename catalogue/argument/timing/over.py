"""The physical order on a painting: what lies over, runs across, covers or takes away what."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from catalogue.argument.timing.claims import Claim, Instant
from catalogue.argument.timing.saying import after, claim, facts_of, is_one, named
from catalogue.record import Inscription, PriorRepair, Work


def over(work: Work) -> Iterator[Claim]:
    """That what lies over something came later, for all that the record says of it.

    What is not on the record any more is passed over: a pointer to it is an open question of its own.
    """
    held: tuple[Any, ...] = (*work.inscriptions, *work.repairs, *work.parts, *work.layers)
    things: dict[str, Any] = {each.id: each for each in held}
    for mark in work.inscriptions:
        yield from _over(mark, [things[each] for each in mark.lies_over if each in things])
        yield from _across(mark, [things[each] for each in mark.across if each in things])
    for repair in work.repairs:
        for below in (things[each] for each in repair.covers if each in things):
            if below is not repair:
                yield claim(
                    "covers", f"{repair.id}:{below.id}", after(_came(below), _came(repair)),
                    (repair.id, below.id),
                    **facts_of(repair), below=named(below),
                )  # fmt: skip
    yield from _in_the_studio(work, things)


def _came(thing: Any) -> Instant:
    """The day on which something came to the painting."""
    return Instant(thing.id, "began")


def _over(mark: Inscription, beneath: list[Inscription | PriorRepair]) -> Iterator[Claim]:
    for below in beneath:
        # what was taken off and put back lies where it was put last
        moved = any(is_one(seen.state, "moved") for x in (mark, below) for seen in x.sightings)
        yield claim(
            "over-moved" if moved else "over", f"{mark.id}:{below.id}",
            after(_came(below), _came(mark)), (mark.id, below.id),
            **facts_of(mark), below=named(below),
        )  # fmt: skip


def _across(mark: Inscription, joined: list[Any]) -> Iterator[Claim]:
    bounds = [bound for each in joined for bound in after(_came(each), _came(mark))]
    if bounds:
        yield claim(
            "across", mark.id, bounds, (mark.id, *(each.id for each in joined)),
            **facts_of(mark), joined=" and ".join(map(named, joined)),
        )  # fmt: skip


def _in_the_studio(work: Work, things: dict[str, Any]) -> Iterator[Claim]:
    for treatment in work.treatments:
        for step in treatment.steps:
            name = treatment.label(step)
            for kind, field in (("step-covers", "covers"), ("step-removes", "removes")):
                for below in (things[id_] for id_ in getattr(step, field) if id_ in things):
                    yield claim(
                        kind, f"{step.id}:{below.id}",
                        after(_came(below), Instant(step.id, "began")),
                        (step.id, below.id),
                        what=f"{name} ({named(step)})", called=name, below=named(below),
                    )  # fmt: skip
