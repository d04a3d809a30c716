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
        ({"state": 1, "why": "x"}, 422, "ith its first state"),
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


# --- any two states, one change at a time, a look before going back --------------------------------


def test_what_differs_between_any_two_states(changed):
    kept = changed.studio.read(f"work/{changed.low_water}")
    changed.studio.save(
        replace(kept.record, medium="Tempera"), who="Bram", why="tested", read=kept
    )
    at = f"/work/{changed.low_water}/history/between"
    page = changed.client.get(f"{at}?first=2&second=4").text
    assert "Tempera" in page
    assert "inscription I1" in page
    assert "Oil on canvas" not in page.partition("Differences")[2], (
        "between the two, not on the way"
    )
    backwards = changed.client.get(f"{at}?first=4&second=2").text
    assert "Tempera" in backwards
    last = changed.client.get(at).text.partition("Differences")[2]
    assert "Oil on canvas" in last
    assert "inscription I1" not in last
    same = changed.client.get(f"{at}?first=3&second=3").text
    assert "Nothing differs" in same


@pytest.mark.parametrize(
    "asked", ["first=0", "second=5", "first=99999999999999999999", "second=-1"]
)
def test_a_state_that_there_is_not_is_told(changed, asked):
    answer = changed.client.get(f"/work/{changed.low_water}/history/between?{asked}")
    assert answer.status_code == 404
    assert "here is no state" in answer.text


def test_a_way_back_is_looked_at_first(changed):
    page = changed.client.get(f"/work/{changed.low_water}/history/back?state=2").text
    assert "What would change" in page
    assert "inscription I1" in page
    assert "1 later change would no longer hold" in page
    assert "looked again" in page, "the later change by its own words"
    assert 'name="why" required' in page
    assert changed.revision(changed.low_water) == 3, "looking changes nothing"
    stands = changed.client.get(f"/work/{changed.low_water}/history/back?state=3").text
    assert "nothing would change" in stands


def test_what_an_older_change_did_is_told_when_it_is_asked_for(changed):
    at = f"/work/{changed.low_water}/history"
    _, (_, second, _) = changed.studio.retold(f"work/{changed.low_water}")
    page = changed.client.get(at).text
    assert "paper tape" not in page
    assert f'data-when-open="{at}/{second.seq}"' in page
    asked = changed.client.get(f"{at}?change={second.seq}").text
    piece = changed.client.get(f"{at}/{second.seq}").text
    for text in (asked, piece):
        assert "paper tape" in text
        assert "Take this change back" in text
    assert "<html" not in piece
    assert changed.client.get(f"{at}/999999").status_code == 302


def test_the_page_offers_the_way_back_and_two_states(changed):
    at = f"/work/{changed.low_water}/history"
    page = changed.client.get(at).text
    _, (_, second, _) = changed.studio.retold(f"work/{changed.low_water}")
    assert page.count('name="first"') == 3
    assert f"{at}/back?state=2" in changed.client.get(f"{at}/{second.seq}").text
