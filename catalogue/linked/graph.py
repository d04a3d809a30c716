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
from catalogue.linked.text import Node


def graph(document: Node, base: str | None = None) -> rdflib.Graph:
    """The triples of a document as rdflib reads them; relative ids resolve against `base`."""
    inlined = _inlined(absolute(document, base))
    found = rdflib.Graph()
    found.parse(data=_as_json(inlined), format="json-ld")
    return found


def graph_by_pyld(document: Node, base: str | None = None) -> rdflib.Graph:
    """The triples of the same document as pyld reads them, for comparison."""
    whole = absolute(document, base)
    _check(whole)
    try:
        quads = jsonld.to_rdf(
            whole, {"format": "application/n-quads", "documentLoader": loader}
        )
    except jsonld.JsonLdError as refused:
        raise _explained(refused) from None
    found = rdflib.Graph()
    found.parse(data=quads, format="nt")
    return found


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
    return json.dumps(document, default=str)


def _explained(refused: Exception) -> BadDocument:
    cause: BaseException | None = refused
    while cause is not None:
        if isinstance(cause, UnknownContext):
            return BadDocument(str(cause), where="/@context")
        cause = cause.__cause__ or cause.__context__
    return BadDocument(f"this is not JSON-LD: {refused.args[0] if refused.args else refused}")
