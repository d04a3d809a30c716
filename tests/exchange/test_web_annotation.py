"""Web annotations: whole annotations by the W3C's model, every region, nothing lost in expansion.

Outside: W3C Web Annotation Data Model (sections named beside the checks), pyld and rdflib as two
readers of JSON-LD that must see the same graph.
"""

from __future__ import annotations

import json
import re

import pyld.jsonld
import pytest
from annotation_context import CONTEXT
from lxml import etree
from made_records import full_work
from rdflib import Graph
from rdflib.compare import isomorphic
from sent_works import BASE, files, sample_works
from test_iiif import SMALL, UUID
from test_redaction import SECRETS

from catalogue.exchange.iiif.annotations import write
from catalogue.reading import read_tei
from catalogue.record import Work

OA = "http://www.w3.org/ns/oa#"


def collection_of(made):
    (content,) = made.values()
    return json.loads(content)


def notes_of(made):
    return collection_of(made)["first"]["items"]


@pytest.mark.parametrize("base", [None, BASE])
@pytest.mark.parametrize("profile", ["public", "owner", "full"])
@pytest.mark.parametrize("work", sample_works(), ids=lambda work: work.number)
def test_every_annotation_is_whole(work, profile, base):
    collection = collection_of(files(write, work, profile, base))
    # section 3.1 and 5.1: the context, one class, one address
    assert collection["@context"] == "http://www.w3.org/ns/anno.jsonld"
    assert collection["type"] == "AnnotationCollection"
    page = collection["first"]
    assert page["startIndex"] == 0  # section 5.2: the first page begins at 0
    assert collection["total"] == len(page["items"])
    ids = [note["id"] for note in page["items"]]
    assert len(set(ids)) == len(ids)
    for note in page["items"]:
        assert note["type"] == "Annotation"
        assert note["motivation"] == "describing"  # section 3.3.5
        assert note["target"]  # section 3.2.1: one target or more
        text = note["body"][0]
        assert text["type"] == "TextualBody"  # section 3.2.4
        assert text["value"].strip()
        if isinstance(note["target"], dict):
            whole_selector(note["target"])


def whole_selector(target):
    selector = target["selector"]
    assert target["source"]["id"].startswith("ni:///sha-256;")
    if selector["type"] == "FragmentSelector":
        # section 4.2.1
        assert selector["conformsTo"] == "http://www.w3.org/TR/media-frags/"
        assert re.fullmatch(r"xywh=\d+,\d+,\d+,\d+", selector["value"])
    else:
        # section 4.2.5
        drawing = etree.fromstring(selector["value"])
        assert drawing.tag == "{http://www.w3.org/2000/svg}svg"


@pytest.mark.parametrize("work", sample_works(), ids=lambda work: work.number)
def test_two_readers_see_the_same_graph_and_lose_nothing(work):
    collection = collection_of(files(write, work)) | {"@context": CONTEXT}
    expanded = pyld.jsonld.expand(collection)
    assert {key for each in keys_within(collection) for key in [each]} <= CONTEXT.keys() | {
        "@type", "@value", "dcterms:created",
    }  # fmt: skip
    by_pyld = Graph().parse(
        data=pyld.jsonld.to_rdf(collection, {"format": "application/n-quads"}), format="nt"
    )
    by_rdflib = Graph().parse(data=json.dumps(collection), format="json-ld")
    assert isomorphic(by_pyld, by_rdflib)
    regions = sum(max(len(each.regions), 1) for each in work.inscriptions)
    assert expanded
    assert len(set(by_pyld.subjects(None, None))) > regions
    found = by_pyld.query(f"SELECT ?a {{ ?a a <{OA}Annotation>; <{OA}hasTarget> ?t }}")
    assert len(list(found)) == regions


def keys_within(node):
    if isinstance(node, dict):
        for key, held in node.items():
            if key != "@context":
                yield key
                yield from keys_within(held)
    elif isinstance(node, list):
        for held in node:
            yield from keys_within(held)


def test_no_node_is_without_a_name():
    graph = Graph().parse(
        data=json.dumps(collection_of(files(write, SMALL)) | {"@context": CONTEXT}),
        format="json-ld",
    )
    unnamed = {
        node
        for node in graph.all_nodes()
        if type(node).__name__ == "BNode" and (node, None, None) in graph
    }
    # only the cells of the list of annotations, which JSON-LD cannot name
    cells = {subject for subject in graph.subjects(None, None) if subject in unnamed}
    first = "http://www.w3.org/1999/02/22-rdf-syntax-ns#first"
    assert all(first in {str(p) for p in graph.predicates(cell)} for cell in cells)


def test_a_small_work_is_told_like_this():
    box, askew, stamp = notes_of(files(write, SMALL, base=BASE))
    own = f"https://backs.example/work/{UUID(1)}#{UUID(4)}/annotation"
    assert box == {
        "id": own,
        "type": "Annotation",
        "motivation": "describing",
        "label": "label, I1",
        "body": [
            {
                "id": f"{own}/text",
                "type": "TextualBody",
                "value": "Gal. Ho□□□nn\nLot 3",
                "format": "text/plain",
                "purpose": "describing",
                "language": "en",
            },
            {
                "id": f"{own}/tei",
                "type": "TextualBody",
                "value": box["body"][1]["value"],
                "format": "application/tei+xml",
                "purpose": "describing",
            },
            {
                "id": f"{own}/kind",
                "type": "SpecificResource",
                "source": box["body"][2]["source"],
                "purpose": "classifying",
            },
        ],
        "target": {
            "id": f"{own}/target",
            "type": "SpecificResource",
            "source": {
                "id": "ni:///sha-256;q6urq6urq6urq6urq6urq6urq6urq6urq6urq6urq6s",
                "type": "Image",
                "format": "image/jpeg",
            },
            "selector": {
                "id": f"{own}/selector",
                "type": "FragmentSelector",
                "conformsTo": "http://www.w3.org/TR/media-frags/",
                "value": "xywh=10,20,50,30",
            },
        },
    }
    assert read_tei(box["body"][1]["value"]).markup == "Gal.(erie) Ho[...]nn\nLot 3"
    assert askew["target"]["selector"]["type"] == "SvgSelector"
    assert [body["purpose"] for body in stamp["body"]] == ["describing", "classifying"]


@pytest.mark.parametrize("profile", ["public", "sale", "loan"])
def test_no_planted_secret_leaves(profile):
    said = b"".join(files(write, full_work(), profile).values()).decode()
    assert said
    assert not {secret for secret in SECRETS if secret in said}
    whole = b"".join(files(write, full_work(), "full").values()).decode()
    assert {secret for secret in SECRETS if secret in whole}


def test_nothing_is_made_where_nothing_stands():
    assert files(write, Work(id=UUID(1))) == {}
