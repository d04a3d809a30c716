"""What the keys of a document mean, compiled once from its contexts.

Only what the known contexts use is compiled: terms with an IRI, how their values are read, `@set`,
`@reverse`, and contexts that hold within a type or a property. Anything else is `Unforeseen`, and
the document is then read by an engine that knows all of JSON-LD.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from catalogue.linked import contexts

IRI, NAME, PLAIN = "@id", "@vocab", ""
"""How a text is read: as an address, as a term of the context, or as itself; else as a datatype."""

_DEFINED_BY = {"@id", "@type", "@container", "@reverse", "@context"}


class Unforeseen(Exception):
    """The document says something in a way that only a whole JSON-LD engine can read."""


@dataclass(frozen=True, slots=True)
class Term:
    """One key: `keyword` for an alias such as `id`, else its `iri` and how its values are read.

    `within` is the context that holds in its values, or in nodes of this type, as JSON.
    """

    iri: str
    read_as: str = PLAIN
    keyword: bool = False
    backwards: bool = False
    within: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Scope:
    """The terms in force at one place of a document.

    `narrower` keeps the scopes within a type or a property, so that each is compiled once.
    """

    terms: Mapping[str, Term]
    prefixes: Mapping[str, str]
    narrower: dict[str, Scope] = field(default_factory=dict)

    def typed(self, types: tuple[str, ...]) -> Scope:
        """The scope in a node of these types: it holds there, and not in the nodes below."""
        here = self
        for name in sorted(types):
            term = self.terms.get(name)
            if term:
                here = here.inside(term)
        return here

    def inside(self, term: Term) -> Scope:
        """The scope of what belongs to a term: narrower where the term has a context of its own."""
        if not term.within:
            return self
        found = self.narrower.get(term.within)
        if found is None:
            found = self.narrower[term.within] = self.with_context(json.loads(term.within))
        return found

    def with_context(self, context: Mapping[str, Any]) -> Scope:
        """This scope with what a context adds or says otherwise."""
        return _Compiling(self, context).scope()

    def expanded(self, value: str) -> str:
        """The full IRI of a compact one (`crm:E22`); anything else as it is."""
        prefix, colon, rest = value.partition(":")
        if colon and not rest.startswith("//") and prefix in self.prefixes:
            return self.prefixes[prefix] + rest
        return value


NOTHING = Scope({}, {})


def scope_of(said: Any) -> Scope:
    """The scope that a document's `@context` opens. Raises `Unforeseen` for any but the known ones."""
    listed = said if isinstance(said, list) else [said]
    if not all(isinstance(each, str) for each in listed):
        raise Unforeseen("an inline context")
    return _scope_of(tuple(listed))


@cache
def _scope_of(addresses: tuple[str, ...]) -> Scope:
    scope = NOTHING
    for address in addresses:
        scope = scope.with_context(contexts.context(address)["@context"])
    return scope


class _Compiling:
    """One context on its way into a scope."""

    def __init__(self, outer: Scope, context: Mapping[str, Any]) -> None:
        self.outer = outer
        self.context = {key: held for key, held in context.items() if key != "@version"}
        self.done: dict[str, Term] = {}

    def scope(self) -> Scope:
        """The scope, every term of the context compiled."""
        terms = dict(self.outer.terms)
        prefixes = dict(self.outer.prefixes)
        for key, said in self.context.items():
            terms[key] = self._term(key)
            prefixes.pop(key, None)
            # Only a term that is an address and nothing else may stand before a colon.
            if isinstance(said, str) and terms[key].iri[-1:] in ":/?#[]@":
                prefixes[key] = terms[key].iri
        return Scope(terms, prefixes)

    def _term(self, key: str) -> Term:
        if key not in self.done:
            self.done[key] = self._compiled(key, self.context[key])
        return self.done[key]

    def _compiled(self, key: str, said: Any) -> Term:
        if key.startswith("@"):
            raise Unforeseen(f"{key} in a context")
        if isinstance(said, str):
            return (
                Term(said, keyword=True) if said in ("@id", "@type") else Term(self._iri(said))
            )
        if not isinstance(said, dict) or not said.keys() <= _DEFINED_BY:
            raise Unforeseen(f"the definition of {key}")
        if said.get("@container", "@set") not in ("@set", ["@set"]):
            raise Unforeseen(f"the container of {key}")
        within = json.dumps(said["@context"]) if "@context" in said else ""
        backwards = "@reverse" in said
        iri = said.get("@reverse" if backwards else "@id")
        if not isinstance(iri, str):
            raise Unforeseen(f"the definition of {key}")
        kind = said.get("@type", PLAIN)
        read_as = kind if kind in (IRI, NAME, PLAIN) else self._iri(kind)
        return Term(self._iri(iri), read_as, backwards=backwards, within=within)

    def _iri(self, written: str) -> str:
        prefix, colon, rest = written.partition(":")
        if colon and rest.startswith("//"):
            return written
        if colon and prefix in self.context:
            return self._term(prefix).iri + rest
        if colon:
            return self.outer.expanded(written)
        raise Unforeseen(f"{written} in a context")
