"""Nothing typed is lost, in a real browser: the browser falls over, the server is killed, two people type at once."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import replace

import pytest
from desk_studio import filled
from test_desk_browser import PATIENCE_MS, browser  # noqa: F401

from catalogue.record import Inscription, Transcript
from catalogue.studio import Studio

Error = pytest.importorskip("playwright.sync_api").Error
pytestmark = pytest.mark.browser


@contextmanager
def served_by(folder, port=0):
    """The desk in a process that can be killed; its address and its process."""
    command = [sys.executable, "-u", "-m", "catalogue.command", "--studio", str(folder), "serve", "--port", str(port)]  # fmt: skip
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as server:  # fmt: skip
        try:
            found = re.search(r"http://127\.0\.0\.1:(\d+)", server.stdout.readline())
            assert found
            yield found[0], int(found[1]), server
        finally:
            server.kill()


class House:
    """A studio whose server is killed and begun again at the same address."""

    def __init__(self, folder, ids):
        self.folder, self.ids = folder, ids
        self.base, self.port, self._served = "", 0, ExitStack()

    def open(self):
        began = served_by(self.folder, self.port)
        self.base, self.port, self._server = self._served.enter_context(began)

    def kill(self):
        os.kill(self._server.pid, signal.SIGKILL)
        self._server.wait()

    def close(self):
        self._served.close()


@pytest.fixture(scope="module")
def house(tmp_path_factory):
    folder = tmp_path_factory.mktemp("drafts") / "studio"
    with Studio.init(folder) as studio:
        ids = filled(studio)
        studio.welcome("Tobias Vell")
        lot = Inscription(
            kind="inscription/label", face="face/back",
            transcripts=(Transcript(markup="Lot 38", preferred=True),),
        )  # fmt: skip
        read = studio.read(f"work/{ids['ferry']}")
        studio.save(replace(read.record, inscriptions=(lot,)), who="Nell Quince", read=read)
        ids["lot"] = lot.id
    house = House(folder, ids)
    house.open()
    yield house
    house.close()


@contextmanager
def desk_of(chromium, base, who):
    """Somebody's own browser, in which a script's fault or a broken policy is a failure."""
    context = chromium.new_context(viewport={"width": 1200, "height": 900})
    context.set_default_timeout(PATIENCE_MS)
    context.clock.install()
    page = context.new_page()
    faults = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda said: faults.append(said.text) if "Content Security" in said.text else None)  # fmt: skip
    page.goto(f"{base}/who")
    page.get_by_role("button", name=who).click()
    page.wait_for_url(f"{base}/")
    yield page
    context.close()
    assert faults == []


def kept(page, after_ms=1300) -> None:
    """Let the pause go by, on the page's own clock alone, after which what is typed is kept."""
    page.clock.fast_forward(after_ms)
    page.get_by_text("kept as a draft", exact=True).first.wait_for()


def note(page):
    """The blank of a new note in the folder, laid open."""
    return lay_open(
        page.locator("form:has([name=draft_place][value$='#note']) textarea[name=text]")
    )


def lay_open(blank):
    blank.evaluate(
        "each => { for (let at = each; at; at = at.parentElement) if (at.tagName === 'DETAILS') at.open = true; }"
    )
    return blank


def saves(blank):
    blank.locator("xpath=ancestor::form").get_by_role("button", name="Save", exact=True).click()


