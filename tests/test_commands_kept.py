"""History, bringing back, setting aside, merging, forgetting, adopting: from the command line."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, full_work

from catalogue.command import main
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write_readable

PANS = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/object/77",
    "type": "HumanMadeObject",
    "identified_by": [{"type": "Name", "content": "The Salt Pans"}],
}


@pytest.fixture
def dorse(tmp_path):
    """The command, in a studio with a work, its artist, a client and a museum's record."""
    records = tmp_path / "records"
    records.mkdir()
    for record in (ARTIST, CLIENT, full_work()):
        (records / f"{record.id}.json").write_bytes(write_readable(to_jsonld(record)))
    (records / "pans.json").write_text(json.dumps(PANS))

    def run(*words, code=0, **given):
        asked = ["--studio", str(tmp_path / "house"), "--who", "Nell", *map(str, words)]
        ran = CliRunner().invoke(main, asked, **given)
        assert ran.exit_code == code, ran.output
        assert "Traceback" not in ran.output
        return ran.output

    run("init", "--zone", "Europe/Vienna")
    run("import", records)
    return run


def test_a_history_in_full_shows_each_value_before_and_after(dorse):
    dorse("forget", "Ada Penhale", "--why", "asked", "--pseudonym", "N.N.", "--yes")
    dorse("withdraw", "2026-041", "--why", "entered twice")
    short = dorse("history", "2026-041")
    assert "entered twice" in short
    assert "dealer's label" not in short
    full = dorse("history", "2026-041", "--full")
    assert "inscription I1 added" in full
    assert "kind: dealer's label" in full
    assert "Europe/Vienna" in full
    assert "set aside: no longer in the lists" in full
    rows = [
        json.loads(row) for row in dorse("history", "N.N.", "--full", "--json").splitlines()
    ]
    assert [row["state"] for row in rows] == [1, 2]
    assert "forgotten by Nell" in rows[0]["gone"]
    assert rows[1]["who"] == "Nell"
    assert "Ada" not in json.dumps(rows)


def test_a_state_is_brought_back_and_one_value_taken_back(dorse):
    number = dorse("add", "--title", "Ebb").strip()
    dorse("merge", "2026-041", number, "--why", "x", "--yes")
    dorse("bring-back", number, 1, "--why", "not the same picture")
    rows = [
        json.loads(row) for row in dorse("history", number, "--full", "--json").splitlines()
    ]
    assert {each["did"] for each in rows[2]["changes"]} == {"taken away"}
    assert rows[2]["why"] == "not the same picture"
    dorse("take-back", number, 3, "--why", "the chalk is ours", "--value", "I2")
    assert "I2 chalk mark" in dorse("show", number)
    refused = dorse("take-back", number, 3, "--why", "and the label", "--value", "I1", code=1)
    assert "would not hold together" in refused
    assert "stands already" in dorse("bring-back", number, 4, "--why", "x", code=1)
    assert "no state 9" in dorse("bring-back", number, 9, "--why", "x", code=1)
    assert "Missing option '--why'" in dorse("bring-back", number, 1, code=2)


def test_a_work_is_set_aside_and_taken_back_into_the_lists(dorse):
    assert "set aside" in dorse("withdraw", "2026-041", "--why", "entered twice")
    assert "2026-041" not in dorse("search", "trewin")
    asked = ("--format", "linked-art", "--profile", "public", "--out", "never")
    assert "take it back" in dorse("export", *asked, "2026-041", code=1)
    dorse("withdraw", "2026-041", "--undo", "--why", "it was not")
    assert "2026-041" in dorse("search", "trewin")


def test_a_merge_shows_what_it_would_do_asks_and_is_undone(dorse):
    dorse("add", "--title", "Ebb", "--artist", "A. Penhale the Younger")
    asked = ("merge", "A. Penhale the Younger", "Ada Penhale", "--why", "one and the same")
    seen = dorse(*asked, code=1, input="n\n")
    assert "name: A. Penhale the Younger" in seen
    assert "1 record to be shown with Ada Penhale instead" in seen
    dorse(*asked, "--yes")
    full = dorse("history", "A. Penhale the Younger", "--full")
    assert "answers for A. Penhale the Younger from here on" in full
    assert "name: A. Penhale the Younger" in full
    dorse("merge", "A. Penhale the Younger", "--undo", "--why", "her niece")
    assert "answers for itself again" in dorse("history", "A. Penhale the Younger", "--full")


def test_a_merged_work_is_undone_by_its_old_number(dorse):
    number = dorse("add", "--title", "Ebb").strip()
    dorse("merge", number, "2026-041", "--why", "entered twice", "--yes")
    assert "Low Water" in dorse("show", number)
    assert "answers for itself again" in dorse(
        "merge", number, "--undo", "--why", "two pictures"
    )
    assert "Low Water" not in dorse("show", number)
    assert "name OLD and INTO" in dorse("merge", number, "--why", "x", code=2)
    assert "as saved" in dorse("verify")


def test_forgetting_tells_its_numbers_and_asks(dorse):
    seen = dorse("forget", "Ada Penhale", "--why", "asked", code=1, input="n\n")
    assert "1 state will lose text; 1 work to be shown" in seen
    dorse("forget", "Ada Penhale", "--why", "asked", "--yes")
    assert "the text of an earlier state was deleted" in dorse(
        "history", "Name withheld", "--full"
    )
    assert "needs a reason" in dorse("forget", "Name withheld", "--why", " ", "--yes", code=1)


def test_a_record_from_elsewhere_is_made_a_work(dorse):
    number = dorse("adopt", PANS["id"], "--why", "it came for cleaning").strip()
    assert "The Salt Pans" in dorse("show", number)
    assert "one of our own already" in dorse("adopt", PANS["id"], "--why", "again", code=1)


@pytest.mark.parametrize(
    "words",
    [
        ("history", "nobody"),
        ("withdraw", "2026-999", "--why", "x"),
        ("merge", "2026-041", "Ada Penhale", "--why", "x", "--yes"),
        ("withdraw", "2026-041", "--undo", "--why", "x"),
        ("adopt", "2026-041", "--why", "x"),
        ("take-back", "2026-041", "2", "--why", "x"),
    ],
)
def test_what_is_not_possible_is_said_in_words(dorse, words):
    assert dorse(*words, code=1).startswith("dorse: ")
