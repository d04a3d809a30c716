"""Turtle, N-Quads and Linked Art in one file: the graph of the full-graph export, every statement once.

Outside checks: rdflib and pyoxigraph read what is written; the full-graph files are read by rdflib
with their own inline context, and by pyld (all from the package registry).
"""

from __future__ import annotations

import json
from dataclasses import replace

import pyoxigraph
import pytest
from foreign_linked_art import collections
from hypothesis import given, settings
from hypothesis import strategies as st
from linked_art_schemas import needs_schemas, schema_of, schema_validators
from made_records import ARTIST, CLIENT, full_job, full_work
from rdflib import Graph
from rdflib.compare import isomorphic

from catalogue.exchange.sorted_lines import SortedLines
from catalogue.linked import contexts
from catalogue.linked.graph import graph_by_pyld
from catalogue.linked.text import parse
from catalogue.record import Title
from catalogue.studio import Studio

WHO = "Nell"
BASES = (None, "https://backs.example/s")


@pytest.fixture(scope="module")
def two_works():
    with Studio.open("memory:") as studio:
        work = full_work()
        second = replace(
            full_work(),
            number=None,
            titles=(Title(text='Ebb\\n"quoted" \\\\ «é»', kind="title/given"),),
        )
        for record in (ARTIST, CLIENT, work, second, full_job(work)):
            studio.save(record, who=WHO)
        yield studio


def sent(studio, name, out, profile="full"):
    studio.export(name, profile, out)
    (file,) = out.iterdir()
    return file.read_text("utf-8")


def by_rdflib(folder):
    found = Graph()
    for path in folder.glob("*.json"):
        document = json.loads(path.read_text("utf-8"))
        inline = contexts.resolved(document.pop("@context"))
        found.parse(data=json.dumps(document), format="json-ld", context=inline)
    return found


@pytest.mark.parametrize("base", BASES)
@pytest.mark.parametrize("profile", ["owner", "full"])
def test_all_three_say_the_same(two_works, tmp_path, base, profile):
    two_works.set_base(base)
    two_works.export("full-graph", profile, tmp_path / "files")
    files = by_rdflib(tmp_path / "files")
    turtle = Graph().parse(
        data=sent(two_works, "turtle", tmp_path / "t", profile), format="turtle"
    )
    text = sent(two_works, "nquads", tmp_path / "q", profile)
    read = pyoxigraph.parse(text, format=pyoxigraph.RdfFormat.N_QUADS)
    quads = Graph().parse(data="".join(f"{each.triple} .\n" for each in read), format="nt")
    assert set(turtle) == set(files)
    assert set(quads) == set(files)
    assert len(files) > 500


def test_pyld_reads_the_files_as_the_turtle_says(two_works, tmp_path):
    two_works.set_base(None)
    two_works.export("full-graph", "full", tmp_path / "files")
    found = Graph()
    for path in (tmp_path / "files").glob("*.json"):
        found += graph_by_pyld(parse(path.read_bytes()))
    turtle = Graph().parse(data=sent(two_works, "turtle", tmp_path / "t"), format="turtle")
    assert isomorphic(found, turtle)


@pytest.mark.parametrize("base", BASES)
def test_quads_are_sorted_once_each_in_the_graph_of_their_document_and_nothing_is_nameless(
    two_works, tmp_path, base
):
    two_works.set_base(base)
    text = sent(two_works, "nquads", tmp_path / "q")
    lines = text.encode().split(b"\n")
    assert lines.pop() == b""
    assert lines == sorted(set(lines))
    read = list(pyoxigraph.parse(text, format=pyoxigraph.RdfFormat.N_QUADS))
    assert len(read) == len(lines)
    told = {str(each.graph_name) for each in read}
    root = base + "/" if base else "urn:uuid:"
    assert len(told) == 5
    assert all(each.startswith(f"<{root}") for each in told)
    for each in read:
        assert not isinstance(each.subject, pyoxigraph.BlankNode)
        assert not isinstance(each.object, pyoxigraph.BlankNode)


