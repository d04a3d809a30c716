"""The light table in a real browser: drawn on a turned and mirrored photo, by mouse, fingers and keys.

The judge of where things lie is the browser's own arithmetic of matrices (DOMMatrix) and Shapely, not
the scripts of the page.
"""

from __future__ import annotations

import io
import random
import re

import numpy as np
import pytest
from axe import complaints
from desk_studio import photo_named
from PIL import Image, ImageDraw
from shapely.geometry import Polygon, box
from test_desk_browser import browser, drag, frame_numbers, house, seat, seated

from catalogue.studio import Studio

pytestmark = pytest.mark.browser
__all__ = ["browser", "house", "seat", "seated"]

LARGE = (4300, 3100)
ON_SCREEN = """points => {
  const table = document.getElementById("table").getBoundingClientRect();
  const by = new DOMMatrix(getComputedStyle(document.getElementById("turning")).transform);
  return points.map(([x, y]) => by.transformPoint(new DOMPoint(x, y))).map(at => [at.x + table.x, at.y + table.y]);
}"""
SETTLED = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
OF_DOTS = """all => all.map(each => each.getBoundingClientRect()).map(b => [b.x + b.width / 2, b.y + b.height / 2])"""


@pytest.fixture
def room(seated):
    return seated


@pytest.fixture
def at_label(room):
    """The reading page of a label that is framed askew."""
    room.go(f"/work/{room.ids['low_water']}/read/{room.ids['label']}")
    room.page.locator("#frame").wait_for()
    return room


def all_there(room, path):
    """A reading page with its photo shown, after the desk told what tiles there are."""
    with room.page.expect_response("**/tiles.json"):
        room.go(path)
    room.page.wait_for_function("() => document.getElementById('photo').complete")
    room.page.evaluate(SETTLED)


def table_at(page):
    spot = page.locator("#table").bounding_box()
    return spot["x"], spot["y"]


def outline(page):
    said = page.locator("[name=frame_outline]").input_value()
    return [tuple(map(float, pair.split(","))) for pair in said.split()]


def fields(page):
    return page.locator("[name^=frame_]").evaluate_all("all => all.map(each => each.value)")


def flat(points):
    return [each for point in points for each in point]


def on_screen(page, points):
    return flat(page.evaluate(ON_SCREEN, [list(each) for each in points]))


def kept(room, page):
    page.keyboard.press("Control+s")
    page.get_by_text("I1 is saved.").wait_for()
    page.wait_for_load_state()
    return room.work("low_water").inscription(room.ids["label"]).regions[0].corners


