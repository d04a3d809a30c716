"""The index of the graph as it lives: taken in, made anew, shared, killed, damaged, and asked in time."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.errors import BadData, Busy, CannotSave, Damaged
from catalogue.indexes import asked
from catalogue.indexes.generations import NeedsRebuild
from catalogue.indexes.graph import LOCK, Facts, Graph, vocabulary_digest
from catalogue.indexes.lock import locked, one_writer

EVERYTHING = "SELECT ?g ?s ?o { GRAPH ?g { ?s <urn:says> ?o } } ORDER BY ?g ?o"


def said(number: int, seed: int = 0) -> tuple[str, tuple[str, ...]]:
    address = f"urn:document:{number}"
    return address, tuple(f'<{address}> <urn:says> "{seed}-{each}" .' for each in range(4))


WORKS = dict(said(number) for number in range(12))
CHANGED = dict(said(number, 1) for number in range(12))


def ask(graph: Graph, question: str = EVERYTHING, **limits):
    found = graph.ask(question, prefixes={}, **({"limit": 100_000, "seconds": 20} | limits))
    return found.rows


def expected(documents) -> tuple:
    return tuple(
        (address, line.split()[0][1:-1], line.split('"')[1])
        for address in sorted(documents)
        for line in documents[address]
    )


# --- taking in -----------------------------------------------------------------------------------


def test_an_index_begins_empty_even_without_its_folder(tmp_path):
    graph = Graph(tmp_path / "not" / "there")
    assert graph.facts() is None
    assert ask(graph) == ()
    graph.take_in(WORKS.items(), Facts(12, None))
    assert graph.facts() == Facts(12, None)
    assert ask(graph) == expected(WORKS)


def test_what_is_taken_in_replaces_what_was_there(tmp_path):
    graph = Graph(tmp_path)
    graph.rebuild(WORKS.items(), Facts(12, "https://backs.example/"))
    first = dict(list(CHANGED.items())[:3])
    graph.take_in([*first.items(), ("urn:document:7", ())], Facts(16, "https://backs.example/"))
    left = {address: lines for address, lines in WORKS.items() if address != "urn:document:7"}
    assert ask(graph) == expected(left | first)
    assert graph.facts() == Facts(16, "https://backs.example/")


@settings(max_examples=4, deadline=None)
@given(st.data())
def test_caught_up_save_by_save_it_answers_as_one_made_anew(tmp_path_factory, data):
    graph = Graph(tmp_path_factory.mktemp("graph"))
    steps = st.dictionaries(
        st.sampled_from(sorted(WORKS)), st.sampled_from([WORKS, CHANGED, None]), max_size=5
    )
    now: dict = {}
    for number in range(1, 4):
        step = data.draw(steps)
        batch = {name: source[name] if source else () for name, source in step.items()}
        graph.take_in(batch.items(), Facts(number, None))
        now |= batch
        assert ask(graph) == expected(now)


def test_a_rebuild_leaves_one_generation_and_no_litter(tmp_path):
    graph = Graph(tmp_path)
    for number in range(3):
        graph.rebuild(WORKS.items(), Facts(number, None))
        graph.take_in(CHANGED.items(), Facts(number, None))
    assert sorted(each.name for each in tmp_path.iterdir()) == [
        "current", "graph-3", "graph-3.lock", LOCK,
    ]  # fmt: skip
    assert not list(tmp_path.rglob("LOG.old.*"))


def test_a_rebuild_that_fails_leaves_the_old_index(tmp_path):
    def documents():
        yield said(1, 1)
        raise Damaged("this record cannot be read")

    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    for verb in (graph.rebuild, graph.take_in):
        with pytest.raises(Damaged, match="record cannot be read"):
            verb(documents(), Facts(30, None))
        assert graph.facts() == Facts(12, None)
    graph.take_in(WORKS.items(), Facts(31, None))
    assert ask(graph) == expected(WORKS)


# --- the vocabulary ------------------------------------------------------------------------------


def test_terms_are_asked_for_by_their_label(tmp_path):
    graph = Graph(tmp_path)
    graph.rebuild([], Facts(0, None))
    question = """
        PREFIX skos: <http://www.w3.org/2004/02/skos/core#>
        SELECT ?broader { ?term skos:prefLabel "monogram"@en ; skos:broader/skos:prefLabel ?broader }
    """
    assert ask(graph, question) == (("signature",),)
    own = "ASK { GRAPH <https://dorse.example/ns/1#> { ?term ?says ?what } }"
    assert ask(graph, own) == ((True,),)


def test_another_vocabulary_is_taken_in_with_the_next_save(tmp_path, monkeypatch):
    vocab = tmp_path / "vocab"
    (vocab / "terms").mkdir(parents=True)
    (vocab / "dorse.ttl").write_text("<urn:own> a <urn:property> .")
    (vocab / "terms" / "face.ttl").write_text('<urn:front> <urn:says> "front" .')
    monkeypatch.setattr("catalogue.indexes.graph.place", lambda name: tmp_path / name)
    graph = Graph(tmp_path / "graph")
    graph.rebuild([], Facts(1, None))
    assert [row[2] for row in ask(graph)] == ["front"]
    before = vocabulary_digest()
    (vocab / "terms" / "face.ttl").write_text('<urn:front> <urn:says> "recto" .')
    assert vocabulary_digest() != before
    assert graph.facts() != Facts(1, None)
    graph.take_in([], Facts(1, None))
    assert graph.facts() == Facts(1, None)
    assert [row[2] for row in ask(graph)] == ["recto"]


# --- several at once -----------------------------------------------------------------------------


def child(code: str, *arguments: object) -> subprocess.Popen[str]:
    """Another process that runs this code with our rooms and these tests at hand."""
    where = os.pathsep.join([str(Path(__file__).parent), *filter(None, sys.path)])
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": where},
        stdout=subprocess.PIPE,
        text=True,
    )


def test_one_process_writes_at_a_time(tmp_path):
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    with one_writer(tmp_path, LOCK):
        for verb in (graph.take_in, graph.rebuild):
            with pytest.raises(Busy, match=f"process {os.getpid()} is taking saves"):
                verb(CHANGED.items(), Facts(20, None))
        assert ask(graph) == expected(WORKS)
    graph.take_in(CHANGED.items(), Facts(20, None))
    assert ask(graph) == expected(CHANGED)


def test_whoever_asks_keeps_the_answer_still_but_not_a_rebuild(tmp_path, monkeypatch):
    monkeypatch.setattr("catalogue.indexes.graph.PATIENCE_SECONDS", 0.05)
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    with locked(tmp_path / "graph-1.lock", shared=True):
        assert ask(graph) == expected(WORKS)
        with pytest.raises(Busy, match="another process is reading"):
            graph.take_in(CHANGED.items(), Facts(20, None))
        graph.rebuild(CHANGED.items(), Facts(20, None))
        assert ask(graph) == expected(CHANGED)
        assert (tmp_path / "graph-1").exists()
    graph.rebuild(CHANGED.items(), Facts(21, None))
    assert not (tmp_path / "graph-1").exists()


def test_readers_go_on_while_a_writer_takes_in_and_swaps(tmp_path):
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    faults: list[BaseException] = []
    done = threading.Event()

    def read() -> None:
        try:
            while not done.is_set():
                assert ask(Graph(tmp_path)) in (expected(WORKS), expected(CHANGED))
        except BaseException as fault:  # noqa: BLE001 - whatever it is, it is the finding
            faults.append(fault)

    readers = [threading.Thread(target=read) for _ in range(2)]
    for reader in readers:
        reader.start()
    for number in range(3):
        graph.rebuild((WORKS if number % 2 else CHANGED).items(), Facts(number, None))
        try:
            graph.take_in((CHANGED if number % 2 else WORKS).items(), Facts(number, None))
        except Busy:  # they read without a pause
            continue
    done.set()
    for reader in readers:
        reader.join()
    assert not faults


WRITER = """
import pathlib, sys
from test_indexes_graph import CHANGED, WORKS
from catalogue.indexes.graph import Facts, Graph
graph = Graph(pathlib.Path(sys.argv[1]))
known = graph.facts()
for number in range(known.cursor + 1 if known else 1, 100_000):
    source = (CHANGED if number % 2 else WORKS).items()
    (graph.rebuild if number % 7 == 0 else graph.take_in)(source, Facts(number, None))
    print(number, flush=True)
