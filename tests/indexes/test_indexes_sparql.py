"""What may be asked: nothing that changes, nothing that goes elsewhere, however it is written."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pyoxigraph import Store

from catalogue.errors import BadData
from catalogue.indexes.sparql import misread, refuse

ELSEWHERE = "SERVICE <http://127.0.0.1:1/> { ?s ?p ?o }"


@pytest.mark.parametrize(
    "question",
    [
        "SELECT ?work { ?work a ?kind }",
        "# At whose service? Insert nothing.\nASK { ?s ?p 'from the SERVICE of \"X\"' }",
        "PREFIX ex: <http://service.example/from#>\nCONSTRUCT WHERE { ?service ?from ex:insert }",
        'DESCRIBE ?from { ?from ?p """a "service" # no comment"""@en }',
        "SELECT ?a { ?a ?p ?b . FILTER(?b<5 && ?b >2) }",
        "",
    ],
)
def test_a_question_that_only_reads_here_is_let_through(question):
    refuse(question)


@pytest.mark.parametrize(
    "question",
    [
        "INSERT DATA { <a:b> <c:d> 1 }",
        "delete where { ?s ?p ?o }",
        "PREFIX ex: <http://ex.example/>\n# ask\nDROP ALL",
        "LOAD <http://ex.example/>",
        "WITH <a:b> DELETE { ?s ?p ?o } WHERE { ?s ?p ?o }",
        "Clear Default",
    ],
)
def test_a_change_is_refused_by_name(question):
    with pytest.raises(BadData, match="would change something"):
        refuse(question)


@pytest.mark.parametrize(
    "question",
    [
        f"SELECT * {{ {ELSEWHERE} }}",
        "SELECT * { service silent <http://127.0.0.1:1/> { ?s ?p ?o } }",
        "SELECT * { SERVICE?where { ?s ?p ?o } }",
        "PREFIX ex: <http://127.0.0.1:1/>SELECT * { SERVICEex:a { ?s ?p ?o } }",
        "SELECT * { ?s ?p trueSERVICE<http://127.0.0.1:1/>{ ?s ?p ?o } }",
        "PREFIX ex: <http://e.example/>SELECT * { ?s ?p ex:a\\# . \nSERVICE<http://127.0.0.1:1/>{?s ?p ?o}}",
        "SELECT * { ?s ?p '#' . SERVICE<http://127.0.0.1:1/>{ ?s ?p ?o } }",
        "SELECT * { FILTER EXISTS { SERVICE <http://127.0.0.1:1/> { ?s ?p ?o } } }",
    ],
)
def test_asking_another_machine_is_refused(question):
    with pytest.raises(BadData, match="another machine"):
        refuse(question)


@pytest.mark.parametrize(
    "clause", ["FROM <a:b>", "from named <a:b>", "FROM ex:a", "FROMNAMED<a:b>"]
)
def test_bringing_in_other_data_is_refused(clause):
    with pytest.raises(BadData, match="other data"):
        refuse(f"PREFIX ex: <http://e.example/> SELECT * {clause} {{ ?s ?p ?o }}")


FRAGMENTS = [
    "?s ?p ?o . ", "?s ?p ", "true", "1", "1.5e3", "'", '"', "'''", '"""', "\\", "\\'", "#", "# x\n",
    "\n", "<", "<a:b>", "<a:b#c>", " ?a<?b ", "ex:a", "ex:a\\#", "ex:a\\'", "ex:%23", "_:b", "@en", "^^",
    " . ", "; ", "FILTER(?o<5)", "FILTER(?o = '>')", "BIND(1 AS ?x)", "{", "}", "(", ")", "\u00e9", ".",
    "OPTIONAL{", "UNION", "[]", " ",
]  # fmt: skip


@settings(max_examples=1500, deadline=None)
@given(
    st.lists(st.sampled_from(FRAGMENTS), max_size=7),
    st.lists(st.sampled_from(FRAGMENTS), max_size=4),
)
@example(["?s ?p ", "true"], [])
def test_whatever_makes_the_engine_go_elsewhere_is_refused(before, after):
    """Outside check: the engine itself; nothing listens on port 1, so going there is an error."""
    head = "PREFIX ex: <http://e.example/> SELECT * { "
    question = (
        f"{head}{''.join(before)}SERVICE<http://127.0.0.1:1/>{{?s ?p ?o}}{''.join(after)} }}"
    )
    try:
        list(Store().query(question))
    except SyntaxError:
        return
    except OSError:
        with pytest.raises(BadData):
            refuse(question)


def test_the_place_of_a_slip_is_pointed_at():
    said = str(misread("SELECT ?a {\n\t?a crm: }", 2, 5))
    assert said.splitlines() == [
        "line 2, column 5: the question cannot be read from here on",
        "  \t?a crm: }",
        "  \t   ^",
    ]
    assert "line 9" in str(misread("", 9, 4))
