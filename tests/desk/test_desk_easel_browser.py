"""At the easel in a real browser, as a tablet has it: entering by touch, a card handed over, targets, narrow pages.

Sizes of targets: 44 px for touch (WCAG 2.2, success criterion 2.5.5); none of WCAG A and AA is broken (axe-core).
"""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
from axe import complaints
from card_photos import lay, shot
from desk_studio import filled
from test_desk_browser import FLAGS, PATIENCE_MS, found_browser

from catalogue.desk import own_addresses, password
from catalogue.studio import Studio

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(
        not own_addresses.found(), reason="this machine is on no network of its own"
    ),
]
WORDS = "low water at dusk"
TARGETS = """() => [...document.querySelectorAll(
    'button, select, summary, input:not([type=hidden], [type=checkbox]), nav a, .button, label.frame')]
  .filter((each) => each.checkVisibility() && !each.matches('.said, .skip'))
  .map((each) => [each.outerHTML.slice(0, 80), Math.round(each.getBoundingClientRect().height)])
  .filter(([, height]) => height < 44)"""
AROUND = """(reach) => {
  reach.scrollIntoView({ block: 'center' });
  const line = reach.firstElementChild;
  const corners = [...line.points].map((each) => each.matrixTransform(line.getScreenCTM()));
  const top = corners.reduce((one, other) => (one.y < other.y ? one : other));
  const there = document.elementFromPoint(top.x, top.y - 15).closest('a');
  return [there?.getAttribute('href'), reach.getAttribute('href')];
}"""
LOW = "all => all.filter(each => each.checkVisibility()).map(each => each.getBoundingClientRect().height).filter(high => high < 44)"
SIDEWAYS = "() => document.documentElement.scrollWidth - innerWidth"


@pytest.fixture(scope="module")
def tablet(tmp_path_factory):
    """A tablet's browser at the printed address, what it complained of, and the studio's folder."""
    path = found_browser()
    playwright = pytest.importorskip("playwright.sync_api")
    folder = tmp_path_factory.mktemp("easel") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        password.choose(studio.folder, WORDS)
    command = [sys.executable, "-u", "-m", "catalogue.command", "--studio", str(folder)]
    address = own_addresses.found()[0]
    with (
        subprocess.Popen(
            [*command, "serve", "--lan", "--port", "0", "--address", address],
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        ) as server,
        playwright.sync_playwright() as driver,
    ):  # fmt: skip
        server.stdout.readline()
        base = re.search(r"http://[^/]+", server.stdout.readline())[0]
        chromium = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        context = chromium.new_context(
            viewport={"width": 768, "height": 1024}, has_touch=True, is_mobile=True
        )
        context.set_default_timeout(PATIENCE_MS)
        page = context.new_page()
        said: list[str] = []
        page.on(
            "console",
            lambda each: said.append(each.text) if each.type in ("error", "warning") else None,
        )
        page.on("pageerror", lambda fault: said.append(str(fault)))
        try:
            yield page, base, folder, ids, said
        finally:
            chromium.close()
            server.terminate()


