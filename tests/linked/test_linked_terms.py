"""Our own terms: each is declared under CIDOC CRM, and none is used that is not."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

from rdflib import RDF, RDFS, Graph

from catalogue.linked.contexts import LINKED_ART, OURS, context
from catalogue.places import folder

NAMESPACE = "https://dorse.example/ns/1#"


def declared():
    return Graph().parse(folder("vocab") / "dorse.ttl", format="turtle")


def used():
    found = set()
    for said in context(OURS)["@context"].values():
        address = said.get("@id", "") if isinstance(said, dict) else said
        if isinstance(address, str) and address.startswith("dorse:"):
            found.add(NAMESPACE + address.removeprefix("dorse:"))
    return found


def test_every_term_of_the_context_is_declared_and_the_other_way_round():
    assert {str(each) for each in declared().subjects(RDF.type, RDF.Property)} == used()


def test_every_term_has_a_label_a_sentence_and_a_place_under_the_crm():
    """Outside check: the CRM properties are those of the profile that cromulent carries."""
    home = Path(importlib.util.find_spec("cromulent").submodule_search_locations[0]) / "data"
    known = (home / "crm_vocab.tsv").read_text("utf-8")
    graph = declared()
    for term in graph.subjects(RDF.type, RDF.Property):
        assert graph.value(term, RDFS.label)
        assert str(graph.value(term, RDFS.comment)).endswith(".")
        above = str(graph.value(term, RDFS.subPropertyOf)).rpartition("/")[2]
        assert above in known, above


def test_our_context_redefines_nothing_of_the_published_one():
    ours, theirs = context(OURS)["@context"], context(LINKED_ART)["@context"]
    shared = {key for key in ours if key in theirs} - {"@version"}
    assert all(json.dumps(ours[key]) == json.dumps(theirs[key]) for key in shared)