"""


def test_a_killed_writer_loses_nothing_it_said_was_done(tmp_path):
    chance = random.Random(5)
    reached = 0
    for _ in range(4):
        writer = child(WRITER, tmp_path)
        for _ in range(chance.randint(2, 6)):
            heard = int(writer.stdout.readline())
        timer = threading.Timer(chance.random() * 0.05, writer.kill)
        timer.start()
        heard = max([heard, *map(int, writer.stdout.read().split())])
        writer.wait()
        timer.join()
        writer.stdout.close()
        graph = Graph(tmp_path)
        reached = graph.facts().cursor
        assert heard <= reached <= heard + 1
        # the documents may be ahead of what the index says of itself, never behind it
        source = (CHANGED if reached % 2 else WORKS).items()
        graph.take_in(source, Facts(reached, None))
        assert ask(graph) == expected(dict(source))
    assert reached > 8


# --- damaged, cut off, full ----------------------------------------------------------------------

PATTERNS = ("current", "made.json", "CURRENT", "MANIFEST-*", "*.sst", "*.log", "OPTIONS-*")


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_damaged_file_is_a_call_for_a_rebuild_never_a_wrong_answer(tmp_path, pattern):
    chance = random.Random(pattern)
    sound = Graph(tmp_path / "sound")
    sound.take_in(WORKS.items(), Facts(12, None))
    sound.take_in(CHANGED.items(), Facts(13, None))
    told: list[str] = []
    for number in range(3):
        folder = tmp_path / f"damaged-{number}"
        shutil.copytree(tmp_path / "sound", folder)
        file = chance.choice(sorted(folder.rglob(pattern)))
        content = bytearray(file.read_bytes())
        if number == 0 and content:
            content[chance.randrange(len(content))] ^= chance.randint(1, 255)
        file.write_bytes(content if number == 0 else content[: len(content) // 2])
        graph = Graph(folder)
        try:
            assert graph.facts() in (Facts(13, None), None)
            assert ask(graph) in (expected(CHANGED), ())
            graph.take_in(WORKS.items(), Facts(14, None))
            assert ask(graph) == expected(WORKS)
        except NeedsRebuild as needed:
            told.append(str(needed))
        graph.rebuild(CHANGED.items(), Facts(15, None))
        assert ask(graph) == expected(CHANGED)
    assert all("dorse rebuild" in each for each in told)


@pytest.mark.parametrize("name", ["graph-77", "../elsewhere", "", "words-1", "\x00"])
def test_a_pointer_to_nowhere_is_a_call_for_a_rebuild(tmp_path, name):
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    (tmp_path / "current").write_text(name)
    for verb in (graph.facts, lambda: ask(graph), lambda: graph.take_in([], Facts(13, None))):
        with pytest.raises(NeedsRebuild, match="names no generation"):
            verb()


def test_an_index_of_another_version_is_made_anew(tmp_path):
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    [made] = tmp_path.rglob("made.json")
    made.write_text(made.read_text().replace('"format": ', '"format": 9'))
    with pytest.raises(NeedsRebuild, match="another version"):
        graph.facts()


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(CannotSave):
        Graph(tmp_path / "file" / "graph").take_in(WORKS.items(), Facts(12, None))


FILLER = """
import pathlib, resource, sys
from test_indexes_graph import CHANGED
from catalogue.errors import CannotSave
from catalogue.indexes.graph import Facts, Graph
graph = Graph(pathlib.Path(sys.argv[1]))
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[2]), resource.RLIM_INFINITY))
for verb in (graph.take_in, graph.rebuild):
    try:
        verb(CHANGED.items(), Facts(20, None))
    except CannotSave as fault:
        print("refused:", str(fault).splitlines()[0])
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits on file sizes are POSIX")
@pytest.mark.parametrize("most", [0, 3000])
def test_a_full_disk_leaves_an_index_that_answers(tmp_path, most):
    graph = Graph(tmp_path)
    graph.take_in(WORKS.items(), Facts(12, None))
    writer = child(FILLER, tmp_path, most)
    told = writer.communicate()[0]
    assert writer.returncode == 0
    assert told.count("refused: ") == 2
    assert graph.facts() == Facts(12, None)
    graph.take_in(CHANGED.items(), Facts(20, None))
    assert ask(graph) == expected(CHANGED)


