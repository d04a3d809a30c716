"""What the sample records become, against the published schemas and two engines."""

from __future__ import annotations

import json

import pytest
from linked_art_schemas import needs_schemas, schema_of, schema_validators
from rdflib.compare import isomorphic

from catalogue.linked.graph import dropped, graph, graph_by_pyld
from catalogue.linked.text import parse
from catalogue.places import folder
from catalogue.studio import Studio

FILES = sorted(folder("sample_records").glob("*/*.json"))


@pytest.fixture(scope="module")
def samples():
    with Studio.open("memory:") as studio:
        home = folder("sample_records")
        told = list(studio.import_([home / "parties", home / "works", home / "jobs"], who="x"))
        assert {each.outcome for each in told} == {"new"}
        yield studio


@needs_schemas
@pytest.mark.parametrize("profile", ["public", "owner", "full"])
@pytest.mark.parametrize("base", [None, "https://backs.example/"])
def test_every_strict_record_of_every_sample_is_valid(samples, tmp_path, profile, base):
    """Outside check: Linked Art 1.0 JSON Schemas (linked.art, CC BY 4.0)."""
    validators = schema_validators()
    samples.set_base(base)
    samples.export("linked-art", profile, tmp_path)
    checked = 0
    for path in tmp_path.glob("*.json"):
        record = json.loads(path.read_text("utf-8"))
        faults = list(validators[schema_of(record)].iter_errors(record))
        assert not faults, (path.name, [(each.json_path, each.message) for each in faults])
        checked += 1
    assert checked > 200


@pytest.mark.parametrize("source", FILES, ids=lambda path: path.stem)
def test_two_engines_read_every_sample_the_same_and_lose_nothing(source):
    """Outside check: rdflib against pyld."""
    document = parse(source.read_bytes())
    assert isomorphic(graph(document), graph_by_pyld(document))
    assert dropped(document) == ()
