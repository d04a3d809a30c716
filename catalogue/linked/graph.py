"""Documents as RDF, by two engines: rdflib for our own use, pyld as the second opinion.

Neither ever writes a stored document. Both need absolute addresses, so documents are resolved
against a base first; without one the engines would make up their own.
"""

from __future__ import annotations

import json
from typing import Any

import rdflib
from pyld import jsonld

from catalogue.errors import BadDocument, UnknownContext
from catalogue.linked import contexts
from catalogue.linked.addresses import absolute
from catalogue.linked.ntriples import full, nameless, quoted
from catalogue.linked.text import Node

_STRING = "http://www.w3.org/2001/XMLSchema#string"
_NOWHERE = "http://nowhere.invalid/"
"""Where relative addresses would lead; an engine without a base takes the folder it runs in."""


def graph(document: Node, base: str | None = None) -> rdflib.Graph:
    """The triples of a document as rdflib reads them; relative ids resolve against `base`."""
    inlined = _inlined(absolute(document, base))
    read = rdflib.Graph()
    read.parse(data=_as_json(inlined), format="json-ld", publicID=_NOWHERE)
    found = rdflib.Graph()
    for triple in read:
        if not any(isinstance(each, rdflib.URIRef) and _is_nowhere(each) for each in triple):
            found.add(triple)
    return found


def graph_by_pyld(document: Node, base: str | None = None) -> rdflib.Graph:
    """The triples of the same document as pyld reads them, for comparison."""
    found = rdflib.Graph()
    found.parse(data="\n".join(lines_by_pyld(document, base)), format="nt")
    return found


def lines_by_pyld(document: Node, base: str | None = None) -> tuple[str, ...]:
    """The triples as lines of N-Triples; one with an address that is not a full one is left out."""
    whole = absolute(document, base)
    _check(whole)
    try:
        dataset = jsonld.to_rdf(
            json.loads(_as_json(whole)), {"documentLoader": loader, "base": _NOWHERE}
        )
    except jsonld.JsonLdError as refused:
        raise _explained(refused) from None
    # What a document says in a graph of its own (`@graph` with a name) is not said of the object.
    tag = nameless(document)
    found = []
    for triple in dataset.get("@default", ()):
        said = [_written(triple[place], tag) for place in ("subject", "predicate", "object")]
        known = [each for each in said if each is not None]
        if len(known) == len(said):
            found.append(f"{' '.join(known)} .")
    return tuple(found)


def _is_nowhere(address: str) -> bool:
    return address.startswith(_NOWHERE) or full(address) is None


def _written(term: dict[str, str], tag: str) -> str | None:
    value = term["value"]
    if term["type"] == "IRI":
        return None if _is_nowhere(value) else full(value)
    if term["type"] == "blank node":
        return f"{tag}{value.removeprefix('_:')}"
    if "language" in term:
        return f"{quoted(value)}@{term['language']}"
    datatype = term["datatype"]
    return quoted(value) if datatype == _STRING else f"{quoted(value)}^^<{datatype}>"


def dropped(document: Node, base: str | None = None) -> tuple[str, ...]:
    """The keys that the document's context doesn't define, and that a reader would lose in silence."""
    lost: list[str] = []
    whole = absolute(document, base)
    _check(whole)
    try:
        jsonld.expand(whole, {"documentLoader": loader}, on_property_dropped=lost.append)
    except jsonld.JsonLdError as refused:
        raise _explained(refused) from None
    return tuple(sorted(set(lost)))


def loader(address: str, _: object = None) -> dict[str, Any]:
    """The document loader for pyld: files only. Raises `UnknownContext` for anything else."""
    return {
        "contentType": "application/ld+json",
        "contextUrl": None,
        "documentUrl": address,
        "document": contexts.context(address),
    }


def _check(document: Node) -> None:
    """Name an unknown context ourselves: pyld would bury it in an error of its own."""
    contexts.resolved(document.get("@context"))


def _inlined(document: Node) -> Node:
    return {**document, "@context": contexts.resolved(document.get("@context"))}


def _as_json(document: Node) -> str:
    return json.dumps(document, default=float)


def _explained(refused: Exception) -> BadDocument:
    cause: BaseException | None = refused
    while cause is not None:
        if isinstance(cause, UnknownContext):
            return BadDocument(str(cause), where="/@context")
        cause = cause.__cause__ or cause.__context__
    return BadDocument(f"this is not JSON-LD: {refused.args[0] if refused.args else refused}")
