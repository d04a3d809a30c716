"""Who else somebody could be, and the word that they are not: on file, at the desk, on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from catalogue.command import main
from catalogue.desk import create_app
from catalogue.errors import CatalogueError
from catalogue.measure import read_date
from catalogue.record import Party, PartyName
from catalogue.studio import Studio


def on_file(studio, *names, **more):
    called = tuple(PartyName(text=name, preferred=not at) for at, name in enumerate(names))
    return studio.save(Party(kind="person", names=called, **more), who="Ada").record


@pytest.fixture
def people(empty_studio):
    names = ["Pieter van der Quill", "P. Vanderquill", "Jan van der Quill", "Ada Trewin"]
    return empty_studio, [on_file(empty_studio, name) for name in names]


def found(studio, party):
    return [(each.party.id, each.decided is not None) for each in studio.doubles(party)]


def test_whoever_may_be_the_same_is_shown_with_the_reason(people):
    studio, (pieter, short, _, _) = people
    (double,) = studio.doubles(pieter)
    assert double.party.id == short.id
    assert "initials" in double.alike.why


def test_other_lives_are_other_people(people):
    studio, (pieter, *_) = people
    on_file(studio, "Pieter van der Quill", began=read_date("1790"))
    old = studio.save(
        Party(
            kind="person",
            names=(PartyName(text="Pieter van der Quill"),),
            began=read_date("1620"),
        ),
        who="Ada",
    ).record
    shown = {each.party.began.written for each in studio.doubles(old) if each.party.began}
    assert shown == set()
    assert pieter.id in {each.party.id for each in studio.doubles(old)}


def test_not_the_same_is_remembered_from_both_sides_and_can_be_taken_back(people):
    studio, (pieter, short, _, _) = people
    told = studio.tell_apart(
        pieter.document, short.document, who="Ada", why="Another hand"
    ).record
    (said,) = told.not_same
    assert (said.other, said.notes[0].text) == (short.document, "Another hand")
    assert found(studio, told) == [(short.id, True)]
    assert found(studio, short) == [(pieter.id, True)]
    again = studio.tell_apart(
        pieter.document, short.document, who="Ada", why="Said twice"
    ).record
    assert again.not_same == told.not_same
    back = studio.take_for_one(pieter.document, short.document, who="Ada", why="A slip").record
    assert back.not_same == ()
    assert found(studio, back) == [(short.id, False)]


def test_a_name_as_written_is_told_apart_too(people):
    studio, (pieter, *_) = people
    told = studio.tell_apart(
        pieter.document, "P. Quill, dealer", who="Ada", why="A dealer"
    ).record
    assert told.not_same[0].written == "P. Quill, dealer"


@pytest.mark.parametrize(("other", "why"), [("itself", "x"), ("P. Vanderquill", " ")])
def test_nobody_is_told_apart_from_themselves_or_without_a_reason(people, other, why):
    studio, (pieter, *_) = people
    with pytest.raises(CatalogueError):
        studio.tell_apart(
            pieter.document, pieter.document if other == "itself" else other, who="Ada", why=why
        )


def test_the_command_shows_and_remembers(tmp_path):
    path = str(tmp_path / "studio")
    with Studio.init(Path(path)) as studio:
        pieter, short = (on_file(studio, each) for each in ("Pieter Quill", "P. Quil"))

    def run(*said):
        return CliRunner().invoke(main, ["--studio", path, "--who", "Ada", "doubles", *said])

    shown = run(pieter.name(), "--json")
    assert shown.exit_code == 0, shown.output
    row = json.loads(shown.output)
    assert (row["name"], row["told apart"]) == ("P. Quil", "")
    told = run(pieter.name(), "--not", short.name(), "--why", "Another hand", "--json")
    assert json.loads(told.output)["told apart"] == "yes"
    back = run(pieter.name(), "--not", short.name(), "--undo", "--why", "A slip", "--json")
    assert json.loads(back.output)["told apart"] == ""
    assert run(pieter.name(), "--undo").exit_code == 2


def test_the_page_shows_them_and_takes_the_word(people):
    studio, (pieter, short, _, _) = people
    app = create_app(studio)
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False)
    client = app.test_client()
    with client.session_transaction() as session:
        session["who"] = "Ada"
    page = client.get(f"/people/{pieter.id}").text
    assert "Who else this could be" in page
    assert short.name() in page
    told = {"other": short.document, "why": "Another hand"}
    assert client.post(f"/people/{pieter.id}/apart", data=told).status_code == 302
    assert "Another hand" in client.get(f"/people/{pieter.id}").text
    assert studio.party(pieter.id).record.not_same
    client.post(f"/people/{pieter.id}/apart", data=told | {"undo": "1"})
    assert not studio.party(pieter.id).record.not_same