def test_a_tablet_enters_and_takes_a_card_in_by_touch(tablet, tmp_path):
    page, base, folder, ids, said = tablet
    page.goto(f"{base}/card")
    assert page.url.startswith(f"{base}/enter")
    assert page.evaluate(TARGETS) == []
    assert complaints(page) == []
    page.locator("[name=password]").fill("the wrong words")
    page.get_by_role("button", name="Enter").tap()
    page.get_by_role("alert").wait_for()
    page.locator("[name=password]").fill(WORDS)
    page.get_by_role("button", name="Enter").tap()
    page.wait_for_url("**/who?next=/card")
    page.get_by_role("button", name="Nell Quince").tap()
    page.wait_for_url(f"{base}/card")
    # 403 for the wrong words is told on the console too, as any such answer is
    assert [each for each in said if "403" not in each] == []
    said.clear()

    files = {
        "IMG_1.jpg": shot("2026:03:02 09:00:00", "#334455", size=(900, 600)),
        "IMG_2 back.jpg": shot("2026:03:02 09:01:00", "#554433", size=(900, 600)),
        "IMG_3.jpg": shot("2026:03:02 12:00:00", "#335544", size=(900, 600)),
        "MVI_4.mp4": b"\0\0\0\x18ftypisom" + bytes(40),
    }
    card = lay(tmp_path / "card", files)
    assert complaints(page) == []
    page.locator("[name=files]").set_input_files(sorted(card.iterdir()))
    page.get_by_role("button", name="Lay them on the tray").tap()
    page.wait_for_url("**/card/*")
    assert page.locator(".sitting").count() == 2
    assert page.get_by_text("MVI_4.mp4: the file is a film clip").is_visible()
    assert page.evaluate(TARGETS) == []
    assert page.evaluate(SIDEWAYS) <= 0
    assert complaints(page) == []
    page.get_by_role("button", name="From here on another work").first.tap()
    page.locator(".sitting").nth(2).wait_for()
    page.get_by_role("button", name="Together with the sitting before").first.tap()
    page.locator(".sitting").nth(2).wait_for(state="detached")
    with Studio.open(folder) as studio:
        numbers = [
            studio.read(f"work/{ids[each]}").record.number for each in ("ferry", "low_water")
        ]
    for sitting, number in enumerate(numbers):
        page.locator(".sitting").nth(sitting).locator("[name^=work-]").fill(number)
    page.get_by_role("button", name="Take in what is ticked").tap()
    page.wait_for_url(re.compile("/(told|under-way/.*)$"))
    if "/under-way/" in page.url:
        page.get_by_role("link", name="Go on", exact=True).tap()
    page.wait_for_url("**/told")
    assert complaints(page) == []
    assert page.get_by_text("IMG_2 back.jpg").is_visible()
    with Studio.open(folder) as studio:
        ferry = studio.read(f"work/{ids['ferry']}").record
        assert [each.face for each in ferry.photos] == [None, "face/back"]
        assert studio.ledger.read_file(ferry.photos[0].sha256) == files["IMG_1.jpg"]
    assert said == []


def test_photos_go_straight_to_a_work_with_the_bar_and_a_refused_one_costs_nothing(
    tablet, tmp_path
):
    page, base, _, ids, said = tablet
    page.goto(f"{base}/work/{ids['ferry']}/photos")
    camera = page.locator("[name=files-1][capture=environment]")
    assert camera.is_visible()
    card = lay(tmp_path / "now", {"good.jpg": shot("", "#123123"), "bad.jpg": b"no picture"})
    page.locator("[name=files-1]").first.set_input_files([card / "good.jpg"])
    camera.set_input_files([card / "bad.jpg"])
    page.get_by_role("button", name="Take them in").tap()
    page.locator("main > .stop").wait_for()
    assert "bad.jpg: the file is not a picture" in page.locator("main > .stop").inner_text()
    camera.set_input_files([])
    page.get_by_role("button", name="Take them in").tap()
    page.wait_for_url(f"**/work/{ids['ferry']}#photos")
    assert page.get_by_text("1 photo taken in").is_visible()
    assert [each for each in said if "422" not in each] == []
    said.clear()


@pytest.mark.parametrize(("width", "height"), [(360, 740), (1024, 768)])
def test_reading_checking_and_the_look_ups_fit_and_are_for_fingers(tablet, width, height):
    page, base, _, ids, said = tablet
    page.set_viewport_size({"width": width, "height": height})
    work = f"/work/{ids['low_water']}"
    for path in ("/find?q=hollis", work, f"{work}/read/{ids['label']}", f"{work}/check", "/people", f"/people/{ids['artist']}"):  # fmt: skip
        page.goto(base + path)
        assert page.evaluate(SIDEWAYS) <= 0, path
        assert page.evaluate("() => matchMedia('(pointer: coarse)').matches")
        if path == work:
            # a mark on the photo is pressed from 15 px around it too: 44 px at least, however small it is
            beside = page.locator("svg.on-photo a.reach").first.evaluate(AROUND)
            assert beside[0] == beside[1]
            assert page.locator(".numbers li a, .contents a").evaluate_all(LOW) == []
        small = [each for each in page.evaluate(TARGETS) if "nav" not in each[0]]
        assert [each for each in small if each[1] < 24] == [], path
    assert said == []
