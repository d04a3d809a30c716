"""Our own reading of documents as statements, held to rdflib and pyld (both from the package registry)."""

from __future__ import annotations

from pathlib import Path

import pytest
import rdflib
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, records
from rdflib.compare import isomorphic

from catalogue.linked import quads
from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import graph, graph_by_pyld
from catalogue.linked.meanings import Unforeseen, scope_of
from catalogue.linked.quads import statements
from catalogue.linked.text import parse

EXAMPLES = [full_work(), ARTIST, CLIENT, full_job(full_work())]
SAMPLES = sorted(
    path
    for folder in ("works", "parties", "jobs")
    for path in (Path(__file__).parents[2] / "sample_records" / folder).glob("*.json")
)
BASES = (None, "https://backs.example/")


def as_graph(lines) -> rdflib.Graph:
    found = rdflib.Graph()
    found.parse(data="\n".join(lines), format="nt")
    assert len(found) == len(lines), "a statement twice, or one that cannot be read"
    return found


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_says_what_rdflib_reads(path, base):
    document = parse(path.read_bytes())
    assert set(as_graph(statements(document, base))) == set(graph(document, base))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_says_what_pyld_reads(path):
    document = parse(path.read_bytes())
    assert isomorphic(as_graph(statements(document)), graph_by_pyld(document))


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))
@given(records)
def test_any_record_says_what_rdflib_reads(record):
    document = to_jsonld(record)
    for base in BASES:
        assert set(as_graph(statements(document, base))) == set(graph(document, base))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(records)
def test_any_record_says_what_pyld_reads(record):
    document = to_jsonld(record)
    assert isomorphic(as_graph(statements(document)), graph_by_pyld(document))


@pytest.mark.parametrize("record", EXAMPLES, ids=lambda record: type(record).__name__)
def test_documents_of_ours_need_no_other_engine(record, monkeypatch):
    monkeypatch.setattr(quads, "lines_by_pyld", None)
    assert statements(to_jsonld(record))


# --- documents in somebody else's hand -----------------------------------------------------------

FOREIGN = {
    "numbers of every kind": '"dimension": [{"value": 45.70}, {"value": 500.0}, {"value": 610.5}, '
    '{"value": 1e3}, {"value": 1e30}, {"value": 0.000012}, {"value": -7}, {"value": true}]',
    "a very long number": '"dimension": [{"value": 123456789012345678901234567890}]',
    "short addresses": '"classified_as": ["aat:300", "crm:E22", {"id": "la:x", "type": "Type"}]',
    "no addresses": '"made_of": ["http://a.example/b c", "<x>", ""]',
    "nodes without an address": '"identified_by": [{"type": "Name", "content": "a\\n\\"b\\\\ \\r"},'
    ' {"id": "_:q", "type": "Name"}, {"id": "_:q", "content": "c"}]',
    "keys and types nobody defined": '"nonsense": {"id": "x:y"}, "identified_by": '
    '[{"type": "Frob", "content": null}, {"type": ["Name", "Type"], "part": [{"id": "z:1"}]}]',
    "relative addresses": '"part": [{"id": "rel/a", "type": "HumanMadeObject", "part": '
    '[{"id": "x:1", "type": "HumanMadeObject"}]}], "lies_over": ["#here"]',
    "a context within a context": '"attributed_by": [{"id": "x:a", "type": "AttributeAssignment", '
    '"assigned_property": "part_of", "assigned": [{"id": "x:b", "type": "HumanMadeObject", '
    '"part_of": [{"id": "x:c"}], "attributed_by": [{"id": "x:d", "type": "AttributeAssignment", '
    '"assigned_property": "part", "part_of": [{"id": "x:e"}]}]}]}]',
    "properties as values": '"attributed_by": [{"assigned_property": "made_of"}, '
    '{"assigned_property": "crm:P1"}, {"assigned_property": "frob"}]',
    "truths": '"preferred": true, "original": "yes", "part": [{"id": "x:1", "original": false}]',
    "nothing": '"identified_by": [{}], "part": [], "made_of": null',
    "a number for an address": '"made_of": [5]',
    "a context of its own": '"identified_by": [{"@context": {"n": "http://n.example/"}, "n": "v"}]',
    "a text with its language": '"content": {"@value": "x", "@language": "de"}',
    "an address for a key": '"http://n.example/p": "v", "crm:P3_has_note": "w"',
    "a list": '"content": {"@list": ["a", "b"]}',
    "lists in lists": '"made_of": [["http://x.example/1"], ["http://x.example/2"]]',
    "shown in": '"carries": [{"id": "x:i", "type": "LinguisticObject", "shown_in": [{"id": "x:n", '
    '"type": "Annotation", "target": {"id": "x:t", "type": "SpecificResource", "selector": '
    '{"id": "x:s", "type": "SvgSelector", "value": "<svg/>"}}}, "x:an2"]}]',
    "shown in a bare address": '"shown_in": "x:r"',
    "days": '"timespan": {"type": "TimeSpan", "begin_of_the_begin": "1880", "end_of_the_end": 1890}',
    "an id under two keys": '"part": [{"@id": "x:1", "type": "HumanMadeObject"}]',
}


def foreign(body: str, ours: str = '"https://dorse.example/ns/1/context.json"'):
    context = '"https://linked.art/ns/v1/linked-art.json"'
    return parse(
        f'{{"@context": [{context}, {ours}], "id": "https://other.example/1",'
        f' "type": "HumanMadeObject", {body}}}'
    )


@pytest.mark.filterwarnings("ignore:Parsing weird boolean")
@pytest.mark.parametrize("what", FOREIGN)
def test_a_document_in_another_hand_says_what_pyld_reads(what):
    document = foreign(FOREIGN[what])
    assert isomorphic(as_graph(statements(document)), graph_by_pyld(document))


def test_a_context_that_is_written_out_is_read_by_pyld():
    document = foreign('"n": "v"', '{"n": "http://n.example/"}')
    with pytest.raises(Unforeseen):
        scope_of(document["@context"])
    assert '<https://other.example/1> <http://n.example/> "v" .' in statements(document)


def test_nodes_without_an_address_are_never_those_of_another_document():
    body = '"identified_by": [{"type": "Name", "content": "Low Water"}]'
    one, other = foreign(body), {**foreign(body), "id": "https://other.example/2"}
    assert not set(statements(one)) & set(statements(other))


def test_half_a_sign_is_marked():
    assert any('"a\ufffdb"' in line for line in statements(foreign('"content": "a\\ud800b"')))


def test_no_engine_invents_an_address_for_a_relative_one():
    """rdflib would take the folder it runs in, pyld an address of its own."""
    document = foreign(FOREIGN["relative addresses"])
    for found in (graph(document), graph_by_pyld(document)):
        assert {str(each)[:5] for triple in found for each in triple} <= {
            "https",
            "http:",
            "x:1",
        }
