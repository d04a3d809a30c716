"""The map in a real browser: drawn on by pointer and by keys; a step stopped, answered and saved."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from desk_studio import filled, picture, served
from mapped import sea_wall
from test_desk_browser import browser, choose_who, drag, room  # noqa: F401

from catalogue.record import Item, Job
from catalogue.studio import Studio

pytestmark = pytest.mark.browser

BOX = ("x_mm", "y_mm", "width_mm", "height_mm")


@pytest.fixture(scope="module")
def house(browser, tmp_path_factory):  # noqa: F811
    """A served studio with the picture of the trade sheet, here for a job that nobody approved."""
    folder = tmp_path_factory.mktemp("map") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        who = f"party/{ids['member']}"
        work = sea_wall(studio, who).work
        item = Item(work=work.document, came=studio.today())
        studio.save(
            Job(reason="reason/treatment", client=f"party/{ids['artist']}", items=(item,)),
            who=who,
        )
        pair = before_and_after(studio, who)
    with served(folder) as said:
        base = re.search(r"http://127\.0\.0\.1:\d+", said)
        assert base, said
        yield folder, {**ids, "sea_wall": work.id, "pair": pair}, base[0]


def before_and_after(studio, who) -> str:
    """A work whose back was photographed before and after treatment."""
    shots = [
        (picture(paint), stage)
        for paint, stage in (("#8a744c", "before"), ("#4c748a", "after"))
    ]
    taken = [
        (
            replace(
                studio.taken_in(content, name=f"{stage}.jpg", face="face/back"),
                stage=f"stage/{stage}",
            ),
            content,
        )
        for content, stage in shots
    ]
    kept = studio.new_work(
        title="A pair", artist="Ada Penhale", made="1901", who=who, photos=taken
    )
    return kept.record.id


@pytest.fixture
def map_page(room):  # noqa: F811
    choose_who(room)
    room.go(f"/work/{room.ids['sea_wall']}/map")
    room.page.locator("#tools").wait_for()
    return room.page


def figures(page) -> list[float]:
    return [float(page.locator(f"#place [name={name}]").input_value() or "nan") for name in BOX]


def on_paper(page, side: str, x_mm: float, y_mm: float) -> tuple[float, float]:
    """Where a point of one side lies on the screen."""
    return tuple(
        page.evaluate(
            """([side, x, y]) => {
            const svg = document.querySelector('svg.map');
            svg.scrollIntoView({block: 'start'});
            const {left, top, scale} = svg.querySelector(`.side[data-side=${side}]`).dataset;
            const at = new DOMPoint(+left + x * scale, +top + y * scale).matrixTransform(svg.getScreenCTM());
            return [at.x, at.y];
        }""",
            [side, x_mm, y_mm],
        )
    )


def drawn_mm(page, side: str, twin: str = ":not(.twin)") -> list[float]:
    """The corners of what is drawn on one side, from the paper back to mm."""
    return page.evaluate(
        """([side, twin]) => {
            const {left, top, scale} = document.querySelector(`.side[data-side=${side}]`).dataset;
            return document.querySelector(`.drawn polygon${twin}`).getAttribute('points').split(' ')
                .flatMap((pair) => { const [x, y] = pair.split(','); return [(x - left) / scale, (y - top) / scale]; });
        }""",
        [side, twin],
    )


def test_a_patch_drawn_on_the_back_says_what_it_would_cover(map_page):
    drag(
        map_page,
        on_paper(map_page, "back", 415, 125),
        on_paper(map_page, "back", 505, 200),
    )
    assert figures(map_page) == pytest.approx([415, 125, 90, 75], abs=1)
    assert map_page.locator("#place [name=face]").input_value() == "face/back"
    # what is drawn behind is ghosted in front, mirrored
    x, y, width, height = figures(map_page)
    here, there = drawn_mm(map_page, "back"), drawn_mm(map_page, "front", ".twin")
    assert here == pytest.approx(
        [x, y, x + width, y, x + width, y + height, x, y + height], abs=0.1
    )
    assert there[::2] == pytest.approx([610 - each for each in here[::2]], abs=0.1)
    assert there[1::2] == pytest.approx(here[1::2], abs=0.1)

    map_page.get_by_role("button", name="What would this cover?").click()
    row = map_page.locator(".covered tr.is-hit")
    row.wait_for()
    covered = float(re.search(r"([\d.]+) %", row.locator("strong").first.inner_text())[1])
    assert covered == pytest.approx(52.5, abs=1)  # trade sheet C2
    row.get_by_role("link", name="photograph it again with a scale").click()
    assert "/photos?about=" in map_page.url


def test_an_outline_is_drawn_corner_by_corner_and_becomes_a_finding(map_page, room):  # noqa: F811
    map_page.get_by_role("radio", name="Outline").check()
    corners = ((250, 250), (330, 260), (300, 330))
    for x, y in corners:
        map_page.mouse.click(*on_paper(map_page, "front", x, y))
    map_page.keyboard.press("Enter")
    outline = map_page.locator("#place [name=outline]").input_value()
    assert outline.startswith("POLYGON ((")
    numbers = [float(each) for each in re.findall(r"[\d.]+", outline)]
    assert numbers[:6] == pytest.approx([each for pair in corners for each in pair], abs=1)
    assert map_page.locator("#place [name=face]").input_value() == "face/front"
    map_page.get_by_role("button", name="New finding here").click()
    map_page.get_by_label("Damage").fill("loss")
    map_page.get_by_label("Layer").select_option("layer/paint")
    map_page.get_by_role("button", name="Save", exact=True).last.click()
    map_page.wait_for_url(re.compile(r"/check"))
    finding = next(
        each for each in room.work("sea_wall").findings if each.kind == "damage/loss"
    )
    place = finding.observations[0].location
    assert place.face == "face/front"
    assert place.shape.wkt() == outline


def test_a_place_is_drawn_and_moved_by_keys_alone(map_page):
    map_page.locator(".side[data-side=back] .side-table").focus()
    map_page.keyboard.press("Enter")
    before = figures(map_page)
    assert before == [203, 167, 203, 167]
    map_page.keyboard.press("ArrowRight")
    map_page.keyboard.press("Shift+ArrowDown")
    map_page.keyboard.press("-")
    assert figures(map_page) == [204, 177, 202, 166]
    map_page.keyboard.press("Delete")
    assert map_page.locator("#place [name=x_mm]").input_value() == ""
    assert map_page.locator(".drawn polygon").count() == 0


def test_typed_figures_are_drawn_as_they_are_typed(map_page):
    for name, typed in zip(BOX, ("10", "20,5", "30", "40"), strict=True):
        map_page.locator(f"#place [name={name}]").fill(typed)
    assert drawn_mm(map_page, "back")[:2] == pytest.approx([10, 20.5], abs=0.1)
    map_page.locator("#place [name=face]").select_option("face/front")
    assert drawn_mm(map_page, "front")[:2] == pytest.approx([10, 20.5], abs=0.1)


def test_a_mark_on_the_map_is_a_link_also_while_one_draws(map_page):
    map_page.mouse.click(*on_paper(map_page, "back", 470, 140))
    map_page.wait_for_url(re.compile(r"/read/"))


def test_a_stop_is_told_answered_in_writing_and_saved(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['sea_wall']}/treat")
    page.get_by_role("link", name="Add a step to T").first.click()
    page.get_by_label("Step", exact=False).first.fill("patching")
    page.locator("[name=began]").fill(page.evaluate("new Date().toISOString().slice(0, 10)"))
    page.locator("[name=outcome]").fill("It holds.")
    page.wait_for_load_state()
    page.keyboard.press("Control+s")
    stop = page.get_by_role("alert")
    stop.get_by_text("Not saved: the order of work stops it").wait_for()
    page.wait_for_function("() => document.activeElement.id === 'refused'")
    assert page.evaluate("document.activeElement.id") == "refused"
    assert page.locator("[name=outcome]").input_value() == "It holds."
    assert room.work("sea_wall").treatments[0].steps == ()
    assert len(room.complaints) == 1
    assert "422" in room.complaints.pop()

    reasons = stop.get_by_label("or why it is done all the same")
    asked = reasons.count()
    assert asked >= 2
    for number in range(asked):
        reasons.nth(number).fill("The owner stood beside it and agreed.")
    page.wait_for_load_state()
    page.keyboard.press("Control+s")
    page.wait_for_url(re.compile(r"/treat\b(?!ments)"))
    (step,) = room.work("sea_wall").treatments[0].steps
    assert len(step.overrides) == asked
    assert {each.reason for each in step.overrides} == {"The owner stood beside it and agreed."}
    assert step.outcome == "It holds."
    assert page.get_by_text("Done all the same O1.").is_visible()


@pytest.mark.parametrize("width", [1400, 700, 420])
def test_map_comparison_and_leaves_fit_their_screen(room, width):  # noqa: F811
    page = room.page
    page.set_viewport_size({"width": width, "height": 900})
    choose_who(room)
    work = f"/work/{room.ids['sea_wall']}"
    for path in (
        f"{work}/map", f"{work}/map?cover=yes&whole=yes&wet=yes&face=face/back", f"{work}/compare",
        f"{work}/check", f"{work}/treat",
    ):  # fmt: skip
        room.go(path)
        over = page.evaluate("() => document.documentElement.scrollWidth - window.innerWidth")
        assert over <= 0, f"{path} is {over} px wider than the screen"


def test_before_and_after_are_laid_over_each_other_with_a_slider(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['pair']}/before-and-after")
    first, last = page.locator(".pair figure img").all()
    assert first.bounding_box()["x"] < last.bounding_box()["x"]
    page.get_by_label("one over the other").check()
    assert first.bounding_box() == last.bounding_box()
    page.locator(".slide").fill("25")
    assert last.evaluate("each => each.style.clipPath") == "inset(0px 0px 0px 25%)"
    page.get_by_label("one over the other").uncheck()
    assert last.evaluate("each => each.style.clipPath") == ""
