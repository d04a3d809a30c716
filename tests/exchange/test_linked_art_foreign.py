"""Other institutions' Linked Art in and out again: the same graph, whatever we made of it here.

The examples are those of the project's fact sheet on Linked Art, whose content is invented; each was
run there against the published Linked Art 1.0 schemas. The generated records: `foreign_linked_art`.
Outside check: isomorphism of graphs by rdflib, as rdflib and pyld read the two documents.
"""

from __future__ import annotations

import json
import random
from dataclasses import replace
from pathlib import Path

import pytest
from foreign_linked_art import CLASSES, collections, record
from rdflib.compare import isomorphic

from catalogue.linked.graph import graph, graph_by_pyld
from catalogue.linked.text import parse
from catalogue.record import Inscription, Reference, Title, Transcript
from catalogue.studio import Studio

WHO = "Nell"
EXAMPLES = {
    path.stem: path.read_text("utf-8")
    for path in sorted((Path(__file__).parent / "linked_art_examples").glob("*.json"))
}
NOT_STRICT = {
    "3b-annotation",
    "4c-crm-condition",
    "5d-crm-treatment",
    "5e-crm-addition",
    "6f-crm-evidence",
}
BASES = (None, "https://backs.example/")

pytestmark = pytest.mark.filterwarnings("ignore:Code:UserWarning")


def taken_in(texts, folder, studio):
    """The ids under which these documents are kept, by their names."""
    folder.mkdir()
    for name, text in texts.items():
        (folder / f"{name}.json").write_text(text, encoding="utf-8")
    told = list(studio.import_([folder], who=WHO))
    assert {each.outcome for each in told} == {"new"}, [
        each.said for each in told if each.outcome != "new"
    ]
    return {Path(each.source).stem: each.document_id for each in told}


def sent(studio, out, profile="full", name="full-graph"):
    studio.export(name, profile, out)
    return {path.stem: path.read_bytes() for path in out.glob("*.json")}


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_leaves_as_it_came(empty_studio, tmp_path, name):
    """As a graph the same under either profile and base; as a strict record, if it was one, word for word."""
    text = EXAMPLES[name]
    kept = taken_in({name: text}, tmp_path / "in", empty_studio)[name]
    stem = kept.replace("/", "-")
    for base in BASES:
        empty_studio.set_base(base)
        for profile in ("full", "owner"):
            left = parse(
                sent(empty_studio, tmp_path / f"{profile}{base is None}", profile)[stem]
            )
            assert isomorphic(graph(left), graph(parse(text)))
            assert isomorphic(graph_by_pyld(left), graph_by_pyld(parse(text)))
    strict = sent(empty_studio, tmp_path / "strict", name="linked-art")
    assert [json.loads(each) for each in strict.values()] == (
        [] if name in NOT_STRICT else [json.loads(text)]
    )
    told = empty_studio.import_([tmp_path / "in"], who=WHO)
    assert [each.outcome for each in told] == ["same"]


def test_one_record_from_elsewhere_leaves_by_its_address(empty_studio, tmp_path):
    kept = taken_in(
        {name: EXAMPLES[name] for name in ("1a-painting", "1b-circle")},
        tmp_path / "in",
        empty_studio,
    )
    address = json.loads(EXAMPLES["1a-painting"])["id"]
    empty_studio.export("full-graph", "owner", tmp_path / "out", [address])
    (file,) = (tmp_path / "out").iterdir()
    assert file.stem == kept["1a-painting"].replace("/", "-")


def test_records_of_every_class_leave_as_the_graphs_they_came_as(tmp_path):
    texts = {
        f"{number:03}": json.dumps(each, ensure_ascii=False)
        for number, each in enumerate(collections(seed=3, count=len(CLASSES)))
    }
    assert len(texts) > 75
    with Studio.open("memory:") as studio:
        kept = taken_in(texts, tmp_path / "in", studio)
        files = sent(studio, tmp_path / "out")
        for name, text in texts.items():
            left = parse(files[kept[name].replace("/", "-")])
            assert isomorphic(graph(left), graph(parse(text))), text
            if int(name) % 10 == 0:
                assert isomorphic(graph_by_pyld(left), graph_by_pyld(parse(text))), text


def test_a_collection_in_one_graph_is_taken_apart_and_every_record_leaves(tmp_path):
    chance = random.Random(5)
    members = [
        record(name, chance, 6) for name in ("Person", "HumanMadeObject", "Set", "Place")
    ]
    context = members[0]["@context"]
    whole = {
        "@context": context,
        "@graph": [{k: v for k, v in each.items() if k != "@context"} for each in members],
    }
    (tmp_path / "whole.jsonld").write_text(json.dumps(whole))
    with Studio.open("memory:") as studio:
        told = list(studio.import_([tmp_path / "whole.jsonld"], who=WHO))
        files = sent(studio, tmp_path / "out")
        for each, member in zip(told, members, strict=True):
            left = parse(files[each.document_id.replace("/", "-")])
            assert isomorphic(graph(left), graph(parse(json.dumps(member))))


# --- made our own -----------------------------------------------------------------------------

OBJECTS = [
    name
    for name in EXAMPLES
    if json.loads(EXAMPLES[name])["type"] == "HumanMadeObject" and name not in NOT_STRICT
]


def adopted(name, tmp_path, studio):
    kept = taken_in({name: EXAMPLES[name]}, tmp_path / "in", studio)
    return studio.adopt(kept[name], who=WHO, why="it came to us for cleaning")


def without_names(document):
    return {
        key: held for key, held in document.items() if key not in ("identified_by", "@context")
    }


