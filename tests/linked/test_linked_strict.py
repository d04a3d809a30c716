"""Strict records against the published Linked Art 1.0 JSON Schemas, and their context against ours."""

from __future__ import annotations

import importlib.util
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from linked_art_schemas import needs_schemas, schema_of, schema_validators
from made_records import ARTIST, CLIENT, full_job, full_work, works
from rdflib import Graph
from rdflib.compare import isomorphic

from catalogue.errors import UnknownContext
from catalogue.linked import contexts, strict
from catalogue.linked.addresses import absolute
from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import dropped, graph, graph_by_pyld


@pytest.fixture(scope="module")
def validators():
    return schema_validators()


def labels(document_id):
    if document_id.startswith("party/"):
        return "Person", "Ada Penhale"
    return "HumanMadeObject", "Low Water"


def all_records(base=None):
    found = []
    for record in (full_work(), ARTIST, CLIENT):
        document = to_jsonld(record)
        found += [
            absolute(each, base, record.document) for each in strict.reduce(document, labels)
        ]
    return [*found, *strict.concept_records(found)]


@needs_schemas
@pytest.mark.parametrize("base", [None, "https://backs.example/"])
def test_every_strict_record_is_valid(validators, base):
    records = all_records(base)
    assert {record["type"] for record in records} >= {
        "HumanMadeObject", "LinguisticObject", "DigitalObject", "Person", "Group", "Place",
    }  # fmt: skip
    for record in records:
        faults = list(validators[schema_of(record)].iter_errors(record))
        assert not faults, (
            record["_label"],
            [(fault.json_path, fault.message) for fault in faults],
        )


@needs_schemas
def test_the_schemas_would_have_noticed(validators):
    record = all_records()[0]
    assert list(validators["object"].iter_errors({**record, "bears": []}))
    assert list(
        validators["object"].iter_errors({**record, "part": [{"id": "x:y", "type": "Set"}]})
    )


def test_a_strict_record_loses_nothing_on_a_reader():
    for record in all_records():
        assert dropped(record) == ()
        assert record["_label"]
        assert len(record["id"]) > 10


def test_two_engines_read_strict_records_the_same():
    """Outside check: rdflib against pyld."""
    for record in all_records():
        assert isomorphic(graph(record), graph_by_pyld(record))


def test_the_published_context_reads_our_exports_as_ours_does():
    """Outside check: the context that the package cromulent carries, used without our loader."""
    folder = Path(importlib.util.find_spec("cromulent").submodule_search_locations[0])
    published = json.loads((folder / "data" / "linked-art.json").read_text("utf-8"))
    for record in all_records():
        bare = {key: value for key, value in record.items() if key != "@context"}
        theirs = Graph().parse(data=json.dumps({**published, **bare}), format="json-ld")
        assert isomorphic(theirs, graph(record))


def test_nothing_refers_to_a_record_that_did_not_come_along():
    records = all_records()
    present = {record["id"] for record in records}
    for record in records:
        whole = record.get("part_of", {"id": record["id"]})
        assert all(each["id"] in present for each in record.get("carries", ()))
        assert whole["id"] in present


def test_what_a_label_says_and_where_it_sits_come_along():
    by_label = {record["_label"]: record for record in all_records()}
    text = by_label["dealer's label I1 of Low Water"]
    assert text["content"] == "Hollis & Trewin\n…don S.W."
    assert any("Tr_ewin" in each["content"] for each in text["referred_to_by"])
    label = by_label["dealer's label on stretcher of Low Water"]
    assert label["part_of"]["_label"] == "stretcher of Low Water"
    assert (
        "10 mm from the left edge and 5 mm from the top"
        in label["referred_to_by"][0]["content"]
    )


def test_without_a_preferred_reading_the_latest_is_the_content():
    """As on the desk: what `Inscription.preferred` shows first."""
    work = full_work()
    label = work.inscriptions[0]
    plain = tuple(replace(each, preferred=False) for each in label.transcripts)
    for ids in (("0", "f"), ("f", "0")):
        pair = tuple(
            replace(each, id=first * 8 + each.id[8:])
            for each, first in zip(plain, ids, strict=True)
        )
        label = replace(label, transcripts=pair, statements=())
        changed = replace(work, inscriptions=(label,))
        shown = changed.inscriptions[0].preferred().reading().diplomatic()
        records = strict.reduce(to_jsonld(changed), labels)
        (text,) = [each for each in records if each["type"] == "LinguisticObject"]
        assert text["content"] == shown


def test_a_commission_makes_no_strict_record():
    assert strict.reduce(to_jsonld(full_job(full_work())), labels) == []


@pytest.mark.parametrize(
    "address", ["https://w3id.org/x", "http://localhost/c.json", "file:///c.json"]
)
def test_an_unknown_context_is_never_fetched(address, monkeypatch):
    import socket

    monkeypatch.setattr(socket, "socket", None)
    with pytest.raises(UnknownContext, match="not on this machine"):
        contexts.context(address)
    document = {**to_jsonld(ARTIST), "@context": [address]}
    for engine in (graph, graph_by_pyld, dropped):
        with pytest.raises(UnknownContext):
            engine(document)


