"""What the index holds of a commission, for the house alone: every entry of it is private.

The client, what was proposed and answered, what was done otherwise, and the bags of what was taken
off each have an entry, so that "sent and not answered" can be asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from catalogue.indexes.entry import Entry
from catalogue.indexes.facts_of import Fact, facts_of, key_of, kinds
from catalogue.indexes.making import days, entry, first, given, of_note, of_value
from catalogue.indexes.told import Names, told
from catalogue.record import Departure, Item, Job, Piece, Proposal
from catalogue.terms import label


def entries_of_job(job: Job, names: Names) -> Iterator[Entry]:
    """The entries of a commission, the one for the whole first."""
    clients = names(job.client) if job.client else ()
    title = ", ".join(filter(None, (first(clients), label(job.reason))))
    base = replace(
        entry(job.document, job.number or "", title, job.id, "job"),
        private=True,
        facts=(*_numbered(job), *facts_of((job,))),
    )
    came = [item.came for item in job.items if item.came]
    left = [item.left for item in job.items if item.left]
    whole = given(
        base,
        text="; ".join(
            filter(
                None,
                (
                    title,
                    job.basis,
                    job.requirements,
                    job.insurance,
                    job.authority,
                    job.disclosure,
                ),
            )
        ),
        words=" ".join(clients),
        facts=kinds("job"),
        own=days(min(came), max(left) if len(left) == len(job.items) else None)
        if came
        else None,
    )
    yield whole
    answered = {approval.proposal for approval in job.approvals}
    for item in job.items:
        yield _of_item(item, base, names)
    for proposal in job.proposals:
        yield _of_proposal(proposal, proposal.id in answered, base, names)
    for approval in job.approvals:
        yield _private(of_value(approval, "approval", base, names))
    for departure in job.departures:
        yield _of_departure(departure, base, names)
    for piece in job.pieces:
        yield _of_piece(piece, base, names)
    for paper in job.papers:
        yield _private(of_value(paper, "paper", base, names))
    for note in job.notes:
        yield _private(of_note(note, base, "note"))


def _numbered(job: Job) -> Iterator[Fact]:
    if job.number:
        yield "job", key_of(job.number)


def _of_item(item: Item, base: Entry, names: Names) -> Entry:
    """One work within the job: which dangers were found, where it is kept, until when it stays."""
    risks = [risk for risk in item.risks if risk.answer == "answer/yes"]
    said = [
        *told(item, names, without=("work", "risks")),
        *(label(each.kind) for each in risks),
    ]
    return given(
        base,
        value=item.id,
        kind="item",
        where="work in the job",
        text="; ".join(said),
        facts=(*kinds("item"), *(("risk", each.kind) for each in risks), ("of", item.work)),
        own=days(item.came, item.left) if item.came else None,
    )


def _of_proposal(proposal: Proposal, answered: bool, base: Entry, names: Names) -> Entry:
    """Its own day is the one on which it was put to the client."""
    made = _private(of_value(proposal, "proposal", base, names))
    return given(made, facts=(("is", "answered" if answered else "unanswered"),))


def _of_departure(departure: Departure, base: Entry, names: Names) -> Entry:
    made = _private(of_value(departure, "departure", base, names))
    flags = [("is", "answered" if departure.approved else "unanswered")]
    if departure.told_on is None:
        flags.append(("is", "untold"))
    return given(made, facts=flags)


def _of_piece(piece: Piece, base: Entry, names: Names) -> Entry:
    """A bag: since when it is kept, and until when it was."""
    made = _private(of_value(piece, "piece", base, names))
    return given(made, facts=(("of", piece.work),), own=days(piece.taken, piece.gone))


def _private(made: Entry) -> Entry:
    return replace(made, private=True)
