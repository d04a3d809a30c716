"""Work that takes long: one after the other, told of, stopped, and not lost when the desk goes down."""

from __future__ import annotations

import json
import threading

import pytest

from catalogue.errors import BadData, NotOnFile
from catalogue.under_way import FOLDER, KEPT, NOTE, Landing, UnderWay

WHO = "party/5d5f4c29-0a3a-4f1f-9d0a-3f6f6f0d7c11"


@pytest.fixture
def row(tmp_path):
    errands = UnderWay(tmp_path)
    yield errands
    errands.close()


class Held:
    """A task that says how far it is, and goes on when it is let."""

    def __init__(self, pieces: int = 3) -> None:
        self.pieces = pieces
        self.begun = threading.Event()
        self.let = threading.Event()

    def __call__(self, progress) -> Landing:
        (progress.folder / "half").write_text("half done")
        progress(0, self.pieces)
        self.begun.set()
        assert self.let.wait(10)
        for done in range(1, self.pieces + 1):
            progress(done, self.pieces)
        return Landing(says="all drawn", where="/find")


def test_an_errand_says_how_far_it_is_and_where_it_leads(row):
    task = Held(4)
    errand = row.begin("every label drawn", WHO, task)
    assert task.begun.wait(10)
    now = row.one(errand.token)
    assert (now.state, now.done, now.total, now.percent) == ("under way", 0, 4, 0)
    task.let.set()
    row.wait()
    over = row.one(errand.token)
    assert (over.state, over.done, over.who) == ("done", 4, WHO)
    assert (over.landing.says, over.landing.where) == ("all drawn", "/find")


def test_one_runs_at_a_time_in_the_order_in_which_they_were_begun(row):
    first, order = Held(), []
    row.begin("first", WHO, first)
    assert first.begun.wait(10)
    for name in ("second", "third"):

        def task(progress, name=name):
            order.append(name)
            return Landing(says=name)

        row.begin(name, WHO, task)
    assert [each.state for each in row.all()] == ["under way", "waiting", "waiting"]
    assert order == []
    first.let.set()
    row.wait()
    assert order == ["second", "third"]
    assert [each.says for each in row.all()] == ["third", "second", "first"]


def test_a_failure_is_told_in_its_own_words_and_the_next_one_runs(row):
    def refused(progress):
        raise BadData("the disk is full", remedy="make room")

    def broken(progress):
        raise KeyError("nobody foresaw")

    failed = row.begin("a", WHO, refused)
    unforeseen = row.begin("b", WHO, broken)
    fine = row.begin("c", WHO, lambda progress: Landing(says="there"))
    row.wait()
    assert row.one(failed.token).went_wrong == "the disk is full"
    assert row.one(failed.token).remedy == "make room"
    assert isinstance(row.one(failed.token).refused, BadData)
    assert "nobody foresaw" in row.one(unforeseen.token).went_wrong
    assert row.one(fine.token).state == "done"


def test_one_that_is_asked_to_stop_stops_between_two_pieces_and_leaves_nothing(row, tmp_path):
    task = Held()
    errand = row.begin("long", WHO, task)
    assert task.begun.wait(10)
    assert row.stop(errand.token).stop_asked
    task.let.set()
    row.wait()
    assert row.one(errand.token).state == "stopped"
    assert [each.name for each in (tmp_path / FOLDER / errand.token).iterdir()] == [NOTE]


def test_one_that_waits_is_out_of_the_row_at_once(row):
    task, ran = Held(), []
    row.begin("long", WHO, task)
    assert task.begun.wait(10)
    waiting = row.begin("later", WHO, lambda progress: ran.append(1) or Landing(says=""))
    assert row.stop(waiting.token).state == "stopped"
    task.let.set()
    row.wait()
    assert ran == []


