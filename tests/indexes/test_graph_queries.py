"""The questions of sample_records/queries, answered by our index and, from the same documents, by rdflib."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import rdflib
from made_records import full_work

from catalogue.indexes.graph import Facts, Graph
from catalogue.indexes.sparql import refuse
from catalogue.linked.addresses import address_of
from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import graph
from catalogue.linked.quads import statements
from catalogue.linked.text import parse
from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Evidence,
    Finding,
    Inscription,
    MaterialUse,
    Observation,
    ProvenanceEvent,
    Step,
    Transcript,
    Treatment,
    Work,
)

HOUSE = Path(__file__).parents[2]
EVERY = sorted((HOUSE / "sample_records" / "queries").glob("*.rq"))
OF_ONE_RECORD = [path for path in EVERY if "GRAPH ?work" in path.read_text("utf-8")]
"""What is asked of each record for itself, which rdflib can only be asked with a graph for each."""
QUERIES = [path for path in EVERY if path not in OF_ONE_RECORD]
SAMPLES = sorted(
    path
    for folder in ("works", "parties", "jobs")
    for path in (HOUSE / "sample_records" / folder).glob("*.json")
)
DUNMARROW = next(
    parse(path.read_bytes())["id"] for path in SAMPLES if path.stem == "eliza-dunmarrow"
)
COMPARED = 5
"""How many of the sample works rdflib is asked of too: its time grows with the square of them."""


def made() -> list[Work]:
    """One work that every question finds something in, and one that is nearly so and is not found."""
    whole = full_work()
    check = whole.checks[0]
    tear = Finding(
        number="F2", layer="layer/support", kind="damage/tear-l-shaped",
        observations=(
            Observation(check=check.id, length_mm=40, severity="severity/threatening"),
        ),
    )  # fmt: skip
    scratch = replace(
        tear,
        id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b01",
        number="F3",
        observations=(Observation(check=check.id, length_mm=4, severity="severity/visible"),),
    )
    patch = Step(
        order=1, kind="step/patch-heat-set", began=Day(2026, 4, 2), set_temperature_c=68.5,
        materials=(MaterialUse(material="material/eva-adhesive", role="use/adhesive", lot="B-204"),),
    )  # fmt: skip
    work = Work(
        number="2026-090",
        attributions=(
            Attribution(artist=DUNMARROW, preferred=True),
            Attribution(artist=DUNMARROW, qualifier="qualifier/follower-of"),
        ),
        made=read_date("1884"),
        checks=(check,),
        findings=(tear, scratch),
        treatments=(Treatment(number="T1", aim="aim/remedial", steps=(patch,)),),
        provenance=(
            ProvenanceEvent(
                number="E1", order=1, kind="provenance/sale", when=read_date("1911"),
                evidence=(Evidence(kind="evidence/none-cited"),),
            ),
        ),
        inscriptions=(
            Inscription(number="I1", kind="inscription/wax-seal", face="face/back"),
            Inscription(
                number="I2", kind="inscription/dealer-label", face="face/back",
                transcripts=(Transcript(markup="AMBRY\n& FELL\nGarrowmouth"),),
            ),
            Inscription(
                number="I3", kind="inscription/address", face="face/front",
                transcripts=(Transcript(markup="Garrowmouth"),),
            ),
        ),
    )  # fmt: skip
    return [work, whole]


@cache
def documents(samples_only: bool):
    found = [parse(path.read_bytes()) for path in SAMPLES]
    if samples_only:
        return found
    works = [each for each in found if each["id"].startswith("work/")]
    others = [each for each in found if each not in works]
    return [*works[:COMPARED], *others, *map(to_jsonld, made())]


def asked_of_rdflib() -> rdflib.Graph:
    """Everything in one graph in memory, read by rdflib itself, JSON-LD and Turtle."""
    together = rdflib.Graph()
    for document in documents(samples_only=False):
        together += graph(document)
    for file in [*(HOUSE / "vocab" / "terms").glob("*.ttl"), HOUSE / "vocab" / "dorse.ttl"]:
        together.parse(file, format="turtle")
    return together


@pytest.fixture(scope="module")
def other_engine() -> rdflib.Graph:
    return asked_of_rdflib()


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    held = Graph(tmp_path_factory.mktemp("queries"))
    held.rebuild(
        (
            (address_of(each["id"], each["id"], None), statements(each))
            for each in documents(samples_only=False)
        ),
        Facts(1, None),
    )
    return held


def rows_of_index(held: Graph, question: str):
    found = held.ask(question, prefixes={}, limit=10_000, seconds=60)
    assert found.cut == ""
    return found.columns, [tuple(map(as_text, row)) for row in found.rows]


def as_text(value) -> str:
    """A number by its value, for the engines write 68.5 and 6.85E1."""
    return f"{float(value)}" if isinstance(value, int | float) else str(value or "")


def rows_of_rdflib(held: rdflib.Graph, question: str):
    return [
        tuple("" if each is None else as_text(each.toPython()) if is_number(each) else str(each) for each in row)
        for row in held.query(question)
    ]  # fmt: skip


def is_number(value) -> bool:
    return isinstance(value, rdflib.Literal) and isinstance(value.value, int | float)


def test_there_are_twenty_and_each_says_what_it_asks_and_for_whom():
    assert (len(QUERIES), len(OF_ONE_RECORD)) == (10, 10)
    for path in EVERY:
        first, second = path.read_text("utf-8").splitlines()[:2]
        assert first.startswith(("# Which ", "# In which ", "# For which ", "# On which "))
        assert first.endswith("?")
        assert second.startswith("# For ")
        refuse(path.read_text("utf-8"))


@pytest.mark.parametrize("path", QUERIES, ids=lambda path: path.stem)
def test_index_and_rdflib_give_the_same_answer(path, index, other_engine):
    """Outside check: rdflib's JSON-LD parser and SPARQL engine, in memory."""
    question = path.read_text("utf-8")
    columns, ours = rows_of_index(index, question)
    assert ours, "nothing found"
    assert Counter(ours) == Counter(rows_of_rdflib(other_engine, question))
    number = columns.index("number")
    assert "2026-090" in {row[number] for row in ours} or path.stem == "covered-not-revealed"


