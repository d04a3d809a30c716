"""The bench, help and work under way in a real browser: progress by itself, the key ?, an empty studio at 360 px."""

from __future__ import annotations

import zipfile

import pytest
from axe import complaints
from test_desk_browser import browser, choose_who, house, room  # noqa: F401

pytestmark = pytest.mark.browser


def test_every_work_is_packed_while_one_looks_on_and_help_is_a_key_away(room, tmp_path):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go("/send")
    page.get_by_label("To whom").fill("a friend")
    page.get_by_role("button", name="Pack as .zip").click()
    assert "/under-way/" in page.url
    # nobody loads the page again: its script does
    fetch = page.get_by_role("link", name="Fetch all-works-linked-art-public.zip")
    fetch.wait_for()
    assert page.get_by_role("button", name="Stop it").count() == 0
    with page.expect_download() as kept:
        fetch.click()
    kept.value.save_as(tmp_path / "works.zip")
    with zipfile.ZipFile(tmp_path / "works.zip") as packed:
        assert packed.testzip() is None
    assert complaints(page) == []

    page.keyboard.press("?")
    page.wait_for_url("**/help")
    page.set_viewport_size({"width": 360, "height": 740})
    for leaf in (
        "/help",
        "/help/places",
        "/help/safety",
        "/help/keys",
        "/safekeeping",
        "/",
        "/jobs",
    ):
        room.go(leaf)
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, f"{leaf} is {wide} px wider than the screen"

    room.go("/help/keys")
    page.get_by_label("alone opens help").uncheck()
    room.go("/")
    page.keyboard.press("?")
    page.wait_for_timeout(200)
    assert page.url == room.base + "/"
    page.get_by_role("searchbox", name="Search words").press("?")
    assert page.get_by_role("searchbox", name="Search words").input_value() == "?"
