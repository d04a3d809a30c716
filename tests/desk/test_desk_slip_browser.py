"""The slip in a real browser while one reads: told before it is saved, decided and left by keys alone."""

from __future__ import annotations

from dataclasses import replace

import axe
import pytest
from test_desk_browser import browser, house, seat, seated

from catalogue.record import Inscription, Transcript
from catalogue.studio import Studio

pytestmark = pytest.mark.browser
__all__ = ["browser", "house", "seat", "seated"]

TYPED = (
    "@p Harkwick & Son\n@p 14 Tanner Street, London, W.1\n@p No @h 2217 @p Date @h 3 May 1931"
)


@pytest.fixture
def room(seated):
    return seated


def with_labels(room, many: int, markup: str = TYPED) -> list[str]:
    """Labels on the work without photos; their ids in the order of their numbers."""
    labels = tuple(
        Inscription(
            kind="inscription/dealer-label", face="face/back", number=f"I{number}",
            transcripts=(Transcript(markup=markup, preferred=True),),
        )
        for number in range(1, many + 1)
    )  # fmt: skip
    with Studio.open(room.folder) as studio:
        kept = studio.read(f"work/{room.ids['ferry']}")
        studio.save(replace(kept.record, inscriptions=labels), who="Nell Quince", read=kept)
    return [each.id for each in labels]


def test_what_it_would_bring_is_told_while_one_types_and_again_when_the_text_changes(room):
    page = room.page
    room.go(f"/work/{room.ids['ferry']}/read")
    page.select_option("[name=kind]", "inscription/dealer-label")
    page.locator("#markup").press_sequentially("14 Tanner Street, London, W.1", delay=15)
    page.get_by_role("heading", name="Before it is saved").wait_for()
    told = page.locator("#foretold")
    told.get_by_text("from 1 March 1917").first.wait_for()
    assert page.evaluate("document.activeElement.id") == "markup"
    why = told.locator(".foretold-reasons summary").first
    why.focus()
    page.keyboard.press("Enter")
    told.locator("p", has_text="Office-of-delivery numbers").wait_for()
    page.locator("#markup").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("\n12 gns")
    told.get_by_text("12.6 GBP").wait_for()
    assert told.locator(
        "p", has_text="Office-of-delivery"
    ).is_visible()  # what was opened stays open
    assert axe.complaints(page) == []
    page.locator("#markup").fill("")
    page.wait_for_function("() => document.getElementById('foretold').innerText.trim() === ''")


def test_from_typing_to_the_last_decision_and_to_the_next_inscription_by_keys_alone(room):
    first, second = with_labels(room, 2, markup="Lot 7")
    page = room.page
    room.go(f"/work/{room.ids['ferry']}/read/{first}")
    page.locator("#markup").focus()
    page.keyboard.type("Lot 38\n12 gns")
    page.keyboard.press("Control+s")
    page.get_by_text("I1 is saved.").wait_for()
    page.wait_for_load_state()
    # the statements to decide about are the next stop after a save
    page.wait_for_function("() => document.activeElement.closest('#open-still') !== null")
    page.keyboard.press("Enter")
    page.wait_for_function("() => document.activeElement.matches('.statement')")
    page.keyboard.press("a")
    page.get_by_text("1 statement to decide about").wait_for()
    page.keyboard.press("r")
    page.wait_for_function("() => !document.body.innerText.includes('to decide')")
    kept = {
        each.written: each.standing for each in room.work("ferry").inscription(first).statements
    }
    assert kept == {"Lot 38": "standing/accepted", "12 gns": "standing/rejected"}

    page.keyboard.press("?")
    assert page.evaluate("document.activeElement.closest('#keys').open")
    page.keyboard.press("?")
    assert not page.evaluate("document.getElementById('keys').open")
    page.locator("#markup").focus()
    page.keyboard.type("Sold?")
    assert page.locator("#markup").input_value() == "Sold?"
    assert not page.evaluate("document.getElementById('keys').open")
    page.keyboard.press("Alt+PageDown")
    page.wait_for_url(f"**/read/{second}")
    page.keyboard.press("Alt+PageUp")
    page.wait_for_url(f"**/read/{first}")
    page.get_by_text("Half typed here by").wait_for()
    assert page.get_by_text("Sold?").is_visible()