def test_what_is_drawn_on_a_turned_and_mirrored_photo_lies_where_it_was_drawn(at_label):
    page = at_label.page
    page.locator("#table").focus()
    # It opens with the label level, as large as the table allows.
    assert page.locator("#turned").inner_text() == "-9.1°"
    page.keyboard.press("m")
    assert "not the other side" in page.get_by_text("Mirrored: left").inner_text()
    page.keyboard.press("}")
    page.keyboard.press("-")
    assert page.locator("#turned").inner_text() == "24.1°"
    left, top = table_at(page)
    start, end = (left + 160, top + 130), (left + 420, top + 250)
    page.keyboard.press("d")
    drag(page, start, end)
    corners = kept(at_label, page)
    # Saved and opened anew the photo lies otherwise; the same turn again, and it is where it was.
    page.locator("#table").focus()
    (a, b, c, _) = corners
    assert (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0  # clockwise
    assert page.locator("#turned").inner_text() == "-24.1°"
    page.keyboard.press("m")
    dots = page.locator("#frame .corner .dot").evaluate_all(OF_DOTS)
    assert flat(dots) == pytest.approx(on_screen(page, corners), abs=0.6)
    sides = [(dots[1][0] - dots[0][0], dots[1][1] - dots[0][1]), (dots[3][0] - dots[0][0], dots[3][1] - dots[0][1])]  # fmt: skip
    assert (sides[0][1], sides[1][0]) == pytest.approx((0, 0), abs=1)
    assert sides[0][0] / sides[1][1] == pytest.approx(-260 / 120, rel=0.01)
    # An outline on the same view, pixel by pixel where the mouse was pressed.
    left, top = table_at(page)
    pressed = [(left + x, top + y) for x, y in ((150, 150), (380, 120), (420, 260), (200, 300))]
    page.keyboard.press("o")
    for each in pressed:
        page.mouse.click(*each)
    page.mouse.click(*pressed[0])
    said = outline(page)
    turned_back = [said[0], *reversed(said[1:])]  # mirrored, what runs clockwise runs back
    assert on_screen(page, turned_back) == pytest.approx(flat(pressed), abs=1)


def test_an_outline_is_changed_by_mouse_and_every_step_taken_back(at_label):
    page = at_label.page
    left, top = table_at(page)
    before = fields(page)
    page.get_by_role("button", name="Outline").click()
    for x, y in ((120, 120), (420, 130), (400, 330)):
        page.mouse.click(left + x, top + y)
    page.get_by_role("button", name="End it").click()
    first = outline(page)
    assert len(first) == 3
    # The middle of a side, pulled out, is a new corner there.
    side = page.locator("#frame .side").nth(0).locator(".reach").bounding_box()
    assert min(side["width"], side["height"]) >= 24  # WCAG 2.2, 2.5.8
    middle = (side["x"] + side["width"] / 2, side["y"] + side["height"] / 2)
    drag(page, middle, (middle[0], middle[1] - 60))
    assert len(outline(page)) == 4
    assert on_screen(page, outline(page)[1:2]) == pytest.approx(
        [middle[0], middle[1] - 60], abs=1
    )
    corner = page.locator("#frame .corner").nth(3)
    corner.focus()
    page.keyboard.press("Delete")
    assert len(outline(page)) == 3
    page.keyboard.press("Delete")
    assert len(outline(page)) == 3
    assert "at least three" in page.locator("#table-said").inner_text()
    for _ in range(2):
        page.keyboard.press("Control+z")
    assert outline(page) == first
    page.get_by_role("button", name="Take back a step").click()
    assert outline(page) == []
    assert fields(page) == before
    for _ in range(3):
        page.locator("#table").focus()
        page.keyboard.press("Control+Shift+z")
    assert len(outline(page)) == 3
    assert outline(page) != first
    # Typed, it is drawn; and a box typed afterwards takes its place.
    page.locator("[name=frame_outline]").fill("10,10 200,20 180,150")
    points = page.locator("#frame polygon.over").get_attribute("points")
    assert points == "10,10 200,20 180,150"
    assert page.locator("[name=frame_x]").input_value() == ""
    assert kept(at_label, page) == ((10, 10), (200, 20), (180, 150))


def test_an_outline_is_drawn_and_changed_by_keys_alone(at_label):
    page = at_label.page
    page.locator("#table").focus()
    page.keyboard.press("0")
    page.keyboard.press("o")
    assert page.locator("#cross").is_visible()
    for keys in (["ArrowLeft"] * 8, ["ArrowRight"] * 16, ["ArrowDown"] * 9):
        for key in keys:
            page.keyboard.press(key)
        page.keyboard.press("Space")
    page.keyboard.press("Enter")
    first = outline(page)
    assert len(first) == 3
    shown = page.evaluate(ON_SCREEN, [list(each) for each in first])
    assert shown[1][0] - shown[0][0] == pytest.approx(160, abs=1)
    assert shown[2][1] - shown[1][1] == pytest.approx(90, abs=1)
    # From the frame to its corners with Tab; arrows move one, Enter adds one after it.
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowRight")
    second = outline(page)[1]
    assert second == pytest.approx((first[1][0] + 1, first[1][1] - 10), abs=0.11)
    page.keyboard.press("Enter")
    assert len(outline(page)) == 4
    page.keyboard.press("Delete")
    assert len(outline(page)) == 3
    # A box by two corners set with keys.
    page.keyboard.press("Escape")
    page.keyboard.press("d")
    page.keyboard.press("Space")
    for _ in range(5):
        page.keyboard.press("ArrowRight")
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    assert outline(page) == []
    _, _, width, height, turn = frame_numbers(page)
    assert (width, turn) == (pytest.approx(height, abs=0.2), 0)
    page.get_by_text("More", exact=True).click()
    page.get_by_text("Keys on the photo").click()
    page.locator("#measure").click()
    assert complaints(page) == []


def test_fingers_move_spread_turn_and_draw(at_label):
    page = at_label.page
    left, top = table_at(page)
    fingers = page.context.new_cdp_session(page)

    def touch(kind, *points):
        spots = [{"x": left + x, "y": top + y, "id": number} for number, (x, y) in enumerate(points)]  # fmt: skip
        fingers.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": spots})

    def matrix():
        said = page.locator("#turning").evaluate("each => getComputedStyle(each).transform")
        return [float(each) for each in re.search(r"\((.*)\)", said)[1].split(",")]

    page.locator("#table").focus()
    page.keyboard.press("0")
    before = matrix()
    touch("touchStart", (50, 400))
    touch("touchMove", (80, 380))
    touch("touchMove", (90, 370))
    touch("touchEnd")
    after = matrix()
    assert (after[4] - before[4], after[5] - before[5]) == pytest.approx((40, -30), abs=1)
    # Two fingers a quarter turn round: what lay under each lies under it still.
    under = page.evaluate(
        "at => { const m = new DOMMatrix(getComputedStyle(document.getElementById('turning')).transform).inverse();"
        " const p = m.transformPoint(new DOMPoint(...at)); return [p.x, p.y]; }",
        [200, 200],
    )
    touch("touchStart", (200, 200), (400, 200))
    for x, y in ((402, 220), (400, 260), (380, 300), (350, 350), (200, 400)):
        touch("touchMove", (200, 200), (x, y))
    touch("touchEnd")
    assert float(page.locator("#turn").input_value()) == pytest.approx(90, abs=8)
    assert on_screen(page, [under]) == pytest.approx([left + 200, top + 200], abs=25)
    # One finger draws once drawing is on; a second one takes back what the first began.
    page.keyboard.press("d")
    was = fields(page)
    touch("touchStart", (100, 100))
    touch("touchMove", (180, 160))
    touch("touchStart", (180, 160), (300, 300))
    touch("touchMove", (160, 160), (320, 300))
    touch("touchEnd")
    assert fields(page) == was
    touch("touchStart", (100, 100))
    touch("touchMove", (200, 150))
    touch("touchMove", (300, 220))
    touch("touchEnd")
    dots = page.locator("#frame .corner .dot").evaluate_all(OF_DOTS)
    assert flat([dots[0], dots[2]]) == pytest.approx(
        [left + 100, top + 100, left + 300, top + 220], abs=1.5
    )


def patched(size, patches, seed=7):
    """A back of many patches, and one red spot in its middle."""
    chance = random.Random(seed)
    image = Image.new("RGB", size, "#8a744c")
    draw = ImageDraw.Draw(image)
    for _ in range(patches):
        x, y = chance.randrange(size[0]), chance.randrange(size[1])
        wide, high = chance.randrange(9, size[0] // 14), chance.randrange(9, size[1] // 14)
        grey = chance.randrange(40, 230)
        draw.rectangle((x, y, x + wide, y + high), fill=(grey, grey, grey - 30))
    middle, reach = (size[0] // 2, size[1] // 2), size[0] // 60
    draw.ellipse(
        (
            middle[0] - 2 * reach,
            middle[1] - 2 * reach,
            middle[0] + 2 * reach,
            middle[1] + 2 * reach,
        ),
        fill="#111",
    )
    draw.ellipse(
        (middle[0] - reach, middle[1] - reach, middle[0] + reach, middle[1] + reach),
        fill="#e00000",
    )
    return image


def hung(folder, title, *images):
    """A work with these photos of its back, each after the first in raking light."""
    pictures = []
    with Studio.open(folder) as studio:
        for number, image in enumerate(images):
            file = io.BytesIO()
            image.save(file, "JPEG", quality=90)
            light = "light/raking" if number else "light/normal"
            told = studio.taken_in(
                file.getvalue(), name=f"{title}-{number}.jpg", face="face/back", light=light
            )
            pictures.append((told, file.getvalue()))
        return studio.new_work(title=title, who="Nell Quince", photos=pictures).record


def test_only_tiles_that_are_seen_are_asked_for(room):
    page = room.page
    work = hung(room.folder, "The Long Wall", patched(LARGE, 40))
    all_there(room, f"/work/{work.id}/read")
    asked = [url for url in room.asked if "/plain/" in url]
    assert asked == []  # the picture in small is enough to see all of it
    page.locator("#table").focus()
    for key in ("}", "{", "}", "]", "]"):
        page.keyboard.press(key)
    for _ in range(8):
        page.keyboard.press("+")
    page.wait_for_function("() => document.querySelectorAll('#tiles img').length > 0")
    page.evaluate(SETTLED)
    page.wait_for_function(
        "() => [...document.querySelectorAll('#tiles img')].every(each => each.dataset.here)"
    )
    shown = set(page.locator("#tiles img").evaluate_all("all => all.map(each => new URL(each.src).pathname)"))  # fmt: skip
    levels = {int(each.split("/")[-2]) for each in shown}
    assert len(levels) == 1
    step = 512 * 2 ** levels.pop()
    spot = page.locator("#table").bounding_box()
    table = box(spot["x"], spot["y"], spot["x"] + spot["width"], spot["y"] + spot["height"])
    seen, beyond = set(), set()
    for x in range(-(-LARGE[0] // step)):
        for y in range(-(-LARGE[1] // step)):
            right, below = min((x + 1) * step, LARGE[0]), min((y + 1) * step, LARGE[1])
            tile = [(x * step, y * step), (right, y * step), (right, below), (x * step, below)]
            placed = Polygon(page.evaluate(ON_SCREEN, [list(each) for each in tile]))
            met = placed.intersection(table).area
            (seen if met > 4 else beyond).add(f"{x}-{y}")
    names = {re.search(r"(\d+-\d+)\.jpg", each)[1] for each in shown}
    assert names == seen
    assert beyond
    # Enhanced, the same spots of the same photo, and the table says that it is not the object.
    page.keyboard.press("w")
    page.wait_for_function(
        "() => document.querySelectorAll('#tiles img[src*=plain]').length === 0"
    )
    assert "not the object" in page.locator("#enhanced").inner_text()
    page.keyboard.press("a")
    assert not page.locator("#enhanced").is_visible()


def test_the_scale_is_kept_without_losing_what_is_half_typed_and_frames_keep_step(at_label):
    page = at_label.page
    page.locator("#markup").fill("Half a la")
    page.locator("#table").focus()
    page.keyboard.press("r")
    ends = page.evaluate("() => [...document.querySelectorAll('#measuring [type=hidden]')].slice(-4).map(each => Number(each.value))")  # fmt: skip
    page.keyboard.press("Enter")
    page.keyboard.type("100")
    page.keyboard.press("Enter")
    page.get_by_text("pixels to the mm").wait_for()
    long = ((ends[0] - ends[2]) ** 2 + (ends[1] - ends[3]) ** 2) ** 0.5
    back = photo_named(at_label.work("low_water"), "face/back")
    assert back.mm_per_pixel == pytest.approx(100 / long, rel=0.01)
    assert page.locator("#markup").input_value() == "Half a la"
    # The page knows its own save: it is no news to it.
    with page.expect_response("**/together") as told:
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert "saved-since" not in told.value.text()
    # The bar is as long as it says, by the scale and by how close the photo lies.
    bar = page.locator("#scale-bar .length").bounding_box()["width"]
    mm = float(page.locator("#scale-bar").inner_text().split()[0])
    (x0, y0), (x1, y1) = page.evaluate(ON_SCREEN, [[0, 0], [mm / back.mm_per_pixel, 0]])
    assert bar == pytest.approx(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5, abs=1.5)
    page.keyboard.press("Control+s")
    page.get_by_text("I1 is saved.").wait_for()
    page.wait_for_load_state()
    # From another inscription the label is one of the numbered frames: in step with the list.
    at_label.go(f"/work/{at_label.ids['low_water']}/read")
    link = page.locator(f"a.other[data-inscription='{at_label.ids['label']}']")
    listed = page.locator(f".marks-bar a[data-inscription='{at_label.ids['label']}']")
    listed.hover()
    assert "pointed" in link.get_attribute("class")
    page.locator("#table").focus()
    page.keyboard.press("n")
    assert link.evaluate("each => each === document.activeElement")
    assert "pointed" in listed.get_attribute("class")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(rf"/read/{at_label.ids['label']}"))


def test_without_tiles_the_whole_picture_comes_and_the_page_stays_useful(room):
    page = room.page
    work = hung(room.folder, "The Torn Wall", patched((2600, 1900), 30, seed=3))
    page.route("**/plain/**", lambda route: route.fulfill(status=404, body="no"))
    all_there(room, f"/work/{work.id}/read")
    page.locator("#table").focus()
    for _ in range(5):
        page.keyboard.press("+")
    page.wait_for_function("() => document.getElementById('photo').src.endsWith('full.jpg')")
    page.wait_for_function("() => document.getElementById('photo').naturalWidth === 2600")
    assert page.locator("#tiles img").count() == 0
    assert all("404" in each for each in room.complaints)
    room.complaints.clear()


def red_spot(page):
    """Where the one red spot is on the screen."""
    shown = Image.open(io.BytesIO(page.locator("#table").screenshot())).convert("RGB")
    red, green, blue = np.moveaxis(np.asarray(shown).astype(int), 2, 0)
    down, across = np.nonzero((red > 60) & (red > 3 * green + 20) & (red > 3 * blue + 20))
    assert len(down) > 50
    return float(across.mean()), float(down.mean())


def test_the_same_spot_stays_where_it_is_when_the_light_is_changed(room):
    """The other photo was taken from elsewhere: a known projection of the first, and darker."""
    page = room.page
    first = patched((1600, 1200), 260)
    askew = (1.03, 0.06, -60, -0.05, 0.99, 45, 2e-5, -1.5e-5)
    raking = first.transform(
        first.size, Image.Transform.PERSPECTIVE, askew, Image.Resampling.BICUBIC
    )
    work = hung(
        room.folder, "The Long Table", first, raking.point(lambda value: int(value * 0.6))
    )
    all_there(room, f"/work/{work.id}/read")
    page.locator("#table").focus()
    for key in ("}", "+", "m"):
        page.keyboard.press(key)
    before = red_spot(page)
    page.keyboard.press("l")
    page.locator("#laid-over").get_by_text("lies over").wait_for()
    page.wait_for_function(
        "() => [...document.querySelectorAll('#table img')].every(each => each.complete)"
    )
    page.evaluate(SETTLED)
    assert red_spot(page) == pytest.approx(before, abs=2)
    assert (
        page.get_by_role("button", name="P2 raking light").get_attribute("aria-pressed")
        == "true"
    )
    page.locator("#blend").fill("0")
    assert red_spot(page) == pytest.approx(before, abs=0.7)
    page.locator("#table").focus()
    page.keyboard.press("a")  # as it is: nothing laid over it, nothing mirrored
    assert page.locator(".laid-over").is_hidden()
    assert page.locator("#mirror-warning").is_hidden()
    assert page.locator("#laid-over").inner_text() == ""
