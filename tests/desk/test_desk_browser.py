"""The desk in a real browser: a label is framed, read, saved, found again and sent, by mouse and by keys."""

from __future__ import annotations

import json
import os
import re
import shutil
import zipfile
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from desk_studio import filled, photo_named, served

from catalogue.studio import Studio

pytestmark = pytest.mark.browser

NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "microsoft-edge",
)
FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip
PATIENCE_MS = 15_000


def found_browser() -> str:
    """The Chromium to drive; a failure where a missing one must not go unnoticed, else a loud skip."""
    found = os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)
    if found:
        return found
    reason = "no Chromium found: install one, or set CHROMIUM to its path"
    if os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(f"THE DESK WAS NOT TRIED IN A BROWSER: {reason}")


@dataclass
class Room:
    """A browser page at a served desk, and the studio behind it."""

    page: object
    base: str
    folder: Path
    ids: dict[str, str]
    complaints: list[str]
    asked: list[str]

    def go(self, path: str) -> None:
        self.page.goto(self.base + path)

    def work(self, name: str):
        with Studio.open(self.folder) as studio:
            return studio.read(f"work/{self.ids[name]}").record


@pytest.fixture(scope="module")
def browser():
    path = found_browser()
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        yield chromium
        chromium.close()


@pytest.fixture(scope="module")
def house(browser, tmp_path_factory):
    """A studio in a folder, its desk served as `dorse serve` does it."""
    folder = tmp_path_factory.mktemp("desk") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
    with served(folder) as said:
        base = re.search(r"http://127\.0\.0\.1:\d+", said)
        assert base, said
        yield folder, ids, base[0]


@contextmanager
def room_at(browser, house, *, kind=Room, size=(1400, 900), **more):
    """A room of its own; whatever its page complained of, or asked for elsewhere, is a failure."""
    folder, ids, base = house
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, accept_downloads=True, **more
    )
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    complaints: list[str] = []
    asked: list[str] = []
    page.on(
        "console",
        lambda said: (
            complaints.append(said.text) if said.type in ("error", "warning") else None
        ),
    )
    page.on("pageerror", lambda fault: complaints.append(str(fault)))
    context.on("request", lambda request: asked.append(request.url))
    yield kind(page, base, folder, ids, complaints, asked)
    context.close()
    nothing_strange(complaints, asked, base)


def nothing_strange(complaints, asked, base) -> None:
    assert complaints == []
    assert [url for url in asked if not url.startswith((base + "/", "blob:", "data:"))] == []


@pytest.fixture
def room(browser, house):
    with room_at(browser, house) as room:
        yield room


@pytest.fixture(scope="module")
def seat(browser, house):
    """One room for a whole file, where somebody works already: see `seated`."""
    with room_at(browser, house) as room:
        choose_who(room)
        yield room


@pytest.fixture
def seated(seat):
    """The same room for every test of a file, its ears opened anew; each test goes to a page of its own."""
    seat.complaints.clear()
    seat.asked.clear()
    seat.page.set_viewport_size({"width": 1400, "height": 900})
    yield seat
    seat.page.unroute_all()
    nothing_strange(seat.complaints, seat.asked, seat.base)


def choose_who(room) -> None:
    room.go("/who")
    room.page.get_by_role("button", name="Nell Quince").click()
    room.page.wait_for_url(room.base + "/")


def drag(page, start, end) -> None:
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=3)
    page.mouse.move(*end, steps=3)
    page.mouse.up()


def frame_numbers(page) -> list[float]:
    names = ("x", "y", "width", "height", "turn")
    return [float(page.locator(f"[name=frame_{name}]").input_value()) for name in names]


