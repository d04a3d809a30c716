"""The pages of Argue in a real browser, wide and narrow: nothing runs over, links by keys, reasons open."""

from __future__ import annotations

import re

import pytest
from argued_back import argued_back
from desk_studio import Desk, filled, served
from test_desk_browser import browser, choose_who, room  # noqa: F401

from catalogue.studio import Studio

pytestmark = pytest.mark.browser

PAGES = ("chronology", "chain?on=1937", "layers")
SIZES = ((1400, 900), (360, 740))


@pytest.fixture(scope="module")
def house(browser, tmp_path_factory):  # noqa: F811
    """A served studio with a back to argue about, and a contradiction on it."""
    folder = tmp_path_factory.mktemp("argue") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        desk = Desk(studio=studio, app=None, client=None, **ids)
        back = argued_back(desk, patch_made="1900")
    with served(folder) as said:
        base = re.search(r"http://127\.0\.0\.1:\d+", said)
        assert base, said
        yield folder, {**ids, "over": back.over, "back": back.label}, base[0]


@pytest.mark.parametrize("size", SIZES, ids=["wide", "narrow"])
@pytest.mark.parametrize("name", PAGES)
def test_nothing_runs_over_the_edge(room, name, size):  # noqa: F811
    choose_who(room)
    room.page.set_viewport_size({"width": size[0], "height": size[1]})
    room.go(f"/work/{room.ids['low_water']}/argue/{name}")
    over = room.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert over <= 0
    for svg in room.page.locator("figure.picture svg").all():
        assert svg.bounding_box()["width"] > 250


def test_a_reason_opens_without_script_and_the_picture_is_walked_by_keys(room):  # noqa: F811
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}/argue/chronology")
    page = room.page
    row = page.locator(f"[id='event-{room.ids['over']}']")
    reason = row.get_by_text("Not earlier, because")
    assert not reason.is_visible()
    row.locator("summary").first.focus()
    page.keyboard.press("Enter")
    assert reason.is_visible()
    links = page.locator("figure.picture a")
    links.first.focus()
    told = []
    for _ in range(3):
        told.append(page.evaluate("document.activeElement.getAttribute('aria-label')"))
        page.keyboard.press("Tab")
    assert len(set(told)) == 3
    assert all(told)
    page.locator(f"figure.picture a[href$='/read/{room.ids['back']}']").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(f"/read/{room.ids['back']}"))


@pytest.mark.parametrize("name", PAGES)
def test_without_script_the_pages_are_whole(browser, house, name):  # noqa: F811
    _, ids, base = house
    context = browser.new_context(java_script_enabled=False)
    try:
        page = context.new_page()
        page.goto(f"{base}/work/{ids['low_water']}/argue/{name}")
        assert page.locator(".argue-bar a").count() == 4
        assert page.locator("figure.picture svg").count() >= 1
    finally:
        context.close()
