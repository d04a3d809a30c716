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
from catalogue.linked.addresses import relative, sent_under, uuid_in
from catalogue.linked.concepts import NAMESPACE
from catalogue.linked.documents import CONTEXTS, from_jsonld, kind_of, uuid_of
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
    contexts.check(document)
    not_understood = _not_understood(document)
    own = _own_uuid(document, base)
    whole = _is_whole(document)
    kind = (kinds(own) or kind_of(document)) if own else None
    if own and kind and (whole or kind != "reference"):
        under = sent_under(str(document.get("id"))) or base
        as_ours = relative(document, under, kinds, strict=not whole)
        as_ours = _tidied(as_ours, f"{kind}/{own}", whole=whole)
        try:
            record = from_jsonld(as_ours, document_id=f"{kind}/{own}")
        except BadDocument as refused:
            if whole:
                raise
            # What strict records have no place for may be what a value of ours can't do without.
            said = (f"kept as a record from elsewhere: {refused}",)
            return _from_elsewhere(source, document, not_understood, kinds, said)
        return Arrival(
            source, f"{kind}/{own}", as_ours, record, not_understood, reduced=not whole
        )
    document_id = str(document.get("id", ""))
    if document_id == f"{kind_of(document)}/{document_id.partition('/')[2]}":
        record = from_jsonld(document, document_id=document_id)
        return Arrival(source, document_id, document, record, not_understood)
    return _from_elsewhere(source, document, not_understood, kinds)


def _from_elsewhere(
    source: Path,
    document: Node,
    not_understood: tuple[str, ...],
    kinds: Callable[[str], str | None],
    said: tuple[str, ...] = (),
) -> Arrival:
    """Another institution's record, whatever it is about, is kept as it came.

    One of a value that another dorse sent as a strict record knows whole documents of ours again.
    """
    document_id = f"reference/{uuid_of(document)}"
    under = sent_under(str(document.get("id", "")))
    if under and not _is_whole(document):
        document = {
            **relative(document, under, kinds, strict=True),
            **({"id": document["id"]} if "id" in document else {}),
        }
    record = from_jsonld(document, document_id=document_id)
    return Arrival(source, document_id, document, record, not_understood, said=said)


def _is_whole(document: Node) -> bool:
    """Whether this is a document as dorse keeps it, not a strict record or somebody else's."""
    said = document.get("@context")
    if not isinstance(said, list) or said[:1] != CONTEXTS[:1]:
        return False
    return any(
        each == contexts.OURS or (isinstance(each, dict) and each.get("dorse") == NAMESPACE)
        for each in said[1:]
    )


def _own_uuid(document: Node, base: str | None) -> str | None:
    """The UUID under which the studio (or another dorse) sent this document out, or None.

    Somebody else's record that names one of ours as the same thing is still somebody else's.
    """
    address = document.get("id")
    if not isinstance(address, str):
        return None
    own = uuid_in(address, base)
    if own is None and (under := sent_under(address)) is not None:
        own = uuid_in(address, under)
        same = [
            each.get("id") for each in many(document, "equivalent") if isinstance(each, dict)
        ]
        return own if own and f"urn:uuid:{own}" in same else None
    return own


def _tidied(document: Node, document_id: str, *, whole: bool) -> Node:
    """A document of ours as it is kept: our contexts by address, no labels that exports fill in."""
    own = {**document, "id": document_id}
    if whole:
        own["@context"] = _by_address(own["@context"])
    uuid = document_id.partition("/")[2]
    others = [
        each for each in many(own, "equivalent")
        if not (isinstance(each, dict) and uuid in str(each.get("id")))
    ]  # fmt: skip
    own.pop("equivalent", None)
    if others:
        own["equivalent"] = others
    if not whole:
        return own
    tidied: Node = _bare_actors(own)
    return tidied


def _by_address(said: list[Any]) -> list[Any]:
    """The contexts of a document with ours by address; terms that another version says otherwise stay."""
    ours = contexts.context(contexts.OURS)["@context"]
    found: list[Any] = []
    for each in said:
        if isinstance(each, dict) and each.get("dorse") == NAMESPACE:
            found.append(contexts.OURS)
            others = {key: held for key, held in each.items() if ours.get(key) != held}
            if others:
                found.append(others)
        else:
            found.append(each)
    return found


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
    if isinstance(value.get("within"), dict):
        # A value of another document, which the export had to say beside it.
        bare = {key: held for key, held in value.items() if key != "within"}
        return {**bare, "id": f"{value['within'].get('id')}{value.get('id')}"}
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
