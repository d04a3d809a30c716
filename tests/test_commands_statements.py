"""`dorse statements`: what an inscription says, as a table or JSON lines, and decisions by number."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner
from made_records import WHO

from catalogue.command import main
from catalogue.record import Inscription, Transcript, Work
from catalogue.studio import Studio


@pytest.fixture
def house(tmp_path):
    label = Inscription(
        kind="inscription/label",
        face="face/back",
        transcripts=(Transcript(markup="Lot 38, 12 gns [---], No. 7"),),
    )
    with Studio.init(tmp_path / "studio") as studio:
        member = studio.welcome("Nell Quince")
        studio.save(Work(inscriptions=(label,)), who=WHO)
        number = next(studio.all(Work)).record.number
    return tmp_path / "studio", number, member


def say(house, *words: str, code: int = 0):
    folder, number, _ = house
    ran = CliRunner().invoke(
        main,
        ["--studio", str(folder), "--who", "Nell Quince", "statements", number, "I1", *words],
    )
    assert ran.exit_code == code, ran.output
    return ran


def rows(house, *words: str):
    return [json.loads(line) for line in say(house, "--json", *words).stdout.splitlines()]


def test_what_is_open_has_a_number(house):
    assert [(row["no"], row["kind"], row["written"], row["value"]) for row in rows(house)] == [
        (1, "number", "Lot 38", "38"),
        (2, "price", "12 gns", "12.6 GBP"),
        (3, "number", "No. 7", "7"),
    ]
    assert rows(house)[1]["standing"] == "open: a lost part stands beside it"


def test_decisions_go_by_the_numbers_that_were_shown(house):
    say(house, "--accept", "1", "--reject", "3", "--correct", "2", "12 guineas")
    decided = {row["written"]: (row["standing"], row["value"]) for row in rows(house)}
    assert decided == {
        "Lot 38": ("accepted", "38"),
        "12 gns": ("corrected", "12 guineas"),
        "No. 7": ("rejected", None),
    }
    folder, _, member = house
    with Studio.open(folder) as studio:
        (work,) = (kept.record for kept in studio.all(Work))
        assert {each.by for each in work.inscriptions[0].statements} == {member.document}


def test_a_table_for_people(house):
    assert say(house).stdout.splitlines()[0].split() == [
        "1",
        "number",
        "Lot",
        "38",
        "38",
        "open",
    ]


@pytest.mark.parametrize(("words", "code"), [(["--accept", "4"], 2), (["--accept", "0"], 2)])
def test_a_number_that_was_not_shown_is_refused_and_nothing_is_kept(house, words, code):
    ran = say(house, "--reject", "1", *words, code=code)
    assert "no open statement" in ran.output
    assert rows(house)[0]["no"] == 1


def test_an_inscription_that_nobody_read_says_nothing(house):
    folder, number, _ = house
    with Studio.open(folder) as studio:
        kept = studio.work(number)
        label = replace(kept.record.inscriptions[0], transcripts=())
        studio.save(replace(kept.record, inscriptions=(label,)), who=WHO, read=kept)
    assert rows(house) == []
