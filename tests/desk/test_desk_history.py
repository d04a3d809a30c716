"""A record's history on its page: what each change changed, and the ways back."""

from __future__ import annotations

from dataclasses import replace

import pytest


@pytest.fixture
def changed(desk):
    """The desk after somebody looked at the label again."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    (label,) = kept.record.inscriptions
    better = replace(label.transcripts[0], markup="Hollis & Trewin\n[---]don <b>ink</b>")
    record = replace(
        kept.record,
        medium="Oil on canvas",
        inscriptions=(replace(label, kind="inscription/stamp", transcripts=(better,)),),
    )
    desk.studio.save(record, who="Nell Quince", why="looked again", read=kept)
    return desk


def back(desk, **fields):
    desk.begin()
    fields.setdefault("revision", desk.revision(desk.low_water))
    return desk.post(f"/work/{desk.low_water}/history/back", **fields)


def test_each_change_says_when_who_why_and_what(changed):
    page = changed.client.get(f"/work/{changed.low_water}/history").text
    assert page.index("looked again") < page.index("new work Low Water"), "newest first"
    for words in ("Nell Quince", "medium and support", "inscription I1", "stamp", "first kept"):
        assert words in page
    assert "dealer&#39;s label" in page
    assert "Hollis &amp; Tr_ewin" in page, "a reading as it was typed"
    assert "Hollis &amp; Trewin" in page
    assert "<b>ink" not in page


def test_the_page_of_a_work_and_of_a_person_lead_to_their_history(changed):
    for path in (f"/work/{changed.low_water}", f"/people/{changed.artist}"):
        assert f'href="{path}/history"' in changed.client.get(path).text
        assert changed.client.get(f"{path}/history").status_code == 200


def test_an_earlier_state_comes_back_as_a_new_change(changed):
    before = changed.studio.read(f"work/{changed.low_water}", 2).record
    answer = back(changed, state=2, whole="yes", why="it was the other picture")
    assert answer.status_code == 302
    assert changed.work(changed.low_water) == before
    assert changed.revision(changed.low_water) == 4
    page = changed.client.get(f"/work/{changed.low_water}/history").text
    assert "it was the other picture" in page


def test_one_value_is_taken_back_and_the_rest_stays(changed):
    answer = back(changed, state=3, value="medium", why="not looked at closely")
    assert answer.status_code == 302
    work = changed.work(changed.low_water)
    assert work.medium is None
    assert work.inscriptions[0].kind == "inscription/stamp"
    back(changed, state=3, why="nor this")
    assert changed.work(changed.low_water).inscriptions[0].kind == "inscription/dealer-label"


@pytest.mark.parametrize(
    ("fields", "status", "words"),
    [
        ({"state": 2, "whole": "yes", "why": " "}, 422, "needs a reason"),
        ({"state": 9, "whole": "yes", "why": "x"}, 404, "no state 9"),
        ({"state": "two", "whole": "yes", "why": "x"}, 422, "is not a number"),
        ({"state": 3, "whole": "yes", "why": "x"}, 422, "stands already"),
        ({"state": 1, "why": "x"}, 422, "with its first state"),
        ({"state": 3, "value": "I7", "why": "x"}, 404, "did nothing to"),
    ],
)
def test_what_cannot_come_back_is_refused_in_words(changed, fields, status, words):
    answer = back(changed, **fields)
    assert answer.status_code == status
    assert words in answer.text
    assert changed.revision(changed.low_water) == 3


def test_somebody_elses_later_change_of_the_same_value_shows_both(changed):
    revision = changed.revision(changed.low_water)
    kept = changed.studio.read(f"work/{changed.low_water}")
    changed.studio.save(replace(kept.record, medium="Tempera"), who="Bram", read=kept)
    answer = back(changed, state=3, value="medium", why="x", revision=revision)
    assert answer.status_code == 409
    assert "Tempera" in answer.text
    assert f'href="/work/{changed.low_water}">Keep theirs' in answer.text


def test_a_long_history_comes_in_pages(desk):
    kept = desk.studio.read(f"work/{desk.ferry}")
    for number in range(25):
        kept = desk.studio.save(
            replace(kept.record, medium=f"coat {number}"), who="Nell Quince", read=kept
        )
    first = desk.client.get(f"/work/{desk.ferry}/history").text
    second = desk.client.get(f"/work/{desk.ferry}/history?page=2").text
    assert "coat 24" in first
    assert "new work The Ferry" not in first
    assert "new work The Ferry" in second
    assert "page 2 of 2" in second


def test_what_was_forgotten_is_said_and_not_shown(desk):
    desk.studio.forget(f"party/{desk.artist}", who="Nell Quince", why="asked in writing")
    page = desk.client.get(f"/people/{desk.artist}/history").text
    assert "asked in writing" in page
    assert "Penhale" not in page
    assert "the text of an earlier state was deleted for good" in page
