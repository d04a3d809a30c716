"""What a receiving system would do first: parse every file, expand it, hold it to its published shape.

Outside: pyld and rdflib as two readers of JSON-LD, iiif-prezi3, the LIDO XSD, EpiDoc's RELAX NG and the
Linked Art JSON Schemas where DORSE_SCHEMAS is set, Turtle, N-Quads, the whole in one file, tables
and parcels are held to theirs in tests of their own.
"""

from __future__ import annotations

import json
import os
from functools import cache
from pathlib import Path

import iiif_prezi3
import pytest
from annotation_context import CONTEXT
from epidoc_schema import epidoc, needs_schema, what_the_schema_misses
from lxml import etree
from rdflib.compare import isomorphic
from sent_works import sample_works

from catalogue.exchange.formats import FORMATS
from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import graph, graph_by_pyld
from catalogue.linked.text import write
from catalogue.places import folder
from catalogue.studio import Studio

ELSEWHERE = {"linked-art-whole", "turtle", "nquads", "csv", "xlsx", "parcel"}
PROFILES = ("public", "full")
WORKS = sample_works()[:4]
LARGEST = 20_000
AS_JSON = ("linked-art", "full-graph", "schema-org", "iiif", "web-annotation")
STANDING_IN = {
    # none of these is fetched: the terms as the standards have them, or each word as a term of its own
    "http://www.w3.org/ns/anno.jsonld": CONTEXT,
    "http://iiif.io/api/presentation/3/context.json": {
        "id": "@id",
        "type": "@type",
        "@vocab": "http://iiif.io/api/presentation/3#",
        "none": "@none",
    },
    "https://schema.org": {"id": "@id", "type": "@type", "@vocab": "https://schema.org/"},
    "https://schema.org/": {"id": "@id", "type": "@type", "@vocab": "https://schema.org/"},
    "http://schema.org/": {"id": "@id", "type": "@type", "@vocab": "http://schema.org/"},
}


@pytest.fixture(scope="module")
def samples(tmp_path_factory):
    """The sample works and parties on file, the photographs of the works with sizes."""
    works = tmp_path_factory.mktemp("works")
    for work in WORKS:
        (works / f"{work.id}.json").write_bytes(write(to_jsonld(work)))
    with Studio.open("memory:") as studio:
        parties = folder("sample_records") / "parties"
        assert {each.outcome for each in studio.import_([parties, works], who="x")} == {"new"}
        yield studio


@pytest.fixture(scope="module")
def sent(samples, tmp_path_factory):
    """The files of one export, in order."""

    @cache
    def files(name, profile):
        out = tmp_path_factory.mktemp("out")
        samples.export(name, profile, out)
        return tuple(sorted(path for path in out.rglob("*") if path.is_file()))

    return files


def documents(paths):
    for path in paths:
        if path.suffix in (".json", ".jsonld"):
            yield path, json.loads(path.read_bytes())


def with_context(document):
    """The document with what stands in for a context that is not on this machine."""
    said = document.get("@context")
    return {
        **document,
        "@context": STANDING_IN.get(said, said) if isinstance(said, str) else said,
    }


def turned_round(node):
    """The same node with its keys in another order, as a receiving system may keep it."""
    if isinstance(node, dict):
        keys = sorted(node, reverse=True)
        return {
            key: node[key] if key == "@context" else turned_round(node[key]) for key in keys
        }
    return [turned_round(each) for each in node] if isinstance(node, list) else node


def alike(one, other):
    """Whether two graphs say the same; where every node has a name, that is seen at once."""
    return set(one) == set(other) or isomorphic(one, other)


@pytest.mark.parametrize("profile", PROFILES)
@pytest.mark.parametrize("name", AS_JSON)
def test_json_says_the_same_whoever_keeps_it_in_between(sent, name, profile):
    found = list(documents(sent(name, profile)))
    assert found
    # the large ones take seconds each in these readers: small ones say as much about the shape
    by_size = sorted(found, key=lambda each: each[0].stat().st_size)
    small = [each for each in by_size if each[0].stat().st_size < LARGEST]
    for path, document in (small or by_size[:1])[-2:]:
        kept = json.loads(json.dumps(turned_round(document), ensure_ascii=True, indent=2))
        assert kept == document
        before, after = graph(with_context(document)), graph(with_context(kept))
        assert len(before) > 3, path.name
        assert alike(before, after), path.name
        assert alike(before, graph_by_pyld(with_context(document))), path.name


@pytest.mark.parametrize("profile", PROFILES)
def test_every_manifest_is_taken_by_another_reader(sent, profile):
    found = list(documents(sent("iiif", profile)))
    assert len(found) == len(WORKS)
    for _, document in found:
        iiif_prezi3.Manifest(**document)


@needs_schema
@pytest.mark.parametrize("profile", PROFILES)
def test_every_text_is_valid_epidoc(sent, profile):
    paths = sent("tei", profile)
    assert len(paths) > 15
    for path in paths:
        root = etree.parse(path).getroot()
        assert epidoc().validate(root), f"{path.name}: {epidoc().error_log.last_error}"
        what_the_schema_misses(root)


@needs_schema
@pytest.mark.parametrize("profile", PROFILES)
def test_every_lido_record_is_valid(sent, profile):
    schemas = Path(os.environ["DORSE_SCHEMAS"]) / "lido"
    schema = etree.XMLSchema(etree.parse(next(schemas.rglob("lido-v1.1.xsd"))))
    paths = sent("lido", profile)
    assert len(paths) >= len(WORKS)
    for path in paths:
        assert schema.validate(etree.parse(path)), f"{path.name}: {schema.error_log.last_error}"


def test_every_format_is_held_to_something():
    assert set(FORMATS) == {*AS_JSON, "lido", "tei"} | ELSEWHERE