# --- asked within limits -------------------------------------------------------------------------

WIDE = "{ ?a ?p ?b . ?c ?q ?d . ?e ?r ?f . ?g ?s ?h }"


@pytest.fixture(scope="module")
def terms(tmp_path_factory):
    """An index of the vocabulary alone: some thousand statements."""
    graph = Graph(tmp_path_factory.mktemp("terms"))
    graph.rebuild([], Facts(0, None))
    return graph


@pytest.mark.parametrize(
    "question",
    [
        f"SELECT (COUNT(*) AS ?many) {WIDE}",
        f"SELECT ?a {WIDE} ORDER BY ?f",
        f"ASK {{ {WIDE} FILTER(?a = ?nothing) }}",
        f"SELECT ?a {{ {WIDE} FILTER(CONCAT(STR(?b), STR(?h)) = 'nowhere') }}",
        f"SELECT DISTINCT ?x {{ {WIDE} BIND(1 AS ?x) }}",
    ],
)
def test_a_question_that_would_run_for_hours_is_stopped(terms, question):
    began = time.monotonic()
    found = terms.ask(question, prefixes={}, limit=10, seconds=0.5)
    assert time.monotonic() - began < 60  # a machine may be busy; unstopped it would be hours
    assert found.cut == "time"
    assert len(found.rows) <= 1


