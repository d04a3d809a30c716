"""A document held to the shapes of vocab/shapes: what in it is not as dorse writes it.

The shapes are SHACL and say what they want in words; pyshacl holds a graph to them. A graph of
terms knows no groups, so each term that a document names is joined by the groups of vocab/terms
that hold it, under our address and the AAT's alike; and each day by its number, for 44 BC and the
year 12026 are days like any other.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cache

import rdflib
from pyshacl import validate
from pyshacl.errors import ReportableRuntimeError
from rdflib.namespace import RDF, SH, SKOS, XSD

from catalogue.errors import BadSetting
from catalogue.linked.addresses import absolute
from catalogue.linked.ntriples import full
from catalogue.linked.quads import statements
from catalogue.linked.text import Node
from catalogue.measure import Day
from catalogue.places import folder
from catalogue.terms import NAMESPACE, group, groups

BASE = "https://studio.invalid/"
"""What addresses are resolved against while a document is looked at; nothing is ever fetched."""

SHAPE = "https://dorse.example/ns/1/shapes#"

_MISSING = {SH.MinCountConstraintComponent, SH.QualifiedMinCountConstraintComponent}
"""The constraints that are broken by what is not there."""


_CRM = "http://www.cidoc-crm.org/cidoc-crm/"
_DAYS = {
    f"{_CRM}P82a_begin_of_the_begin": "firstDay",
    f"{_CRM}P81b_begin_of_the_end": "firstDay",
    f"{_CRM}P82b_end_of_the_end": "lastDay",
    f"{NAMESPACE}cameOn": "firstDay",
    f"{NAMESPACE}leftOn": "lastDay",
}
"""What stands for the days that are compared: engines know too few years."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """What one shape found at one node: `at` is the id of the node without "#", "" for the whole.

    `shape` is its name in vocab/shapes; `missing` says that something is not there, `mild` that it is
    no more than unusual.
    """

    at: str
    says: str
    shape: str
    missing: bool = False
    mild: bool = False

    @property
    def value(self) -> str:
        """The id of the value that the node belongs to, "" for the whole."""
        return self.at.partition("/")[0]


def faults(document: Node) -> tuple[Fault, ...]:
    """What is not as dorse writes it, each thing once, in a stable order. Nothing is changed."""
    found = set(_nowhere(absolute(document, BASE)))
    try:
        _, report, _ = validate(_graph(document), shacl_graph=shapes(), inplace=True)
    except ReportableRuntimeError as wrong:
        raise _spoilt(wrong) from None
    if not isinstance(report, rdflib.Graph):
        raise _spoilt(report)
    for result in report.subjects(RDF.type, SH.ValidationResult):
        found.add(_fault(report, result))
    return tuple(sorted(found))


def _spoilt(said: object) -> BadSetting:
    return BadSetting(f"vocab/shapes: {said}", remedy="see the file that was changed last")


def _fault(report: rdflib.Graph, result: rdflib.term.Node) -> Fault:
    component = report.value(result, SH.sourceConstraintComponent)
    said = report.value(result, SH.resultMessage)
    shape = report.value(result, SH.sourceShape)
    return Fault(
        at=_node_of(report, result),
        says=str(said),
        shape=str(shape).removeprefix(SHAPE),
        missing=component in _MISSING,
        mild=report.value(result, SH.resultSeverity) == SH.Warning,
    )


def _node_of(report: rdflib.Graph, result: rdflib.term.Node) -> str:
    """The node that a result is about: a shape that looks back from a word has it as its value."""
    for key in (SH.focusNode, SH.value):
        address = str(report.value(result, key))
        if address.startswith(BASE) and "#" in address:
            return address.partition("#")[2]
    return ""


def _nowhere(node: Node, at: str = "") -> Iterator[Fault]:
    """The addresses that lead nowhere: a graph would leave them out in silence."""
    said = node.get("id")
    if isinstance(said, str):
        if full(said) is None:
            yield Fault(
                at,
                f"{said!r} is no address. Point at a record on file, or give a full address.",
                "Address",
            )
        elif said.startswith(BASE):
            at = said.partition("#")[2] or at
    for held in node.values():
        for each in held if isinstance(held, list) else (held,):
            if isinstance(each, dict):
                yield from _nowhere(each, at)


def _graph(document: Node) -> rdflib.Graph:
    """The document as a graph, each of its terms with its groups, each of its days as a number too."""
    graph = rdflib.Graph()
    lines = (_untyped(line) for line in statements(document, BASE))
    graph.parse(data="\n".join(lines), format="nt")
    for key, name in _DAYS.items():
        for subject, said in graph.subject_objects(rdflib.URIRef(key)):
            with suppress(ValueError):
                day = Day.from_iso(str(said).partition("T")[0])
                graph.add((subject, rdflib.URIRef(SHAPE + name), rdflib.Literal(day.ordinal)))
    held = _groups_of_terms()
    for address in {each for each in graph.objects() if isinstance(each, rdflib.URIRef)}:
        for scheme in held.get(str(address), ()):
            graph.add((address, SKOS.inScheme, scheme))
    return graph


def _untyped(line: str) -> str:
    """A statement without a type that its text may not have: engines complain of each in a log."""
    for kind in ("dateTime", "date", "boolean"):
        end = f"^^<{XSD}{kind}> ."
        if line.endswith(end) and not line.endswith((f'"true"{end}', f'"false"{end}')):
            return line.removesuffix(end) + " ."
    return line


@cache
def shapes() -> rdflib.Graph:
    """All of vocab/shapes as one graph."""
    found = rdflib.Graph()
    for source in sorted((folder("vocab") / "shapes").glob("*.ttl")):
        try:
            found.parse(source, format="turtle")
        except (SyntaxError, IndexError) as wrong:
            raise BadSetting(
                f"{source}: {wrong}", remedy="put it right, or bring it back"
            ) from None
    return found


@cache
def _groups_of_terms() -> dict[str, tuple[rdflib.URIRef, ...]]:
    found = defaultdict(set)
    for name in groups():
        for each in group(name):
            for address in (each.iri, each.aat):
                if address:
                    found[address].add(rdflib.URIRef(NAMESPACE + name))
    return {address: tuple(sorted(schemes)) for address, schemes in found.items()}
