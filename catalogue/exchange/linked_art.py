"""Strict Linked Art 1.0: one file for each record, only keys that the published schemas allow."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from catalogue.exchange.outgoing import Files, Leaving, Sender
from catalogue.linked import concepts, strict
from catalogue.linked.addresses import absolute
from catalogue.linked.node import is_a, nodes
from catalogue.linked.text import Node, write_readable
from catalogue.record import Number
from catalogue.record.authority import address_of
from catalogue.terms import Concept

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

    The concepts of our own that they use come last, as concepts: many documents share them.
    """
    made = strict.reduce(leaving.document, sender.labels)
    for number, record in enumerate(made):
        stem = leaving.stem if number == 0 else f"{leaving.stem}-{_ending(record)}"
        yield stem, _finished(record, sender, leaving.document_id, known=number == 0)
    for concept in strict.concepts_used(made):
        yield f"concept-{_slug(concept.key)}", concept


@cache
def _concept_file(known: Concept) -> bytes:
    """Works share their concepts, and a concept says the same whoever sends it."""
    return write_readable(strict.concept_record(known))


def _finished(record: Node, sender: Sender, document_id: str, *, known: bool) -> Node:
    whole = absolute(record, sender.base, document_id)
    if sender.base and known:
        uuid = document_id.partition("/")[2]
        whole["equivalent"] = [{"id": f"urn:uuid:{uuid}", "type": record["type"]}]
    if same := list(_in_other_lists(record)):
        whole["equivalent"] = [*whole.get("equivalent", ()), *same]
    return whole


def _in_other_lists(record: Node) -> Iterator[Node]:
    """Where public lists of names have this person or group, by the Identifiers that say so."""
    if record["type"] not in ("Person", "Group"):
        return
    for each in nodes(record, "identified_by"):
        kind = concepts.first(each, "classified_as", "number")
        if is_a(each, "Identifier") and kind and each.get("content"):
            address = address_of(Number(kind=kind, text=str(each["content"])))
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
