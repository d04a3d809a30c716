"""What a commission lacks, contradicts or leaves open: the rows `commission` of vocab/checks.toml."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from catalogue.checking.remark import Remark, check
from catalogue.checking.where import Places
from catalogue.house import balance, conflicts, lacks_on_entry, unborne
from catalogue.linked.approvals import approval_holds
from catalogue.measure import Day
from catalogue.record import Job
from catalogue.terms import label


def commission(
    job: Job, others: Iterable[Job], name_of: Callable[[str], str], today: Day
) -> Iterator[Remark]:
    """What is to be said about a job; `others` are the jobs for its works."""
    places = Places(job)
    yield from _arrival(job, name_of)
    yield from _agreement(job, places)
    yield from _two_parts(job, others, places)
    yield from _on_leaving(job, places)
    yield from _worth_and_risk(job, name_of, today, places)


def _arrival(job: Job, name_of: Callable[[str], str]) -> Iterator[Remark]:
    of_all = set(lacks_on_entry(job))
    for what in lacks_on_entry(job):
        yield check("commission.lacks").remark("", what=what)
    for item in job.items:
        where = name_of(item.work)
        for what in lacks_on_entry(job, item):
            if what not in of_all:
                yield check("commission.lacks").remark(where, item.id, what=what)
        dangers = ", ".join(label(risk.kind) for risk in item.risks if risk.stands)
        if dangers and item.left is None:
            yield check("commission.apart").remark(where, item.id, dangers=dangers)


def _agreement(job: Job, places: Places) -> Iterator[Remark]:
    for proposal in job.proposals:
        if not proposal.leaves_a_choice:
            yield check("commission.no-choice").remark(places.of(proposal), proposal.id)
    for approval in job.approvals:
        if not approval_holds(job, approval):
            where = places.of(job.proposal(approval))
            yield check("commission.changed").remark(where, approval.id, on=approval.on.iso)
    for departure in job.departures:
        if not departure.approved:
            row = check("commission.not-agreed" if departure.told else "commission.untold")
            yield row.remark(places.of(departure), departure.id, on=departure.on.iso)


def _two_parts(job: Job, others: Iterable[Job], places: Places) -> Iterator[Remark]:
    also = conflicts(job, others)
    told = any(each.disclosure and each.disclosed for each in (job, *also))
    if also and not told:
        named = ", ".join(each.number or each.id for each in also)
        yield check("commission.undisclosed").remark(places.of(job, "disclosure"), jobs=named)


def _on_leaving(job: Job, places: Places) -> Iterator[Remark]:
    gone = {item.work for item in job.items if item.left is not None}
    for piece in balance(job).kept:
        if piece.work in gone:
            yield check("commission.bag-left").remark(places.of(piece), piece.id)


def _worth_and_risk(
    job: Job, name_of: Callable[[str], str], today: Day, places: Places
) -> Iterator[Remark]:
    here = {item.work for item in job.items if item.left is None}
    for item in job.items:
        for first, last in unborne(job, item, today):
            row = check("commission.uncovered")
            yield row.remark(name_of(item.work), item.id, first=first.iso, last=last.iso)
    newest = {each.work: each for each in job.valuations if each.until is not None}
    for each in newest.values():
        if each.work in here and not each.stands(today):
            until = each.until.iso if each.until else ""
            yield check("commission.value-over").remark(places.of(each), each.id, until=until)
