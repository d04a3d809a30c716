"""Records taken in by the browser: looked at on the tray first, then taken in; job books row by row."""

from __future__ import annotations

import io
import json
import os
import time

import pytest

from catalogue.linked.documents import to_jsonld
from catalogue.record import Title, Work

BOOK = (
    "No;Painter;Title;Date;Size;Written on the back\n"
    '1;Ada Ferrow;Kiln in Snow;c. 1887;50 x 61 cm;"signed on the stretcher: A. Ferrow"\n'
    "2;;Untidy;no idea;;\n"
)


def hand_over(desk, name, content):
    return desk.client.post(
        "/take-in",
        data={"csrf_token": desk.token("/who"), "files": (io.BytesIO(content), name)},
        content_type="multipart/form-data",
    )


def document(title):
    work = Work(titles=(Title(text=title, kind="title/traditional", preferred=True),))
    return work, json.dumps(to_jsonld(work)).encode()


def test_a_record_is_looked_at_and_then_taken_in(desk):
    desk.begin()
    work, content = document("Kiln in Snow")
    page = hand_over(desk, "kiln.json", content).headers["Location"]
    looked = desk.client.get(page).text
    assert "<b>1</b> new" in looked
    assert not desk.studio.ledger.has(work.document)
    told = desk.post(page).text
    assert "Kiln in Snow" in told
    assert desk.studio.read(work.document).record.title() == "Kiln in Snow"
    # the tray is empty afterwards, and the same again is on file
    assert desk.client.get(page).status_code == 404
    again = hand_over(desk, "kiln.json", content).headers["Location"]
    assert "on file already" in desk.client.get(again).text


def test_what_cannot_be_read_is_told_and_nothing_is_offered(desk):
    desk.begin()
    page = hand_over(desk, "torn.json", b'{"id": "x", ').headers["Location"]
    told = desk.client.get(page).text
    assert "cannot be read" in told
    assert "Take them in" not in told


def test_thrown_away_nothing_is_saved(desk):
    desk.begin()
    work, content = document("Kiln in Snow")
    page = hand_over(desk, "kiln.json", content).headers["Location"]
    assert desk.post(page, throw_away="yes").status_code in (302, 303)
    assert not desk.studio.ledger.has(work.document)
    assert not any((desk.studio.folder / "tray").iterdir())


def test_a_job_book_is_read_row_by_row_and_its_mapping_can_be_changed(desk):
    desk.begin()
    page = hand_over(desk, "book.csv", BOOK.encode()).headers["Location"]
    told = desk.client.get(page).text
    assert "Kiln in Snow" in told
    assert "What its columns are" in told
    assert "row 2" in told
    before = len(list(desk.studio.all(Work)))
    broken = desk.post(f"{page}/mapping", mapping="no = [toml")
    assert broken.status_code in (302, 303)
    looked = desk.client.get(page)
    assert looked.status_code == 422
    assert 'role="alert"' in looked.text
    assert "no = [toml" in looked.text  # what was typed is still there
    assert len(list(desk.studio.all(Work))) == before


def test_the_page_tells_what_goes_nowhere_what_is_left_over_and_what_is_a_total(desk):
    desk.begin()
    book = "No;Title;Herkunft;Van\n1;Boats;?;red\nTotal;;;7\n"
    page = hand_over(desk, "book.csv", book.encode()).headers["Location"]
    told = desk.client.get(page).text
    assert told.count("go nowhere") == 1
    assert "is taken in: Van<" in told
    assert "left over: ?" in told
    assert "a row that adds up others" in told


def test_a_text_that_is_no_table_is_told_to_be_none(desk):
    desk.begin()
    page = hand_over(desk, "note.txt", b"Dear Mrs Quillan,\nit is ready.\n").headers["Location"]
    told = desk.client.get(page)
    assert told.status_code == 422
    assert "note.txt is a text, and no table" in told.text


def test_a_job_book_is_taken_in_once(desk):
    desk.begin()
    before = len(list(desk.studio.all(Work)))
    for expected in (2, 0):
        page = hand_over(desk, "book.csv", BOOK.encode()).headers["Location"]
        desk.client.get(page)
        assert desk.post(page).status_code == 200
        before, added = (
            len(list(desk.studio.all(Work))),
            len(list(desk.studio.all(Work))) - before,
        )
        assert added == expected


@pytest.mark.parametrize("token", ["../../etc", "0" * 32, "x", "0" * 31 + "/"])
def test_a_name_that_is_not_on_the_tray_is_not_found(desk, token):
    desk.begin()
    assert desk.client.get(f"/take-in/{token}").status_code == 404


def test_file_names_cannot_leave_the_tray_and_none_is_lost(desk):
    desk.begin()
    data = {
        "csrf_token": desk.token("/who"),
        "files": [
            (io.BytesIO(b"{}"), "../../../evil.json"),
            (io.BytesIO(b"{}"), "evil.json"),
            (io.BytesIO(b"{}"), "ключ.json"),
        ],
    }
    page = desk.client.post("/take-in", data=data, content_type="multipart/form-data").headers[
        "Location"
    ]
    folder = desk.studio.folder / "tray" / page.rpartition("/")[2] / "files"
    assert len(list(folder.iterdir())) == 3
    assert not (desk.studio.folder / "evil.json").exists()


def test_what_lay_on_the_tray_for_a_day_goes(desk):
    desk.begin()
    page = hand_over(desk, "kiln.json", document("Kiln")[1]).headers["Location"]
    folder = desk.studio.folder / "tray" / page.rpartition("/")[2]
    old = time.time() - 90_000
    os.utime(folder, (old, old))
    hand_over(desk, "kiln.json", document("Kiln")[1])
    assert not folder.exists()


def test_nobody_at_work_is_asked_first(desk):
    assert desk.client.get("/take-in").status_code in (302, 303)
    assert desk.post("/take-in").status_code in (302, 303)


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("strange.xml", b"<strange/>", "begins with &lt;strange&gt;<br>"),
        ("strange.xml", b"<strange/>", '<span class="soft">Read are: '),
        ("half.json", b"{", "it breaks off: line 1, column 2<br>"),
    ],
)
def test_why_a_file_is_refused_and_what_to_do_stand_on_lines_of_their_own(
    desk, name, content, told
):
    desk.begin()
    page = desk.client.get(hand_over(desk, name, content).headers["Location"]).text
    assert told in page
    assert "/: " not in page


def test_what_is_on_file_already_leads_to_it(desk):
    desk.begin()
    work, content = document("Kiln in Snow")
    desk.post(hand_over(desk, "kiln.json", content).headers["Location"])
    again = hand_over(desk, "kiln.json", content).headers["Location"]
    assert f'href="/work/{work.id}"' in desk.client.get(again).text
