"""The studio asked in SPARQL: what is kept is found, what is gone is not, whatever happened in between."""

from __future__ import annotations

import shutil
import threading
from dataclasses import replace
from pathlib import Path

import pytest
from made_records import ARTIST, CLIENT, WHO, changed_title, full_work

from catalogue import asking
from catalogue.errors import BadData, Busy
from catalogue.indexes.generations import NeedsRebuild
from catalogue.indexes.graph import LOCK, Graph
from catalogue.indexes.lock import locked, one_writer
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.record import Party, PartyName
from catalogue.studio import Studio

TITLES = """
    SELECT ?title { ?work crm:P108i_was_produced_by ?made ; crm:P1_is_identified_by ?name .
      ?name a crm:E33_E41_Linguistic_Appellation ; crm:P190_has_symbolic_content ?title }
    ORDER BY ?title
"""
NAMES = """
    SELECT ?name { ?who a crm:E21_Person ; crm:P1_is_identified_by/crm:P190_has_symbolic_content ?name }
    ORDER BY ?name
"""
GRAPHS = "SELECT DISTINCT ?record { GRAPH ?record { ?what crm:P1_is_identified_by ?x } } ORDER BY ?record"


def column(studio: Studio, question: str) -> list:
    return [row[0] for row in studio.ask(question).rows]


def index_of(studio: Studio) -> Path:
    return studio.folder / "indexes" / "graph"


def test_what_is_kept_is_found_commissions_and_contacts_among_it(studio):
    assert column(studio, TITLES) == ["Ebbe", "Low Water"]
    contact = "ASK { ?who dorse:contact/crm:P1_is_identified_by?/crm:P190_has_symbolic_content? ?reach }"
    assert studio.ask(contact).rows == ((True,),)
    assert studio.ask("ASK { ?job dorse:client ?client }").rows == ((True,),)


def test_a_save_is_in_the_next_answer(studio):
    column(studio, TITLES)
    kept = studio.work("2026-041")
    studio.save(changed_title(kept.record, "High Water"), who=WHO, read=kept)
    assert column(studio, TITLES) == ["Ebbe", "High Water"]


def test_every_record_is_a_graph_under_its_own_address(studio):
    addresses = [
        f"urn:uuid:{each.document.partition('/')[2]}" for each in studio.ledger.heads()
    ]
    assert column(studio, GRAPHS) == sorted(addresses)
    studio.set_base("https://backs.example/studio")
    based = [f"https://backs.example/studio/{each.document}" for each in studio.ledger.heads()]
    assert column(studio, GRAPHS) == sorted(based)
    studio.set_base(None)
    assert column(studio, GRAPHS) == sorted(addresses)


def test_what_was_withdrawn_is_gone_until_it_comes_back(studio):
    column(studio, TITLES)
    document = studio.work("2026-041").document_id
    with studio.ledger.change(who=WHO, why="a mistake") as change:
        change.withdraw(document)
    assert column(studio, TITLES) == []
    with studio.ledger.change(who=WHO, why="none after all") as change:
        change.reinstate(document)
    assert column(studio, TITLES) == ["Ebbe", "Low Water"]


BY = """
    SELECT DISTINCT ?name { ?attribution crm:P141_assigned/crm:P14_carried_out_by ?who .
      ?who crm:P1_is_identified_by/crm:P190_has_symbolic_content ?name }
"""


@pytest.mark.parametrize("anew", [False, True])
def test_a_merged_person_is_known_by_the_one_that_answers(studio, anew):
    assert "Ada Penhale" in column(studio, BY)
    other = Party(
        kind="person",
        names=(PartyName(text="Ada P. Penhale", preferred=True),),
        roles=("role/artist",),
    )
    studio.save(other, who=WHO)
    with studio.ledger.change(who=WHO, why="the same person") as change:
        change.merge(ARTIST.document, other.document)
    if anew:
        studio.rebuild()
    assert column(studio, BY) == ["Ada P. Penhale"]
    assert "Ada Penhale" not in column(studio, NAMES)
    with studio.ledger.change(who=WHO, why="two after all") as change:
        change.unmerge(ARTIST.document)
    assert "Ada Penhale" in column(studio, BY)
    assert "Ada P. Penhale" not in column(studio, BY)


def test_what_was_forgotten_is_not_even_in_the_files(studio):
    def anywhere(text: bytes) -> bool:
        return any(
            text in file.read_bytes() for file in index_of(studio).rglob("*") if file.is_file()
        )

    column(studio, NAMES)
    assert anywhere(b"Quillan")
    bare = replace(CLIENT, names=(PartyName(text="Name withheld"),), contact=None)
    with studio.ledger.change(who=WHO, why="asked for") as change:
        change.save(CLIENT.document, write(to_jsonld(bare)), expected=1)
        change.forget_revisions(CLIENT.document, range(1, 2))
    assert "Mrs Quillan" not in column(studio, NAMES)
    assert not anywhere(b"Quillan")


