"""Other people's documents ⇄ a Reference: nothing is changed, only what lists need is read."""

from __future__ import annotations

from catalogue.linked.addresses import full_address
from catalogue.linked.names import is_name
from catalogue.linked.node import nodes, types
from catalogue.linked.text import Node
from catalogue.record import Reference


def describe(reference: Reference) -> Node:
    """A document that says no more than an address, types and labels, for one made by hand."""
    return {
        "id": reference.address or reference.document,
        "type": list(reference.types) or ["Type"],
        "identified_by": [{"type": "Name", "content": label} for label in reference.labels],
    }


def recognise(document: Node, uuid: str) -> Reference:
    """The reference that a foreign document is: its address, its types, what it is called."""
    return Reference(
        id=uuid,
        address=full_address(document),
        types=tuple(types(document)) or _at_types(document),
        labels=tuple(_labels(document)),
    )


def _at_types(document: Node) -> tuple[str, ...]:
    held = document.get("@type")
    listed = held if isinstance(held, list) else [held]
    return tuple(each for each in listed if isinstance(each, str))


def _labels(document: Node) -> list[str]:
    named = [
        found.get("content") for found in nodes(document, "identified_by") if is_name(found)
    ]
    other = [document.get(key) for key in ("_label", "name", "title", "label")]
    said = (_text_of(each) for each in (*named, *other))
    return [label for label in said if label.strip()]


def _text_of(said: object) -> str:
    """A text, with or without its language beside it; "" for anything else."""
    if isinstance(said, dict):
        said = said.get("@value")
    return said if isinstance(said, str) else ""
