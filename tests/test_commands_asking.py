"""`dorse ask`: a table for people, JSON lines for programs, and every refusal in words."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.command import main
from catalogue.studio import Studio

TITLES = """SELECT DISTINCT ?title ?kind { ?name a crm:E33_E41_Linguistic_Appellation ;
  crm:P190_has_symbolic_content ?title . FILTER(?title = "Low Water" || ?title = "Ebbe") } ORDER BY ?title"""


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("house") / "studio"
    work = full_work()
    with Studio.init(folder) as studio:
        for record in (ARTIST, CLIENT, work, full_job(work)):
            studio.save(record, who=WHO)
    return folder


def ask(house, question: str | bytes, *words: str, code: int = 0):
    ran = CliRunner().invoke(main, ["--studio", str(house), "ask", "-", *words], input=question)
    assert ran.exit_code == code, ran.output
    assert ran.exception is None or isinstance(ran.exception, SystemExit)
    return ran


def test_a_table_with_its_columns_named(house):
    assert ask(house, TITLES).stdout.splitlines() == ["title      kind", "Ebbe", "Low Water"]


def test_a_line_of_json_for_each_row(house):
    rows = [json.loads(line) for line in ask(house, TITLES, "--json").stdout.splitlines()]
    assert rows == [{"title": "Ebbe", "kind": None}, {"title": "Low Water", "kind": None}]


def test_a_question_in_a_file(house, tmp_path):
    (tmp_path / "question.rq").write_text(
        "\ufeffASK { ?work a crm:E22_Human-Made_Object }", "utf-8"
    )
    ran = CliRunner().invoke(
        main, ["--studio", str(house), "ask", str(tmp_path / "question.rq")]
    )
    assert ran.stdout == "yes\n"
    assert ask(house, "ASK { ?work a crm:E23 }").stdout == "no\n"
    assert json.loads(ask(house, "ASK { ?s ?p ?o }", "--json").stdout) == {"answer": True}


def test_statements_are_three_columns(house):
    (row,) = ask(
        house, "CONSTRUCT { <urn:a> <urn:b> 5 } WHERE {}", "--json"
    ).stdout.splitlines()
    assert json.loads(row) == {"subject": "urn:a", "predicate": "urn:b", "object": 5}


def test_more_rows_than_asked_for_is_said(house):
    ran = ask(house, TITLES, "--limit", "1")
    assert ran.stdout.splitlines() == ["title  kind", "Ebbe"]
    assert "the first 1; --limit shows more" in ran.stderr
    assert "nothing found" in ask(house, "SELECT ?x { ?x a <urn:x> }").stderr


def test_a_question_that_takes_too_long_is_stopped_and_said(house):
    wide = "SELECT (COUNT(*) AS ?many) { ?a ?b ?c . ?d ?e ?f . ?g ?h ?i . ?j ?k ?l }"
    ran = ask(house, wide, "--seconds", "0.3", code=1)
    assert "stopped after 0.3 seconds, 0 rows found" in ran.stderr


@pytest.mark.parametrize(
    ("question", "said"),
    [
        ("SELECT ?a {\n  ?a crm: }", "line 2, column 11"),
        ("INSERT DATA { <a:b> <c:d> 1 }", "INSERT would change something"),
        ("SELECT * { SERVICE <http://x.example/> { ?s ?p ?o } }", "another machine"),
        ("SELECT * FROM <http://x.example/> { ?s ?p ?o }", "other data"),
        (b"SELECT \xff", "byte 7 of the question is not UTF-8"),
    ],
)
def test_what_cannot_be_asked_is_said_without_a_traceback(house, question, said):
    ran = ask(house, question, code=1)
    assert said in ran.stderr
    assert ran.stderr.startswith("dorse: ")
    assert ran.stdout == ""


def test_the_help_says_that_answers_are_for_the_house():
    said = CliRunner().invoke(main, ["ask", "--help"]).output
    assert "for the house, not for sending" in " ".join(said.split())
