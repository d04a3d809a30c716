"""Dates against each other: the stays of a work, its making, the life of its artist, its provenance."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import Any

from catalogue.checking.remark import Remark, check, words
from catalogue.checking.where import Places
from catalogue.measure import DateSpan, Day
from catalogue.record import ConditionCheck, Exhibition, Item, Party, ProvenanceEvent, Work


def stays(work: Work, items: Iterable[Item], places: Places) -> Iterator[Remark]:
    """Checks, tests and steps on days when the work was not here; without a stay, nobody can tell."""
    spells = sorted(
        ((each.came, each.left) for each in items if each.came), key=lambda spell: spell[0]
    )
    if not spells:
        return
    for value, field, day in _days_here(work):
        if any(came <= day and (left is None or day <= left) for came, left in spells):
            continue
        where, first = places.of(value, field), spells[0][0]
        lefts = [left for _, left in spells if left]
        last = max(lefts) if len(lefts) == len(spells) else None
        if isinstance(value, ConditionCheck):
            if value.at is None:
                yield check("check.elsewhere").remark(where, value.id, when=day.iso)
        elif day < first:
            facts = {"when": day.iso, "came": first.iso}
            yield check("date.before-it-came").remark(where, value.id, **facts)
        elif last is not None and day > last:
            facts = {"when": day.iso, "left": last.iso}
            yield check("date.after-it-left").remark(where, value.id, **facts)
        else:
            yield check("date.between-stays").remark(where, value.id, when=day.iso)


def _days_here(work: Work) -> Iterator[tuple[Any, str, Day]]:
    """What can only have been done where the work was: the value, its field, the day."""
    for made in work.checks:
        yield made, "on", made.on
    for test in work.tests:
        if test.on:
            yield test, "on", test.on
    for treatment in work.treatments:
        for step in treatment.steps:
            for field in ("began", "ended"):
                day = getattr(step, field)
                if day:
                    yield step, field, day


def making(work: Work, artists: Iterable[Party], places: Places) -> Iterator[Remark]:
    """What happened to the work before it was made, and what its artist made after their death."""
    made = work.made
    if made:
        happened: tuple[ProvenanceEvent | Exhibition, ...] = (
            *work.provenance,
            *work.exhibitions,
        )
        for value in happened:
            early = getattr(value, "kind", "") in words("before_made")
            if value.when and not early and _before(value.when, made):
                yield check("date.before-it-was-made").remark(
                    places.of(value, "when"),
                    value.id,
                    when=value.when.written,
                    made=made.written,
                )
    for artist in artists:
        yield from _after_death(work, artist, places)


def _after_death(work: Work, artist: Party, places: Places) -> Iterator[Remark]:
    died = artist.ended
    if died is None or artist.kind != "person":
        return
    facts = {"artist": artist.name(), "died": died.written}
    if work.made and _before(died, work.made):
        where = places.of(work, "made")
        yield check("date.after-death").remark(where, when=work.made.written, **facts)
    for event in work.provenance:
        created = event.kind in words("creation") and event.when
        if created and _before(died, created):
            where = places.of(event, "when")
            yield check("date.after-death").remark(
                where, event.id, when=created.written, **facts
            )


def order(work: Work, places: Places) -> Iterator[Remark]:
    """Events whose place in the chain contradicts their dates, each once, by the first it contradicts."""
    ordered = [each for each in work.provenance if each.order is not None and each.when]
    said: set[str] = set()
    for earlier, later in combinations(ordered, 2):
        if earlier.order == later.order or later.id in said:
            continue
        if earlier.when and later.when and _before(later.when, earlier.when):
            said.add(later.id)
            yield check("provenance.order").remark(
                places.of(later, "order"),
                later.id,
                earlier=places.named(earlier.id),
                when=later.when.written,
                then=earlier.when.written,
            )


def _before(one: DateSpan, other: DateSpan) -> bool:
    """Whether one is certainly over before the other may have begun."""
    return bool(one.latest and other.earliest and one.latest < other.earliest)