@pytest.mark.parametrize("name", OBJECTS)
def test_made_a_work_of_ours_it_still_says_all_it_said_and_a_number_more(
    empty_studio, tmp_path, name
):
    work = adopted(name, tmp_path, empty_studio)
    came, now = parse(EXAMPLES[name]), empty_studio.document(work.document_id)
    assert without_numbers(now) == without_numbers(came)
    assert now["identified_by"][-1]["content"] == work.record.number
    before, after = graph(came), graph(now)
    assert set(after.predicates()) >= set(before.predicates())
    assert len(after) > len(before)
    left = sent(empty_studio, tmp_path / "out")[work.document_id.replace("/", "-")]
    assert isomorphic(graph(parse(left)), after)


def without_numbers(value):
    """A document without the numbers that were given here, and without the ids that carry them."""
    if isinstance(value, list):
        return [
            without_numbers(each)
            for each in value
            if not (
                isinstance(each, dict)
                and each.get("type") == "Identifier"
                and "/" in each.get("id", "")
            )
        ]
    if not isinstance(value, dict):
        return value
    bare = {key: without_numbers(held) for key, held in value.items() if key != "@context"}
    return {
        key: held
        for key, held in bare.items()
        if held != [] and not (key == "id" and str(held).startswith("#"))
    }


def test_with_one_title_changed_only_that_name_differs(empty_studio, tmp_path):
    work = adopted("1a-painting", tmp_path, empty_studio)
    before = empty_studio.document(work.document_id)
    changed = tuple(
        replace(each, text="Pond at Dusk") if each.text == "Mill Pond at Dusk" else each
        for each in work.record.titles
    )
    empty_studio.save(replace(work.record, titles=changed), who=WHO, read=work)
    after = empty_studio.document(work.document_id)
    assert without_names(after) == without_names(before)
    differing = [
        (was, now)
        for was, now in zip(before["identified_by"], after["identified_by"], strict=True)
        if was != now
    ]
    assert len(differing) == 1
    was, now = differing[0]
    assert now["content"] == "Pond at Dusk"
    assert {**was, "content": ""} == {
        **now,
        "id": was.get("id"),
        "content": "",
    } or "id" not in was


def test_what_is_written_into_it_here_means_something_and_what_meant_nothing_still_does_not(
    tmp_path,
):
    """`position` is a term of ours; the sender used it without saying what it means."""
    foreign = {**json.loads(EXAMPLES["1a-painting"]), "position": "left"}
    with Studio.open("memory:") as studio:
        kept = taken_in({"p": json.dumps(foreign)}, tmp_path / "in", studio)
        work = studio.adopt(kept["p"], who=WHO, why="it came to us")
        label = Inscription(
            kind="inscription/stamp", face="face/back", transcripts=(Transcript(markup="Ada"),)
        )
        studio.save(replace(work.record, inscriptions=(label,)), who=WHO, read=work)
        left = graph(parse(sent(studio, tmp_path / "out")[work.document_id.replace("/", "-")]))
        said = {str(value) for value in left.objects()}
        assert "Ada" in said
        assert "left" not in said
        assert studio.document(work.document_id)["position"] == "left"


def test_a_record_of_theirs_that_names_ours_as_the_same_stays_theirs(studio, tmp_path):
    ours = studio.work("2026-041").record.id
    theirs = {
        **json.loads(EXAMPLES["1a-painting"]),
        "equivalent": [{"id": f"urn:uuid:{ours}", "type": "HumanMadeObject"}],
    }
    (tmp_path / "a.json").write_text(json.dumps(theirs))
    (told,) = studio.import_([tmp_path / "a.json"], who=WHO)
    assert (told.outcome, told.document_id.partition("/")[0]) == ("new", "reference")


def test_addresses_relative_to_different_homes_are_different_records(empty_studio, tmp_path):
    for home in ("a", "b"):
        context = [
            "https://linked.art/ns/v1/linked-art.json",
            {"@base": f"https://{home}.example/"},
        ]
        document = {"@context": context, "id": "object/7", "type": "Set", "_label": home}
        (tmp_path / f"{home}.json").write_text(json.dumps(document))
    told = list(empty_studio.import_([tmp_path], who=WHO))
    assert [each.outcome for each in told] == ["new", "new"]
    kept = empty_studio.read(empty_studio.at("https://b.example/object/7")).record
    assert isinstance(kept, Reference)
    assert (kept.address, kept.labels) == ("https://b.example/object/7", ("b",))


def test_a_title_added_here_to_a_record_with_a_language_on_its_names(empty_studio, tmp_path):
    names = [{"type": "Name", "content": {"@value": "Мельничный пруд", "@language": "ru"}}]
    foreign = {**json.loads(EXAMPLES["1a-painting"]), "identified_by": names}
    kept = taken_in({"p": json.dumps(foreign)}, tmp_path / "in", empty_studio)
    assert empty_studio.read(kept["p"]).record.labels[-1] == "Мельничный пруд"
    work = empty_studio.adopt(kept["p"], who=WHO, why="it came to us")
    more = replace(
        work.record, titles=(*work.record.titles, Title(text="The Pond", kind="title/given"))
    )
    empty_studio.save(more, who=WHO, read=work)
    assert empty_studio.document(work.document_id)["identified_by"][0] == names[0]


def test_a_record_that_says_other_things_under_the_same_address_is_not_the_same(
    empty_studio, tmp_path
):
    came = json.loads(EXAMPLES["1a-painting"])
    taken_in({"p": json.dumps(came)}, tmp_path / "in", empty_studio)
    later = {**came, "current_location": {"id": f"{came['id']}/room", "type": "Place"}}
    (tmp_path / "in" / "p.json").write_text(json.dumps(later))
    (told,) = empty_studio.import_([tmp_path / "in"], who=WHO)
    assert told.outcome == "different"
    assert empty_studio.document(told.document_id) == parse(json.dumps(came))
