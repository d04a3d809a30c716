"""`dorse chain`: the chain in words or as JSON lines, who had it on a day, what rests on a label, what is asked."""

from __future__ import annotations

import json

import pytest
from chain_events import event, label, party, resting, work_of
from click.testing import CliRunner

from catalogue.command import main
from catalogue.measure import Day
from catalogue.record import Evidence, Inquiry
from catalogue.studio import Studio

MARK = label("I1", "Morvane, Ghent|1937")
TOLD = Evidence(kind="evidence/oral", text="a niece")
CHAIN = work_of(
    event(1, "creation", party("M. Harrowell", "artist"), when="1931", until="1934/1936"),
    event(2, "presence", party("Galerie Morvane", "dealer"), when="1937", until="1938", rests_on=MARK),
    event(3, "consignment", party("H. Keeler", "agent"), when="1940", evidence=(resting(MARK), TOLD)),
    event(4, "presence", party("private collection", "owner"), when="1948", until="1962", cited=False),
    number="2026-041",
    inscriptions=(MARK,),
    inquiries=(
        Inquiry(
            number="S1", kind="inquiry/register-of-losses", subject="a register", asked="quay", on=Day(2026, 2, 11),
            result="inquiry-result/nothing-found",
        ),
    ),
)  # fmt: skip


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("house") / "studio"
    with Studio.init(folder) as studio:
        studio.save(CHAIN, who="Nell Arden")
    return folder


def chain(house, *words: str, code: int = 0):
    ran = CliRunner().invoke(main, ["--studio", str(house), "chain", *words])
    assert ran.exit_code == code, ran.output
    assert ran.exception is None or isinstance(ran.exception, SystemExit)
    return ran


def rows(house, *words: str) -> list[dict]:
    return [json.loads(line) for line in chain(house, *words, "--json").stdout.splitlines()]


def test_the_chain_is_told_with_the_figures_of_c10(house):
    # facts/trade.md C10: the events of its worked example
    found = rows(house, "2026-041")
    europe = next(each for each in found if each.get("key") == "europe-1933")
    assert (europe["possible_days"], europe["days"]) == (2162 + 366, 4482)  # and Keeler's year
    passage = [each for each in found if each["what"] == "passage"][-1]
    assert (passage["before"], passage["after"]) == ("E2", "E4")
    assert (passage["gap_days"], passage["gap"]) == (3287, ["1939-01-01", "1947-12-31"])
    said = chain(house, "2026-041").stdout
    assert "3,287 days between them with nobody known" in said
    assert "agent, for somebody else" in said
    assert "nothing is cited for it" in said
    assert "not an accusation" in said


def test_a_window_is_chosen_by_its_key(house):
    found = [
        each
        for each in rows(house, "2026-041", "--window", "war-1939")
        if each["what"] == "window"
    ]
    assert [each["key"] for each in found] == ["war-1939"]
    assert "east-germany-1945" in chain(house, "2026-041", "--window", "x", code=1).stderr


def test_the_agent_is_not_the_owner(house):
    # facts/trade.md C27 and 7.3 example 7
    (found,) = rows(house, "2026-041", "--on", "1 May 1940")
    assert (found["owners_certain"], found["owners_possible"]) == ([], [])
    assert found["possible"] == [{"name": "H. Keeler", "hold": "agent"}]
    assert (
        "nobody is known as its owner" in chain(house, "2026-041", "--on", "1940-05-01").stdout
    )
    (early,) = rows(house, "2026-041", "--on", "1933-05-01")
    assert early["owners_certain"] == ["M. Harrowell"]


def test_what_rests_on_a_label_and_what_an_event_rests_on(house):
    found = rows(house, "2026-041", "--supports", "I1")
    held = [(each["called"], each["alone"]) for each in found if each.get("kind") == "event"]
    assert held == [("E2 presence", True), ("E3 consignment", False)]
    assert (
        "nothing else is cited for E2 presence"
        in chain(house, "2026-041", "--supports", "I1").stdout
    )
    (evidence,) = rows(house, "2026-041", "--event", "E2")
    assert evidence["source"] == "I1 label"
    assert rows(house, "2026-041", "--event", "E4") == []


def test_what_is_asked_is_told_with_its_day(house):
    found = {
        each["key"]: each for each in rows(house, "2026-041", "--questions") if "key" in each
    }
    assert found["loss-registers"]["facts"][0]["on"] == "2026-02-11"
    assert not found["loss-registers"]["open"]
    assert found["years-1933-1945"]["open"]
    assert "not a proof of title" in chain(house, "2026-041", "--questions").stdout


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("2026-041", "--on", "some day"), 1),
        (("2026-041", "--on", "after 1931"), 1),
        (("2026-041", "--supports", "I9"), 1),
        (("2026-041", "--event", "E9"), 1),
        (("2026-999",), 1),
        (("2026-041", "--on", "1931", "--event", "E1"), 2),
    ],
)
def test_what_cannot_be_answered_is_said(house, words, code):
    ran = chain(house, *words, code=code)
    assert ran.stderr
    assert "Traceback" not in ran.stderr


def test_all_evidence_together_leaves_no_more_days_than_the_events_alone(house):
    alone, together = rows(house, "2026-041"), rows(house, "2026-041", "--together")
    assert [each.get("number") for each in alone] == [each.get("number") for each in together]
    for one, other in zip(alone, together, strict=True):
        if one["what"] == "window":
            assert other["possible_days"] <= one["possible_days"]
            assert other["proven_days"] >= one["proven_days"]
        if one["what"] == "tenure":
            assert other["recorded_end"] == one["recorded_end"]