def test_what_is_typed_survives_the_browser_and_the_server(house, browser):  # noqa: F811
    ids = house.ids
    form, folder_page = f"/work/{ids['ferry']}/enter/notes", f"/work/{ids['ferry']}"
    with desk_of(browser, house.base, "Nell Quince") as page:
        page.goto(house.base + form)
        page.locator("#b-text").fill("cat. 17 bis")
        kept(page)
        second = page.context.new_page()
        second.goto(house.base + folder_page)
        note(second).fill("Behind the lining\nthere is a second canvas")
        kept(second)
        # The browser falls over: no page is told that it is left.
        for each in (second, page):
            with suppress(Error):  # the tab no longer answers: the very point
                each.goto("chrome://crash", timeout=300)
    # And so does the server.
    house.kill()
    house.open()
    with desk_of(browser, house.base, "Nell Quince") as page:
        half = page.locator("#drafts ~ ul li")
        assert half.count() == 2
        page.goto(house.base + form)
        page.get_by_role("link", name="Take it up").click()
        assert page.locator("#b-text").input_value() == "cat. 17 bis"
        page.get_by_role("button", name="Save", exact=True).click()
        page.get_by_text("saved.").first.wait_for()

        page.goto(house.base + folder_page)
        page.get_by_role("link", name="Take it up").click()
        page.wait_for_function(
            "() => [...document.querySelectorAll('textarea')].some(each => each.value.includes('a second canvas'))"
        )
        blank = note(page)
        assert blank.input_value() == "Behind the lining\nthere is a second canvas"
        slip = page.context.new_page()
        slip.goto(f"{house.base}/work/{ids['ferry']}/read/{ids['lot']}")
        slip.locator("#statements .statement").first.wait_for()

        # The server goes while one types: the pages say so, stay, and go on when it is back.
        house.kill()
        blank.press("Control+End")
        page.keyboard.type(", painted over")
        page.clock.fast_forward(1300)
        page.get_by_text("could not be kept").first.wait_for()
        saves(blank)
        page.get_by_text("The desk does not answer").first.wait_for()
        assert blank.input_value().endswith("a second canvas, painted over")
        slip.locator("#markup").fill("Lot 7 of the")
        slip.locator("#markup").press("Control+s")
        slip.locator("#kept").get_by_text(
            "The desk does not answer: nothing was saved"
        ).wait_for()
        slip.locator(".statement").first.press("a")
        slip.locator(".said-by-desk").get_by_text("nothing was decided").wait_for()
        assert slip.locator("#markup").input_value() == "Lot 7 of the"
        house.open()
        kept(page, 4100)
        saves(blank)
        page.get_by_text("The note is saved.").wait_for()
        page.wait_for_load_state()
        slip.clock.fast_forward(4100)
        slip.locator("#kept").get_by_text("kept as a draft").wait_for()
        slip.locator("#markup").press("Control+s")
        slip.get_by_text("is saved.").first.wait_for()
        page.goto(f"{house.base}/")
        page.get_by_text("Nothing is half typed").wait_for()
    with Studio.open(house.folder) as studio:
        work = studio.read(f"work/{ids['ferry']}").record
    label = work.inscription(ids["lot"])
    assert "cat. 17 bis" in [each.text for each in work.notes]
    said = [each.text.splitlines() for each in work.notes]
    assert ["Behind the lining", "there is a second canvas, painted over"] in said
    assert "Lot 7 of the" in [each.markup for each in label.transcripts]
    assert label.statements == ()


def test_two_people_on_one_record_lose_nothing(house, browser):  # noqa: F811
    folder, ids, base = house.folder, house.ids, house.base
    folder_page = f"/work/{ids['low_water']}"
    with (
        desk_of(browser, base, "Nell Quince") as nell,
        desk_of(browser, base, "Tobias Vell") as tobias,
    ):

        def medium(page):
            return lay_open(page.locator("form[action$='/medium'] input[name=medium]"))

        nell.goto(base + folder_page)
        tobias.goto(base + folder_page)
        tobias.get_by_text("Nell Quince has this open too").wait_for()

        # different fields: both are kept, and who comes second is told of the first
        note(tobias).fill("The stretcher was turned round.")
        medium(nell).fill("oil on canvas")
        saves(medium(nell))
        nell.get_by_text("The medium is saved.").wait_for()
        tobias.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
        tobias.get_by_text("Saved by Nell Quince").wait_for()
        assert note(tobias).input_value() == "The stretcher was turned round."
        saves(note(tobias))
        tobias.get_by_text("The note is saved.").wait_for()
        with Studio.open(folder) as studio:
            work = studio.read(f"work/{ids['low_water']}").record
        assert work.medium == "oil on canvas"
        assert work.notes[-1].text == "The stretcher was turned round."

        # the same field: the second sees both texts side by side, and can go back to the form
        nell.goto(base + folder_page)
        tobias.goto(base + folder_page)
        medium(tobias).fill("tempera on canvas")
        kept(tobias)
        medium(nell).fill("oil on panel")
        saves(medium(nell))
        nell.get_by_text("The medium is saved.").wait_for()
        saves(medium(tobias))
        tobias.get_by_role("heading", name="Somebody else changed it").wait_for()
        sides = tobias.locator("table.sides")
        assert sides.get_by_text("tempera on canvas").count() == 1
        assert sides.get_by_text("oil on panel").count() == 1
        tobias.goto(f"{base}/")
        assert tobias.get_by_text("tempera on canvas").count() == 1

        # one takes away what the other changes
        nell.goto(base + folder_page)
        tobias.goto(base + folder_page)
        taken = f"form:has([name=value]):has(textarea):has-text('{'Note'}')"
        forms = lay_open(nell.locator(taken).filter(has=nell.locator("textarea")).last)
        theirs = lay_open(tobias.locator(taken).last)
        theirs.locator("textarea").fill("The stretcher was turned round in 1931.")
        forms.get_by_role("button", name="Take away").click()
        nell.get_by_text("The note is saved.").wait_for()
        theirs.get_by_role("button", name="Save", exact=True).click()
        tobias.get_by_role("heading", name="Somebody else changed it").wait_for()
        assert tobias.get_by_text("in 1931.").count() >= 1
        tobias.get_by_role("button", name="Save mine over theirs").click()
        tobias.wait_for_load_state()
    with Studio.open(folder) as studio:
        work = studio.read(f"work/{ids['low_water']}").record
        drafts = [each.text for each in studio.ledger.drafts()]
    found = [each.text for each in work.notes]
    assert "The stretcher was turned round in 1931." in found or any(
        "in 1931." in each for each in drafts
    )
