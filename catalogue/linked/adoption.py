"""Nodes that came without an id of ours, given one for as long as a document is read or changed.

A foreign document names its nodes by its own addresses or not at all. To tell its values apart, and
to find them again when one is changed, each gets an id made from what it is: from its address, else
from what it says. The same document always gets the same ids, however its arrays are ordered.
"""

from __future__ import annotations

import json
from collections.abc import Set
from dataclasses import dataclass
from uuid import NAMESPACE_URL, UUID, uuid5

from catalogue.linked.concepts import NAMESPACE
from catalogue.linked.node import is_a, many
from catalogue.linked.text import Node, copy_of, nodes_within

_NOT_OURS = (
    "Type", "Material", "Language", "MeasurementUnit", "Currency",
    "Actor", "Person", "Group", "Place", "Set", "InformationObject",
)  # fmt: skip
_OWN_NUMBERS = frozenset(
    f"{NAMESPACE}number/{what}"
    for what in (
        "studio", "job", "inscription", "photo", "check", "finding", "repair", "test", "treatment",
        "event", "inquiry", "answer", "paper", "piece", "bag", "batch", "proposal", "digest", "file-name",
    )
)  # fmt: skip
"""Numbers that a value has but one of, so that it is told from others by its kind alone."""

_REFERENCE_KEYS = frozenset(("id", "type", "_label", "equivalent"))


@dataclass(frozen=True, slots=True)
class Adopted:
    """A document in which every value's node has an id of ours, and how to undo that."""

    document: Node
    given: dict[str, str | None]

    def released(self, changed: Set[str]) -> Node:
        """The document with the ids that it came with; nodes that were changed keep a given one."""
        for here in nodes_within(self.document):
            address = here.get("id")
            if address in self.given:
                original = self.given[address]
                if original is not None:
                    here["id"] = original
                elif address not in changed:
                    del here["id"]
        return self.document


def adopt(document: Node, *, copy: bool = False) -> Adopted:
    """The document with ids for what has none; not a copy unless something has to be given or asked."""
    waiting = any(_needs_one(here) for here in nodes_within(document))
    if not waiting:
        return Adopted(copy_of(document) if copy else document, {})
    own: Node = copy_of(document)
    root = uuid5(NAMESPACE_URL, str(document.get("id")))
    given: dict[str, str | None] = {}
    for here in [found for found in nodes_within(own) if _needs_one(found)]:
        original = here.get("id")
        address = _address_for(here, root, given) + _what_it_is(here)
        given[address] = original
        # The id leads, where people look for it first.
        rest = {key: value for key, value in here.items() if key != "id"}
        here.clear()
        here.update({"id": address, **rest})
    return Adopted(own, given)


def _address_for(here: Node, root: UUID, given: dict[str, str | None]) -> str:
    original = here.get("id")
    if isinstance(original, str):
        return f"#{uuid5(NAMESPACE_URL, original)}"
    said = json.dumps(here, sort_keys=True, default=str)
    again = 0
    while (address := f"#{uuid5(root, f'{said}{again or str()}')}") in given:
        again += 1
    return address


def _what_it_is(here: Node) -> str:
    """What follows the UUID of a node that belongs to another: `/studio` for the studio's own number."""
    if not is_a(here, "Identifier"):
        return ""
    kinds = (
        str(each.get("id")) for each in many(here, "classified_as") if isinstance(each, dict)
    )
    own = next((each for each in kinds if each in _OWN_NUMBERS), None)
    return f"/{own.rpartition('/')[2]}" if own else ""


def _needs_one(here: Node) -> bool:
    """Whether this node says something of its own and has no id of ours."""
    address = here.get("id")
    if not isinstance(address, str):
        return "type" in here and not is_a(here, *_NOT_OURS)
    # What is asked first settles most nodes of our own at once.
    if address[:1] == "#" or here.keys() <= _REFERENCE_KEYS or ":" not in address:
        return False
    return not is_a(here, *_NOT_OURS)