def test_a_label_is_framed_read_saved_found_and_sent(room, tmp_path):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}")
    page.get_by_role("link", name="Read the back").click()

    # The label was glued askew: turn the photo until it lies level, and frame it upright on the screen.
    page.wait_for_load_state()
    table = page.locator("#table")
    table.focus()
    for _ in range(9):
        page.keyboard.press("[")
    assert page.locator("#turned").inner_text() == "-9°"
    page.get_by_role("button", name="Draw a frame").click()
    box = table.bounding_box()
    start = (box["x"] + 200, box["y"] + 150)
    drag(page, start, (start[0] + 220, start[1] + 90))
    page.wait_for_function("() => document.querySelector('[name=frame_x]').value !== ''")
    x, y, width, height, turn = frame_numbers(page)
    assert turn == 9
    assert width / height == pytest.approx(220 / 90, rel=0.03)

    # What is on the screen is an upright box of what was dragged, though the photo lies turned.
    corners = page.locator("#frame .corner .dot").evaluate_all(
        "all => all.map(each => each.getBoundingClientRect()).map(b => [b.x + b.width / 2, b.y + b.height / 2])"
    )
    left, top = start
    drawn = [(left, top), (left + 220, top), (left + 220, top + 90), (left, top + 90)]
    assert [each for corner in corners for each in corner] == pytest.approx(
        [each for corner in drawn for each in corner], abs=1.5
    )

    # Typed, and rendered as one types.
    page.locator("#markup").fill("Gal.(erie) Vantre_ss\nNo. [.2] [sold")
    page.wait_for_function(
        "() => document.querySelector('#rendered .reading')?.textContent.includes('Vantre')"
    )
    page.wait_for_function("() => document.querySelector('#rendered .faults') !== null")
    assert "has no partner" in page.locator("#rendered .faults").inner_text()
    assert page.locator("#rendered .doubtful").count() == 1
    page.locator("#markup").press("Control+End")
    page.keyboard.type("]")
    page.wait_for_function("() => document.querySelector('#rendered .faults') === null")

    # Light and contrast change the photo, not the record.
    page.get_by_text("More", exact=True).click()
    page.locator("#contrast").fill("180")
    page.locator("#invert").check()
    assert page.evaluate("() => document.getElementById('lit').style.filter") == (
        "contrast(180%) invert(1)"
    )
    assert "not the object" in page.locator("#enhanced").inner_text()

    page.locator("#markup").press("Control+s")
    page.get_by_text("I2 is saved.").wait_for()
    page.wait_for_load_state()
    new = room.work("low_water").inscription("I2")
    assert new.transcripts[0].markup == "Gal.(erie) Vantre_ss\nNo. [.2] [sold]"
    corners = new.regions[0].corners
    assert corners[0] == (pytest.approx(x, abs=0.2), pytest.approx(y, abs=0.2))
    assert (corners[1][1] - corners[0][1]) / (corners[1][0] - corners[0][0]) == pytest.approx(
        0.158, abs=0.01
    )
    assert new.regions[0].photo == photo_named(room.work("low_water"), "face/back").id

    # Found again by a word of it.
    page.get_by_role("searchbox", name="Search words").fill("vantress")
    page.keyboard.press("Enter")
    page.locator("mark", has_text="Vantr").first.click()
    page.wait_for_url(re.compile(r"/read/"))
    assert new.id in page.url
    assert page.locator("#frame").is_visible()

    # And sent, with only what may leave.
    page.get_by_role("navigation", name="This work").get_by_role("link", name="Send").click()
    page.locator("input[value=full-graph]").check()
    with page.expect_download() as download:
        page.get_by_role("button", name="Download as .zip").click()
    path = tmp_path / "parcel.zip"
    download.value.save_as(path)
    with zipfile.ZipFile(path) as parcel:
        document = json.loads(parcel.read(f"work-{room.ids['low_water']}.json"))
    assert "Vantre_ss" in json.dumps(document)
    assert "cellar" not in json.dumps(document)


def test_a_frame_is_drawn_moved_and_taken_away_without_a_mouse(room):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}/read")
    summary = page.get_by_text("The frame on the photo, in numbers")
    summary.focus()
    page.keyboard.press("Enter")
    for value in ("120", "80", "200", "60", "0"):
        page.keyboard.press("Tab")
        page.keyboard.type(value)
    assert page.locator("#frame").is_visible()
    assert (
        page.locator("#frame polygon.over").get_attribute("points")
        == "120,80 320,80 320,140 120,140"
    )

    page.locator("#frame").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    assert frame_numbers(page)[:2] == [130, 81]
    page.keyboard.press("Delete")
    assert page.locator("[name=frame_x]").input_value() == ""
    assert not page.locator("#frame").is_visible()

    page.locator("[name=frame_x]").fill("10")
    page.locator("[name=frame_y]").fill("20")
    page.locator("[name=frame_width]").fill("30")
    page.locator("[name=frame_height]").fill("40")
    page.locator("#markup").fill("Lot 77")
    page.locator("#markup").press("Control+Enter")
    page.get_by_text("is saved.").wait_for()
    page.wait_for_load_state()
    saved = next(
        each
        for each in room.work("low_water").inscriptions
        if each.transcripts[0].markup == "Lot 77"
    )
    assert saved.regions[0].corners == ((10, 20), (40, 20), (40, 60), (10, 60))


