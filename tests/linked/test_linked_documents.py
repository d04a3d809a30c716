"""Records to documents and back: nothing lost, whatever the order, by two engines the same graph."""

from __future__ import annotations

import random

import pytest
from hypothesis import HealthCheck, given, settings
from made_records import ARTIST, CLIENT, full_job, full_work, records
from rdflib.compare import isomorphic

from catalogue.errors import BadDocument
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.graph import dropped, graph, graph_by_pyld
from catalogue.linked.text import parse, write

EXAMPLES = [full_work(), ARTIST, CLIENT, full_job(full_work())]
many = settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))


def shuffled(value, seed):
    """The same document with every array in another order."""
    if isinstance(value, dict):
        return {k: v if k == "@context" else shuffled(v, seed) for k, v in value.items()}
    if isinstance(value, list):
        turned = [shuffled(each, seed) for each in value]
        random.Random(seed).shuffle(turned)
        return turned
    return value


@many
@given(records)
def test_a_record_comes_back_as_it_went(record):
    assert from_jsonld(to_jsonld(record)) == record
    assert from_jsonld(parse(write(to_jsonld(record)))) == record


@many
@given(records)
def test_the_order_of_arrays_says_nothing(record):
    assert from_jsonld(shuffled(to_jsonld(record), 7)) == record


@pytest.mark.parametrize("record", EXAMPLES, ids=lambda record: type(record).__name__)
def test_two_engines_read_the_same_graph(record):
    """Outside check: rdflib's JSON-LD parser against pyld's (both from the package registry)."""
    document = to_jsonld(record)
    for base in (None, "https://backs.example/"):
        ours = graph(document, base)
        assert len(ours) > 10
        assert isomorphic(ours, graph_by_pyld(document, base))


@pytest.mark.parametrize("record", EXAMPLES, ids=lambda record: type(record).__name__)
def test_no_key_is_lost_on_a_reader_of_json_ld(record):
    assert dropped(to_jsonld(record)) == ()


@pytest.mark.parametrize("record", EXAMPLES, ids=lambda record: type(record).__name__)
def test_there_are_no_blank_nodes(record):
    from rdflib import BNode

    assert not [s for s in graph(to_jsonld(record)).all_nodes() if isinstance(s, BNode)]


def _spoil(change):
    document = to_jsonld(full_work())
    change(document)
    return document


@pytest.mark.parametrize(
    ("change", "where", "says"),
    [
        (
            lambda d: d["identified_by"][1].update(content=7),
            "/identified_by/1",
            "a text is expected",
        ),
        (
            lambda d: d["dimension"][0].update(value="wide"),
            "/dimension/0",
            "a number is expected",
        ),
        (lambda d: d.update(part=[3]), "/", "a node is expected"),
        (
            lambda d: d["produced_by"]["timespan"].update(begin_of_the_begin="soon"),
            "/produced_by/timespan",
            "1887-03-01T00:00:00Z is expected",
        ),
        (
            lambda d: d["identified_by"][1].update(content=" "),
            "/identified_by/1",
            "say something",
        ),
        (lambda d: d["dimension"][0].update(value=-5), "/", "must lie between"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(change, where, says):
    with pytest.raises(BadDocument) as refused:
        from_jsonld(_spoil(change))
    assert refused.value.where == where
    assert says in str(refused.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (b"", "not JSON"),
        (b"[1]", "one JSON object"),
        (b'{"id": 1', "line 1, column"),
        (b'{"a": 1, "a": 2}', "'a' stands twice"),
        (b'{"a": NaN}', "NaN is not a number"),
        (b'{"a": "\xff"}', "not UTF-8"),
        (b'{"a":' + b"[" * 100_000 + b"]" * 100_000 + b"}", "deeper than"),
        (b'{"a":' * 150 + b"1" + b"}" * 150, "deeper than 100"),
    ],
)
def test_a_text_that_is_no_document_is_refused(text, says):
    with pytest.raises(BadDocument, match=says):
        parse(text)


@pytest.mark.parametrize(
    "number", ["45.70", "1E5", "1.0", "-0.0", "12345678901234567890.5", "3"]
)
def test_numbers_stay_as_they_were_written(number):
    text = f'{{"value":{number},"other":"45.70"}}'
    assert b'"other":"45.70"' in write(parse(text))
    assert float(parse(write(parse(text)))["value"]) == float(number)
    if number in ("45.70", "1.0", "3"):
        assert write(parse(text)).decode() == text


@settings(max_examples=60, deadline=None)
@given(records)
def test_writing_what_was_read_gives_the_same_bytes(record):
    text = write(to_jsonld(record))
    assert write(parse(text)) == text


def test_how_long_it_was_held_continues_the_event_and_is_no_part_of_it():
    """CIDOC CRM, from memory: a part of an event ends within it (P9); what goes on continued it (P134)."""
    (sale,) = [each for each in to_jsonld(full_work())["present_at"] if "continued_by" in each]
    (holding,) = sale["continued_by"]
    assert holding["id"] == sale["id"] + "/holding"
    assert holding["timespan"]["begin_of_the_end"] == "1936-01-01T00:00:00Z"
    assert holding["timespan"]["end_of_the_end"] == "1936-12-31T23:59:59Z"
    assert "begin_of_the_begin" not in holding["timespan"]
    assert holding["id"] not in {each["id"] for each in sale["part"]}
