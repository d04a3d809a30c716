"""Earlier repairs: their dates, what their materials prove, who made them, when they were seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from catalogue.argument.evidence import Dating
from catalogue.argument.timing.claims import Event
from catalogue.argument.timing.dated import lasting
from catalogue.argument.timing.lives import in_life, life_id
from catalogue.argument.timing.making import made, part_made
from catalogue.argument.timing.proofs import Subject, of_materials
from catalogue.argument.timing.saying import (
    Said,
    after,
    called,
    claim,
    event,
    facts_of,
    is_one,
    named,
    not_after,
)
from catalogue.record import Party, PriorRepair, Work


def repair_event(repair: PriorRepair) -> Event:
    """The making of a repair, as if on one day."""
    return event("repair", repair.id, called(repair), named(repair), moment=True)


def repairs(
    work: Work, datings: Mapping[str, Dating], parties: Mapping[str, Party]
) -> Iterator[Said]:
    """Every earlier repair, and what is known of when it was made."""
    own, parts = made(work), {part.id: part for part in work.parts}
    for repair in work.repairs:
        here = repair_event(repair)
        about = facts_of(repair)
        yield here
        yield from lasting(here, repair.made, repair.id, named(repair))
        dating = datings.get(repair.id)
        if dating:
            subject = Subject(repair.id, named(repair), here.called)
            yield from of_materials(dating.reasons, here.began, subject)
        yield from _seen(repair, here, about)
        part = parts.get(repair.location.part or "") if repair.location else None
        if part is not None and not is_one(part.kind, "itself"):
            bounds = after(part_made(part).began, here.began)
            rests_on = (repair.id, part.id)
            yield claim("on-part", repair.id, bounds, rests_on, below=named(part), **about)
        else:
            for kind, instant in (
                ("repair-begun", own.began),
                ("repair-finished", own.ended),
            ):
                bounds = after(instant, here.began)
                yield claim(kind, repair.id, bounds, (repair.id,), **about)
        by = parties.get(repair.by or "")
        if by:
            bounds = in_life(life_id(by), here.began, here.began)
            rests_on = (repair.id, by.document)
            yield claim(
                "repaired-in-life",
                repair.id,
                bounds,
                rests_on,
                name=by.name(),
                **about,
            )


def _seen(repair: PriorRepair, here: Event, about: dict[str, str]) -> Iterator[Said]:
    days = [
        (each.on, each.id)
        for each in repair.sightings
        if each.on and not is_one(each.state, "unseen")
    ]
    if days:
        day, where = min(days)
        bounds = not_after(here.began, day)
        yield claim("seen", repair.id, bounds, (repair.id, where), written=day.iso, **about)
