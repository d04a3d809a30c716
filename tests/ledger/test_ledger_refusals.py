"""When the disk or another program refuses, nothing is half saved, and the words say what to do."""

from __future__ import annotations

import hashlib
import os
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from ledger_samples import (
    CHILD,
    CHILDS_WORLD,
    WHO,
    WHY,
    a_new_folder,
    a_passing_ledger,
    entered,
    raw,
)

from catalogue.errors import BadData, Busy, CannotSave, CatalogueError, Damaged
from catalogue.ledger import Ledger
from catalogue.ledger.refusals import explained

FIXTURES = (
    a_passing_ledger,
    a_new_folder,
)


def told_by(*arguments):
    """What the child tells: its acknowledged saves, and the words of its refusal."""
    done = subprocess.run(
        [sys.executable, str(CHILD), *map(str, arguments)],
        env=CHILDS_WORLD,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.stderr == ""
    lines = done.stdout.splitlines()
    return [int(line.split()[1]) for line in lines if line.startswith("saved")], lines[-1]


@pytest.mark.skipif(os.name != "posix", reason="a limit on the size of files")
@pytest.mark.parametrize("limit", [300_000, 10_000])
def test_a_full_disk_refuses_the_save_whole(folder, limit):
    with Ledger.create(folder) as ledger:
        entered(ledger, "work/before")
    saved, refusal = told_by("small", folder, limit)
    assert refusal.startswith("CannotSave")
    assert str(folder) in refusal
    assert "nothing was saved" in refusal
    with Ledger.open(folder) as ledger:
        verdict = ledger.verify()
        assert (verdict.faults, verdict.notes) == ((), ())
        assert ledger.last()[0] == 1 + len(saved)
        assert verdict.files == len(saved)
        entered(ledger, "work/after")


@pytest.mark.skipif(os.name != "posix", reason="rights as on Linux")
def test_a_folder_that_may_only_be_read_refuses_and_says_so():
    with TemporaryDirectory() as passing:
        folder = Path(passing) / "studio"
        Ledger.create(folder).close()
        Path(passing).chmod(0o755)
        for path in (folder / "files", folder, folder / "ledger.sqlite"):
            path.chmod(0o555 if path.is_dir() else 0o444)
        saved, refusal = told_by("reader", folder)
        for path in (folder, folder / "files"):
            path.chmod(0o755)
        assert saved == []
        assert refusal.startswith("CannotSave")
        assert "who may write" in refusal
        with Ledger.open(folder) as ledger:
            assert ledger.last()[0] == 0


def test_somebody_who_goes_on_saving_makes_us_busy_and_no_more(folder):
    with Ledger.create(folder, patience_seconds=0.05) as ledger:
        entered(ledger, "work/mill")
        with raw(folder) as other:
            other.execute("BEGIN IMMEDIATE")
            for save in (
                lambda: entered(ledger, "work/mill"),
                lambda: ledger.set_setting("circa", "3"),
                lambda: ledger.keep_draft(who=WHO, document="work/mill", place="I1", text="x"),
            ):
                with pytest.raises(Busy, match="try again"):
                    save()
            assert ledger.read("work/mill").revision == 1
            other.rollback()
        entered(ledger, "work/mill")
        assert ledger.verify().faults == ()


@pytest.fixture
def refusing(folder):
    """A ledger whose file place for one photo is taken by a folder, and the photo."""
    photo = b"a photo"
    sha256 = hashlib.sha256(photo).hexdigest()
    with Ledger.create(folder) as ledger:
        (folder / "files" / sha256[:2] / sha256 / "in the way").mkdir(parents=True)
        yield ledger, photo


def test_a_file_that_cannot_be_written_takes_its_whole_change_along(refusing):
    ledger, photo = refusing

    def take_both() -> None:
        with ledger.change(who=WHO, why=WHY) as change:
            change.save("work/mill", b"{}", expected=None)
            change.keep_file(b"another photo", name="b.png", media_type="image/png")
            change.keep_file(photo, name="a.png", media_type="image/png")

    with pytest.raises(CannotSave, match="nothing was saved"):
        take_both()
    assert not ledger.has("work/mill")
    assert [path for path in (ledger.folder / "files").rglob("*") if path.is_file()] == []
    entered(ledger, "work/mill")


def test_an_error_of_ones_own_is_not_taken_for_the_disks(ledger):
    with pytest.raises(FileNotFoundError) as mine, ledger.change(who=WHO, why=WHY):
        Path("/nowhere/at/all").read_bytes()
    assert not isinstance(mine.value, CatalogueError)


def test_a_file_in_the_place_of_the_folder_is_said_to_be_in_the_way(tmp_path):
    (tmp_path / "studio").write_text("not a folder")
    with pytest.raises(CannotSave, match="studio"):
        Ledger.create(tmp_path / "studio")
    assert (tmp_path / "studio").read_text() == "not a folder"


def test_a_ledger_that_could_not_be_made_leaves_nothing_behind(folder):
    folder.mkdir()
    (folder / "files").write_text("in the way")
    with pytest.raises(CannotSave):
        Ledger.create(folder)
    assert [path.name for path in folder.iterdir()] == ["files"]
    (folder / "files").unlink()
    with closing(Ledger.create(folder)) as ledger:
        entered(ledger, "work/mill")


def test_a_refused_save_can_be_tried_again(folder):
    with Ledger.create(folder, patience_seconds=0.05) as ledger:
        with raw(folder) as other:
            other.execute("BEGIN IMMEDIATE")
            for _ in range(12):  # more often than there are connections
                with suppress(Busy):
                    entered(ledger, "work/mill")
            other.rollback()
        entered(ledger, "work/mill")
        assert ledger.last()[0] == 1


@pytest.mark.parametrize(
    ("code", "kind", "said"),
    [
        (sqlite3.SQLITE_FULL, CannotSave, "free some space"),
        (sqlite3.SQLITE_READONLY, CannotSave, "who may write"),
        (sqlite3.SQLITE_IOERR_FSYNC, CannotSave, "disk"),
        (sqlite3.SQLITE_BUSY_SNAPSHOT, Busy, "try again"),
        (sqlite3.SQLITE_CORRUPT_INDEX, Damaged, "backup"),
        (sqlite3.SQLITE_TOOBIG, BadData, "larger"),
        (sqlite3.SQLITE_MISUSE, Damaged, "nothing was saved"),
    ],
)
def test_each_word_of_sqlite_has_its_error_and_says_what_to_do(code, kind, said):
    """Codes as in "Result and Error Codes", sqlite.org/rescode.html."""
    told = sqlite3.OperationalError("as it may say")
    told.sqlite_errorcode = code
    with pytest.raises(kind, match=said) as refused, explained(Path("/a/studio")):
        raise told
    assert str(refused.value).startswith("/a/studio: ")


def test_a_desk_that_waits_too_long_for_another_is_told_so(folder):
    with Ledger.create(folder, patience_seconds=0.05) as ledger:
        told = []

        def other_desk() -> None:
            try:
                entered(ledger, "work/other")
            except Busy as busy:
                told.append(str(busy))

        with ledger.change(who=WHO, why=WHY) as change:
            desk = threading.Thread(target=other_desk)
            desk.start()
            desk.join()
            change.save("work/mill", b"{}", expected=None)
        assert "somebody else is saving" in told[0]
        assert not ledger.has("work/other")


def test_a_relative_folder_stays_the_same_one(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with Ledger.create(Path("studio")) as ledger:
        monkeypatch.chdir("/")
        entered(ledger, "work/mill")
        assert ledger.verify().faults == ()
        assert ledger.folder == tmp_path / "studio"
