"""`dorse check`: it advises, in words or as JSON lines, and never ends in failure but for an unknown work."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, WHO, full_job, full_work

from catalogue.command import main
from catalogue.record import Work
from catalogue.studio import Studio


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("house") / "studio"
    work = full_work()
    with Studio.init(folder) as studio:
        for record in (ARTIST, CLIENT, work, full_job(work), Work(number="2026-042")):
            studio.save(record, who=WHO)
    return folder


def check(house, *words: str, code: int = 0):
    ran = CliRunner().invoke(main, ["--studio", str(house), "check", *words])
    assert ran.exit_code == code, ran.output
    assert ran.exception is None or isinstance(ran.exception, SystemExit)
    return ran


def test_a_work_is_told_with_a_count_and_what_to_do(house):
    lines = check(house, "2026-041").stdout.splitlines()
    assert lines[0].startswith("2026-041  Low Water: ")
    at = lines.index(
        "  open     R1 tape, states: T1.1 takes it away, and its own state does not say so"
    )
    assert lines[at + 1].strip().startswith("note its state on that day")


def test_a_line_of_json_for_each_remark(house):
    rows = [json.loads(line) for line in check(house, "2026-041", "--json").stdout.splitlines()]
    assert {row["work"] for row in rows} == {"2026-041"}
    assert {row["kind"] for row in rows} <= {"wrong", "missing", "open"}
    assert set(rows[0]) == {"work", "kind", "where", "says", "remedy", "value"}


def test_all_works_and_one_with_nothing_to_say(house):
    said = check(house, "--all").stdout
    assert "2026-042  untitled: nothing to say" in said
    assert "2026-041  Low Water: " in said


def test_a_commission_is_told_by_its_number_and_among_all(house):
    said = check(house, "J2026-007").stdout
    assert said.startswith("J2026-007  treatment: ")
    assert "it was changed since it was approved on 2026-03-09" in said
    assert "J2026-007  treatment: " in check(house, "--all").stdout


def test_an_unknown_work_is_said_without_a_traceback(house):
    ran = check(house, "2026-999", code=1)
    assert ran.stderr.startswith("dorse: no work has the number '2026-999'")
    assert ran.stdout == ""


@pytest.mark.parametrize("words", [(), ("2026-041", "--all")])
def test_one_of_them_or_all(house, words):
    assert "name one work or job, or say --all" in check(house, *words, code=2).stderr


def test_the_help_says_who_decides():
    said = " ".join(CliRunner().invoke(main, ["check", "--help"]).output.split())
    assert "the conservator decides; safety data sheets" in said
