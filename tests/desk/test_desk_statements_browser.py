"""Statements in a real browser: letters lit from the list, decisions by one key, buttons without script."""

from __future__ import annotations

from dataclasses import replace

import pytest
from test_desk_browser import browser, choose_who, house, room

from catalogue.record import Inscription, Transcript
from catalogue.studio import Studio

pytestmark = pytest.mark.browser
__all__ = ["browser", "house", "room"]

MARKUP = "@p Lot @h 3_8|@p Price @h 12 gns|@p Inv. @h 4|@p No. @h 7"


def lay_out(room):
    """A new label on a work without photos, its page open; the id of the label."""
    label = Inscription(
        kind="inscription/label",
        face="face/back",
        transcripts=(Transcript(markup=MARKUP, preferred=True),),
    )
    with Studio.open(room.folder) as studio:
        kept = studio.read(f"work/{room.ids['ferry']}")
        changed = replace(kept.record, inscriptions=(*kept.record.inscriptions, label))
        studio.save(changed, who="Nell Quince", read=kept)
    choose_who(room)
    room.go(f"/work/{room.ids['ferry']}/read/{label.id}")
    return label.id


def standings(room, label):
    kept = room.work("ferry").inscription(label).statements
    return {each.written: each.standing.partition("/")[2] for each in kept}


def lit(page):
    return page.locator("#statements mark.lit").all_inner_texts()


def heard(page):
    """What the desk says, asked just now, of others at this record."""
    with page.expect_response("**/together") as told:
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    told.value.finished()
    page.wait_for_function(
        "words => document.getElementById('together').innerHTML.trim() === words.trim() || document.getElementById('together').dataset.shown === words",
        arg=told.value.text(),
    )
    return page.locator("#together").inner_text().strip()


def focused(page):
    return page.evaluate("document.activeElement.getAttribute('aria-label')")


def test_from_the_first_row_all_is_decided_by_one_key_each(room):
    label, page = lay_out(room), room.page
    page.locator(".statement").first.focus()
    assert "".join(lit(page)) == "Lot 38"
    page.keyboard.press("a")
    page.get_by_text("3 to decide", exact=False).wait_for()
    assert focused(page) == "price: 12 gns"
    assert lit(page) == ["12 gns"]
    page.keyboard.press("ArrowDown")
    assert focused(page) == "number: Inv. 4"
    page.keyboard.press("r")
    page.get_by_text("2 to decide", exact=False).wait_for()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("c")
    page.keyboard.type("13 guineas")
    page.keyboard.press("Enter")
    page.get_by_text("1 to decide", exact=False).wait_for()
    page.keyboard.press("a")
    page.locator(".statement").get_by_text("Open again").nth(2).wait_for()
    assert page.evaluate("document.activeElement.id") == "statements-head"
    # what the page saved itself is no news to it; what is saved on another page of the same person is
    assert heard(page) == ""
    second = page.context.new_page()
    second.goto(page.url)
    second.get_by_role("button", name="Open again").first.click()
    second.get_by_text("1 to decide", exact=False).wait_for()
    assert heard(second) == ""
    second.close()
    assert "You saved it on another page" in heard(page)
    page.get_by_role("button", name="Open again").nth(1).click()
    page.get_by_text("2 to decide", exact=False).wait_for()
    assert "You saved it on another page" in heard(page)
    page.locator(".statement[tabindex]").nth(1).press("c")
    page.keyboard.type("13 guineas")
    page.keyboard.press("Enter")
    page.get_by_text("1 to decide", exact=False).wait_for()
    page.locator(".statement[tabindex]").press("a")
    page.locator(".statement").get_by_text("Open again").nth(2).wait_for()
    assert standings(room, label) == {
        "Lot 38": "accepted", "12 gns": "corrected", "Inv. 4": "rejected", "No. 7": "accepted",
    }  # fmt: skip
    kept = {each.written: each for each in room.work("ferry").inscription(label).statements}
    assert kept["12 gns"].value == "13 guineas"


def test_a_key_in_a_blank_is_a_letter_and_escape_leads_back_to_the_row(room):
    label, page = lay_out(room), room.page
    row = page.locator(".statement").first
    row.focus()
    page.keyboard.press("c")
    page.keyboard.type("acre")
    assert row.locator("[name=value]").input_value() == "acre"
    page.keyboard.press("Escape")
    assert focused(page) == "number: Lot 38"
    page.keyboard.press("Control+a")
    assert standings(room, label) == {}


def test_what_is_half_typed_on_the_slip_stays_and_is_saved_with_the_decisions(room):
    label, page = lay_out(room), room.page
    page.locator("#markup").fill("Lot 38 sold")
    page.get_by_role("button", name="Accept").first.click()
    page.get_by_text("3 to decide", exact=False).wait_for()
    assert page.locator("#markup").input_value() == "Lot 38 sold"
    page.keyboard.press("Control+s")
    page.get_by_text("is saved").wait_for()
    assert standings(room, label) == {"Lot 38": "accepted"}
    assert len(room.work("ferry").inscription(label).transcripts) == 2


def test_what_somebody_else_decided_meanwhile_is_said(room):
    label, page = lay_out(room), room.page
    with Studio.open(room.folder) as studio:
        kept = studio.read(f"work/{room.ids['ferry']}")
        inscription = kept.record.inscription(label)
        lot = studio.statements(inscription)[0]
        rejected = lot.decided(inscription.transcripts[0].id, "standing/rejected")
        studio.decide(kept, label, rejected, who="Ada Penn")
    page.locator(".statement").first.press("a")
    page.get_by_role("heading", name="Somebody else").wait_for()
    assert standings(room, label) == {"Lot 38": "rejected"}
    assert all("409" in each for each in room.complaints)
    room.complaints.clear()


def test_under_the_pointer_the_letters_are_lit(room):
    lay_out(room)
    room.page.locator(".statement").nth(1).hover()
    assert lit(room.page) == ["12 gns"]


def test_without_script_the_buttons_do_it_and_a_link_leads_to_the_letters(browser, room):
    label = lay_out(room)
    context = browser.new_context(
        java_script_enabled=False, storage_state=room.page.context.storage_state()
    )
    page = context.new_page()
    page.goto(f"{room.base}/work/{room.ids['ferry']}/read/{label}")
    page.get_by_role("button", name="Accept").first.click()
    page.get_by_text("“Lot 38”: accepted").wait_for()
    page.get_by_role("link", name="its letters in the text").nth(1).click()
    assert page.url.endswith("#letters-2")
    page.locator(".correct > summary").first.click()
    page.locator("[name=value]").first.fill("13 guineas")
    page.get_by_role("button", name="Keep the correction").first.click()
    page.get_by_text("“12 gns”: corrected").wait_for()
    context.close()
    assert standings(room, label) == {"Lot 38": "accepted", "12 gns": "corrected"}


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1400, 320])  # 320: WCAG 2.2, 1.4.10
def test_the_list_runs_over_no_edge(room, width, scheme):
    lay_out(room)
    page = room.page
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 900})
    page.locator(".correct > summary").first.click()
    section = page.locator("#statements")
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert section.evaluate("each => each.scrollWidth - each.clientWidth") <= 0