def test_what_was_found_before_the_time_was_up_is_the_answer(terms):
    found = terms.ask(f"SELECT ?a ?h {WIDE}", prefixes={}, limit=10**9, seconds=0.5)
    assert found.cut == "time"
    assert found.columns == ("a", "h")
    assert len(found.rows) > 100


def test_no_more_rows_than_asked_for(terms):
    assert terms.ask("SELECT * { ?a ?p ?b }", prefixes={}, limit=7, seconds=9).cut == "rows"
    all_of_it = terms.ask("SELECT ?x { VALUES ?x { 1 2 } }", prefixes={}, limit=2, seconds=9)
    assert (all_of_it.rows, all_of_it.cut) == (((1,), (2,)), "")


@pytest.mark.skipif(sys.platform == "win32", reason="limits on memory are POSIX")
def test_a_question_that_takes_too_much_memory_is_given_up_in_words(terms, monkeypatch):
    monkeypatch.setattr(asked, "MEMORY_MB", 400)
    with pytest.raises(BadData, match="takes more than the 400 MB"):
        terms.ask(f"SELECT * {WIDE} ORDER BY ?h", prefixes={}, limit=10, seconds=60)


def test_values_come_as_what_they_are(terms):
    found = terms.ask(
        """SELECT * { VALUES (?a ?b ?c ?d ?e ?f ?g ?h) {
            (1 2.5 1e3 true "text"@en <urn:x> UNDEF "1880-01-01T00:00:00Z"^^xsd:dateTime)
            ("x"^^xsd:integer "INF"^^xsd:double "NaN"^^xsd:double false "" "1"^^xsd:boolean 07 -3)
        } }""",
        prefixes={"xsd": "http://www.w3.org/2001/XMLSchema#"},
        limit=10,
        seconds=9,
    )
    assert found.columns == tuple("abcdefgh")
    assert found.rows[0] == (1, 2.5, 1000, True, "text", "urn:x", None, "1880-01-01T00:00:00Z")
    assert found.rows[1][0] == "x"
    assert found.rows[1][3:5] == (False, "")
    assert found.rows[1][6:] == (7, -3)


def test_statements_and_truths_come_in_their_own_form(terms):
    made = terms.ask(
        "CONSTRUCT { ?s <urn:p> ?o } WHERE { VALUES (?s ?o) { (<urn:s> 5) } }",
        prefixes={}, limit=9, seconds=9,
    )  # fmt: skip
    assert made.form == "statements"
    assert made.rows == (("urn:s", "urn:p", 5),)
    assert terms.ask("ASK { ?s ?p ?o }", prefixes={}, limit=9, seconds=9).form == "truth"


@pytest.mark.parametrize(
    ("question", "place"),
    [
        ("SELECT ?a {\n ?a a }", "line 2, column 8"),
        ("", "line 1, column 1"),
        ("SELECT ?a { ?a 'p' ?b }", "line 1, column 21"),
        ("SELECT ?a { ?a nobody:knows ?b }", "line 1"),
    ],
)
def test_a_slip_is_said_with_its_place(terms, question, place):
    with pytest.raises(BadData, match=place):
        terms.check(question, prefixes={})
