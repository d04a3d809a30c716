"""Terms of vocab/ ⇄ concept nodes: the AAT's address where we have a verified one, else our own."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.linked.node import node, nodes
from catalogue.linked.text import Node
from catalogue.terms import concept, of_iri

NAMESPACE = "https://dorse.example/ns/1#"
_TYPES = {
    "material": "Material",
    "language": "Language",
    "unit": "MeasurementUnit",
    "currency": "Currency",
}


def describe(term: str) -> Node:
    """The node of a term; an address from outside stands for itself, without a label."""
    group = term.partition("/")[0]
    kind = _TYPES.get(group, "Type")
    if ":" in term:
        return {"id": term, "type": kind}
    known = concept(term)
    return {"id": known.aat or known.iri, "type": kind, "_label": known.label}


def describe_all(terms: Iterable[str | None], kind: str | None = None) -> list[Node]:
    """The nodes of several terms; `kind` is the type of those that come from outside."""
    found = [describe(term) for term in terms if term]
    return [{**each, "type": kind} for each in found] if kind else found


def recognise(here: Node, group: str) -> str | None:
    """The term of a group that a concept node stands for, None when it is none of ours."""
    address = here.get("id")
    if not isinstance(address, str):
        return None
    known = of_iri(address, group)
    return known.key if known else None


def first(here: Node, key: str, group: str) -> str | None:
    """The first term of a group among the concepts under a key, or None."""
    for each in nodes(here, key):
        term = recognise(each, group)
        if term:
            return term
    return None


def all_of(here: Node, key: str, group: str) -> tuple[str, ...]:
    """Every term of a group among the concepts under a key; other addresses stand for themselves."""
    found: list[str] = []
    for each in nodes(here, key):
        term = recognise(each, group)
        if term:
            found.append(term)
        elif isinstance(each.get("id"), str) and ":" in each["id"]:
            found.append(each["id"])
    return tuple(found)


def describe_language(tag: str | None) -> list[Node]:
    """A BCP 47 tag as a Language: the AAT's where vocab/ matches it, else an address of ours."""
    if not tag:
        return []
    known = of_iri(f"{NAMESPACE}language/{tag}", "language")
    if known:
        return [describe(known.key)]
    return [node(id=f"{NAMESPACE}language/{tag}", type="Language", _label=tag)]


def recognise_languages(here: Node) -> tuple[str, ...]:
    """The BCP 47 tags of the languages of a node, where they can be told."""
    tags: list[str] = []
    for each in nodes(here, "language"):
        address = str(each.get("id", ""))
        known = of_iri(address, "language")
        if known:
            tags.append(known.name)
        elif address.startswith(f"{NAMESPACE}language/"):
            tags.append(address.removeprefix(f"{NAMESPACE}language/"))
    return tuple(tags)


def describe_visibility(visibility: str) -> str | None:
    """The visibility to write on a value's own node; open is what nothing said means."""
    return None if visibility == "visibility/open" else concept(visibility).iri


def recognise_visibility(here: Node) -> str:
    """The visibility that a value's own node carries; a word we don't know is the strictest."""
    said = here.get("visibility")
    if said is None:
        return "visibility/open"
    known = of_iri(str(said.get("id") if isinstance(said, dict) else said), "visibility")
    return known.key if known else "visibility/studio"
