"""What is worked out about a work so that it can be asked for: gaps, prices, hours, hidden writing.

Only what the record gives a reason for is worked out; each is a fact or a figure of one value, or of
the whole work. None of it is an accusation: a gap is what nobody wrote down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.holders import tenures
from catalogue.argument.chain.passages import passages
from catalogue.argument.chain.windows import window
from catalogue.argument.covering import side_of
from catalogue.argument.spans import Interval
from catalogue.facts_of_labels import Firms, of_inscription, towns_of, years_said
from catalogue.indexes.facts_of import Fact, Figure, Known, Worked, chain, key_of
from catalogue.measure import canvas_names
from catalogue.places import table
from catalogue.record import Inscription, Job, PriorRepair, Step, Work
from catalogue.terms import within

UPRIGHT = 45
"""Degrees either way within which writing still stands upright."""


def facts(
    work: Work, firms: Firms, jobs: Iterable[Job] = (), painters: Iterable[str] = ()
) -> Known:
    """What was worked out, by the id of a value or of the work.

    `jobs` are the commissions that it is or was in, `painters` the roles (terms) of those it is
    attributed to.
    """
    jobs = tuple(jobs)
    found: dict[str, Worked] = {}
    for inscription in work.inscriptions:
        if worked := of_inscription(inscription, firms):
            found[inscription.id] = worked
    for each in (*_hidden_writing(work), *_tops(work), *_hours(work, jobs), *_places(work)):
        found[each[0]] = _joined(found.get(each[0]), each[1])
    differing = tuple(_years_differ(work))
    for inscription in differing:
        found[inscription.id] = _joined(found.get(inscription.id), _flag("dates-differ"))
    whole: list[Fact] = [("job", key_of(job.number)) for job in jobs if job.number]
    whole += [
        ("painter", key) for role in painters for key in chain(role) if key != "role/artist"
    ]
    if differing:
        whole.append(("is", "dates-differ"))
    if _gap(work):
        whole.append(("is", "open-gap"))
    names, numbers = _canvas(work)
    found[work.id] = Worked((*whole, *names), numbers)
    return found


def _joined(one: Worked | None, other: Worked) -> Worked:
    if one is None:
        return other
    return Worked(
        (*one.facts, *other.facts), (*one.figures, *other.figures), one.own or other.own
    )


def _flag(name: str) -> Worked:
    return Worked((("is", name),))


def _gap(work: Work) -> bool:
    """Whether there are days of the years of persecution on which nobody is known to have had it."""
    if not work.provenance:
        return False
    over = window(table("facts.toml")["window"])
    found = tenures(work)
    gaps = (
        each.gap.within(Interval(over.first, over.last)) for each in passages(found) if each.gap
    )
    return any(gaps) or coverage(found, over, work.made).nobody_days > 0


def _hidden_writing(work: Work) -> Iterator[tuple[str, Worked]]:
    """Repairs over writing, and writing that came to light when something was taken off."""
    writing = {each.id for each in work.inscriptions}
    over = {each: repair for repair in work.repairs for each in repair.covers}
    for repair in work.repairs:
        if repair.writing_beneath or writing & set(repair.covers):
            yield repair.id, _flag("covers-writing")
    steps = [step for treatment in work.treatments for step in treatment.steps if step.began]
    for inscription in work.inscriptions:
        seen = [each for each in inscription.sightings if each.state == "state/revealed"]
        if seen:
            yield inscription.id, _flag("revealed")
            if any(_laid_bare(step, inscription, over) for step in steps):
                yield inscription.id, _flag("revealed-by-removal")


def _laid_bare(step: Step, inscription: Inscription, over: dict[str, PriorRepair]) -> bool:
    """Whether a step took off what lay over an inscription, or uncovered it on the day it was seen."""
    repair = over.get(inscription.id)
    if repair is not None and repair.id in step.removes:
        return True
    days = {each.on for each in inscription.sightings if each.state == "state/revealed"}
    return within(step.kind, *table("facts.toml")["lays_bare"]) and bool(
        {step.began, step.ended} & days - {None}
    )


def _tops(work: Work) -> Iterator[tuple[str, Worked]]:
    """Words that name the top, and do not stand upright: the picture was turned."""
    words = table("facts.toml")["top"]
    for inscription in work.inscriptions:
        transcript = inscription.preferred()
        if transcript is None or (inscription.orientation + UPRIGHT) % 360 - UPRIGHT <= UPRIGHT:
            continue
        said = f" {key_of(transcript.reading().plain())} "
        if any(f" {word} " in said for word in words):
            yield inscription.id, _flag("top-sideways")


def _years_differ(work: Work) -> Iterator[Inscription]:
    """What the painter dated, where the year on the back is another than that on the front."""
    kinds = table("facts.toml")["painters_years"]
    back: list[tuple[Inscription, frozenset[int]]] = []
    front: list[tuple[Inscription, frozenset[int]]] = []
    for each in work.inscriptions:
        if within(each.kind, *kinds) and (years := years_said(each)):
            (front if side_of(each.face) == "front" else back).append((each, years))
    ours = {year % 100 for _, years in back for year in years}
    theirs = {year % 100 for _, years in front for year in years}
    if ours and theirs and not ours & theirs:
        yield from (each for each, _ in (*back, *front))


def _hours(work: Work, jobs: Iterable[Job]) -> Iterator[tuple[str, Worked]]:
    """The hours put down for a step, and for a damage those of all steps done for it."""
    by_step: dict[str, float] = {}
    for job in jobs:
        for spent in job.hours:
            if spent.step:
                by_step[spent.step] = by_step.get(spent.step, 0.0) + spent.hours
    by_value: dict[str, float] = dict(by_step)
    for treatment in work.treatments:
        for step in treatment.steps:
            if step.id in by_step:
                for answered in step.addresses:
                    by_value[answered] = by_value.get(answered, 0.0) + by_step[step.id]
    for value, hours in by_value.items():
        yield value, Worked((), (("hours", hours),))


def _places(work: Work) -> Iterator[tuple[str, Worked]]:
    """The towns of events and showings."""
    for event in work.provenance:
        said = " ".join(filter(None, (event.at, *(role.place for role in event.parties))))
        if towns := tuple(("town", town) for town in towns_of(said)):
            yield event.id, Worked(tuple(dict.fromkeys(towns)))
    for showing in work.exhibitions:
        if towns := tuple(("town", town) for town in towns_of(showing.at or "")):
            yield showing.id, Worked(tuple(dict.fromkeys(towns)))


def _canvas(work: Work) -> tuple[tuple[Fact, ...], tuple[Figure, ...]]:
    """The named sizes that its support has, with their numbers."""
    sheet = work.sheet
    if sheet is None:
        return (), ()
    named = [match.size.name for match in canvas_names(sheet.height_mm, sheet.width_mm)]
    numbers = [float(name[:-1]) for name in named if name[:-1].isdigit()]
    return (
        tuple(("canvas", key_of(name)) for name in named),
        tuple(("canvas-number", number) for number in numbers),
    )
