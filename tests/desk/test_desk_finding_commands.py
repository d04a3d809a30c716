"""`dorse search` and `dorse searches`: the works of the studio in its order, and searches kept by name."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner
from desk_studio import filled

from catalogue.command import main
from catalogue.desk import create_app
from catalogue.studio import Studio


def dorse(*words, code=0):
    ran = CliRunner().invoke(main, [str(word) for word in words])
    assert ran.exit_code == code, ran.output
    return ran


@pytest.fixture
def house(tmp_path):
    where = tmp_path / "house"
    with Studio.init(where) as studio:
        filled(studio)
    return where


def rows(ran):
    return [json.loads(line) for line in ran.stdout.splitlines()]


@pytest.mark.parametrize(
    "asked",
    ["hollis", "water or ferry", "painted 1850..1910 sort:number", "porth*", "kind:work"],
)
def test_desk_command_and_studio_find_the_same_works_in_the_same_order(house, asked):
    told = rows(dorse("--studio", house, "search", asked, "--json"))
    by_command = list(dict.fromkeys(row["name"] for row in told))
    with Studio.open(house) as studio:
        hits = studio.search(studio.query(asked)).hits
        page = create_app(studio).test_client().get("/find", query_string={"q": asked}).text
    by_studio = [hit.number or hit.title for hit in hits]
    shown = re.findall(
        r'<h2><a href="[^"]+">(?:<span class="number">([^<]+)</span> )?<span class="object">([^<]*)',
        page,
    )
    assert by_studio
    assert by_command == by_studio
    assert [number or title for number, title in shown] == by_studio


def test_the_fixed_keys_stay(house):
    first = rows(dorse("--studio", house, "search", "hollis", "--json"))[0]
    assert first.keys() >= {"work", "where", "kind", "text", "score", "why"}


def test_a_question_that_begins_with_a_minus(house):
    dorse("--studio", house, "search", "--", "-hollis", "kind:work")
    assert "search -- -stamp" in dorse("search", "--help").output.replace("\n  ", " ")


def test_searches_are_kept_listed_asked_renamed_and_removed(house):
    dorse(
        "--studio", house, "search", "hollis", "--sort", "number", "--save", "the Hollis label"
    )
    listed = rows(dorse("--studio", house, "searches", "--count", "--json"))
    assert listed == [{"name": "the Hollis label", "query": "hollis sort:number", "found": 1}]
    assert rows(dorse("--studio", house, "search", "--saved", "the Hollis label", "--json"))
    dorse("--studio", house, "searches", "--rename", "the Hollis label", "Hollis")
    assert (
        "removed 'Hollis'" in dorse("--studio", house, "searches", "--remove", "Hollis").output
    )
    assert not rows(dorse("--studio", house, "searches", "--json"))
    assert (
        "no search is kept"
        in dorse("--studio", house, "search", "--saved", "Hollis", code=1).output
    )


def test_a_kept_search_travels_with_a_backup(house, tmp_path):
    dorse("--studio", house, "search", "hollis", "--save", "Hollis")
    dorse("--studio", house, "backup", tmp_path / "copy")
    again = tmp_path / "copy"
    with Studio.open(again) as studio:
        assert [(each.name, each.text) for each in studio.saved_searches()] == [
            ("Hollis", "hollis")
        ]


@pytest.mark.parametrize("asked", ["", "((((", '"', "or or", "🖼", "*", "x" * 10_000])
def test_no_question_is_a_fault(house, asked):
    assert "Traceback" not in dorse("--studio", house, "search", asked).output
