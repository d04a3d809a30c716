"""Readings beside each other: what differs is shown and said, none is lost, a mistake is set aside."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest

from catalogue.measure import Day
from catalogue.reading import SIGNS, SNIPPETS, fault_examples
from catalogue.record import Transcript

OTHER = "Hollis & Trewyn\nDealers in Pict[ures]\n[---]"


@pytest.fixture
def other(desk):
    """The id of a second reading of the label, by nobody in particular."""
    desk.begin()
    kept = desk.studio.read(f"work/{desk.low_water}")
    label = kept.record.inscription(desk.label)
    second = Transcript(markup=OTHER, on=Day(2026, 3, 9), light="light/ultraviolet")
    written = replace(label, transcripts=(*label.transcripts, second))
    others = tuple(each for each in kept.record.inscriptions if each.id != label.id)
    changed = replace(kept.record, inscriptions=(*others, written))
    desk.studio.save(changed, who="Nell Quince", read=kept)
    return second.id


def path(desk, rest=""):
    return f"/work/{desk.low_water}/read/{desk.label}{rest}"


def words(page):
    """What a screen reader has of a page: without tags and without what is hidden from it."""
    heard = re.sub(r'<(\w+)[^>]* aria-hidden="true">.*?</\1>', "", page, flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", heard)).split())


def test_two_readings_are_laid_line_by_line_with_what_differs_in_words(desk, other):
    page = desk.client.get(path(desk, "/beside")).text
    assert '<del class="apart">' in page
    assert '<ins class="apart">' in page
    heard = words(page)
    assert "(only on the left: i)" in heard
    assert "(only on the right: y)" in heard
    assert "line 1: Trewin on the left, Trewyn on the right" in heard
    assert "1 letter apart" in heard
    # 1 of 34 letters, worked by hand: 15 + line end + 16 + line end + one gap
    assert "the character error rate is 2.9 %" in heard


def test_the_two_can_be_chosen_and_turned_round(desk, other):
    first = next(
        each.id
        for each in desk.work(desk.low_water).inscription(desk.label).transcripts
        if each.id != other
    )
    page = desk.client.get(path(desk, f"/beside?one={other}&two={first}")).text
    assert "line 1: Trewyn on the left, Trewin on the right" in words(page)
    page = desk.client.get(path(desk, f"/beside?one={other}&two={other}")).text
    assert "This is the same reading twice." in page


def test_one_reading_has_nothing_to_lie_beside(desk):
    desk.begin()
    assert desk.client.get(path(desk, "/beside")).status_code == 302


def test_the_reading_page_says_who_read_when_in_what_light_and_how_far_they_agree(desk, other):
    heard = words(desk.client.get(path(desk)).text)
    assert "read by Nell Quince, 2 March 2026, raking light, probable · shown first" in heard
    assert "9 March 2026, ultraviolet" in heard
    assert "agrees with it: 1 letter apart, 97 % alike" in heard


def test_a_mistaken_reading_is_set_aside_with_a_reason_and_the_history_keeps_it(desk, other):
    asked = {"revision": desk.revision(desk.low_water), "transcript": other}
    answer = desk.post(path(desk, "/aside"), **asked)
    assert answer.status_code == 422
    assert "A reading is set aside for a reason" in answer.text
    assert len(desk.work(desk.low_water).inscription(desk.label).transcripts) == 2
    answer = desk.post(path(desk, "/aside"), **asked, why="the label of another picture")
    assert answer.status_code == 302
    left = desk.work(desk.low_water).inscription(desk.label).transcripts
    assert other not in {each.id for each in left}
    assert "is set aside" in desk.client.get(answer.headers["Location"]).text
    history = words(desk.client.get(f"/work/{desk.low_water}/history").text)
    assert "set aside: the label of another picture" in history
    assert "Trewyn" in history


def test_a_reading_that_is_gone_is_not_set_aside_twice(desk, other):
    asked = {"transcript": other, "why": "another picture"}
    desk.post(path(desk, "/aside"), revision=desk.revision(desk.low_water), **asked)
    answer = desk.post(path(desk, "/aside"), revision=desk.revision(desk.low_water), **asked)
    assert answer.status_code == 404


def test_what_is_typed_as_a_reason_breaks_nothing(desk, other):
    desk.post(
        path(desk, "/aside"), revision=desk.revision(desk.low_water), transcript=other,
        why="{} <b>{0}</b> {number}",
    )  # fmt: skip
    history = desk.client.get(f"/work/{desk.low_water}/history").text
    assert "{} &lt;b&gt;{0}&lt;/b&gt; {number}" in history


def test_hostile_readings_stay_letters(desk, other):
    kept = desk.studio.read(f"work/{desk.low_water}")
    label = kept.record.inscription(desk.label)
    bad = Transcript(markup='\\<script\\>alert("x")\\</script\\>', on=Day(2026, 4, 1))
    written = replace(label, transcripts=(*label.transcripts, bad))
    others = tuple(each for each in kept.record.inscriptions if each.id != label.id)
    desk.studio.save(
        replace(kept.record, inscriptions=(*others, written)), who="Nell Quince", read=kept
    )
    page = desk.client.get(path(desk, f"/beside?two={bad.id}")).text
    assert "<script>alert" not in page


def test_the_card_has_every_sign_and_the_keys_that_type_it(desk):
    page = html.unescape(desk.client.get("/help/signs").text)
    for sign in SIGNS:
        assert f'<th scope="row" class="mono">{sign.sign}</th>' in page
        assert f"<td>{sign.meaning}</td>" in page
    for snippet in SNIPPETS:
        assert f"<kbd>{snippet.letter}</kbd>" in page


def test_the_page_of_faults_shows_each_with_its_caret_and_what_to_do(desk):
    page = html.unescape(desk.client.get("/help/faults").text)
    for example in fault_examples():
        assert example.says.partition("\n")[2] in page
        assert example.remedy[1:] in page


def test_the_signs_are_listed_beside_the_slip_for_mouse_and_keyboard(desk):
    desk.begin()
    page = desk.client.get(path(desk)).text
    for snippet in SNIPPETS:
        assert f'aria-keyshortcuts="Alt+{snippet.letter.upper()}"' in page


def test_a_fault_says_where_it_is_to_who_cannot_see_the_caret(desk):
    desk.begin()
    shown = desk.post("/render", markup="Lot 3\nSm[ith").text
    assert "Line 2, letter 3" in words(shown)
    assert 'data-at="8" data-length="1"' in shown


def test_what_was_printed_and_what_was_filled_in_stand_apart(desk):
    desk.begin()
    typed = "@p Title: @h(pencil) Low Tide\n@p Price: (blank)"
    heard = words(desk.post("/render", markup=typed).text)
    assert "Low Tide handwritten, pencil Price: left empty" in heard
    for plain in ("Low Tide", "@h Low Tide", "@p LOW TIDE"):
        assert "filled in" not in desk.post("/render", markup=plain).text
