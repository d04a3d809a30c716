"""The six journeys of a day, each from the bench to its end, on a desk's screen and on a tablet.

A painting arrives; its label is read; its condition is checked; a treatment is planned, stopped and
logged; its provenance is argued; it is sent out. What the screen showed on the way is kept in the
folder `journeys` (or wherever DORSE_PICTURES points), a picture for each step and size.
"""

from __future__ import annotations

import json
import os
import re
import zipfile
from pathlib import Path

import pytest
from argued_back import argued_back
from desk_studio import PRIVATE, Desk, filled, picture, served
from mapped import sea_wall
from test_desk_browser import Room, browser, choose_who, drag, room_at  # noqa: F401

from catalogue.places import folder as folder_named
from catalogue.record import Item, Job, Work
from catalogue.studio import Studio

pytestmark = pytest.mark.browser

SIZES = {"desk": (1366, 900), "tablet": (820, 1180)}
KEPT = Path(os.environ.get("DORSE_PICTURES") or folder_named("vocab").parent / "journeys")


@pytest.fixture(scope="module")
def house(browser, tmp_path_factory):  # noqa: F811
    """A served studio in the middle of its work: a back to argue about, a tear to be mended."""
    folder = tmp_path_factory.mktemp("journeys") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        back = argued_back(Desk(studio=studio, app=None, client=None, **ids))
        torn = sea_wall(studio, f"party/{ids['member']}").work
        item = Item(work=torn.document, came=studio.today())
        job = Job(reason="reason/treatment", client=f"party/{ids['artist']}", items=(item,))
        studio.save(job, who=f"party/{ids['member']}")
    with served(folder) as said:
        base = re.search(r"http://127\.0\.0\.1:\d+", said)
        assert base, said
        yield folder, {**ids, "torn": torn.id, "dated": back.label}, base[0]


@pytest.fixture(params=list(SIZES))
def day(request, browser, house):  # noqa: F811
    """A page at the desk in one size, which keeps pictures; no complaint and nothing from elsewhere."""
    touch = {"has_touch": request.param == "tablet", "reduced_motion": "reduce"}
    with room_at(browser, house, kind=Day, size=SIZES[request.param], **touch) as room:
        room.size = request.param
        choose_who(room)
        yield room
        # the browser's own word for a refusal that the journey asked for
        room.complaints[:] = [each for each in room.complaints if "422" not in each]


class Day(Room):
    """A room that keeps pictures of what it sees."""

    size = "desk"

    def see(self, name: str) -> None:
        """Keep a picture of the page, which must not be wider than its screen."""
        self.page.wait_for_load_state()
        over = self.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert over <= 0, f"{name}: {over} pixels wider than the screen"
        where = KEPT / self.size
        where.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=where / f"{name}.png", full_page=True)

    def press(self, key: str) -> None:
        """Press a key once the page's scripts are there to hear it."""
        self.page.wait_for_load_state()
        self.page.keyboard.press(key)

    def newest(self) -> Work:
        """The work taken in last."""
        with Studio.open(self.folder) as studio:
            return max((kept.record for kept in studio.all(Work)), key=lambda each: each.number)


