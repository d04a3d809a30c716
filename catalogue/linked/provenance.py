"""Provenance, exhibitions, citations, movements and relations ⇄ events that the painting was present at.

What an event did to ownership or custody is said by its parts: one for each party, of the type that
their role calls for (`_BY_ROLE`). How long it was held is an activity that continued the event: its
part it cannot be, for the whole would end before it. Evidence is an assignment that the event was
attributed by; an inquiry is an activity that the painting was used for, like a test.
"""

from __future__ import annotations

from dataclasses import replace

from catalogue.linked import concepts, names, spans
from catalogue.linked.fields import (
    Field,
    Form,
    count,
    day,
    document,
    form,
    join,
    named,
    notes,
    own_number,
    party,
    pointers,
    somewhere,
    span,
    statement,
    term,
    value,
    values,
    visibility,
    words,
    yes,
)
from catalogue.linked.node import (
    actor,
    actor_of,
    is_a,
    node,
    nodes,
    number,
    one,
    own_id,
    recognised,
    text,
    whole,
)
from catalogue.linked.text import Node
from catalogue.measure import DateSpan
from catalogue.record import (
    Citation,
    Evidence,
    Exhibition,
    Inquiry,
    Movement,
    PartyRole,
    Price,
    ProvenanceEvent,
    Relation,
    Work,
)

PROVENANCE = "activity/provenance"
EXHIBITED = "activity/exhibition"
HOLDING = "activity/holding"
INQUIRED = "activity/inquiry"

_TITLE_TO = ("Acquisition", "transferred_title_to")
_TITLE_FROM = ("Acquisition", "transferred_title_from")
_CUSTODY_TO = ("TransferOfCustody", "transferred_custody_to")
_CUSTODY_FROM = ("TransferOfCustody", "transferred_custody_from")
_BY_ROLE = {
    "capacity/owner": _TITLE_TO,
    "capacity/buyer": _TITLE_TO,
    "capacity/heir": _TITLE_TO,
    "capacity/seller": _TITLE_FROM,
    "capacity/donor": _TITLE_FROM,
    "capacity/dealer": _CUSTODY_TO,
    "capacity/custodian": _CUSTODY_TO,
    "capacity/borrower": _CUSTODY_TO,
    "capacity/lender": _CUSTODY_FROM,
    "capacity/consignor": _CUSTODY_FROM,
}
_TOOK_PART = ("Activity", "carried_out_by")
TRANSFERRED = {
    "Acquisition": "transferred_title_of",
    "TransferOfCustody": "transferred_custody_of",
}
"""What a change of ownership or custody says of the painting."""


def _describe_role(role: PartyRole) -> Node:
    own = f"#{role.id}"
    kind, key = _BY_ROLE.get(role.role, _TOOK_PART)
    return node(
        id=own,
        type=kind,
        classified_as=[concepts.describe(role.role)],
        identified_by=[{"id": f"{own}/written", "type": "Name", "content": role.written}]
        if role.written
        else [],
        referred_to_by=[
            *names.describe_statement(own, "life", "note/provenance", role.life),
            *names.describe_statement(own, "place", "note/provenance", role.place),
            *names.describe_statement(own, "relation", "note/provenance", role.relation),
        ],
        visibility=concepts.describe_visibility(role.visibility),
        **{key: actor(role.party)},
    )


def _is_role(here: Node) -> bool:
    return concepts.first(here, "classified_as", "capacity") is not None


def _recognise_role(here: Node) -> PartyRole:
    role = concepts.first(here, "classified_as", "capacity") or ""
    name = one(here, "identified_by")
    return PartyRole(
        id=own_id(here),
        party=actor_of(here, _BY_ROLE.get(role, _TOOK_PART)[1]),
        written=text(name, "content") if name else None,
        life=names.recognise_statement(here, "life"),
        place=names.recognise_statement(here, "place"),
        relation=names.recognise_statement(here, "relation"),
        role=role,
        visibility=concepts.recognise_visibility(here),
    )


ROLE = Form(_describe_role, _is_role, _recognise_role)


def _describe_price(price: Price) -> Node:
    own = f"#{price.id}"
    paid = node(
        id=f"{own}/amount",
        type="MonetaryAmount",
        identified_by=[
            {"id": f"{own}/amount/written", "type": "Name", "content": price.written}
        ],
        value=whole(price.amount),
        currency=concepts.describe(price.currency) if price.currency else None,
    )
    return node(
        id=own,
        type="Payment",
        paid_amount=paid,
        visibility=concepts.describe_visibility(price.visibility),
    )


def _is_price(here: Node) -> bool:
    return is_a(here, "Payment") and _written(here) is not None


def _written(here: Node) -> str | None:
    paid = one(here, "paid_amount")
    name = one(paid, "identified_by") if paid else None
    return text(name, "content") if name else None


def _recognise_price(here: Node) -> Price:
    paid = one(here, "paid_amount") or {}
    return Price(
        id=own_id(here),
        written=_written(here) or "",
        amount=number(paid, "value"),
        currency=concepts.first(paid, "currency", "currency"),
        visibility=concepts.recognise_visibility(here),
    )


PRICE = Form(_describe_price, _is_price, _recognise_price)

EVIDENCE = form(
    Evidence,
    "AttributeAssignment",
    None,
    {
        "kind": term("evidence"),
        "source": Field(
            lambda held, _: {"motivated_by": [{"id": f"#{held}"}]},
            lambda here: next(
                (
                    str(each["id"])[1:]
                    for each in nodes(here, "motivated_by")
                    if str(each.get("id", "")).startswith("#")
                ),
                None,
            ),
        ),
        "text": statement("text", "note/provenance"),
        "strength": term("strength"),
        "visibility": visibility(),
    },
)


