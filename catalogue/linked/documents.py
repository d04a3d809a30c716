"""Records ⇄ documents: which mapping belongs to which, and every format ever written.

A document is a node with a context and ids relative to it. `to_jsonld` makes one from a record;
`from_jsonld` reads one, of ours or of somebody else's, whatever format it was written in.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from uuid import NAMESPACE_URL, uuid5

from catalogue.errors import BadDocument
from catalogue.linked import jobs, parties, references, works
from catalogue.linked.addresses import full_address
from catalogue.linked.adoption import adopt
from catalogue.linked.node import Misplaced, is_a
from catalogue.linked.text import Node, pointer_to
from catalogue.record import Job, Party, Record, Reference, Work
from catalogue.record.rules import DOCUMENT_ID

FORMAT = 2
"""The format that dorse writes today."""


def _contact_of_parts(document: Node) -> Node:
    """Of 1: a contact had its reaches as `contact_point`, which only a person or group can have."""
    contact = document.get("contact")
    if not isinstance(contact, dict) or "contact_point" not in contact:
        return document
    parted = {{"contact_point": "part"}.get(key, key): held for key, held in contact.items()}
    return {**document, "contact": parted}


STEPS: tuple[Callable[[Node], Node], ...] = (_contact_of_parts,)
"""How a document of format 1, 2 ... becomes one of the next; the last leads to `FORMAT`.

A step finds nothing to do in a newer document: what comes from elsewhere does not say its format.
"""

CONTEXTS = [
    "https://linked.art/ns/v1/linked-art.json",
    "https://dorse.example/ns/1/context.json",
]
"""What stored documents name as their context; neither is ever fetched."""

_OWN = re.compile(DOCUMENT_ID)


def describe(record: Record) -> Node:
    """The node of a record, without a context."""
    match record:
        case Work():
            return works.describe(record)
        case Party():
            return parties.describe(record)
        case Job():
            return jobs.describe(record)
        case Reference():
            return references.describe(record)


def to_jsonld(record: Record) -> Node:
    """The document of a record, as the ledger keeps a new one."""
    return {"@context": CONTEXTS, **describe(record)}


def from_jsonld(
    document: Node, *, document_id: str | None = None, written_in: int = 1
) -> Record:
    """The record of a document; `document_id` is the one the ledger keeps it by, if it does.

    `from_jsonld(to_jsonld(r)) == r`. Raises `BadDocument` with the place of what is wrong.
    """
    document = as_today(document, written_in)
    kind, uuid = _kept_as(document, document_id)
    adopted = adopt(document).document
    try:
        return _MAPPINGS[kind](adopted, uuid)
    except Misplaced as wrong:
        where = pointer_to(adopted, wrong.node) or "/"
        raise BadDocument(str(wrong), where=where) from None
    except BadDocument:
        raise
    except ValueError as refused:
        raise BadDocument(str(refused)) from None


def as_today(document: Node, written_in: int = 1) -> Node:
    """A document in the format that dorse writes today; `written_in` is the one it was written in."""
    for step in STEPS[written_in - 1 :]:
        document = step(document)
    return document


_MAPPINGS: dict[str, Callable[[Node, str], Record]] = {
    "work": works.recognise,
    "party": parties.recognise,
    "job": jobs.recognise,
    "reference": references.recognise,
}


def kind_of(document: Node) -> str:
    """Which of the four kinds of document this is: work, party, job or reference."""
    own = _OWN.fullmatch(str(document.get("id", "")))
    if own:
        return own[1]
    if is_a(document, "HumanMadeObject") and works.is_painting(document):
        return "work"
    if is_a(document, "Person", "Group"):
        return "party"
    return "job" if is_a(document, "Activity") and jobs.is_job(document) else "reference"


def _kept_as(document: Node, document_id: str | None) -> tuple[str, str]:
    """The kind and UUID to read a document under; a stranger's UUID comes from its address."""
    own = _OWN.fullmatch(document_id or str(document.get("id", "")))
    if own:
        return own[1], own[2]
    if document_id is not None:
        raise BadDocument(f"{document_id!r} is not the id of a document (work/<uuid> ...)")
    return kind_of(document), uuid_of(document)


def uuid_of(document: Node) -> str:
    """The UUID under which a stranger's document is kept, made from its address."""
    address = full_address(document)
    if address is None:
        raise BadDocument("this document has no id", remedy='give it an "id": a full address')
    return str(uuid5(NAMESPACE_URL, address))
