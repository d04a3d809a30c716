"""Commissions ⇄ an Activity of the studio for a client, with one part for each work.

What was approved, worked, paid, lent and done otherwise are parts of it as well; proposals and offers are
what it is the subject of, and the bags are things that it used.
"""

from __future__ import annotations

from catalogue.linked import concepts, names
from catalogue.linked.fields import (
    amount,
    count,
    date,
    day,
    document,
    form,
    in_document,
    named,
    own_number,
    party,
    statement,
    term,
    value_elsewhere,
    values,
    visibility,
    words,
    yes,
)
from catalogue.linked.loans import LOAN
from catalogue.linked.node import actor, actor_of, each, node, text
from catalogue.linked.papers import PAPER
from catalogue.linked.proposals import APPROVAL, PROPOSAL
from catalogue.linked.text import Node
from catalogue.linked.valuations import COVER, VALUATION
from catalogue.measure import Day
from catalogue.record import Content, Departure, Hours, Item, Job, Offer, Outlay, Piece, Risk

COMMISSION = "activity/commission"
_STAY = "activity/stay"

CONTENT = form(
    Content,
    "HumanMadeObject",
    "object/contents",
    {
        "kind": term("content"),
        "count": count("how_many"),
        "what": statement("what", "note/description"),
    },
)

RISK = form(
    Risk,
    "AttributeAssignment",
    "activity/entry-question",
    {
        "kind": term("risk"),
        "answer": term("answer", "assigned"),
        "settled": date("settled_on"),
        "settled_how": statement("settled-how", "note/outcome"),
    },
)

ITEM = form(
    Item,
    "Activity",
    _STAY,
    {
        "work": document("used_specific_object", "HumanMadeObject"),
        "came": date("came_on"),
        "arrived_by": statement("arrived-by", "note/arrival"),
        "packing": statement("packing", "note/arrival"),
        "due": date("due_on"),
        "left": date("left_on"),
        "kept_at": words("kept_at"),
        "contents": values("came_with", CONTENT),
        "risks": values("attributed_by", RISK),
        "condition": words("condition_on_entry"),
        "next_step": words("next_step"),
    },
)

HOURS = in_document(
    form(
        Hours,
        "Activity",
        "activity/hours-worked",
        {
            "on": day(),
            "by": party("carried_out_by"),
            "hours": amount("hours_worked"),
            "work": document("used_specific_object", "HumanMadeObject"),
            "step": value_elsewhere("for_step"),
            "note": statement("note", "note/description"),
        },
    ),
    "work",
    ("for_step",),
)

OUTLAY = form(
    Outlay,
    "Activity",
    "activity/outlay",
    {
        "on": day(),
        "what": named("what"),
        "amount": amount("sum_spent"),
        "by": party("carried_out_by"),
    },
)

DEPARTURE = form(
    Departure,
    "Activity",
    "activity/departure",
    {
        "on": day(),
        "what": statement("what", "note/departure"),
        "why": statement("why", "note/reason"),
        "by": party("carried_out_by"),
        "told": statement("told", "note/told"),
        "told_on": date("told_on"),
        "cost": amount("added_cost"),
        "approved": yes("agreed"),
    },
)

OFFER = form(
    Offer,
    "PropositionalObject",
    "object/offer",
    {
        "work": document("for_work", "HumanMadeObject"),
        "status": term("offer-status"),
        "asked": amount("price_asked"),
        "currency": term("currency"),
        "terms": statement("terms", "note/terms"),
        "since": date("offered_on"),
        "until": date("valid_until"),
        "net": amount("price_net"),
        "reserve": amount("price_reserve"),
        "visibility": visibility(),
    },
)

