"""The folder in a browser: picture and list in step, layers at once, pieces fetched, a small screen, no complaint."""

from __future__ import annotations

from dataclasses import replace

import pytest
from axe import complaints
from test_desk_browser import browser, choose_who, house, room  # noqa: F401

from catalogue.studio import Studio

pytestmark = pytest.mark.browser

WIDTHS = (1366, 768, 360)


@pytest.fixture
def at_folder(room):  # noqa: F811
    choose_who(room)
    with Studio.open(room.folder) as studio:
        kept = studio.read(f"work/{room.ids['low_water']}")
        studio.save(replace(kept.record, medium="oil on canvas"), who="Nell Quince", read=kept)
    room.go(f"/work/{room.ids['low_water']}")
    room.page.locator("#still-open .counts").wait_for()
    return room


def test_the_folder_by_mouse_by_keys_and_on_a_small_screen(at_folder):
    page = at_folder.page
    label = at_folder.ids["label"]
    on_photo = page.locator(f".on-photo a[data-mark='{label}']")
    line = page.locator(f".numbers [data-mark='{label}']")

    # pointed at on the photo, lit in the list; focused in the list, lit on the photo
    on_photo.locator(".under").hover()
    assert "is-lit" in line.get_attribute("class")
    page.mouse.move(2, 2)
    assert "is-lit" not in (line.get_attribute("class") or "")
    line.get_by_role("link").focus()
    assert "is-lit" in on_photo.get_attribute("class")

    # a layer goes at once, and the address keeps it
    page.get_by_label("Inscriptions").uncheck()
    assert not on_photo.is_visible()
    assert not line.is_visible()
    assert "layers=chosen" in page.url
    page.reload()
    assert not page.locator(f".on-photo a[data-mark='{label}']").is_visible()
    assert not page.get_by_role("button", name="Show these").is_visible()
    page.get_by_label("Inscriptions").check()
    assert page.locator(f".on-photo a[data-mark='{label}']").is_visible()

    # the contents tell where one is
    page.get_by_role("navigation", name="In this folder").get_by_role(
        "link", name="History"
    ).click()
    page.locator(".contents a[aria-current]").wait_for()

    # what takes longer came by itself
    page.locator("#proves .proved").wait_for()

    assert complaints(page) == []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width, f"sideways scrolling at {width}"


def test_an_older_change_is_told_when_its_slip_is_opened(at_folder):
    page = at_folder.page
    at_folder.go(f"/work/{at_folder.ids['low_water']}/history")
    oldest = page.locator(".changes > li").last
    oldest.locator("summary").click()
    oldest.locator(".differences").wait_for()
    assert "Low Water" in oldest.inner_text()
    page.get_by_role("button", name="Show what differs").click()
    page.get_by_role("heading", name="What differs between two states").wait_for()
    assert complaints(page) == []
    page.get_by_role("link", name="Bring the earlier state back").click()
    page.get_by_label("Reason for going back").fill("it was the other one")
    page.get_by_role("button", name="Bring this whole state back").click()
    page.get_by_text("Saved as a new change").wait_for()


def test_without_script_the_links_lead_to_the_same(browser, house):  # noqa: F811
    _, ids, base = house
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{base}/work/{ids['low_water']}")
    page.get_by_label("Inscriptions").uncheck()
    page.get_by_role("button", name="Show these").click()
    assert not page.locator(f".on-photo a[data-mark='{ids['label']}']").is_visible()
    page.locator("#proves").get_by_role("link", name="When everything was").click()
    page.get_by_role("heading", name="When everything happened").wait_for()
    context.close()
