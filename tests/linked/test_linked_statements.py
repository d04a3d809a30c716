"""Statements as assignments with a Web Annotation: the letters by position, as the W3C's model names them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import full_work
from rdflib import Literal, URIRef
from rdflib.namespace import XSD

from catalogue.errors import BadDocument
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.graph import graph
from catalogue.linked.text import nodes_within

OA = "http://www.w3.org/ns/oa#"


def assignments(document):
    """The nodes that say what some letters are."""
    return [
        each
        for each in nodes_within(document)
        if each.get("type") == "AttributeAssignment" and "shown_in" in each
    ]


def statements(document):
    return [
        each
        for inscription in from_jsonld(document).inscriptions
        for each in inscription.statements
    ]


def test_the_letters_are_named_as_the_web_annotation_data_model_does():
    """W3C Recommendation of 23 February 2017, 4.2.4: oa:start and oa:end, xsd:nonNegativeInteger."""
    work = full_work()
    name = next(each for each in work.inscriptions[0].statements if each.end == 16)
    found = graph(to_jsonld(work), "https://backs.example/")
    here = f"https://backs.example/{work.document}#"
    annotation = next(found.subjects(URIRef(f"{OA}hasBody"), URIRef(here + name.id)))
    target = found.value(annotation, URIRef(f"{OA}hasTarget"))
    selector = found.value(target, URIRef(f"{OA}hasSelector"))
    assert found.value(target, URIRef(f"{OA}hasSource")) == URIRef(here + name.transcript)
    for key, place in (("start", 0), ("end", 16)):
        said = found.value(selector, URIRef(OA + key))
        assert said == Literal(str(place), datatype=XSD.nonNegativeInteger)


def test_an_assignment_of_somebody_elses_without_letters_is_left_alone():
    document = to_jsonld(full_work())
    for each in assignments(document):
        del each["shown_in"]
    assert statements(document) == []


@pytest.mark.parametrize(("key", "value"), [("start", 1.5), ("end", "16"), ("start", None)])
def test_a_place_that_is_no_whole_number_is_refused_with_its_place(key, value):
    document = to_jsonld(full_work())
    for each in assignments(document):
        each["shown_in"][0]["target"]["selector"][key] = value
    with pytest.raises(BadDocument) as refused:
        from_jsonld(document)
    assert "/selector" in str(refused.value.where)


def test_a_work_without_statements_is_written_as_before_there_were_any():
    work = full_work()
    bare = replace(
        work, inscriptions=tuple(replace(each, statements=()) for each in work.inscriptions)
    )
    assert assignments(to_jsonld(bare)) == []
    assert from_jsonld(to_jsonld(bare)) == bare
