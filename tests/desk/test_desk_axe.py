"""Every page of the desk in a real browser: can everybody use it, light and dark, wide and narrow, by keys?

Each page is visited once; what is wrong with it is kept under its subject, and every test asks for one subject.
"""

from __future__ import annotations

import gzip
import threading
from collections import defaultdict

import pytest
from axe import complaints
from desk_studio import Desk
from every_page import (
    AMISS,
    NOT_PAGES,
    addresses,
    furnished,
    machine_draft,
    on_a_card,
    on_the_tray,
    to_look_at,
    under_way,
)
from test_desk_browser import browser  # noqa: F401
from werkzeug.serving import make_server

from catalogue.desk import create_app
from catalogue.places import folder
from catalogue.studio import Studio

pytestmark = pytest.mark.browser

NARROW = (640, 360)
"""1280 px at 200 % are 640 css px. Source: W3C, WCAG 2.2, 1.4.4; 360 is the studio's own, for telephones."""

LARGEST_BYTES = 400_000
"""Scripts and styles of one page, compressed. The studio's own number."""

OPEN_ALL = """() => {
  document.querySelectorAll("details").forEach(each => {
    // The rules for tables take the square of their rows; a list of hundreds has the look of its first ones.
    each.open = each.querySelectorAll("td").length < 200;
  });
  // What it lies over just now is reached by scrolling; the walk by keys looks at that.
  document.querySelectorAll(".save-bar").forEach(each => { each.style.position = "static"; });
}"""

SIDEWAYS = """() => {
  const wide = document.documentElement.scrollWidth;
  if (wide <= innerWidth) return null;
  const held = e => { for (let p = e.parentElement; p && p !== document.body; p = p.parentElement)
    if (getComputedStyle(p).overflowX !== "visible") return true; return false; };
  const beyond = [...document.querySelectorAll("body *")].filter(
    e => e.getBoundingClientRect().right > innerWidth + 1 && !held(e));
  return `${wide} px: ` + beyond.slice(0, 4).map(
    e => `${e.tagName}.${e.getAttribute("class") ?? ""} ${Math.round(e.getBoundingClientRect().right)}`).join(", ");
}"""

PRIMARY = """() => [...document.querySelectorAll("main .primary")]
  .filter(e => e.checkVisibility()).map(e => e.textContent.trim())"""

STOP = """() => {
  const e = document.activeElement;
  if (!e || e === document.body) return null;
  e.dataset.walked = (Number(e.dataset.walked ?? 0) + 1).toString();
  const box = e.getBoundingClientRect(), style = getComputedStyle(e);
  const name = `${e.tagName.toLowerCase()}${e.id ? "#" + e.id : ""}.${e.getAttribute("class") ?? ""} ${(e.textContent || e.name || "").trim().slice(0, 30)}`;
  const inside = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
  const at = [(Math.max(box.left, 0) + Math.min(box.right, innerWidth)) / 2, (Math.max(box.top, 0) + Math.min(box.bottom, innerHeight)) / 2];
  const top = inside ? document.elementFromPoint(...at) : null;
  const lined = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0;
  // A line round something else may stand for it: the card of a hit, the words of a shape on a drawing.
  const drawn = e.matches("svg *");
  const shown = lined || drawn || e.matches("#table") || !!e.closest(".hit:focus-within, #results, main:focus");
  return {name, again: Number(e.dataset.walked) > 1, shown, inside,
    // Shapes of a drawing lie on each other by their nature; a list beside it has them all.
    bare: drawn || !!top && (e.contains(top) || top.contains(e) || !!e.closest("label")?.contains(top))};
}"""


def told(said: list[str]) -> str:
    """What is wrong, a line each, so that a failing test says all of it."""
    return "\n".join(["", *said])


def is_a_page(answer) -> bool:
    """Whether a browser shows it as a page of its own: neither a picture, a file nor a piece of a page."""
    return (
        answer.mimetype == "text/html"
        and "Content-Disposition" not in answer.headers
        and answer.data.lstrip()[:9].lower() == b"<!doctype"
    )


THERE = "192.168.7.8"
"""The address under which other machines reach the desk."""


class FromElsewhere:
    """The desk, to which whoever asks for its door, or for a page of another name, seems to come from outside."""

    def __init__(self, app) -> None:
        self.app = app

    def __call__(self, environ, start_response):
        if environ["PATH_INFO"] in ("/enter", "/stranger"):
            environ["REMOTE_ADDR"] = "192.168.7.7"
        if environ["PATH_INFO"] == "/enter":
            environ["HTTP_HOST"] = THERE
        return self.app(environ, start_response)