PIECE = in_document(
    form(
        Piece,
        "HumanMadeObject",
        "object/removed-piece",
        {
            "number": own_number("piece"),
            "work": document("taken_from", "HumanMadeObject"),
            "of": value_elsewhere("formerly"),
            "kind": term("piece"),
            "what": named("what"),
            "taken": date("taken_on"),
            "state": term("piece-state"),
            "kept_at": words("kept_at"),
            "gone": date("gone_on"),
        },
    ),
    "work",
    ("formerly",),
)

_SENTENCES = {
    "authority": "note/authority",
    "basis": "note/basis-of-work",
    "requirements": "note/requirements",
    "insurance": "note/insurance",
    "terms_version": "note/terms",
    "disclosure": "note/disclosure",
}
"""The sentences of a commission, and of which kind each is."""


def describe(job: Job) -> Node:
    """The document of a commission, with ids relative to it."""
    own = f"#{job.id}"
    return node(
        id=job.document,
        type="Activity",
        classified_as=concepts.describe_all((COMMISSION, job.reason, job.client_kind)),
        identified_by=names.describe_own(own, "job", job.number),
        client=actor(job.client),
        owner=actor(job.owner),
        depositor=actor(job.depositor),
        part=[
            *ITEM.describe_all(job.items),
            *APPROVAL.describe_all(job.approvals),
            *HOURS.describe_all(job.hours),
            *OUTLAY.describe_all(job.outlays),
            *DEPARTURE.describe_all(job.departures),
            *LOAN.describe_all(job.loans),
            *VALUATION.describe_all(job.valuations),
            *COVER.describe_all(job.covers),
        ],
        approved_on=job.approved.iso if job.approved else None,
        disclosed_on=job.disclosed.iso if job.disclosed else None,
        proposals=PROPOSAL.describe_all(job.proposals),
        offers=OFFER.describe_all(job.offers),
        pieces=PIECE.describe_all(job.pieces),
        subject_of=PAPER.describe_all(job.papers),
        referred_to_by=[
            *(
                said
                for name, kind in _SENTENCES.items()
                for said in names.describe_statement(
                    own, _called(name), kind, getattr(job, name)
                )
            ),
            *(names.describe_note(note) for note in job.notes),
        ],
    )


def recognise(document: Node, uuid: str) -> Job:
    """The commission of a document, under the id that the ledger keeps it by."""
    approved, disclosed = (text(document, f"{word}_on") for word in ("approved", "disclosed"))
    return Job(
        id=uuid,
        number=names.recognise_own(document, "job"),
        client=actor_of(document, "client"),
        client_kind=concepts.first(document, "classified_as", "client-kind"),
        owner=actor_of(document, "owner"),
        depositor=actor_of(document, "depositor"),
        reason=concepts.first(document, "classified_as", "reason") or "reason/other",
        **{name: names.recognise_statement(document, _called(name)) for name in _SENTENCES},
        disclosed=Day.from_iso(disclosed) if disclosed else None,
        items=ITEM.recognise_all(document, "part"),
        proposals=PROPOSAL.recognise_all(document, "proposals"),
        approvals=APPROVAL.recognise_all(document, "part"),
        approved=Day.from_iso(approved) if approved else None,
        hours=HOURS.recognise_all(document, "part"),
        outlays=OUTLAY.recognise_all(document, "part"),
        departures=DEPARTURE.recognise_all(document, "part"),
        offers=OFFER.recognise_all(document, "offers"),
        loans=LOAN.recognise_all(document, "part"),
        valuations=VALUATION.recognise_all(document, "part"),
        covers=COVER.recognise_all(document, "part"),
        pieces=PIECE.recognise_all(document, "pieces"),
        papers=PAPER.recognise_all(document, "subject_of"),
        notes=each(document, "referred_to_by", names.recognise_note, names.is_note),
    )


def _called(name: str) -> str:
    """What a sentence is named after its commission: the field's name, as addresses are written."""
    return name.replace("_", "-")


def is_job(document: Node) -> bool:
    """Whether a document is a commission of ours."""
    return concepts.first(document, "classified_as", "activity") == COMMISSION
