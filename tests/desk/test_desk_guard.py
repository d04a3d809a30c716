"""Strangers at the desk: forged forms, foreign names, too much at once, nobody's name."""

from __future__ import annotations

import stat

import pytest

from catalogue.desk.guard import KEY_FILE, secret


def test_a_form_without_the_desks_token_is_refused(desk):
    desk.begin()
    answer = desk.client.post(
        f"/work/{desk.low_water}/made", data={"made": "1900", "revision": 2}
    )
    assert answer.status_code == 400
    assert "Nothing was saved" in answer.text
    assert desk.work(desk.low_water).made.written == "c. 1887"


def test_the_token_may_come_in_a_header_as_scripts_send_it(desk):
    token = desk.begin()
    headers = {"X-CSRFToken": token}
    assert (
        desk.client.post("/render", data={"markup": "Lot 12"}, headers=headers).status_code
        == 200
    )
    assert desk.client.post("/render", data={"markup": "Lot 12"}).status_code == 400


@pytest.mark.parametrize("host", ["backs.example", "127.0.0.1.backs.example", "192.168.1.20"])
def test_a_foreign_name_for_this_machine_is_not_answered(desk, host):
    answer = desk.client.get("/", headers={"Host": host})
    assert answer.status_code == 400
    assert "Not this desk" in answer.text
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]


@pytest.mark.parametrize("host", ["127.0.0.1:8710", "localhost", "[::1]:8710"])
def test_this_machines_own_names_are_answered(desk, host):
    assert desk.client.get("/", headers={"Host": host}).status_code == 200


def test_too_much_at_once_is_refused_with_the_limit(desk):
    desk.begin()
    desk.app.config["MAX_CONTENT_LENGTH"] = 2000
    answer = desk.client.post("/work/new", data={"title": "x" * 5000})
    assert answer.status_code == 413
    assert "300 MB" in answer.text


def test_a_label_of_a_megabyte_passes_and_a_longer_one_is_no_label(desk):
    desk.begin()
    assert desk.post("/render", markup="a" * 1_000_000).status_code == 200
    too_long = desk.post("/render", markup="a" * 1_000_001)
    assert too_long.status_code == 422
    assert "1,000,001" in too_long.text


def test_the_cookie_is_signed_lasting_and_out_of_reach(desk):
    token = desk.token("/who")
    answer = desk.client.post("/who", data={"csrf_token": token, "who": desk.member})
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert "Expires" in cookie


def test_the_key_is_made_once_and_only_its_owner_may_read_it(tmp_path):
    first = secret(tmp_path)
    assert secret(tmp_path) == first
    assert len(first) == 64
    assert stat.S_IMODE((tmp_path / KEY_FILE).stat().st_mode) == 0o600


def test_nobody_saves_without_a_name(desk):
    before = desk.revision(desk.low_water)
    answer = desk.post(f"/work/{desk.low_water}/made", made="1900", revision=before)
    assert answer.status_code == 302
    assert answer.headers["Location"] == f"/who?next=/work/{desk.low_water}"
    assert desk.revision(desk.low_water) == before


def test_the_pages_for_writing_ask_the_name_before_anything_is_typed(desk):
    answer = desk.client.get(f"/work/{desk.low_water}/read?photo=P1")
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/who?next=/work/")


def test_a_name_that_is_typed_becomes_a_members(desk):
    answer = desk.post("/who", name="Tamsin Orrell", next="/people")
    assert answer.headers["Location"] == "/people"
    assert "Tamsin Orrell" in [member.name() for member in desk.studio.members()]
    desk.post("/who", name="tamsin orrell")
    assert len(desk.studio.members()) == 2


@pytest.mark.parametrize(
    "onward",
    [
        "//elsewhere.example",
        "https://elsewhere.example/",
        "/\\elsewhere.example",
        "javascript:1",
        "/a\nb",
    ],
)
def test_the_way_back_stays_on_this_desk(desk, onward):
    answer = desk.post("/who", who=desk.member, next=onward)
    assert answer.headers["Location"] == "/"
