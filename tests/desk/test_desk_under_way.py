"""Work that takes long, as the desk shows it: begun, looked at, stopped, fetched, begun again."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest

from catalogue.desk.under_way import ERRANDS
from catalogue.record import Transcript
from catalogue.under_way import Landing


@pytest.fixture
def row(desk):
    return desk.app.extensions[ERRANDS]


def held_up(row, desk, let, **more):
    begun = threading.Event()

    def task(progress):
        progress(3, 8)
        progress.says("Drawing the labels.")
        begun.set()
        assert let.wait(10)
        progress(4, 8)
        return Landing(says="all drawn", where="/find")

    errand = row.begin("draw every label", f"party/{desk.member}", task, **more)
    assert begun.wait(10)
    return errand


def test_the_page_says_how_far_it_is_and_leads_on(desk, row):
    desk.begin()
    let = threading.Event()
    errand = held_up(row, desk, let)
    page = desk.client.get(f"/under-way/{errand.token}").text
    for told in (
        "Draw every label", "Drawing the labels.", "3 of 8", "37 %", "Nell Quince", "Stop it",
        "You may leave this page",
    ):  # fmt: skip
        assert told in page
    assert '<noscript><meta http-equiv="refresh"' in page
    assert (
        'http-equiv="refresh"' not in desk.client.get(f"/under-way/{errand.token}?still=1").text
    )
    piece = desk.client.get(f"/under-way/{errand.token}?piece=1").text
    assert "<html" not in piece
    assert "3 of 8" in piece
    assert "Draw every label" in desk.client.get("/under-way").text
    let.set()
    row.wait()
    over = desk.client.get(f"/under-way/{errand.token}").text
    assert 'href="/find">Go on' in over
    assert "refresh" not in over


def test_it_is_stopped_and_thrown_away(desk, row):
    desk.begin()
    let = threading.Event()
    errand = held_up(row, desk, let, again="/send?format=csv")
    assert desk.post(f"/under-way/{errand.token}/stop").status_code == 303
    assert "Stopping at the next place" in desk.client.get(f"/under-way/{errand.token}").text
    let.set()
    row.wait()
    page = desk.client.get(f"/under-way/{errand.token}").text
    assert "Stopped, as was asked" in page
    assert f"/send?format=csv&amp;errand={errand.token}" in page
    desk.post(f"/under-way/{errand.token}/drop")
    gone = desk.client.get(f"/under-way/{errand.token}")
    assert gone.status_code == 404
    assert "not remembered any more" in gone.text


@pytest.mark.parametrize("token", ["0" * 32, "..", "<script>"])
def test_nothing_is_handed_out_under_a_name_that_was_guessed(desk, token):
    for page in ("", "/file", "?piece=1"):
        assert desk.client.get(f"/under-way/{token}{page}").status_code == 404


def test_a_file_is_for_whoever_works_here(desk, row):
    def task(progress):
        file = progress.folder / "a.zip"
        file.write_bytes(b"zip")
        return Landing(says="packed", file=file, file_name="a.zip")

    errand = row.begin("pack", "", task)
    row.wait()
    assert desk.client.get(f"/under-way/{errand.token}/file").status_code == 404
    desk.begin()
    answer = desk.client.get(f"/under-way/{errand.token}/file")
    assert answer.data == b"zip"
    assert "private" in answer.headers["Cache-Control"]
    answer.close()


def test_an_export_that_may_not_leave_says_so_and_can_be_settled_and_begun_again(desk, row):
    desk.begin()
    client = desk.studio.read(desk.studio.read(f"job/{desk.job}").record.client).record.name()
    read = desk.studio.read(f"work/{desk.low_water}")
    first, *others = read.record.inscriptions
    said = replace(
        first,
        transcripts=(Transcript(markup=f"lent by {client}", preferred=True),),
        statements=(),
    )
    desk.studio.save(
        replace(read.record, inscriptions=(said, *others)), who="Nell Quince", read=read
    )
    sent = {"format": "full-graph", "profile": "public", "recipient": "a friend"}
    begun = desk.post("/send", **sent)
    row.wait()
    page = desk.client.get(begun.headers["Location"]).text
    assert "It could not be done" in page
    assert desk.studio.exports() == ()
    again = page.partition('class="button primary" href="')[2].partition('"')[0]
    form = desk.client.get(again.replace("&amp;", "&")).text
    assert "It may not leave like this" in form
    assert 'value="a friend"' in form
    assert client in form
    begun = desk.post("/send", allow=client, because="it stands on the label", **sent)
    row.wait()
    page = desk.client.get(begun.headers["Location"]).text
    assert "Fetch all-works" in page
    assert desk.studio.exports()[0].recipient == "a friend"