def test_a_long_text_grows_shows_the_line_one_is_at_and_leads_to_a_fault_by_its_line(room):
    own = with_labels(room, 40)
    page = room.page
    room.go(f"/work/{room.ids['ferry']}/read/{own[30]}")
    links = page.locator(".marks-bar a[data-inscription]")
    assert links.evaluate_all("all => all.map(one => one.dataset.inscription)") == own
    bar = page.locator(".marks-bar")
    assert bar.bounding_box()["height"] < 100
    here = page.locator(".marks-bar [aria-current]").bounding_box()
    assert (
        bar.bounding_box()["y"]
        <= here["y"]
        < bar.bounding_box()["y"] + bar.bounding_box()["height"]
    )
    markup = page.locator("#markup")
    before = markup.bounding_box()["height"]
    markup.fill("\n".join(f"Lot {number}" for number in range(1, 41)) + "\nSm[ith")
    page.get_by_role("button", name="Go to line 41, letter 3").wait_for()
    assert markup.bounding_box()["height"] > before
    shown = page.locator("#rendered .rendering")
    page.wait_for_function(
        "() => document.querySelector('#rendered .rendering').scrollTop > 50"
    )
    markup.press("Control+Home")
    page.wait_for_function(
        "() => document.querySelector('#rendered .rendering').scrollTop === 0"
    )
    assert shown.get_attribute("tabindex") == "0"
    page.get_by_role("button", name="Go to line 41, letter 3").click()
    assert (
        page.evaluate("document.activeElement.selectionStart") == len(markup.input_value()) - 4
    )
    assert axe.complaints(page) == []


def test_photo_text_and_rendering_are_seen_at_once_and_the_signs_stay_as_they_were_left(room):
    """On the desk all of it in the first view; on an upright tablet the photo stays above what is pushed."""
    page = room.page
    page.set_viewport_size({"width": 1366, "height": 900})
    room.go(f"/work/{room.ids['low_water']}/read/{room.ids['label']}")
    page.locator("#frame").wait_for()

    def ends(place):
        spot = page.locator(place).bounding_box()
        return spot["y"] + spot["height"]

    assert max(ends(each) for each in ("#table", "#markup", "#rendered")) <= 900
    one_row = page.locator("#snippets").bounding_box()["height"]
    page.get_by_role("button", name="Signs", exact=True).click()
    assert page.locator("#snippets").bounding_box()["height"] > 3 * one_row
    page.reload()
    every = page.get_by_role("button", name="Signs", exact=True)
    assert every.get_attribute("aria-expanded") == "true"
    every.click()
    assert page.locator("#snippets").bounding_box()["height"] == one_row
    # a sign beyond the edge is reached with the arrows, and seen when it is
    page.locator("#snippets button").first.focus()
    page.keyboard.press("End")
    bar, last = (
        page.locator(f"#snippets{each}").bounding_box() for each in ("", " button:last-of-type")
    )
    assert last["x"] + last["width"] <= bar["x"] + bar["width"] + 1
    # while a letter is waited for all of them are shown, and none lies over the text
    page.locator("#markup").press("Control+.")
    assert ends("#snippets") <= page.locator("#markup").bounding_box()["y"]
    page.keyboard.press("Escape")
    assert axe.complaints(page) == []

    page.set_viewport_size({"width": 768, "height": 1024})
    tools = page.locator(".tools > *:visible").evaluate_all("all => all.map(each => each.getBoundingClientRect()).map(at => (at.top + at.bottom) / 2)")  # fmt: skip
    assert max(tools) - min(tools) < 4  # one row
    assert 0.4 < page.locator(".reading > .table").bounding_box()["height"] / 1024 < 0.5
    page.locator("#markup").focus()
    page.evaluate("document.getElementById('markup').scrollIntoView({ block: 'start' })")
    assert page.locator(".reading > .table").bounding_box()["y"] == pytest.approx(0, abs=1)
    assert page.locator("#markup").bounding_box()["y"] >= ends(".reading > .table")
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert page.locator("#table").bounding_box()["height"] >= 300
