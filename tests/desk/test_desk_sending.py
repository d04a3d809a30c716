"""Sending: what leaves is what the profile lists, and what stays home is shown before."""

from __future__ import annotations

import io
import json
import zipfile

import pytest
from desk_studio import PRIVATE


def parcel(answer) -> dict[str, bytes]:
    assert answer.status_code == 200
    assert answer.mimetype == "application/zip"
    content = answer.data
    answer.close()
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        assert packed.testzip() is None
        return {name: packed.read(name) for name in packed.namelist()}


def test_the_page_offers_every_format_and_profile_with_its_sentence(desk):
    page = desk.client.get(f"/work/{desk.low_water}/send").text
    for says in (*desk.studio.formats().values(), *desk.studio.profiles().values()):
        assert says.replace("'", "&#39;") in page


def test_what_stays_home_is_shown_before_anything_leaves(desk):
    page = desk.client.get(f"/work/{desk.low_water}/send").text
    assert "nobody has released this text" in page
    page = desk.client.get(f"/work/{desk.low_water}/send?profile=full&format=full-graph").text
    assert "Nothing stays home" in page


@pytest.mark.parametrize("format_name", ["linked-art", "full-graph"])
def test_a_public_parcel_holds_nothing_confidential(desk, format_name):
    answer = desk.post(f"/work/{desk.low_water}/send", format=format_name, profile="public")
    files = parcel(answer)
    assert f"2026-001-{format_name}-public.zip" in answer.headers[
        "Content-Disposition"
    ].replace(str(desk.studio.today().year), "2026")
    written = b"".join(
        content for name, content in files.items() if name.endswith(".json")
    ).decode()
    assert "Low Water" in written
    for secret in ("cellar", "Quillan", PRIVATE, "lift the tape", "Nell Quince"):
        assert secret not in written
    for name, content in files.items():
        if name.endswith(".json"):
            json.loads(content)


def test_all_works_leave_in_one_parcel(desk):
    names = parcel(desk.post("/send", format="full-graph", profile="public"))
    assert f"work-{desk.low_water}.json" in names
    assert f"work-{desk.ferry}.json" in names


def test_looking_first_sends_nothing(desk):
    answer = desk.post(
        f"/work/{desk.low_water}/send", format="full-graph", profile="owner", look="yes"
    )
    assert answer.status_code == 303
    assert answer.headers["Location"].endswith("/send?format=full-graph&profile=owner")


@pytest.mark.parametrize(
    "asked", ["format=fax&profile=public", "format=linked-art&profile=press"]
)
def test_an_unknown_format_or_profile_is_refused(desk, asked):
    answer = desk.client.get(f"/work/{desk.low_water}/send?{asked}")
    assert answer.status_code == 422
    assert "choose one of" in answer.text
