"""Every page of the desk in a real browser: can everybody use it, light and dark, wide and narrow?

Each page is visited once; what is wrong with it is kept under its subject, and every test asks for one subject.
"""

from __future__ import annotations

import re
from collections import defaultdict

import pytest
from axe import complaints
from desk_studio import Desk, served
from every_page import NOT_PAGES, addresses, furnished, on_the_tray, to_look_at
from test_desk_browser import browser, choose_who  # noqa: F401

from catalogue.desk import create_app
from catalogue.studio import Studio

pytestmark = pytest.mark.browser

NARROW = (640, 360)
"""Source: W3C, WCAG 2.2: 1280 px at 200 % (1.4.4) are 640 css px; 1.4.10 asks for 320, the studio's own for 360."""

SIDEWAYS = """() => {
  const wide = document.documentElement.scrollWidth;
  if (wide <= innerWidth) return null;
  const scrolls = (e) => { for (let p = e.parentElement; p && p !== document.body; p = p.parentElement) { const o = getComputedStyle(p).overflowX; if (o !== 'visible') return true; } return false; };
  const guilty = [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !scrolls(e));
  return `${wide} px: ` + guilty.slice(0, 4).map(e => `${e.tagName}.${e.getAttribute('class') ?? ''} ${Math.round(e.getBoundingClientRect().right)}`).join(', ');
}"""

PRIMARY = "() => [...document.querySelectorAll('main .primary')].filter(e => e.checkVisibility()).map(e => e.textContent.trim())"


def is_a_page(answer) -> bool:
    """Whether a browser shows it as a page of its own: neither a picture, a file nor a piece of a page."""
    return (
        answer.mimetype == "text/html"
        and "Content-Disposition" not in answer.headers
        and answer.data.lstrip()[:9].lower() == b"<!doctype"
    )


@pytest.fixture(scope="module")
def pages(tmp_path_factory):
    """A furnished studio in a folder, the addresses of its pages, and routes without any."""
    where = tmp_path_factory.mktemp("every") / "studio"
    with Studio.init(where) as studio:
        ids = furnished(studio)
        app = create_app(studio)
        desk = Desk(studio=studio, app=app, client=app.test_client(), **ids)
        desk.begin()
        seen = to_look_at(studio, ids, on_the_tray(desk))
        found: list[str] = []
        without, broken = [], []
        for rule in app.url_map.iter_rules():
            if "GET" not in rule.methods or rule.endpoint in NOT_PAGES:
                continue
            given = list(addresses(rule, seen))
            if not given:
                without.append(f"{rule.endpoint} {rule.rule}")
            for address in given:
                answer = desk.client.get(address, follow_redirects=True)
                answer.close()
                if answer.status_code != 200:
                    broken.append(f"{answer.status_code} {address}")
                elif is_a_page(answer):
                    found.append(address)
    return where, found, without, broken


def test_every_route_is_looked_at(pages):
    _, found, without, broken = pages
    assert without == [], "say in every_page.addresses where these are to be seen"
    assert broken == []
    assert len(found) > 60


@pytest.fixture(scope="module")
def wrong(browser, pages):  # noqa: F811
    """What is wrong with each page, by subject."""
    where, found, _, _ = pages
    said: dict[str, list[str]] = defaultdict(list)
    with served(where) as words:
        base = re.search(r"http://127\.0\.0\.1:\d+", words)
        assert base, words
        context = browser.new_context(
            viewport={"width": 1366, "height": 900}, reduced_motion="reduce"
        )
        page = context.new_page()
        page.goto(base[0] + "/who")
        page.get_by_role("button", name="Nell Quince").click()
        page.wait_for_url(base[0] + "/")
        for address in found:
            page.set_viewport_size({"width": 1366, "height": 900})
            page.goto(base[0] + address, wait_until="load")
            page.evaluate(
                "() => document.querySelectorAll('details').forEach(each => { each.open = true; })"
            )
            said["axe"] += [f"{address}: {each}" for each in complaints(page)]
            if len(shown := page.evaluate(PRIMARY)) > 1:
                said["primary"].append(f"{address}: {shown}")
            for width in NARROW:
                page.set_viewport_size({"width": width, "height": 740})
                if beyond := page.evaluate(SIDEWAYS):
                    said["sideways"].append(f"{address} at {width}: {beyond}")
        context.close()
    return said


def test_axe_finds_nothing_wrong_light_or_dark(wrong):
    assert wrong["axe"] == []


def test_no_page_scrolls_sideways_at_twice_the_size_or_on_a_telephone(wrong):
    assert wrong["sideways"] == []


def test_a_page_has_one_primary_action_at_most(wrong):
    assert wrong["primary"] == []
