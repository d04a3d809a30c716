"""Every statement of ours against the domains and ranges of the CIDOC CRM.

Outside check: the table of CRM 7.1.3 classes and properties, with the Linked Art and CRMsci terms,
that the package cromulent carries (crm_vocab.tsv, Apache-2.0).
"""

from __future__ import annotations

import csv
import importlib.util
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, records
from rdflib import RDF, RDFS, Graph, Literal, URIRef

from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import graph
from catalogue.places import folder

PREFIXES = {
    "crm": "http://www.cidoc-crm.org/cidoc-crm/",
    "la": "https://linked.art/ns/terms/",
    "sci": "http://www.ics.forth.gr/isl/CRMsci/",
    "dig": "http://www.ics.forth.gr/isl/CRMdig/",
}
ENTITY = PREFIXES["crm"] + "E1_CRM_Entity"
LITERALS = ("http://www.w3.org/2000/01/rdf-schema#Literal", "rdfs:Literal")


def iri(term: str) -> str:
    prefix, colon, name = term.partition(":")
    return PREFIXES[prefix] + name if colon and prefix in PREFIXES else PREFIXES["crm"] + term


@cache
def table():
    """The classes with what is above them, and the properties with domain and range."""
    home = Path(importlib.util.find_spec("cromulent").submodule_search_locations[0])
    with (home / "data" / "crm_vocab.tsv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE))
    above = {
        iri(row["term"]): [iri(each) for each in row["subPropertyOf"].split("|") if each]
        for row in rows
        if row["term type"] == "class"
    }
    properties = {
        iri(row["term"]): (
            row["domain"] and iri(row["domain"]),
            row["range"] and iri(row["range"]),
        )
        for row in rows
        if row["term type"] == "property"
    }
    return above, properties


@cache
def ancestors(kind: str) -> frozenset[str]:
    above, _ = table()
    found, waiting = set(), [kind]
    while waiting:
        here = waiting.pop()
        if here not in found:
            found.add(here)
            waiting += above.get(here, ())
    return frozenset(found)


@cache
def ours() -> dict[str, str]:
    """Our own properties, and the property of the CRM that each is declared under."""
    declared = Graph().parse(folder("vocab") / "dorse.ttl", format="turtle")
    return {str(own): str(crm) for own, crm in declared.subject_objects(RDFS.subPropertyOf)}


def kinds(found: Graph, thing: URIRef) -> set[str]:
    return {str(each) for each in found.objects(thing, RDF.type)}


def strangers(found: Graph) -> set[tuple[str, str, str]]:
    """Every property used on, or for, a thing of a class that the CRM doesn't allow it for."""
    _, properties = table()
    wrong = set()
    for thing, property_, other in found:
        used = ours().get(str(property_), str(property_))
        if used not in properties:
            continue
        domain, range_ = properties[used]
        for end, wanted, where in ((thing, domain, "domain"), (other, range_, "range")):
            if not wanted or isinstance(end, Literal):
                continue
            said = kinds(found, end)
            # A reference that says no more than its address has no class here to be wrong.
            if said and not any(wanted in ancestors(each) for each in said):
                wrong.add((str(property_), where, " ".join(sorted(said))))
    return wrong


@pytest.mark.parametrize(
    "record",
    [full_work(), ARTIST, CLIENT, full_job(full_work())],
    ids=lambda it: type(it).__name__,
)
def test_every_property_is_used_between_the_classes_it_is_made_for(record):
    assert strangers(graph(to_jsonld(record))) == set()


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(records)
def test_so_are_those_of_any_record(record):
    assert strangers(graph(to_jsonld(record))) == set()


def test_every_crm_property_in_use_is_in_the_table_and_the_table_notices():
    _, properties = table()
    found = graph(to_jsonld(full_work()))
    crm = {str(each) for each in found.predicates() if str(each).startswith(PREFIXES["crm"])}
    assert crm <= properties.keys()
    assert len(crm) > 30
    tear, size = (URIRef(f"urn:x:{each}") for each in ("state", "size"))
    found.add((tear, RDF.type, URIRef(PREFIXES["crm"] + "E3_Condition_State")))
    found.add((tear, URIRef(PREFIXES["crm"] + "P43_has_dimension"), size))
    assert {each[1] for each in strangers(found)} == {"domain"}
