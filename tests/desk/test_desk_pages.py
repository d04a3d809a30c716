"""Every page of the desk: it opens, keeps its headers, and shows what was typed as text."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from desk_studio import HOSTILE, PRIVATE
from markupsafe import escape

from catalogue.record import Number


def paths(desk) -> list[str]:
    low_water = f"/work/{desk.low_water}"
    return [
        "/", "/find", "/find?q=hollis", "/find?q=nothingatall", "/find/part?q=hollis", "/find/help", "/find/saved", "/people", f"/people/{desk.artist}", "/jobs",
        f"/jobs/{desk.job}", f"/reference/{desk.reference}", "/help/signs", "/who", "/send",
        "/work/new", low_water, f"{low_water}/read", f"{low_water}/read/{desk.label}",
        f"{low_water}/photos", f"{low_water}/map", f"{low_water}/send", f"/work/{desk.ferry}", f"/work/{desk.ferry}/read",
    ]  # fmt: skip


def test_every_page_opens_and_carries_its_policy(desk):
    desk.begin()
    for path in paths(desk):
        answer = desk.client.get(path)
        assert answer.status_code == 200, path
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'; script-src 'self'")
        assert "unsafe" not in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Referrer-Policy"] == "same-origin"


def test_no_page_holds_a_script_or_a_style_of_its_own(desk):
    desk.begin()
    for path in paths(desk):
        text = desk.client.get(path).text
        assert not re.search(r"<script(?![^>]*\ssrc=)", text), path
        assert not re.search(r"<[^>]+\s(?:style|on\w+)=", text), path
        assert "<style" not in text, path


def test_what_was_typed_is_text_wherever_it_is_shown(desk):
    desk.begin()
    for path in paths(desk):
        assert HOSTILE not in desk.client.get(path).text, path
    folder = desk.client.get(f"/work/{desk.low_water}").text
    assert folder.count(escape(HOSTILE)) >= 2


def test_hostile_markup_is_rendered_as_letters(desk):
    desk.begin()
    shown = desk.post("/render", markup=f"{HOSTILE} <b>12</b>").text
    assert "<script" not in shown
    assert "<b>" not in shown


def test_the_bench_says_in_words_what_is_overdue(desk):
    bench = desk.client.get("/").text
    assert "Today: one is overdue." in bench
    assert "was due back" in bench
    assert "1 February 2026" in bench
    assert "lift the tape" in bench
    assert bench.count("was due back") == 1


def test_an_address_of_nothing_is_a_page_in_words(desk):
    for path in ("/nowhere", "/work/00000000-0000-4000-8000-000000000000", "/work/not-a-uuid"):
        answer = desk.client.get(path)
        assert answer.status_code == 404
        assert "Not on file" in answer.text
        assert "Traceback" not in answer.text


def test_a_fault_of_the_program_is_owned_up_to_without_a_traceback(desk, monkeypatch):
    monkeypatch.setattr(desk.studio, "bench", lambda: 1 / 0)
    answer = desk.client.get("/")
    assert answer.status_code == 500
    assert "A fault of the program" in answer.text
    assert "ZeroDivisionError" not in answer.text


def test_how_to_reach_somebody_stands_apart_and_is_marked(desk):
    client = next(
        party.record
        for party in desk.studio.all(type(desk.studio.members()[0]))
        if party.record.contact
    )
    page = desk.client.get(f"/people/{client.id}").text
    assert "Never leaves the studio." in page
    assert PRIVATE in page
    assert "never leaves" in desk.client.get(f"/jobs/{desk.job}").text


def test_a_search_shows_the_work_the_words_and_the_reason(desk):
    found = desk.client.get("/find?q=hollis").text
    assert "<mark>Hollis</mark>" in found
    assert "word in the inscription" in found
    assert f"/work/{desk.low_water}/read/{desk.label}" in found


@pytest.mark.parametrize(
    ("asked", "there"),
    [
        ("painted 1880..1890", True),
        ("certainly painted 1880..1890", False),
        ("certainly painted 1850..1900", True),
        ("painted 1950", False),
        ("artist:penhale", True),
        ("artist:nobody", False),
        ("kind:inscription/dealer-label", True),
        ("kind:inscription/seal", False),
        ("part:stretcher", True),
    ],
)
def test_conditions_in_the_text_narrow_the_search(desk, asked, there):
    found = desk.client.get("/find", query_string={"q": asked})
    assert found.status_code == 200
    assert (f'href="/work/{desk.low_water}"' in found.text) is there


def test_a_date_that_is_none_gets_a_hint_and_the_text_stays(desk):
    answer = desk.client.get("/find", query_string={"q": "hollis painted:soonish"})
    assert answer.status_code == 200
    assert "is no date" in answer.text
    assert 'value="hollis painted:soonish"' in answer.text


def test_a_word_that_is_nearly_right_is_suggested(desk):
    assert "Did you mean" in desk.client.get("/find?q=hollsi").text


def test_photos_come_in_three_sizes_for_this_browser_alone(desk):
    photo = desk.work(desk.low_water).photos[0]
    answer = desk.client.get(f"/photo/{photo.sha256}/thumb.jpg")
    assert answer.status_code == 200
    assert answer.mimetype == "image/jpeg"
    assert answer.headers["Cache-Control"].startswith("private")
    answer.close()
    assert desk.client.get(f"/photo/{photo.sha256}/huge.jpg").status_code == 404
    assert desk.client.get(f"/photo/{'0' * 64}/thumb.jpg").status_code == 404


@pytest.mark.parametrize("sha256", ["..%2f..%2fledger.sqlite", "x" * 64, "desk.key"])
def test_a_photo_is_only_ever_a_photo_on_record(desk, sha256):
    assert desk.client.get(f"/photo/{sha256}/full.jpg").status_code in (404, 422)


def test_a_number_in_a_public_list_is_a_plain_link_and_a_wrong_one_is_told(desk):
    desk.begin()
    kept = desk.studio.party(desk.artist)
    numbers = (
        Number(kind="number/wikidata", text="Q98765"),
        Number(kind="number/ulan", text="<12>"),
    )
    desk.studio.save(replace(kept.record, numbers=numbers), who="Nell Quince", read=kept)
    page = desk.client.get(f"/people/{desk.artist}").text
    assert '<a href="http://www.wikidata.org/entity/Q98765" rel="noreferrer">Q98765</a>' in page
    assert "&lt;12&gt;" in page
    assert "a ULAN number is 500 and six figures more" in page


def test_an_image_whose_file_is_missing_says_so_in_its_place(desk):
    missing = f"/photo/{'0' * 64}/thumb.jpg"
    shown = desk.client.get(missing, headers={"Accept": "image/avif,image/svg+xml,*/*;q=0.8"})
    assert (shown.status_code, shown.mimetype) == (404, "image/svg+xml")
    assert "is missing" in shown.text
    assert shown.headers["Cache-Control"] == "no-store"
    shown.close()
    assert "Not on file" in desk.client.get(missing, headers={"Accept": "text/html,*/*"}).text