def test_arrive(day, tmp_path):
    page = day.page
    for face, paint in (("front", "#44607a"), ("back", "#8a744c")):
        (tmp_path / f"{face}.jpg").write_bytes(picture(paint))
    day.see("1-arrive-1-bench")
    page.get_by_role("link", name="New work").first.click()
    page.get_by_label("Title, given or as it came").fill(f"Tide Mill, {day.size}")
    page.get_by_label("Artist", exact=True).fill("Circle of Ada Penhale")
    page.get_by_label("Made", exact=True).fill("c. 1890")
    page.locator("[name=files-0]").first.set_input_files(tmp_path / "front.jpg")
    page.locator("[name=files-1]").first.set_input_files(tmp_path / "back.jpg")
    day.see("1-arrive-2-new-work")
    page.get_by_role("button", name="Open the work").click()
    page.get_by_role("heading", name=f"Tide Mill, {day.size}").wait_for()
    day.see("1-arrive-3-folder")
    work = day.newest()
    assert {photo.face for photo in work.photos} == {"face/front", "face/back"}
    assert all(photo.width == 600 for photo in work.photos)
    assert work.made.written == "c. 1890"

    page.get_by_role("link", name="New job for it").click()
    page.get_by_label("Reason").select_option("reason/treatment")
    page.get_by_label("Client", exact=False).first.fill("Mrs Quillan")
    day.see("1-arrive-4-job")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_url(re.compile(r"/jobs/[0-9a-f-]{36}"))
    with Studio.open(day.folder) as studio:
        (job,) = studio.jobs_of(work.document)
        assert studio.name_of(job.client) == "Mrs Quillan"
    day.see("1-arrive-5-received")


def test_read_a_label(day):
    page = day.page
    before = {each.id for each in day.work("low_water").inscriptions}
    day.go(f"/work/{day.ids['low_water']}")
    page.get_by_role("link", name="Read the back").click()
    page.wait_for_url(re.compile(r"/read"))
    page.wait_for_load_state()
    table = page.locator("#table")
    table.scroll_into_view_if_needed()
    page.get_by_role("button", name="Draw a frame").click()
    box = table.bounding_box()
    at = (box["x"] + box["width"] * 0.3, box["y"] + box["height"] * 0.45)
    drag(page, at, (at[0] + 160, at[1] + 70))
    page.wait_for_function("() => document.querySelector('[name=frame_x]').value !== ''")
    page.locator("#markup").fill("@p Gal.(erie) Vantre_ss\n@h(pencil) No. 4[.1] [---]\n£35")
    page.wait_for_function(
        "() => document.querySelector('#rendered .reading')?.textContent.includes('Vantre')"
    )
    day.see("2-read-1-typed")
    page.locator("#markup").press("Control+s")
    page.get_by_text("is saved.").wait_for()
    page.wait_for_load_state()
    (new,) = (each for each in day.work("low_water").inscriptions if each.id not in before)
    assert new.transcripts[0].markup.startswith("@p Gal.(erie) Vantre_ss")
    assert len(new.regions[0].corners) == 4

    # What it says is accepted with one key.
    page.locator(".statement").first.focus()
    day.press("a")
    page.wait_for_function(
        "() => document.querySelector('#statements').textContent.includes('accepted')"
    )
    (new,) = (each for each in day.work("low_water").inscriptions if each.id == new.id)
    assert [each.standing for each in new.statements] == ["standing/accepted"]
    day.see("2-read-2-accepted")

    page.get_by_role("searchbox", name="Search words").fill("vantress")
    day.press("Enter")
    page.locator("mark", has_text="Vantr").first.wait_for()
    day.see("2-read-3-found-again")


def test_check_condition(day):
    page = day.page
    day.go(f"/work/{day.ids['ferry']}")
    page.get_by_role("navigation", name="This work").get_by_role("link", name="Check").click()
    page.get_by_role("link", name="New condition check").click()
    page.get_by_label("Occasion").select_option("occasion/incoming")
    day.press("Control+s")
    page.locator("article").get_by_text("incoming").first.wait_for()
    before = {each.id for each in day.work("ferry").findings}
    page.get_by_role("link", name=re.compile("New finding|Add a finding")).first.click()
    page.get_by_label("Damage").fill("tear")
    page.get_by_label("Layer").first.select_option("layer/support")
    page.locator("[id='b-observations.0.length_mm']").fill("62,5")
    day.see("3-check-1-finding")
    day.press("Control+s")
    page.get_by_text("62.5 mm").first.wait_for()
    (new,) = (each for each in day.work("ferry").findings if each.id not in before)
    assert (new.kind, new.observations[0].length_mm) == ("damage/tear", 62.5)
    day.see("3-check-2-checked")
    day.go(f"/work/{day.ids['torn']}/compare")
    day.see("3-check-3-two-checks")
    day.go(f"/work/{day.ids['torn']}/map")
    day.see("3-check-4-map")


