"""The pieces that every mapping is made of: reading a node's keys, and writing small nodes.

A node that dorse writes has an id. A value's own node is `#<uuid>`; a node that belongs to it and
cannot be cited alone is `#<uuid>/<what it is>`, so that there are no blank nodes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from catalogue.errors import BadData, BadDocument
from catalogue.linked.text import Node

T = TypeVar("T")

BRIEF_TEXT: Node = {
    "id": "http://vocab.getty.edu/aat/300418049",
    "type": "Type",
    "_label": "brief texts",
}
PREFERRED: Node = {
    "id": "http://vocab.getty.edu/aat/300404670",
    "type": "Type",
    "_label": "preferred terms",
}
PART_TYPE: Node = {
    "id": "http://vocab.getty.edu/aat/300241583",
    "type": "Type",
    "_label": "components (objects parts)",
}


class Misplaced(Exception):
    """Something is wrong in this very node; `from_jsonld` turns it into a `BadDocument` with its place."""

    def __init__(self, node: object, message: str) -> None:
        super().__init__(message)
        self.node = node


def node(**keys: Any) -> Node:
    """A node of these keys, without those that hold nothing.

    >>> node(id="#1", content="x", language=[], format=None)
    {'id': '#1', 'content': 'x'}
    """
    return {key: value for key, value in keys.items() if value or value not in (None, [], "")}


def many(here: Node, key: str) -> list[Any]:
    """What stands under a key as a list: JSON-LD lets one value stand without brackets."""
    held = here.get(key)
    if held is None:
        return []
    return held if isinstance(held, list) else [held]


def nodes(here: Node, key: str) -> Iterator[Node]:
    """The nodes under a key; a bare address stands for a node that says no more."""
    # Most keys that are asked for are not there.
    return _nodes(here, key) if key in here else iter(())


def _nodes(here: Node, key: str) -> Iterator[Node]:
    for each in many(here, key):
        if isinstance(each, dict):
            yield each
        elif isinstance(each, str):
            yield {"id": each}
        else:
            raise Misplaced(here, f"under {key!r} stands {each!r} where a node is expected")


def written_out(here: Node, key: str) -> Iterator[Node]:
    """The nodes that are written out under a key; addresses, and anything else, are passed over."""
    return (each for each in many(here, key) if isinstance(each, dict))


def one(here: Node, key: str) -> Node | None:
    """The first node under a key, or None."""
    return next(nodes(here, key), None)


def text(here: Node, key: str) -> str | None:
    """The text under a key, or None. A number or a node in its place is an error.

    >>> text({"content": {"@value": "Der Teich", "@language": "de"}}, "content")
    'Der Teich'
    """
    held = here.get(key)
    if held is None:
        return None
    if isinstance(held, list) and len(held) == 1:
        held = held[0]
    if isinstance(held, dict) and "@value" in held:
        held = held["@value"]
    if not isinstance(held, str):
        raise Misplaced(here, f"{key!r} holds {_short(held)} where a text is expected")
    return held


def number(here: Node, key: str) -> float | None:
    """The number under a key, or None; whole numbers come back whole."""
    held = here.get(key)
    if held is None:
        return None
    if isinstance(held, bool | str | dict | list):
        raise Misplaced(here, f"{key!r} holds {_short(held)} where a number is expected")
    return held if isinstance(held, int) else float(held)


def truth(here: Node, key: str) -> bool | None:
    """The yes or no under a key, or None."""
    held = here.get(key)
    if held is None or isinstance(held, bool):
        return held
    raise Misplaced(here, f"{key!r} holds {_short(held)} where true or false is expected")


def types(here: Node) -> list[str]:
    """The types of a node."""
    return [each for each in many(here, "type") if isinstance(each, str)]


def is_a(here: Node, *wanted: str) -> bool:
    """Whether a node has one of these types."""
    said = here.get("type")
    return said in wanted if isinstance(said, str) else any(it in wanted for it in types(here))


def whole(value: float | None) -> float | int | None:
    """The same number, without a fraction where it has none."""
    return int(value) if value is not None and float(value).is_integer() else value


def own_id(here: Node) -> str:
    """The UUID of the value whose own node this is."""
    found = here.get("id")
    if not isinstance(found, str) or not found.startswith("#"):
        raise Misplaced(here, f"the id {_short(found)} is not one of this document")
    return found[1:]


def each(
    here: Node, key: str, recognise: Callable[[Node], T], wanted: Callable[[Node], bool]
) -> tuple[T, ...]:
    """The values recognised in those nodes under a key that `wanted` lets through."""
    return tuple(recognised(found, recognise) for found in nodes(here, key) if wanted(found))


def recognised(here: Node, recognise: Callable[[Node], T]) -> T:
    """What `recognise` makes of a node; a value that is refused is refused at this place."""
    try:
        return recognise(here)
    except BadDocument:
        raise
    except BadData as refused:
        raise Misplaced(here, str(refused)) from None


def actor(document_id: str | None) -> list[Node]:
    """A party in the role that the key names, by id only: its label is filled in at export."""
    return [{"id": document_id, "type": "Actor"}] if document_id else []


def actor_of(here: Node, key: str) -> str | None:
    """The first actor named under a key, by id, or None."""
    found = one(here, key)
    held = found.get("id") if found else None
    return held if isinstance(held, str) else None


def _short(value: object) -> str:
    said = repr(value)
    return said if len(said) <= 60 else said[:57] + "..."
