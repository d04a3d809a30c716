"""Editing is a patch: what changed is carried over, and everything else stays as it stood."""

from __future__ import annotations

import copy
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from made_records import changed_title, full_work, parties, works

from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import write
from catalogue.measure import read_date

many = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))

# The shape is Linked Art's own (its model pages on objects, CC BY 4.0); the content is invented.
FOREIGN = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/object/77",
    "type": "HumanMadeObject",
    "_label": "The Salt Pans",
    "classified_as": [{"id": "http://vocab.getty.edu/aat/300033618", "type": "Type"}],
    "identified_by": [
        {
            "type": "Name",
            "content": "The Salt Pans",
            "classified_as": [{"id": "http://vocab.getty.edu/aat/300404670", "type": "Type"}],
            "https://museum.example/ns/checked": "yes",
        },
        {"type": "Name", "content": "Evening on the Pans"},
        {"type": "Identifier", "content": "77.1"},
    ],
    "dimension": [
        {
            "type": "Dimension",
            "value": 45.7,
            "classified_as": [{"id": "http://vocab.getty.edu/aat/300055644", "type": "Type"}],
            "unit": {"id": "http://vocab.getty.edu/aat/300379098", "type": "MeasurementUnit"},
        }
    ],
    "produced_by": {
        "type": "Production",
        "carried_out_by": [
            {"id": "https://museum.example/person/3", "type": "Person", "_label": "M. Orr"}
        ],
        "timespan": {
            "type": "TimeSpan",
            "begin_of_the_begin": "1884-01-01T00:00:00Z",
            "end_of_the_end": "1890-12-31T23:59:59Z",
        },
    },
    "member_of": [{"id": "https://museum.example/set/9", "type": "Set", "_label": "Room 9"}],
    "something_else": {"kept": [1, 2.50, "<b>x</b>"]},
}


def test_without_a_change_the_document_is_the_same_object():
    document = to_jsonld(full_work())
    record = from_jsonld(document)
    assert merge(document, record, record) is document


@many
@given(works(), works())
def test_any_change_arrives(before, after):
    after = replace(after, id=before.id)
    assert from_jsonld(merge(to_jsonld(before), before, after)) == after


@many
@given(parties, parties)
def test_any_change_of_a_party_arrives(before, after):
    after = replace(after, id=before.id, kind=before.kind)
    assert from_jsonld(merge(to_jsonld(before), before, after)) == after


@many
@given(works(), st.dictionaries(st.sampled_from(["x", "y", "z"]), st.integers(), min_size=1))
def test_what_dorse_does_not_know_survives_any_change(work, strange):
    document = {**to_jsonld(work), **strange}
    for key in ("identified_by", "part", "representation"):
        for node in document.get(key, ()):
            node.update(strange)
    after = replace(work, medium="Oil on something else", titles=())
    merged = merge(document, work, after)
    assert all(merged[key] == value for key, value in strange.items())
    for node in merged.get("part", ()):
        assert strange.items() <= node.items()


def test_the_stored_document_itself_is_not_touched():
    document = to_jsonld(full_work())
    before = write(document)
    merge(document, from_jsonld(document), changed_title(from_jsonld(document), "X"))
    assert write(document) == before


def test_of_a_foreign_document_only_the_name_differs():
    record = from_jsonld(FOREIGN)
    place = [title.text for title in record.titles].index("The Salt Pans")
    titles = list(record.titles)
    titles[place] = replace(titles[place], text="The Salt Pans at Dusk")
    merged = merge(FOREIGN, record, replace(record, titles=tuple(titles)))
    expected = copy.deepcopy(FOREIGN)
    expected["identified_by"][0]["content"] = "The Salt Pans at Dusk"
    given_id = merged["identified_by"][0].pop("id")
    assert given_id.startswith("#")
    assert merged == expected
    again = from_jsonld(
        {
            **merged,
            "identified_by": [
                {"id": given_id, **merged["identified_by"][0]},
                *merged["identified_by"][1:],
            ],
        }
    )
    assert [title.text for title in again.titles][place] == "The Salt Pans at Dusk"


def test_a_foreign_document_is_read_as_far_as_it_is_understood():
    record = from_jsonld(FOREIGN)
    assert record.title() == "The Salt Pans"
    assert record.made == replace(
        read_date("1884-1890"),
        written=record.made.written,
        edtf=record.made.edtf,
        rule="bounds",
    )
    assert record.sizes[0].height_mm == 457
    assert record.attributions[0].artist == "https://museum.example/person/3"
    assert [number.text for number in record.numbers] == ["77.1"]


@pytest.mark.parametrize("seed", range(5))
def test_a_foreign_document_reads_the_same_in_any_order(seed):
    from test_linked_documents import shuffled

    assert from_jsonld(shuffled(FOREIGN, seed)) == from_jsonld(FOREIGN)


def test_an_inscription_that_moves_takes_along_what_nobody_knows():
    work = full_work()
    document = to_jsonld(work)
    stretcher = next(node for node in document["part"] if "part" in node)
    stretcher["part"][0]["carries"][0]["museum"] = "knows more"
    moved = tuple(replace(each, part=None) for each in work.inscriptions)
    merged = merge(document, work, replace(work, inscriptions=moved))
    bearer = next(node for node in merged["part"] if node["id"].endswith("/bearer"))
    assert bearer["carries"][0]["museum"] == "knows more"
