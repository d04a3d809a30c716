"""Keeping the studio safe from the desk: a copy that restores it, a check that finds what was altered."""

from __future__ import annotations

import pytest

from catalogue.desk.under_way import ERRANDS
from catalogue.studio import Studio
from catalogue.under_way import StopAsked


def came_to(desk, what):
    desk.begin()
    begun = desk.post(f"/safekeeping/{what}")
    assert begun.status_code == 303
    desk.app.extensions[ERRANDS].wait()
    where = begun.headers["Location"]
    return where, desk.client.get(where).text


def test_the_copy_that_is_fetched_restores_the_studio(desk, tmp_path):
    where, page = came_to(desk, "copy")
    assert "The copy is whole." in page
    answer = desk.client.get(f"{where}/file")
    copy = tmp_path / "studio.tar"
    copy.write_bytes(answer.data)
    answer.close()
    with Studio.restore(copy, tmp_path / "again") as studio:
        assert studio.ledger.last() == desk.studio.ledger.last()
        assert studio.read(f"work/{desk.low_water}").record == desk.work(desk.low_water)


def test_a_check_says_that_all_is_as_it_was_saved_or_what_is_not(desk):
    _, page = came_to(desk, "check")
    assert "are as they were saved" in page
    assert desk.studio.ledger.last()[1] in page
    photo = desk.work(desk.low_water).photos[0]
    file = desk.studio.ledger.file(photo.sha256)
    file.chmod(0o600)
    file.write_bytes(b"another picture")
    _, page = came_to(desk, "check")
    assert "It could not be done" in page
    assert photo.sha256[:12] in page
    assert "dorse restore" in page


def test_the_search_is_made_anew(desk):
    _, page = came_to(desk, "search")
    assert "The search knows" in page
    assert "Low Water" in desk.client.get("/find?q=low+water").text


def test_nothing_else_is_begun(desk):
    desk.begin()
    assert desk.post("/safekeeping/everything").status_code == 404


def test_an_export_that_is_stopped_leaves_nothing_and_is_not_put_down_as_sent(desk, tmp_path):
    def stop(done, total):
        raise StopAsked

    out = tmp_path / "out"
    with pytest.raises(StopAsked):
        desk.studio.export("full-graph", "public", out, None, stop, who="Nell Quince")
    assert not out.exists() or list(out.iterdir()) == []
    assert [each.name for each in tmp_path.iterdir()] in ([], ["out"])
    assert desk.studio.exports() == ()
