"""Taking in records as JSON-LD: from a file to its documents, each checked, none saved here.

A file holds one document, a list of them, or a `@graph`. What its context does not define is kept
in the bytes of the file and said; a document that cannot be read does not stop the others.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from catalogue.errors import BadDocument, CatalogueError
from catalogue.exchange.incoming import Arrival, Receiver, Refusal
from catalogue.linked import contexts
from catalogue.linked.addresses import relative, uuid_in
from catalogue.linked.documents import CONTEXTS, from_jsonld, kind_of
from catalogue.linked.graph import dropped
from catalogue.linked.node import many
from catalogue.linked.text import Node, nodes_within, parse

LARGEST = 64 * 1024 * 1024
"""The largest JSON file that is taken in, in bytes: a parcel of that size should be cut up."""


def arrivals(source: Path, receiver: Receiver) -> Iterator[Arrival | Refusal]:
    """The documents of one JSON file."""
    base, kinds = receiver.base, receiver.kinds
    try:
        documents = _documents(source)
    except CatalogueError as error:
        yield Refusal(source, error)
        return
    inside = {
        uuid: kind_of(document)
        for document in documents
        if (uuid := _own_uuid(document, base)) is not None
    }
    for document in documents:
        try:
            yield _arrival(source, document, base, lambda uuid: inside.get(uuid) or kinds(uuid))
        except CatalogueError as error:
            yield Refusal(source, error)


def _documents(source: Path) -> list[Node]:
    if not source.is_file():
        raise BadDocument(f"{source} is not there", remedy="check the path")
    size = source.stat().st_size
    if size > LARGEST:
        raise BadDocument(
            f"{source} is {size // 1_000_000} MB; at most {LARGEST // 1_000_000} MB are read at once",
            remedy="cut it into files of one document each",
        )
    content = source.read_bytes()
    if content.lstrip()[:1] == b"[":
        content = b'{"@graph":' + content + b"}"
    whole = parse(content)
    if "@graph" not in whole:
        return [whole]
    members = whole["@graph"] if isinstance(whole["@graph"], list) else [whole["@graph"]]
    shared = {"@context": whole["@context"]} if "@context" in whole else {}
    for place, member in enumerate(members):
        if not isinstance(member, dict):
            raise BadDocument("a document is one JSON object", where=f"/@graph/{place}")
    return [{**shared, **member} for member in members]


def _arrival(
    source: Path, document: Node, base: str | None, kinds: Callable[[str], str | None]
) -> Arrival:
    contexts.resolved(document.get("@context"))
    not_understood = _not_understood(document)
    own = _own_uuid(document, base)
    if own:
        kind = kinds(own) or kind_of(document)
        sent_under = _base_of(document, f"{kind}/{own}") or base
        document = _tidied(relative(document, sent_under, kinds), f"{kind}/{own}")
    document_id = _kept_as(document)
    record = from_jsonld(document, document_id=document_id)
    return Arrival(source, document_id, document, record, not_understood)


def _kept_as(document: Node) -> str:
    kind = kind_of(document)
    address = str(document.get("id", ""))
    if address == f"{kind}/{address.partition('/')[2]}":
        return address
    # Another institution's record, whatever it is about, is kept as it came.
    return f"reference/{from_jsonld(document).id}"


def _own_uuid(document: Node, base: str | None) -> str | None:
    """The UUID under which the studio (or another dorse) sent this document out, or None."""
    address = document.get("id")
    if not isinstance(address, str):
        return None
    same = many(document, "equivalent")
    others = [each.get("id") for each in same if isinstance(each, dict)]
    for each in (address, *others):
        found = uuid_in(each, base) if isinstance(each, str) else None
        if found:
            return found
    return None


def _base_of(document: Node, own: str) -> str | None:
    """The base of the studio that sent a document out, which need not be ours; None for `urn:uuid:`."""
    address = str(document.get("id", ""))
    return address.removesuffix(own) if address.endswith(f"/{own}") else None


def _tidied(document: Node, document_id: str) -> Node:
    """A document of ours as it is kept: our contexts by address, no labels that exports fill in."""
    own = {**document, "id": document_id}
    said = own.get("@context")
    if isinstance(said, list) and said[:1] == CONTEXTS[:1] and len(said) == 2:
        own["@context"] = CONTEXTS
    uuid = document_id.partition("/")[2]
    others = [
        each for each in many(own, "equivalent")
        if not (isinstance(each, dict) and uuid in str(each.get("id")))
    ]  # fmt: skip
    own.pop("equivalent", None)
    if others:
        own["equivalent"] = others
    tidied: Node = _bare_actors(own)
    return tidied


def _bare_actors(value: Any) -> Any:
    """References to parties of ours as documents keep them: by id, without type and label."""
    if isinstance(value, list):
        return [_bare_actors(each) for each in value]
    if not isinstance(value, dict):
        return value
    if str(value.get("id", "")).startswith("party/") and value.keys() <= {
        "id",
        "type",
        "_label",
    }:
        return {"id": value["id"], "type": "Actor"}
    return {
        key: held if key == "@context" else _bare_actors(held) for key, held in value.items()
    }


def _not_understood(document: Node) -> tuple[str, ...]:
    """The keys that a reader of JSON-LD would lose: asked of pyld only when one is strange at all."""
    if _keys(document) <= _defined():
        return ()
    return dropped(document)


def _keys(document: Node) -> set[str]:
    within = (key for here in nodes_within(document) for key in here)
    return {*document, *within} - {"@context"}


@cache
def _defined() -> frozenset[str]:
    """Every key that the two contexts define somewhere."""
    found: set[str] = set()
    pending: list[Any] = [contexts.context(address)["@context"] for address in CONTEXTS]
    while pending:
        here = pending.pop()
        if isinstance(here, dict):
            found.update(key for key in here if not key.startswith("@"))
            pending += [held for key, held in here.items() if isinstance(held, dict)]
    return frozenset(found)