def test_turtle_has_no_nameless_node_and_short_names(two_works, tmp_path):
    two_works.set_base(None)
    text = sent(two_works, "turtle", tmp_path / "t")
    read = list(pyoxigraph.parse(text, format=pyoxigraph.RdfFormat.TURTLE))
    assert not any(isinstance(each.subject, pyoxigraph.BlankNode) for each in read)
    assert " a crm:E22_Human-Made_Object" in text
    assert "aat:300033618" in text


def test_the_order_in_which_works_leave_makes_no_difference_to_quads(two_works, tmp_path):
    works = [kept.document_id for kept in two_works.all(type(full_work()))]
    for number, order in enumerate((works, works[::-1])):
        two_works.export("nquads", "owner", tmp_path / str(number), order)
    assert (tmp_path / "0/records.nq").read_bytes() == (tmp_path / "1/records.nq").read_bytes()


def test_other_peoples_nameless_nodes_are_not_joined(tmp_path):
    (tmp_path / "in").mkdir()
    for number, each in enumerate(collections(seed=11, count=12)):
        (tmp_path / "in" / f"{number}.json").write_text(json.dumps(each))
    with Studio.open("memory:") as studio:
        assert {each.outcome for each in studio.import_([tmp_path / "in"], who=WHO)} == {"new"}
        studio.export("full-graph", "full", tmp_path / "files")
        separate = sum(
            len(graph_by_pyld(parse(path.read_bytes())))
            for path in (tmp_path / "files").iterdir()
        )
        lines = sent(studio, "nquads", tmp_path / "q").splitlines()
        turtle = Graph().parse(data=sent(studio, "turtle", tmp_path / "t"), format="turtle")
    assert len(lines) == separate
    assert len({line.rpartition(" <")[0] for line in lines}) == len(turtle)


# --- Linked Art in one file ---------------------------------------------------------------------


def test_the_whole_holds_every_strict_record_and_the_context_once(two_works, tmp_path):
    two_works.set_base("https://backs.example/s")
    two_works.export("linked-art", "owner", tmp_path / "files")
    files = [json.loads(path.read_text("utf-8")) for path in (tmp_path / "files").iterdir()]
    whole = json.loads(sent(two_works, "linked-art-whole", tmp_path / "w", "owner"))
    assert set(whole) == {"@context", "@graph"}
    put_back = [{"@context": whole["@context"], **each} for each in whole["@graph"]]
    as_text = [json.dumps(each, sort_keys=True) for each in put_back]
    assert sorted(as_text) == sorted(json.dumps(each, sort_keys=True) for each in files)


def test_the_whole_comes_in_again(two_works, tmp_path):
    text = sent(two_works, "linked-art-whole", tmp_path / "w", "owner")
    with Studio.open("memory:") as other:
        told = list(other.import_([tmp_path / "w"], who=WHO))
        assert {each.outcome for each in told} == {"new"}
        assert len(told) == len(json.loads(text)["@graph"])


@needs_schemas
def test_every_member_of_the_whole_is_valid(two_works, tmp_path):
    """Outside check: the Linked Art 1.0 schemas."""
    validators = schema_validators()
    whole = json.loads(sent(two_works, "linked-art-whole", tmp_path / "w", "full"))
    for each in whole["@graph"]:
        record = {"@context": whole["@context"], **each}
        assert list(validators[schema_of(record)].iter_errors(record)) == []


# --- sorting ------------------------------------------------------------------------------------

lines = st.lists(st.text("abé\U0001f5bcz ", max_size=6).map(str.encode), max_size=60)


@settings(max_examples=60, deadline=None)
@given(batches=st.lists(lines, max_size=6), run=st.integers(1, 80), most=st.integers(1, 4))
def test_lines_of_any_number_of_runs_are_sorted_and_once_each(
    tmp_path_factory, batches, run, most
):
    folder = tmp_path_factory.mktemp("sorted")
    sorting = SortedLines(folder, run, most)
    for batch in batches:
        sorting.add(batch)
    found = sorting.into(folder / "out").read_bytes()
    assert found == b"".join(each + b"\n" for each in sorted({x for y in batches for x in y}))
    assert [path.name for path in folder.iterdir()] == ["out"]
