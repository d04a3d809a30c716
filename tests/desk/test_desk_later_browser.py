"""Pieces of a page that come after the rest, in the browser: asked for again while the desk is at work on them."""

from __future__ import annotations

import pytest
from axe import complaints
from test_desk_browser import browser, house, room  # noqa: F401

pytestmark = pytest.mark.browser

STILL_AT_IT = "<p>still at it</p>"


def test_a_piece_is_asked_for_until_it_is_there_and_the_page_is_sound_before_and_after(room):  # noqa: F811
    page = room.page
    asked = []

    def answer(route):
        asked.append(route.request.url)
        if len(asked) < 3:
            route.fulfill(status=202, content_type="text/html", body=STILL_AT_IT)
        else:
            route.continue_()

    page.route("**/open/written", answer)
    room.go(f"/work/{room.ids['low_water']}/open")
    piece = page.locator("[data-later]")
    # What is known already is there, and so is the way without script.
    assert page.get_by_role("heading", name="What is open").is_visible()
    assert "looked at as well" in piece.inner_text()
    assert piece.get_by_role("link").get_attribute("href").endswith("?whole=yes")
    assert piece.get_attribute("aria-busy") == "true"
    assert not complaints(page)
    piece.get_by_text("nothing is to be said of it").wait_for()
    assert len(asked) == 3
    assert piece.get_attribute("aria-busy") is None
    assert "still at it" not in page.content()
    assert not complaints(page)
    # On a small screen what is said keeps the width of the slip, below what it is said of.
    page.set_viewport_size({"width": 360, "height": 740})
    room_for_words = page.locator(".remarks dd").first.bounding_box()["width"]
    assert room_for_words > 250
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    # It was looked at once: from now on the page has it from the first.
    page.reload()
    assert page.locator("[data-later]").count() == 0