def _describe_until(until: DateSpan, own: str) -> Node:
    at = f"{own}/holding"
    holding = {
        "id": at,
        "type": "Activity",
        "classified_as": [concepts.describe(HOLDING)],
        "timespan": spans.describe_end(until, at),
    }
    return {"continued_by": [holding]}


def _recognise_until(here: Node) -> DateSpan | None:
    for each in nodes(here, "continued_by"):
        if concepts.first(each, "classified_as", "activity") == HOLDING:
            return spans.recognise_end(one(each, "timespan"))
    return None


_EVENT = form(
    ProvenanceEvent,
    "Activity",
    PROVENANCE,
    {
        "number": own_number("event"),
        "order": count("order"),
        "kind": term("provenance"),
        "parties": values("part", ROLE),
        "at": somewhere(),
        "place": document("took_place_at", "Place"),
        "when": span(),
        "until": Field(_describe_until, _recognise_until),
        "phrase": statement("phrase", "note/provenance"),
        "lot": own_number("lot"),
        "stock_number": own_number("stock"),
        "price": value("part", PRICE),
        "passage": term("passage"),
        "certainty": term("certainty"),
        "evidence": values("attributed_by", EVIDENCE),
        "notes": notes(),
        "visibility": visibility(),
    },
)

EXHIBITION = form(
    Exhibition,
    "Activity",
    EXHIBITED,
    {
        "title": named("title"),
        "organiser": party("carried_out_by"),
        "at": somewhere(),
        "place": document("took_place_at", "Place"),
        "when": span(),
        "catalogue_number": own_number("catalogue"),
        "shown_as": named("shown-as"),
        "lender": party("participant"),
        "evidence": values("attributed_by", EVIDENCE),
        "notes": notes(),
        "visibility": visibility(),
    },
)

CITATION = form(
    Citation,
    "LinguisticObject",
    None,
    {
        "kind": term("citation"),
        "text": words("content"),
        "pages": statement("pages"),
        "illustrated": yes("illustrated"),
        "source": document("part_of", "InformationObject"),
        "evidence": values("attributed_by", EVIDENCE),
        "notes": notes(),
        "visibility": visibility(),
    },
)

INQUIRY = form(
    Inquiry,
    "Activity",
    INQUIRED,
    {
        "number": own_number("inquiry"),
        "kind": term("inquiry"),
        "subject": named("subject"),
        "asked": statement("asked", "note/research"),
        "on": day(),
        "by": party("carried_out_by"),
        "result": term("inquiry-result"),
        "reference": own_number("answer"),
        "papers": pointers("used_specific_object"),
        "notes": notes(),
        "visibility": visibility(),
    },
)

RELATION = form(
    Relation,
    "AttributeAssignment",
    None,
    {
        "kind": term("relation"),
        "to": document("assigned", "HumanMadeObject", elsewhere="PhysicalObject"),
        "by": party("carried_out_by"),
        "on": day(),
        "notes": notes(),
        "visibility": visibility(),
    },
)

_WHERE_TO = {
    "to": statement("to", "note/position"),
    "place": document("moved_to", "Place"),
    "keeper": party("participant"),
}
_MOVE = form(
    Movement,
    "Move",
    None,
    {
        **_WHERE_TO,
        "when": span(),
        "reason": term("movement"),
        "by": party("carried_out_by"),
        "notes": notes(),
        "visibility": visibility(),
    },
)


def describe_events(work: Work) -> list[Node]:
    """The provenance events and exhibitions that a painting was present at."""
    events = _EVENT.describe_all(work.provenance)
    painting = {"id": work.document, "type": "HumanMadeObject"}
    for event in events:
        for part in event.get("part", []):
            if part["type"] in TRANSFERRED:
                join(part, {TRANSFERRED[part["type"]]: [painting]})
    return [*events, *EXHIBITION.describe_all(work.exhibitions)]


def recognise_provenance(here: Node) -> tuple[ProvenanceEvent, ...]:
    """The provenance events that a painting was present at."""
    return _EVENT.recognise_all(here, "present_at")


def recognise_exhibitions(here: Node) -> tuple[Exhibition, ...]:
    """The exhibitions that a painting was present at."""
    return EXHIBITION.recognise_all(here, "present_at")


def describe_movements(work: Work) -> list[Node]:
    """The moves of a painting and of its pieces, each naming the thing that moved."""
    things = {
        **{each.id: f"#{each.id}/bearer" for each in work.inscriptions},
        **{each.id: f"#{each.id}/patch" for each in work.repairs},
    }
    moves = []
    for movement in work.movements:
        piece = movement.piece
        thing = things.get(piece, f"#{piece}") if piece else work.document
        moved = {"moved": [{"id": thing, "type": "HumanMadeObject"}]}
        move = _MOVE.describe(movement)
        join(move, moved)
        moves.append(move)
    return moves


def recognise_movements(here: Node) -> tuple[Movement, ...]:
    """The moves of a painting and of its pieces."""
    return tuple(
        recognised(found, _recognise_movement)
        for found in nodes(here, "moved_by")
        if _is_movement(found)
    )


def _is_movement(here: Node) -> bool:
    """Whether a move says where to, in words, by place or by keeper."""
    return _MOVE.wanted(here) and any(
        _WHERE_TO[name].recognise(here) is not None for name in _WHERE_TO
    )


def _recognise_movement(here: Node) -> Movement:
    thing = str((one(here, "moved") or {}).get("id", ""))
    found = _MOVE.recognise(here)
    piece = thing[1:].partition("/")[0] if thing.startswith("#") else None
    return replace(found, piece=piece) if piece else found
