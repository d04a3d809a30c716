"""What is to be said about one work or job: the shapes first, then what contradicts, lacks, waits."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from catalogue.argument.timing.solving import Chronology
from catalogue.checking import (
    chronology,
    commissions,
    condition,
    dates,
    hands,
    inscriptions,
    needed,
    order,
    pointers,
    ranges,
    treatments,
)
from catalogue.checking.remark import KINDS, Kind, Remark, words
from catalogue.checking.where import Places
from catalogue.measure import Day
from catalogue.record import Item, Job, Party, Record, Work

if TYPE_CHECKING:
    # Held to the shapes elsewhere: they bring an engine that whoever asks for the rest need not wait for.
    from catalogue.checking.shapes import Fault


@dataclass(frozen=True, slots=True)
class Around:
    """What is known around a work: the record of an id (None: a stranger's), names, stays, jobs, the day."""

    read: Callable[[str], Record | None]
    name_of: Callable[[str], str]
    items: tuple[Item, ...] = ()
    jobs: tuple[Job, ...] = ()
    today: Day | None = None
    solved: Chronology | None = None


def remarks(work: Work, faults: Iterable[Fault], around: Around) -> tuple[Remark, ...]:
    """What is wrong, missing or open about a work as it is kept, the worst first, each thing once.

    `faults` is what the shapes found in its document.
    """
    places = Places(work)
    found = dict.fromkeys((*_by_shapes(faults, places), *of_record(work, around, places)))
    return tuple(sorted(found, key=lambda each: KINDS.index(each.kind)))


def remarks_of_job(
    job: Job,
    faults: Iterable[Fault],
    others: Iterable[Job],
    name_of: Callable[[str], str],
    today: Day,
) -> tuple[Remark, ...]:
    """The same about a commission; `others` are the commissions for its works."""
    shapes = _by_shapes(faults, Places(job))
    found = dict.fromkeys((*shapes, *commissions.commission(job, others, name_of, today)))
    return tuple(sorted(found, key=lambda each: KINDS.index(each.kind)))


def of_record(work: Work, around: Around, places: Places | None = None) -> Iterator[Remark]:
    """The same without the shapes, which a record cannot break."""
    places = places or Places(work)
    yield from pointers.within_itself(work, places)
    yield from pointers.on_file(work, places, lambda target: around.read(target) is not None)
    yield from pointers.circles(work, places, around.read, around.name_of)
    yield from dates.stays(work, around.items, places)
    yield from dates.making(work, _artists(work, around), places)
    yield from dates.order(work, places)
    yield from hands.provenance(work, around.read, around.name_of, around.today, places)
    if around.solved is not None:
        yield from chronology.contradictions(work, around.solved, places)
    yield from condition.condition(work, places)
    yield from treatments.treatments(work, places)
    yield from inscriptions.inscriptions(work, places)
    yield from needed.needed(work, places)
    yield from needed.advised(work, places)
    yield from ranges.ranges(work, places)
    yield from order.order(work, around.jobs, places)


def out_of_range(work: Work) -> tuple[Remark, ...]:
    """The figures of a work that lie outside the studio's own ranges."""
    return tuple(ranges.ranges(work, Places(work)))


def _artists(work: Work, around: Around) -> list[Party]:
    """Those who are said to have made it themselves."""
    named = dict.fromkeys(
        each.artist
        for each in work.attributions
        if each.artist and each.qualifier in words("own_hand")
    )
    return [found for each in named if isinstance(found := around.read(each), Party)]


def _by_shapes(faults: Iterable[Fault], places: Places) -> Iterator[Remark]:
    for fault in faults:
        kind: Kind = "missing" if fault.missing else "open" if fault.mild else "wrong"
        # A shape says what is so in its first sentence, and what to do in the others.
        says, _, remedy = fault.says.partition(". ")
        where = places.named(fault.value)
        yield Remark(kind, where, says.removesuffix("."), remedy.removesuffix("."), fault.value)
