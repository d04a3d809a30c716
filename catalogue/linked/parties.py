"""People and groups ⇄ Person and Group; the contact part is a node of its own that never leaves."""

from __future__ import annotations

from catalogue.linked import concepts, fields, names, spans
from catalogue.linked.node import Misplaced, each, is_a, node, nodes, one, own_id, text
from catalogue.linked.text import Node
from catalogue.measure import DateSpan
from catalogue.record import Address, Consent, Contact, NotSame, Party, Reach

_NOT_SAME = fields.form(
    NotSame,
    "AttributeAssignment",
    None,
    {
        "other": fields.party("not_the_same_as"),
        "written": fields.named("written"),
        "by": fields.party("carried_out_by"),
        "on": fields.day(),
        "notes": fields.notes(),
        "visibility": fields.visibility(),
    },
)
_CONSENT = fields.form(
    Consent,
    "AttributeAssignment",
    None,
    {
        "to": fields.term("consent"),
        "on": fields.day(),
        "by": fields.party("carried_out_by"),
        "withdrawn": fields.date("withdrawn_on"),
        "notes": fields.notes(),
        "visibility": fields.visibility(),
    },
)
_AT_AN_ADDRESS = "activity/at-an-address"


def describe(party: Party) -> Node:
    """The document of a person or a group, with ids relative to it."""
    own = f"#{party.id}"
    person = party.kind == "person"
    began, ended = ("born", "died") if person else ("formed_by", "dissolved_by")
    beginning, ending = ("Birth", "Death") if person else ("Formation", "Dissolution")
    return node(
        id=party.document,
        type="Person" if person else "Group",
        classified_as=concepts.describe_all(party.roles),
        identified_by=[
            *(names.describe_party_name(name) for name in party.names),
            *(names.describe_number(number) for number in party.numbers),
        ],
        carried_out=[_describe_address(address) for address in party.addresses],
        not_same=_NOT_SAME.describe_all(party.not_same),
        consents=_CONSENT.describe_all(party.consents),
        contact=_describe_contact(party.contact),
        referred_to_by=[names.describe_note(note) for note in party.notes],
        visibility=concepts.describe_visibility(party.visibility),
        **{
            began: _describe_turn(party.began, f"{own}/{began}", beginning),
            ended: _describe_turn(party.ended, f"{own}/{ended}", ending),
        },
    )


def recognise(document: Node, uuid: str) -> Party:
    """The person or group of a document, under the id that the ledger keeps it by."""
    person = is_a(document, "Person")
    began, ended = ("born", "died") if person else ("formed_by", "dissolved_by")
    return Party(
        id=uuid,
        kind="person" if person else "group",
        names=each(document, "identified_by", names.recognise_party_name, names.is_name),
        roles=concepts.all_of(document, "classified_as", "role"),
        began=_recognise_turn(document, began),
        ended=_recognise_turn(document, ended),
        addresses=each(document, "carried_out", _recognise_address, _is_address),
        numbers=each(document, "identified_by", names.recognise_number, names.is_number),
        not_same=_NOT_SAME.recognise_all(document, "not_same"),
        consents=_CONSENT.recognise_all(document, "consents"),
        contact=_recognise_contact(one(document, "contact")),
        notes=each(document, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(document),
    )


def _describe_turn(when: DateSpan | None, at: str, kind: str) -> Node | None:
    return node(id=at, type=kind, timespan=spans.describe(when, at)) if when else None


def _recognise_turn(document: Node, key: str) -> DateSpan | None:
    turn = one(document, key)
    return spans.recognise(one(turn, "timespan")) if turn else None


def _describe_address(address: Address) -> Node:
    own = f"#{address.id}"
    return node(
        id=own,
        type="Activity",
        classified_as=[concepts.describe(_AT_AN_ADDRESS)],
        took_place_at=[
            {
                "id": f"{own}/place",
                "type": "Place",
                "identified_by": [
                    {"id": f"{own}/name", "type": "Name", "content": address.text},
                ],
            }
        ],
        timespan=spans.describe(address.when, own),
        referred_to_by=[names.describe_note(note) for note in address.notes],
        visibility=concepts.describe_visibility(address.visibility),
    )


def _recognise_address(here: Node) -> Address:
    place = one(here, "took_place_at") or {}
    name = one(place, "identified_by")
    # A strict record only names the place, which has a record of its own.
    said = text(name, "content") if name else text(place, "_label")
    if said is None:
        raise Misplaced(here, "this address names no place (took_place_at, identified_by)")
    return Address(
        id=own_id(here),
        text=said,
        when=spans.recognise(one(here, "timespan")),
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
        visibility=concepts.recognise_visibility(here),
    )


def _is_address(here: Node) -> bool:
    return concepts.first(here, "classified_as", "activity") == _AT_AN_ADDRESS


def _describe_contact(contact: Contact | None) -> Node | None:
    if contact is None:
        return None
    return node(
        id=f"#{contact.id}",
        type="InformationObject",
        part=[
            {
                "id": f"#{reach.id}",
                "type": "Identifier",
                "classified_as": [concepts.describe(reach.medium)],
                "content": reach.text,
            }
            for reach in contact.reaches
        ],
        referred_to_by=[names.describe_note(note) for note in contact.notes],
    )


def _recognise_contact(here: Node | None) -> Contact | None:
    if here is None:
        return None
    return Contact(
        id=own_id(here),
        reaches=tuple(
            Reach(
                id=own_id(found),
                medium=concepts.first(found, "classified_as", "reach") or "reach/other",
                text=text(found, "content") or "",
            )
            for found in nodes(here, "part")
        ),
        notes=each(here, "referred_to_by", names.recognise_note, names.is_note),
    )