def test_a_frame_is_changed_by_its_corners_and_given_up_with_escape(room):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}/read/{room.ids['label']}")
    page.locator("#frame").wait_for()
    before = frame_numbers(page)
    corner = page.locator("#frame .corner .dot").nth(2).bounding_box()
    at = (corner["x"] + corner["width"] / 2, corner["y"] + corner["height"] / 2)
    page.mouse.move(*at)
    page.mouse.down()
    page.mouse.move(at[0] + 60, at[1] + 40, steps=4)
    assert frame_numbers(page)[2] > before[2]
    page.keyboard.press("Escape")
    page.mouse.up()
    assert frame_numbers(page) == before
    drag(page, at, (at[0] + 60, at[1] + 40))
    after = frame_numbers(page)
    assert after[2] > before[2] + 5
    # the corner across stays where it was, and the frame keeps its direction
    assert after[:2] == pytest.approx(before[:2], abs=0.3)
    assert after[4] == pytest.approx(before[4], abs=0.1)


def test_the_photo_comes_closer_under_the_pointer(room):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}/read")
    box = page.locator("#table").bounding_box()
    at = (box["x"] + 300, box["y"] + 250)

    def scale() -> float:
        shown = page.locator("#turning").evaluate("each => each.style.transform")
        return float(re.search(r"scale\(([\d.]+)\)", shown)[1])

    before = scale()
    page.mouse.move(*at)
    page.mouse.wheel(0, -400)
    page.wait_for_function(
        "was => Number(/scale\\(([\\d.]+)\\)/.exec(document.getElementById('turning').style.transform)[1]) > was",
        arg=before,
    )
    page.locator("#table").focus()
    page.keyboard.press("0")
    assert scale() == pytest.approx(before)


def test_two_fingers_bring_the_photo_closer(room):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['low_water']}/read")
    box = page.locator("#table").bounding_box()
    middle = (box["x"] + 300, box["y"] + 250)
    fingers = page.context.new_cdp_session(page)

    def touch(kind: str, apart: float) -> None:
        points = [
            {"x": middle[0] + side * apart / 2, "y": middle[1], "id": number}
            for number, side in enumerate((-1, 1))
        ]
        told = {"type": kind, "touchPoints": points if kind != "touchEnd" else []}
        fingers.send("Input.dispatchTouchEvent", told)

    def scale() -> float:
        shown = page.locator("#turning").evaluate("each => each.style.transform")
        return float(re.search(r"scale\(([\d.]+)\)", shown)[1])

    before = scale()
    touch("touchStart", 100)
    touch("touchMove", 150)
    touch("touchMove", 200)
    touch("touchEnd", 200)
    assert scale() == pytest.approx(2 * before, rel=0.05)


def test_what_is_half_typed_is_there_when_one_comes_back(room):
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['ferry']}/read")
    page.locator("#markup").fill("Ferry Comp")
    page.get_by_text("kept as a draft", exact=True).wait_for()
    room.go("/")
    page.locator("#drafts ~ ul").get_by_role("link", name="The Ferry at Dawn").click()
    page.wait_for_url(re.compile(r"/read\?"))
    page.wait_for_load_state()
    assert page.locator("#markup").input_value() == "Ferry Comp"
    page.locator("#markup").press("Control+End")
    page.keyboard.type("any")
    page.keyboard.press("Control+Enter")
    page.get_by_text("I1 is saved.").wait_for()
    page.wait_for_load_state()
    assert room.work("ferry").inscription("I1").transcripts[0].markup == "Ferry Company"
    room.go("/")
    assert (
        page.locator("#drafts ~ ul").get_by_role("link", name="The Ferry at Dawn").count() == 0
    )


@pytest.mark.parametrize("width", [1400, 420])
def test_no_page_complains_reaches_out_or_runs_over_its_edge(room, width):
    """The fixture holds that no message came to the console and no request left for elsewhere."""
    page = room.page
    page.set_viewport_size({"width": width, "height": 900})
    choose_who(room)
    low_water = f"/work/{room.ids['low_water']}"
    for path in (
        "/", "/find", "/find?q=hollis", "/people", f"/people/{room.ids['artist']}", "/jobs",
        f"/jobs/{room.ids['job']}", f"/reference/{room.ids['reference']}", "/help/signs", "/help/faults", "/who", "/send",
        "/work/new", low_water, f"{low_water}/read", f"{low_water}/read/{room.ids['label']}",
        f"{low_water}/photos", f"{low_water}/send",
    ):  # fmt: skip
        room.go(path)
        over = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
        assert over <= 0, f"{path} is {over} px wider than the screen"
    assert len(room.asked) > 17
