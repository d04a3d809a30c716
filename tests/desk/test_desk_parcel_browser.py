"""A dealer opens the page of a parcel in a browser: everything on it is there, and nothing is fetched."""

from __future__ import annotations

import pytest
from exchange.parcels import house, in_folder, sent
from test_desk_browser import browser  # noqa: F401

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    folder = tmp_path_factory.mktemp("dealer")
    with house() as studio:
        bag = in_folder(sent(studio, "sale", folder / "sent"), folder / "opened")
    return (bag / "data" / "index.html").as_uri()


@pytest.mark.parametrize("wide", [1280, 390])
def test_a_dealer_opens_the_page(browser, address, wide):  # noqa: F811
    asked, complaints = [], []
    page = browser.new_page(viewport={"width": wide, "height": 900})
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda said: complaints.append(said.text))
    page.on("requestfailed", lambda request: complaints.append(request.url))
    page.goto(address)
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    page.wait_for_function("[...document.images].every(it => it.complete)")
    widths = page.evaluate("[...document.images].map(it => it.naturalWidth)")
    assert len(widths) == 3
    assert min(widths) > 100
    assert all(each.startswith("file:") for each in asked)
    assert not complaints
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    page.click("text=Low Water")
    assert "work-" in page.url
    assert "Harrow & Sons" in page.inner_text("blockquote")
    page.close()


def test_it_prints_each_painting_on_a_sheet_of_its_own(browser, address):  # noqa: F811
    page = browser.new_page()
    page.goto(address)
    page.emulate_media(media="print")
    assert page.is_hidden("article p.file >> nth=0")
    breaks = page.evaluate(
        "[...document.querySelectorAll('article')].map(it => getComputedStyle(it).breakBefore)"
    )
    # the first one begins beneath the head of the page
    assert breaks[0] == "auto"
    assert len(breaks) > 1
    assert set(breaks[1:]) == {"page"}
    page.close()