def test_every_aat_id_is_one_that_cromulent_knows_or_is_counted():
    """Outside check: the ids that cromulent 1.0.1 carries. Those it lacks rest on the fact sheet."""
    from catalogue.terms import group, groups

    folder = Path(importlib.util.find_spec("cromulent").submodule_search_locations[0])
    carried = "".join(
        path.read_text("utf-8") for path in (folder / "data").glob("vocab_*.json")
    )
    ids = {each.aat.rpartition("/")[2] for name in groups() for each in group(name) if each.aat}
    known = {number for number in ids if number in carried}
    assert len(ids) > 100
    assert len(known) >= 60, f"only {len(known)} of {len(ids)}"


@needs_schemas
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def test_the_strict_records_of_any_work_are_valid(validators, work):
    """Outside check: the Linked Art 1.0 schemas."""
    for record in strict.reduce(to_jsonld(work), labels):
        whole = absolute(record, None, work.document)
        assert list(validators[schema_of(record)].iter_errors(whole)) == []


def test_a_finding_is_told_anew_by_each_check_in_the_order_of_days():
    told = strict.reduce(to_jsonld(full_work()), labels)[0]["attributed_by"]
    tears = [each for each in told if each["_label"] == "F1 tear"]
    days = [each["timespan"]["begin_of_the_begin"][:10] for each in tears]
    assert days == ["2026-03-02", "2026-11-20"]
    assert "length 62 millimetre" in tears[0]["referred_to_by"][0]["content"]
    assert tears[0]["part_of"]["_label"] == "K1 incoming, Low Water"


def test_every_step_is_part_of_its_treatment_and_says_what_it_used():
    records = strict.reduce(to_jsonld(full_work()), labels)
    treatment = next(each for each in records if each["_label"] == "Tear mending")
    steps = [each for each in records[0]["modified_by"] if "part_of" in each]
    assert {each["part_of"]["id"] for each in steps} == {treatment["id"]}
    said = [note["content"] for step in steps for note in step.get("referred_to_by", ())]
    assert any("12.5 % w/v" in each and "A-1107" in each for each in said)


def _sentences(record):
    return [note["content"] for note in record.get("referred_to_by", ())]


def test_what_a_source_says_of_people_and_how_long_they_had_it_is_said_in_sentences():
    records = strict.reduce(to_jsonld(full_work()), labels)
    sale = next(each for each in records if each["_label"] == "E1 sale, Low Water")
    said = _sentences(sale)
    assert "held until: 1936" in said
    assert "sold by her nephew to" in said
    assert (
        "agent: Hollis & Trewin; active 1880-1911; Porthmellow Quay; the agent of her cousin"
        in said
    )


def test_an_inquiry_says_what_was_asked_what_came_of_it_and_which_papers_were_seen():
    told = strict.reduce(to_jsonld(full_work()), labels)[0]["used_for"]
    inquiry = next(each for each in told if each["_label"].startswith("S1"))
    assert inquiry["_label"] == "S1 archive or stock book searched"
    kinds = [each["_label"] for each in inquiry["classified_as"]]
    assert kinds == ["inquiry", "archive or stock book searched", "seen and copied"]
    names = [each["content"] for each in inquiry["identified_by"]]
    assert names == ["S1", "Stock book of the framers", "fol. 44"]
    assert {"2217, Ebbe, Low Water", "Letter of sale"} <= set(_sentences(inquiry))
    assert inquiry["timespan"]["begin_of_the_begin"] == "2026-03-09T00:00:00Z"


def test_a_part_says_when_it_came_and_a_showing_what_proves_it():
    records = strict.reduce(to_jsonld(full_work()), labels)
    by_label = {each["_label"]: each for each in records}
    assert "came to the painting: 1887" in _sentences(by_label["stretcher of Low Water"])
    shown = by_label["Winter Exhibition"]
    assert shown["attributed_by"][0]["influenced_by"][0]["id"] == records_of_label(records)


def records_of_label(records):
    return next(
        each["id"] for each in records if each["_label"] == "dealer's label I1 of Low Water"
    )


def test_an_event_names_the_painting_its_people_and_what_it_rests_on():
    records = strict.reduce(to_jsonld(full_work()), labels)
    sale = next(each for each in records if each["_label"] == "E1 sale, Low Water")
    kinds = sorted(part["type"] for part in sale["part"])
    assert kinds == ["Acquisition", "Acquisition", "Payment"]
    assert sale["part"][-1]["paid_amount"]["value"] == 12
    resting_on = [each.get("influenced_by", []) for each in sale["attributed_by"]]
    inscription = full_work().inscriptions[0]
    assert sum(len(each) for each in resting_on) == 1
    assert inscription.number == "I1"
