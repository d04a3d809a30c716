"""Strict Linked Art 1.0: one file for each record, only keys that the published schemas allow."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked import concepts, strict
from catalogue.linked.addresses import address_of, is_own, mapped
from catalogue.linked.node import is_a, many, nodes
from catalogue.linked.strict.as_it_came import is_strict
from catalogue.linked.text import Node, write_readable
from catalogue.record import Number, authority
from catalogue.terms import Concept, of_iri

SAYS = "Linked Art 1.0: what collection databases read; some of the detail has no place there."

_UNSAFE = re.compile(r"[^a-z0-9-]+")


def write(leaving: Leaving, sender: Sender) -> Files:
    """The record of the document and of everything in it, `<stem>.json` first, then `<stem>-...`."""
    for name, record in records(leaving, sender):
        yield (
            f"{name}.json",
            write_readable(record) if isinstance(record, dict) else _concept_file(record),
        )


def records(leaving: Leaving, sender: Sender) -> Iterator[tuple[str, Node | Concept]]:
    """The strict records of a document with full addresses, each with its stem for file names.

    The concepts of our own that they use come last, as concepts: many documents share them. A
    document that is a strict record as it stands leaves as it came.
    """
    known = _concept_of(leaving.document)
    if known is not None:
        yield f"concept-{_slug(known.key)}", known
        return
    if is_strict(leaving.document):
        made = [leaving.document]
    else:
        made = strict.reduce(leaving.document, sender.labels)
    used: set[str] = set()
    for number, record in enumerate(made):
        stem = leaving.stem if number == 0 else f"{leaving.stem}-{_ending(record)}"
        yield stem, _finished(record, sender, leaving.document_id, used, known=number == 0)
    for concept in strict.concepts_of(used):
        yield f"concept-{_slug(concept.key)}", concept


def _concept_of(document: Node) -> Concept | None:
    """The concept of our own whose record this is: it came back from where it had been sent."""
    address = str(document.get("id", ""))
    if not address.startswith(concepts.NAMESPACE):
        return None
    return of_iri(address, address.removeprefix(concepts.NAMESPACE).partition("/")[0])


@cache
def _concept_file(known: Concept) -> bytes:
    """Works share their concepts, and a concept says the same whoever sends it."""
    return write_readable(strict.concept_record(known))


def _finished(
    record: Node, sender: Sender, document_id: str, used: set[str], *, known: bool
) -> Node:
    """The record with full addresses; those that are somebody else's are added to `used`."""

    def resolve(address: str, here: Node) -> str:
        if is_own(address):
            return address_of(address, document_id, sender.base)
        if here.get("id") == address:
            used.add(address)
        return address

    whole = mapped(record, resolve)
    said = [*many(whole, "equivalent")]
    if sender.base and known and record["id"] == document_id:
        uuid = document_id.partition("/")[2]
        said.insert(0, {"id": f"urn:uuid:{uuid}", "type": record["type"]})
    said += [each for each in _in_other_lists(record) if each not in said]
    return {**whole, "equivalent": said} if said else whole


def _in_other_lists(record: Node) -> Iterator[Node]:
    """Where public lists of names have this person or group, by the Identifiers that say so."""
    if record["type"] not in ("Person", "Group"):
        return
    for each in nodes(record, "identified_by"):
        kind = concepts.first(each, "classified_as", "number")
        if is_a(each, "Identifier") and kind and each.get("content"):
            address = authority.address_of(Number(kind=kind, text=str(each["content"])))
            if address:
                yield {"id": address, "type": record["type"]}


def _ending(record: Node) -> str:
    """What tells the records of one document apart: their type and id, which never change."""
    address = str(record["id"]).removeprefix("#")
    return f"{_KINDS.get(str(record['type']), 'record')}-{_slug(address)}"


_KINDS = {
    "HumanMadeObject": "object",
    "LinguisticObject": "text",
    "DigitalObject": "photo",
    "Group": "group",
    "Place": "place",
}


def _slug(text: str) -> str:
    return _UNSAFE.sub("-", text.lower()).strip("-")