def test_one_that_must_not_be_broken_off_goes_on(row):
    task = Held()
    errand = row.begin("index made anew", WHO, task, can_stop=False)
    assert task.begun.wait(10)
    assert not row.stop(errand.token).stop_asked
    task.let.set()
    row.wait()
    assert row.one(errand.token).state == "done"


def test_only_so_many_are_remembered_and_their_files_go_with_them(row, tmp_path):
    for number in range(KEPT + 5):
        row.begin(f"n {number}", WHO, lambda progress: Landing(says="done"))
        row.wait()
    row.begin("the last", WHO, lambda progress: Landing(says="done"))
    row.wait()
    assert len(row.all()) <= KEPT + 1
    assert len([each for each in (tmp_path / FOLDER).iterdir() if each.is_dir()]) <= KEPT + 1
    assert row.all()[0].says == "the last"


def test_one_that_is_over_is_thrown_away_with_its_file(row, tmp_path):
    def task(progress):
        file = progress.folder / "works.zip"
        file.write_bytes(b"zip")
        return Landing(says="packed", file=file, file_name="works.zip")

    errand = row.begin("packed", WHO, task)
    row.wait()
    assert row.one(errand.token).landing.file.read_bytes() == b"zip"
    row.drop(errand.token)
    assert not (tmp_path / FOLDER / errand.token).exists()
    with pytest.raises(NotOnFile):
        row.one(errand.token)


def test_what_was_under_way_when_the_desk_went_down_is_told_as_not_finished(tmp_path):
    # Killed in the midst: the note on the disk is all that a later desk has.
    before, task = UnderWay(tmp_path), Held()
    errand = before.begin(
        "all works sent", WHO, task, again="/send?format=parcel", held={"reason": "a show"}
    )
    assert task.begun.wait(10)
    before._held.close()

    after = UnderWay(tmp_path)
    told = after.one(errand.token)
    assert (told.state, told.again) == ("not finished", "/send?format=parcel")
    assert told.held == {"reason": "a show"}
    assert [each.name for each in (tmp_path / FOLDER / errand.token).iterdir()] == [NOTE]
    after.close()
    task.let.set()
    before.wait()


def test_a_desk_that_is_closed_stops_its_errand_and_tells_it_next_time(tmp_path):
    before, task = UnderWay(tmp_path), Held()
    errand = before.begin("long", WHO, task)
    assert task.begun.wait(10)
    task.let.set()
    before.close()
    # it was let go in the same moment: either it came to its end, or it is told as not finished
    assert UnderWay(tmp_path).one(errand.token).state in ("done", "not finished")


def test_what_was_done_can_still_be_fetched_after_a_restart(tmp_path):
    def task(progress):
        file = progress.folder / "works.zip"
        file.write_bytes(b"zip")
        return Landing(says="packed", file=file, file_name="works.zip")

    before = UnderWay(tmp_path)
    errand = before.begin("packed", WHO, task)
    before.wait()
    before.close()
    after = UnderWay(tmp_path)
    assert after.one(errand.token).landing.file.read_bytes() == b"zip"
    after.close()


def test_a_second_desk_leaves_alone_what_the_first_has_under_way(tmp_path):
    first, task = UnderWay(tmp_path), Held()
    errand = first.begin("long", WHO, task)
    assert task.begun.wait(10)
    second = UnderWay(tmp_path)
    assert second.all() == ()
    assert (tmp_path / FOLDER / errand.token / "half").exists()
    task.let.set()
    first.wait()
    assert first.one(errand.token).state == "done"
    second.close()
    first.close()


@pytest.mark.parametrize(
    "note",
    ["", "[]", "{", json.dumps({"token": "../../elsewhere"}), json.dumps({"token": "a" * 32})],
)
def test_a_note_that_cannot_be_read_is_thrown_away(tmp_path, note):
    folder = tmp_path / FOLDER / ("a" * 32)
    folder.mkdir(parents=True)
    (folder / NOTE).write_text(note)
    errands = UnderWay(tmp_path)
    assert errands.all() == ()
    assert not folder.exists()
    errands.close()
