"""Provenance as prose at the command line: written, and taken into a record without saving over anything."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from catalogue.command import main
from catalogue.places import folder
from catalogue.studio import Studio

PROSE = """Agnes Verlinden [1889-1961], Ghent, 1931;¹ by inheritance to her nephew, Paul Verlinden, Ghent, 1961. \
(Halewyck Fine Pictures, Antwerp, by 1963).

Notes:
¹ Stock book of the family, page 4.
"""


@pytest.fixture
def place(tmp_path):
    home = folder("sample_records")
    with Studio.init(tmp_path / "studio") as studio:
        list(studio.import_([home / each for each in ("parties", "works")], who="x"))
    return tmp_path / "studio"


@pytest.fixture
def run(place):
    def run(*words, stdin=None):
        return CliRunner().invoke(main, ["--studio", str(place), *words], input=stdin)

    return run


def test_it_is_written_with_its_notes_and_says_how(run):
    told = run("provenance", "2026-013")
    assert told.exit_code == 0
    assert "\nNotes:\n¹ " in told.output
    assert "Life dates stand in square brackets" in told.output
    assert "Margery Alder" not in told.output


def test_the_other_habit_of_brackets(run):
    assert "[Ambry & Fell, " in run("provenance", "2026-013", "--brackets", "dealer").output


def test_in_the_house_everything_is_told(run):
    told = run("provenance", "2026-013", "--internal").output
    assert "35 gns, she thought" in told
    assert "Margery Alder" in told


def test_as_json(run):
    told = json.loads(run("provenance", "2026-013", "--json").output.splitlines()[0])
    assert set(told) == {"text", "notes", "says", "remarks"}
    assert told["notes"][0]["mark"] == "1"


def events(place):
    with Studio.open(place) as studio:
        return studio.work("2026-024").record.provenance


def test_prose_is_shown_first_and_nothing_saved(run, place):
    before = events(place)
    told = run("provenance", "2026-024", "--take", "-", stdin=PROSE)
    assert told.exit_code == 0, told.output
    assert "3 events would be added; --save adds them" in told.output
    assert "Stock book of the family, page 4." in told.output
    assert events(place) == before


def test_prose_is_added_behind_what_is_there(run, place):
    before = events(place)
    told = run(
        "provenance",
        "2026-024",
        "--take",
        "-",
        "--save",
        "--cited",
        "a catalogue, p. 7",
        stdin=PROSE,
    )
    assert "3 events added" in told.output
    after = events(place)
    added = [each for each in after if each.id not in {old.id for old in before}]
    assert {old.id for old in before} < {each.id for each in after}
    assert [each.parties[0].written for each in added] == [
        "Agnes Verlinden", "Paul Verlinden", "Halewyck Fine Pictures",
    ]  # fmt: skip
    assert added[1].parties[0].relation == "her nephew"
    assert [each.passage for each in added[:2]] == ["passage/direct", "passage/not-known"]
    assert added[0].evidence[0].text == "a catalogue, p. 7"
    assert min(each.order for each in added) > max(each.order or 0 for each in before)


def test_what_is_there_already_is_not_added_again(run, place):
    run("provenance", "2026-024", "--take", "-", "--save", stdin=PROSE)
    there = events(place)
    told = run("provenance", "2026-024", "--take", "-", "--save", stdin=PROSE)
    assert "0 events added" in told.output
    assert "says the same already: not added" in told.output
    assert events(place) == there


def test_what_cannot_be_placed_is_kept_as_a_note(run, place):
    odd = "Agnes Verlinden, Ghent, zzgl qwrt pplk, 1931; Paul Verlinden, 1961."
    run("provenance", "2026-024", "--take", "-", "--save", stdin=odd)
    kept = " ".join(note.text for each in events(place) for note in each.notes)
    held = " ".join(
        " ".join(filter(None, (role.written, role.place))) for each in events(place) for role in each.parties
    )  # fmt: skip
    assert "zzgl" in kept + held


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--save",), "go with --take"),
        (("--take", "/nowhere/at/all.txt"), "text file"),
        (("--brackets", "round"), "life"),
    ],
)
def test_bad_input_is_answered_in_words(run, words, says):
    told = run("provenance", "2026-024", *words)
    assert told.exit_code != 0
    assert says in told.output
    assert "Traceback" not in told.output


def test_nothing_to_read_is_said(run):
    told = run("provenance", "2026-024", "--take", "-", stdin="   \n")
    assert told.exit_code != 0
    assert "no step of a provenance" in told.output
