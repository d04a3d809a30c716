"""Commissions ⇄ an Activity of the studio for a client, with one part for each work."""

from __future__ import annotations

from catalogue.linked import concepts, names
from catalogue.linked.node import actor, actor_of, each, node, one, own_id, text
from catalogue.linked.papers import PAPER
from catalogue.linked.text import Node
from catalogue.measure import Day
from catalogue.record import Item, Job

COMMISSION = "activity/commission"
_STAY = "activity/stay"


def describe(job: Job) -> Node:
    """The document of a commission, with ids relative to it."""
    own = f"#{job.id}"
    return node(
        id=job.document,
        type="Activity",
        classified_as=concepts.describe_all((COMMISSION, job.reason)),
        identified_by=names.describe_own(own, "job", job.number),
        client=actor(job.client),
        owner=actor(job.owner),
        part=[_describe_item(item) for item in job.items],
        approved_on=job.approved.iso if job.approved else None,
        subject_of=PAPER.describe_all(job.papers),
        referred_to_by=[names.describe_note(note) for note in job.notes],
    )


def recognise(document: Node, uuid: str) -> Job:
    """The commission of a document, under the id that the ledger keeps it by."""
    approved = text(document, "approved_on")
    return Job(
        id=uuid,
        number=names.recognise_own(document, "job"),
        client=actor_of(document, "client"),
        owner=actor_of(document, "owner"),
        reason=concepts.first(document, "classified_as", "reason") or "reason/other",
        items=each(document, "part", _recognise_item, _is_item),
        approved=Day.from_iso(approved) if approved else None,
        papers=PAPER.recognise_all(document, "subject_of"),
        notes=each(document, "referred_to_by", names.recognise_note, names.is_note),
    )


def is_job(document: Node) -> bool:
    """Whether a document is a commission of ours."""
    return concepts.first(document, "classified_as", "activity") == COMMISSION


def _describe_item(item: Item) -> Node:
    return node(
        id=f"#{item.id}",
        type="Activity",
        classified_as=[concepts.describe(_STAY)],
        used_specific_object=[{"id": item.work, "type": "HumanMadeObject"}],
        came_on=item.came.iso if item.came else None,
        due_on=item.due.iso if item.due else None,
        left_on=item.left.iso if item.left else None,
        kept_at=item.kept_at,
        condition_on_entry=item.condition,
        next_step=item.next_step,
    )


def _recognise_item(here: Node) -> Item:
    work = one(here, "used_specific_object") or {}
    came, due, left = (text(here, f"{word}_on") for word in ("came", "due", "left"))
    return Item(
        id=own_id(here),
        work=str(work.get("id")),
        came=Day.from_iso(came) if came else None,
        due=Day.from_iso(due) if due else None,
        left=Day.from_iso(left) if left else None,
        kept_at=text(here, "kept_at"),
        condition=text(here, "condition_on_entry"),
        next_step=text(here, "next_step"),
    )


def _is_item(here: Node) -> bool:
    return concepts.first(here, "classified_as", "activity") == _STAY