def test_the_index_may_be_thrown_away_damaged_or_of_another_version(studio):
    expected = column(studio, TITLES)
    shutil.rmtree(index_of(studio))
    assert column(studio, TITLES) == expected
    for pattern in ("made.json", "CURRENT", "MANIFEST-*", "*.sst", "current"):
        for file in index_of(studio).rglob(pattern):
            file.write_bytes(file.read_bytes()[:-3])
        assert column(studio, TITLES) == expected


def test_both_indexes_are_made_anew_and_told_of_as_one(studio):
    told: list[tuple[int, int]] = []
    assert studio.rebuild(lambda done, total: told.append((done, total))) == 4
    assert column(studio, TITLES) == ["Ebbe", "Low Water"]
    assert studio.search(studio.query("water")).total == 1
    assert told == sorted(told)


def test_many_saves_are_taken_in_by_batches_and_too_many_made_anew(studio, monkeypatch):
    monkeypatch.setattr(asking, "BATCH", 2)
    column(studio, TITLES)
    for number in range(5):
        studio.save(replace(full_work(), id=f"5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b0{number}", number=None,
                            titles=(), parts=(), inscriptions=(), photos=(), layers=(), checks=(), findings=(),
                            repairs=(), tests=(), treatments=(), provenance=(), exhibitions=(), citations=(),
                            papers=(), movements=(), relations=(), attributions=(), sizes=(), notes=(),
                            numbers=()), who=WHO)  # fmt: skip
    told: list[tuple[int, int]] = []
    count = "SELECT (COUNT(?work) AS ?many) { ?work crm:P108i_was_produced_by ?made }"
    assert studio.ask(count, progress=lambda done, total: told.append((done, total))).rows == (
        (6,),
    )
    assert told == [(2, 5), (4, 5), (5, 5)]
    monkeypatch.setattr(asking, "REBUILT_FROM", 0)
    kept = studio.work("2026-041")
    studio.save(changed_title(kept.record, "High Water"), who=WHO, read=kept)
    assert column(studio, TITLES) == ["Ebbe", "High Water"]
    assert (index_of(studio) / "graph-2").is_dir()


def test_while_another_process_takes_in_the_answer_says_how_far_it_is_behind(studio):
    column(studio, TITLES)
    kept = studio.work("2026-041")
    studio.save(changed_title(kept.record, "High Water"), who=WHO, read=kept)
    with one_writer(index_of(studio), LOCK):
        found = studio.ask(TITLES)
        assert (found.behind, found.rows[1][0]) == (1, "Low Water")
    assert studio.ask(TITLES).behind == 0


def test_without_an_index_or_with_one_for_another_base_there_is_nothing_to_answer_from(studio):
    index_of(studio).mkdir(parents=True)
    with one_writer(index_of(studio), LOCK), pytest.raises(Busy):
        studio.ask(TITLES)
    column(studio, TITLES)
    studio.set_base("https://backs.example/")
    with one_writer(index_of(studio), LOCK), pytest.raises(Busy):
        studio.ask(TITLES)


def test_two_may_ask_at_once(studio):
    column(studio, TITLES)
    found: list[list] = []
    threads = [
        threading.Thread(target=lambda: found.append(column(studio, TITLES))) for _ in range(3)
    ]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert found == [["Ebbe", "Low Water"]] * 3


@pytest.mark.parametrize(
    "question", ["DROP ALL", "SELECT * { SERVICE <http://x/> { ?s ?p ?o } }", "SELECT ?x {"]
)
def test_a_question_that_is_none_is_refused_before_anything_is_taken_in(studio, question):
    with pytest.raises(BadData):
        studio.ask(question)
    assert not (index_of(studio) / "current").exists()


def test_an_index_that_breaks_while_it_is_asked_is_made_anew(studio, monkeypatch):
    column(studio, TITLES)
    whole = Graph.ask
    broken = iter([True])

    def ask(self, *args, **kwargs):
        if next(broken, False):
            raise NeedsRebuild(self.folder, "is torn")
        return whole(self, *args, **kwargs)

    monkeypatch.setattr(Graph, "ask", ask)
    assert column(studio, TITLES) == ["Ebbe", "Low Water"]
    assert (index_of(studio) / "graph-2").is_dir()
    with locked(index_of(studio) / "graph-2.lock"):
        assert not (index_of(studio) / "graph-1").exists()