@pytest.fixture(scope="module")
def samples(tmp_path_factory):
    held = Graph(tmp_path_factory.mktemp("samples"))
    held.rebuild(
        (
            (address_of(each["id"], each["id"], None), statements(each))
            for each in documents(samples_only=True)
        ),
        Facts(1, None),
    )
    return held


@pytest.mark.parametrize("path", EVERY, ids=lambda path: path.stem)
def test_the_samples_have_an_answer(path, samples):
    found = rows_of_index(samples, path.read_text("utf-8"))[1]
    assert found


def test_what_is_nearly_so_is_not_found(index):
    def rows(name):
        return rows_of_index(
            index, (HOUSE / "sample_records" / "queries" / name).read_text("utf-8")
        )[1]

    assert {row[1] for row in rows("tears.rq") if row[0] == "2026-090"} == {"F2"}
    assert {row[1] for row in rows("addresses-on-backs.rq") if row[0] == "2026-090"} == {"I2"}
    assert "2012-003" not in {row[0] for row in rows("heat-set-patches.rq")}
    assert ("2026-012", "I5") not in {row[:2] for row in rows("covered-not-revealed.rq")}
    assert {row[0] for row in rows("unread.rq")} >= {"2026-090"}
    assert all(row[0] != "2026-041" for row in rows("provenance-without-evidence.rq"))


@pytest.fixture(scope="module")
def a_graph_for_each() -> rdflib.Dataset:
    """Every sample work as a graph of its own, read by rdflib itself."""
    held = rdflib.Dataset()
    for document in documents(samples_only=True):
        if document["id"].startswith("work/"):
            own = held.graph(rdflib.URIRef(address_of(document["id"], document["id"], None)))
            for statement in graph(document):
                own.add(statement)
    return held


@pytest.mark.filterwarnings("ignore:Dataset\\..* is deprecated:DeprecationWarning")
@pytest.mark.parametrize("path", OF_ONE_RECORD, ids=lambda path: path.stem)
def test_index_and_rdflib_find_the_same_works(path, samples, a_graph_for_each):
    """Outside check: rdflib's JSON-LD parser and SPARQL engine, in memory."""
    question = path.read_text("utf-8")
    ours = rows_of_index(samples, question)[1]
    assert Counter(ours) == Counter(rows_of_rdflib(a_graph_for_each, question))