class House:
    """A served desk, the addresses of its pages, routes without any, and those that answer wrongly."""

    def __init__(self, studio, ids) -> None:
        self.app = create_app(studio, hosts=[THERE])
        self.desk = Desk(studio=studio, app=self.app, client=self.app.test_client(), **ids)
        self.desk.begin()
        self.found: list[str] = []
        self.without: list[str] = []
        self.broken: list[str] = []
        self.server = make_server("127.0.0.1", 0, FromElsewhere(self.app), threaded=True)
        self.base = f"http://127.0.0.1:{self.server.port}"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def look(self, seen) -> None:
        for rule in self.app.url_map.iter_rules():
            if "GET" not in rule.methods or rule.endpoint in NOT_PAGES:
                continue
            given = list(addresses(rule, seen))
            if not given:
                self.without.append(f"{rule.endpoint} {rule.rule}")
            for address in given:
                answer = self.desk.client.get(address, follow_redirects=True)
                answer.close()
                if answer.status_code not in (200, 204):
                    self.broken.append(f"{answer.status_code} {address}")
                elif is_a_page(answer):
                    self.found.append(address)

    def enter(self, chromium):
        """A page of a browser, at which the member is at work."""
        context = chromium.new_context(
            viewport={"width": 1366, "height": 900}, reduced_motion="reduce"
        )
        page = context.new_page()
        page.goto(self.base + "/who")
        page.get_by_role("button", name="Nell Quince").click()
        page.wait_for_url(self.base + "/")
        return page


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    with Studio.init(tmp_path_factory.mktemp("every") / "studio") as studio:
        ids = furnished(studio)
        here = House(studio, ids)
        seen = to_look_at(
            studio,
            ids,
            on_the_tray(here.desk),
            under_way(here.app, studio),
            on_a_card(here.desk),
        )
        machine_draft(studio, seen.pictured.photos[0])
        machine_draft(studio, seen.pictured.photos[1])
        here.look(seen)
        yield here
        here.server.shutdown()


def test_every_route_is_looked_at(house):
    assert not house.without, "say in every_page.addresses where to see" + told(house.without)
    assert not house.broken, told(house.broken)
    assert len(house.found) > 60


def look_over(page, address: str, said: dict[str, list[str]]) -> None:
    """Note what is wrong with the page that is open, by subject."""
    page.evaluate(OPEN_ALL)
    said["axe"] += [f"{address}: {each}" for each in complaints(page)]
    if len(shown := page.evaluate(PRIMARY)) > 1:
        said["primary"].append(f"{address}: {shown}")
    for width in NARROW:
        page.set_viewport_size({"width": width, "height": 740})
        if beyond := page.evaluate(SIDEWAYS):
            said["sideways"].append(f"{address} at {width}: {beyond}")
    page.set_viewport_size({"width": 1366, "height": 900})


@pytest.fixture(scope="module")
def wrong(browser, house):  # noqa: F811
    """What is wrong with each page, by subject."""
    said: dict[str, list[str]] = defaultdict(list)
    page = house.enter(browser)
    for address in (*house.found, *AMISS, "/enter", "/stranger"):
        page.goto(house.base + address)
        look_over(page, address, said)
    page.context.close()
    return said


def test_axe_finds_nothing_wrong_light_or_dark(wrong):
    assert not wrong["axe"], told(wrong["axe"])


def test_no_page_scrolls_sideways_at_twice_the_size_or_on_a_telephone(wrong):
    assert not wrong["sideways"], told(wrong["sideways"])


def test_a_page_has_one_primary_action_at_most(wrong):
    assert not wrong["primary"], told(wrong["primary"])


@pytest.fixture(scope="module")
def refusals(browser, house):  # noqa: F811
    """What is wrong with pages that refuse what was typed."""
    said: dict[str, list[str]] = defaultdict(list)
    work = house.desk.low_water
    page = house.enter(browser)
    for address in (
        f"/work/{work}/enter/provenance", f"/work/{work}/enter/findings", "/people/new", "/jobs/new",
        f"/work/{work}/aside",
    ):  # fmt: skip
        page.goto(house.base + address)
        form = page.locator("main form[method=post]:has(.primary), main #withdraw form").first
        with page.expect_navigation():
            form.evaluate(
                "form => { form.noValidate = true; form.requestSubmit(form.querySelector('.primary')); }"
            )
        assert page.locator("main .stop").count(), f"{address} refuses nothing"
        look_over(page, f"refused {address}", said)
    page.context.close()
    return said


def test_pages_that_refuse_can_be_used_too(refusals):
    assert not any(refusals.values()), told(
        [each for lines in refusals.values() for each in lines]
    )