def test_plan_and_log_a_treatment_with_a_stop(day):
    page = day.page
    count = len(day.work("torn").treatments[0].steps)
    day.go(f"/work/{day.ids['torn']}/treat")
    page.get_by_role("link", name="Add a step to T").first.click()
    page.get_by_label("Step", exact=False).first.fill("patching")
    page.locator("[name=began]").fill(page.evaluate("new Date().toISOString().slice(0, 10)"))
    page.locator("[name=outcome]").fill("It holds.")
    day.press("Control+s")
    stop = page.get_by_role("alert")
    stop.get_by_text("Not saved: the order of work stops it").wait_for()
    day.see("4-treat-1-stopped")
    assert len(day.work("torn").treatments[0].steps) == count
    assert page.locator("[name=outcome]").input_value() == "It holds."
    reasons = stop.get_by_label("or why it is done all the same")
    asked = reasons.count()
    assert asked >= 2
    for number in range(asked):
        reasons.nth(number).fill("The owner stood beside it and agreed.")
    day.press("Control+s")
    page.wait_for_url(re.compile(r"/treat\b(?!ments)"))
    steps = day.work("torn").treatments[0].steps
    assert len(steps) == count + 1
    assert len(steps[-1].overrides) == asked
    day.see("4-treat-2-logged")


def test_argue_provenance(day):
    page = day.page
    day.go(f"/work/{day.ids['low_water']}")
    page.get_by_role("navigation", name="This work").get_by_role("link", name="Argue").click()
    day.see("5-argue-1-proves")
    page.locator(f"a[href$='/argue/{day.ids['dated']}']").first.click()
    page.get_by_text(re.compile("S.W.7|postal|district", re.IGNORECASE)).first.wait_for()
    day.see("5-argue-2-reasons")
    day.go(f"/work/{day.ids['low_water']}/argue/chronology")
    page.locator("figure.picture svg").first.wait_for()
    day.see("5-argue-3-when")
    day.go(f"/work/{day.ids['low_water']}/argue/chain")
    page.get_by_label("The day, or the years").fill("1937")
    page.get_by_role("button", name="Ask").click()
    page.locator(".answer").get_by_text("1937").first.wait_for()
    assert "A gap is not an accusation" in page.locator("main").inner_text()
    day.see("5-argue-4-hands")


def test_send_out(day, tmp_path):
    page = day.page
    day.go(f"/work/{day.ids['low_water']}")
    page.get_by_role("navigation", name="This work").get_by_role("link", name="Send").click()
    page.locator("input[value=public]").check()
    page.locator("input[value=linked-art]").check()
    page.get_by_label("To whom").fill("Harbour House")
    page.get_by_role("button", name="Look first").click()
    page.locator("#preview").wait_for()
    day.see("6-send-1-looked-at")
    with page.expect_download() as download:
        page.get_by_role("button", name="Download as .zip").click()
    path = tmp_path / "sent.zip"
    download.value.save_as(path)
    with zipfile.ZipFile(path) as parcel:
        texts = {name: parcel.read(name).decode() for name in parcel.namelist()}
    document = json.loads(texts[f"work-{day.ids['low_water']}.json"])
    assert document["@context"] == "https://linked.art/ns/v1/linked-art.json"
    assert "Low Water" in json.dumps(document)
    for text in texts.values():
        for kept in (PRIVATE, "Quillan", "cellar", "555 0101"):
            assert kept not in text
    page.get_by_role("link", name="What was sent before").click()
    page.get_by_text("Harbour House").first.wait_for()
    day.see("6-send-2-sent")
