"""`dorse chronology`: a table for people, the reasons of one event, contradictions, JSON lines."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, WHO, full_work

from catalogue.command import main
from catalogue.measure import read_date
from catalogue.record import PriorRepair, Work
from catalogue.studio import Studio

TAPE = PriorRepair(
    number="R1",
    kind="repair/tape",
    materials=("material/cellophane-tape",),
    made=read_date("1921"),
)


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("house") / "studio"
    works = (
        full_work(),
        Work(number="2026-042", repairs=(TAPE,), made=read_date("1905")),
        Work(number="2026-043"),
    )
    with Studio.init(folder) as studio:
        for record in (ARTIST, CLIENT, *works):
            studio.save(record, who=WHO)
    return folder


def run(house, *words: str, code: int = 0):
    ran = CliRunner().invoke(main, ["--studio", str(house), "chronology", *words])
    assert ran.exit_code == code, ran.output
    assert ran.exception is None or isinstance(ran.exception, SystemExit)
    return ran


def test_a_table_of_what_happened_when(house):
    lines = run(house, "2026-041").stdout.splitlines()
    assert lines[0].split() == ["what", "began", "or", "was", "ended"]
    made = next(line for line in lines if line.startswith("the making of the painting"))
    assert "  1882-01-01 to 1892-12-31" in made


def test_what_cannot_hold_is_told_below_with_what_would_settle_it(house):
    said = run(house, "2026-042").stdout
    assert "\nThese cannot all hold: (1) R1 (tape) is dated “1921”;" in said
    assert "\n  To settle it: " in said


def test_the_reasons_of_one_event_each_resting_on_those_before(house):
    said = run(house, "2026-042", "the painting").stdout.splitlines()
    assert said[0] == "the making of the painting, began, earliest:"
    assert said[1] == (
        "  1. the painting is dated “1905”: the painting was begun on 1905-01-01 or later (firm) [the record]"
    )


def test_a_line_of_json_for_each_event_and_contradiction(house):
    rows = [json.loads(line) for line in run(house, "2026-042", "--json").stdout.splitlines()]
    events = [row for row in rows if "event" in row]
    assert {row["group"] for row in events} == {"painting", "parts"}
    assert events[0]["began_earliest"] == "1905-01-01"
    (clash,) = [row for row in rows if "contradiction" in row]
    assert clash["firm"] is True
    assert TAPE.id in clash["rests_on"]
    reasons = [json.loads(line) for line in run(house, "2026-042", "the painting", "--json").stdout.splitlines()]  # fmt: skip
    assert {row["bound"] for row in reasons} == {"earliest", "latest"}
    assert all(row["rests_on"] for row in reasons if row["firmness"] != "nature")


def test_a_work_of_which_nothing_is_known(house):
    assert (
        "nothing on record says when: the making of the painting"
        in run(house, "2026-043").stdout
    )
    assert (
        run(house, "2026-043", "the painting").stdout.strip() == "nothing on record says when"
    )


def test_what_is_not_there_is_refused_in_words(house):
    refused = run(house, "2026-042", "I9", code=1)
    assert "nothing here is called 'I9'" in refused.stderr
    assert "there are: the painting, R1" in refused.stderr
    assert "no work has the number" in run(house, "2031-001", code=1).stderr