def test_an_empty_studio_can_be_used_too(browser, tmp_path):  # noqa: F811
    said: dict[str, list[str]] = defaultdict(list)
    with Studio.init(tmp_path / "empty") as studio:
        app = create_app(studio)
        server = make_server("127.0.0.1", 0, app, threaded=True)
        threading.Thread(target=server.serve_forever, daemon=True).start()
        page = browser.new_page(viewport={"width": 1366, "height": 900})
        for address in ("/", "/who", "/find", "/read", "/people", "/jobs", "/families"):
            page.goto(f"http://127.0.0.1:{server.port}{address}")
            look_over(page, f"empty {address}", said)
        page.close()
        server.shutdown()
    assert not any(said.values()), told([each for lines in said.values() for each in lines])


def walk(page, most: int = 400) -> list[str]:
    """Tab through the page from its head to its end; what is wrong at each stop."""
    amiss = []
    page.evaluate("() => { document.activeElement?.blur(); scrollTo(0, 0); }")
    for step in range(most):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop is None or (stop["again"] and step):
            return amiss
        wanting = [word for word in ("shown", "inside", "bare") if not stop[word]]
        if wanting:
            amiss.append(f"{stop['name']}: not {', '.join(wanting)}")
    return [*amiss, "it has no end"]


def test_every_stop_of_the_tab_key_is_seen(browser, house):  # noqa: F811
    """The focus shows, in the window, behind nothing. Source: W3C, WCAG 2.2, 2.1.2, 2.4.7, 2.4.11."""
    work = house.desk.low_water
    page = house.enter(browser)
    amiss = []
    for address in (
        "/", "/find?q=dealer", "/send", f"/work/{work}/map", f"/work/{work}/argue/chain",
        f"/work/{work}/enter/provenance", f"/work/{work}/print", "/take-in",
    ):  # fmt: skip
        page.goto(house.base + address)
        amiss += [f"{address}: {each}" for each in walk(page)]
    page.context.close()
    assert not amiss, told(amiss)


def test_the_skip_link_goes_past_the_bar(browser, house):  # noqa: F811
    page = house.enter(browser)
    page.goto(house.base + "/people")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("() => !!document.activeElement.closest('main')")
    page.context.close()


PRINTED = """() => {
  const seen = [...document.querySelectorAll("nav, button, .button, .skip, input, select, textarea")]
    .filter(e => e.checkVisibility() && e.getBoundingClientRect().height > 0);
  const pale = [...document.querySelectorAll("main *")].filter(e => e.checkVisibility() && !e.closest("svg, figure img")
    && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())
    && getComputedStyle(e).color.match(/\\d+/g).slice(0, 3).reduce((a, b) => a + Number(b), 0) > 480);
  return [getComputedStyle(document.documentElement).backgroundColor,
    ...seen.map(e => `${e.tagName} ${e.className} is printed`), ...pale.map(e => `${e.tagName} ${e.className} is too pale`)];
}"""


def test_paper_has_dark_words_on_white_and_nothing_to_click(browser, house):  # noqa: F811
    """Also where the screen is dark."""
    work = house.desk.low_water
    page = house.enter(browser)
    amiss = []
    for address in (
        "/",
        "/find?q=dealer",
        f"/work/{work}",
        f"/work/{work}/argue/chain",
        "/families",
        "/kept",
    ):
        page.goto(house.base + address)
        page.emulate_media(media="print", color_scheme="dark")
        ground, *found = page.evaluate(PRINTED)
        assert ground == "rgb(255, 255, 255)"
        amiss += [f"{address}: {each}" for each in found]
        page.emulate_media(media="screen")
    page.context.close()
    assert not amiss, told(amiss)


LINES = """() => ["[aria-current]", ":not([aria-current])"].map(
  which => getComputedStyle(document.querySelector(`nav.tabs a${which}`)).borderBottomColor)"""


def test_the_readers_own_colours_keep_what_a_colour_told(browser, house):  # noqa: F811
    """Which tab is open is told by a line. Source: CSS Color Adjustment 1, forced colours; WCAG 2.2, 1.4.1."""
    page = house.enter(browser)
    page.goto(f"{house.base}/work/{house.desk.low_water}/check")
    page.emulate_media(forced_colors="active")
    current, other = page.evaluate(LINES)
    assert current != other
    page.emulate_media(forced_colors="none", contrast="more")
    soft, ink = page.evaluate(
        """() => ["p.number", "h1"].map(e => getComputedStyle(document.querySelector(e)).color)"""
    )
    assert soft == ink
    page.context.close()


def test_scripts_and_styles_are_small():
    """All of them together are smaller than one page may have, so any page's are."""
    files = [
        each
        for each in (folder("templates") / "static").iterdir()
        if each.suffix in (".css", ".js")
    ]
    assert files
    assert sum(len(gzip.compress(each.read_bytes())) for each in files) <= LARGEST_BYTES
