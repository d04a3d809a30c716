from __future__ import annotations

import io
import shutil
import tarfile

import pytest
from ledger_samples import PHOTO, WHO, WHY, a_new_folder, entered, furnish, raw

from catalogue.errors import BadData, BadSetting, Busy, CannotSave, Damaged, NoStudio
from catalogue.ledger import Ledger, restore

FIXTURES = (a_new_folder,)


@pytest.fixture(params=["copy", "copy.tar"])
def target(request, tmp_path):
    return tmp_path / "backups" / request.param


@pytest.fixture
def studio(folder):
    with Ledger.create(folder) as ledger:
        ledger.kept = furnish(ledger)
        (folder / "indexes").mkdir()
        (folder / "indexes" / "words").write_text("made anew at any time")
        yield ledger


def names(folder):
    return sorted(str(p.relative_to(folder)) for p in folder.rglob("*") if p.is_file())


def test_a_backup_comes_back_as_it_was(studio, target, tmp_path):
    facts = studio.backup(target)
    assert (facts.changes, facts.documents, facts.files) == (4, 4, 1)
    assert (facts.head, facts.target) == (studio.last()[1], target)
    assert facts.size > len(PHOTO)
    assert list(target.parent.iterdir()) == [target]
    restore(target, tmp_path / "again")
    assert names(tmp_path / "again") == sorted(
        ["ledger.sqlite", f"files/{studio.kept['photo'][:2]}/{studio.kept['photo']}"]
    )
    with Ledger.open(tmp_path / "again") as again:
        verdict = again.verify(expected_head=facts.head)
        assert (verdict.faults, verdict.notes) == ((), ())
        assert list(again.changes()) == list(studio.changes())
        assert list(again.bodies()) == list(studio.bodies())
        assert again.read_file(studio.kept["photo"]) == PHOTO
        entered(again, "work/later")
        assert again.verify().faults == ()


def test_who_waits_is_told_how_far_it_is(studio, target):
    told = []
    studio.backup(target, progress=lambda done, of_all: told.append((done, of_all)))
    assert told[0] == (1, 2)
    assert told[-1] == (2, 2)
    told.clear()
    studio.verify(progress=lambda done, of_all: told.append((done, of_all)))
    assert told == [(1, 1)]


def test_a_file_forgotten_while_the_copy_is_made_is_no_damage(studio, target):
    def forget_meanwhile(done, of_all):
        if studio.has_file(studio.kept["photo"]):
            with studio.change(who=WHO, why="just now") as change:
                change.forget_file(studio.kept["second"])
                change.forget_file(studio.kept["photo"])

    with studio.change(who=WHO, why=WHY) as change:
        second = change.keep_file(b"second", name="b", media_type="text/plain")
        studio.kept["second"] = second
    with pytest.raises(Busy, match="back up again"):
        studio.backup(target, progress=forget_meanwhile)
    assert list(target.parent.iterdir()) == []


def test_a_backup_is_made_while_somebody_saves(studio, target):
    with studio.change(who=WHO, why=WHY) as change:
        change.save("work/new", b"{}", expected=None)
        assert studio.backup(target).changes == 4
    assert studio.has("work/new")


def test_a_backup_never_saves_over_anything(studio, target):
    studio.backup(target)
    before = target.stat().st_mtime_ns
    with pytest.raises(CannotSave, match="something here already"):
        studio.backup(target)
    assert target.stat().st_mtime_ns == before


def test_a_backup_of_a_damaged_studio_is_not_left_lying(studio, target):
    studio.file(studio.kept["photo"]).write_bytes(b"another picture")
    with pytest.raises(Damaged, match="contents were altered"):
        studio.backup(target)
    assert list(target.parent.iterdir()) == []


def test_a_backup_without_a_file_is_not_left_lying(studio, target):
    studio.file(studio.kept["photo"]).unlink()
    with pytest.raises(Damaged, match="missing from files"):
        studio.backup(target)
    assert list(target.parent.iterdir()) == []


def test_a_backup_says_nothing_of_this_machine(studio, tmp_path):
    studio.backup(tmp_path / "copy.tar")
    with tarfile.open(tmp_path / "copy.tar") as tar:
        members = tar.getmembers()
    assert members[0].name == "ledger.sqlite"
    assert {(member.uid, member.gid, member.uname, member.gname) for member in members} == {
        (0, 0, "", "")
    }


# --- bringing it back -------------------------------------------------------------------------


def test_nothing_is_restored_over_anything(studio, target, tmp_path):
    studio.backup(target)
    full = tmp_path / "full"
    full.mkdir()
    (full / "letter.txt").write_text("mine")
    for taken in (full, full / "letter.txt"):
        with pytest.raises(BadSetting, match="no empty folder"):
            restore(target, taken)
    assert names(full) == ["letter.txt"]


def test_an_empty_folder_will_do(studio, target, tmp_path):
    studio.backup(target)
    (tmp_path / "empty").mkdir()
    restore(target, tmp_path / "empty")
    Ledger.open(tmp_path / "empty").close()


def test_a_damaged_backup_folder_is_refused_whole(studio, tmp_path):
    studio.backup(tmp_path / "copy")
    with raw(tmp_path / "copy") as database:
        database.execute("UPDATE changes SET who = 'somebody' WHERE seq = 2")
    with pytest.raises(Damaged, match="change 2"):
        restore(tmp_path / "copy", tmp_path / "again")
    assert not (tmp_path / "again").exists()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copy", "studio"]


@pytest.mark.parametrize("left", [0, 100, 512, 4096, 30_000, None])
def test_a_backup_cut_short_is_refused_whole(studio, tmp_path, left):
    studio.backup(tmp_path / "copy.tar")
    whole = (tmp_path / "copy.tar").read_bytes()
    in_the_last_file = whole.index(PHOTO) + 20
    (tmp_path / "short.tar").write_bytes(whole[: in_the_last_file if left is None else left])
    with pytest.raises((Damaged, NoStudio), match=r"short\.tar"):
        restore(tmp_path / "short.tar", tmp_path / "again")
    assert not (tmp_path / "again").exists()


def test_a_flipped_byte_in_a_file_is_refused(studio, tmp_path):
    studio.backup(tmp_path / "copy.tar")
    whole = (tmp_path / "copy.tar").read_bytes()
    assert whole.count(PHOTO) == 1
    (tmp_path / "copy.tar").write_bytes(whole.replace(PHOTO, PHOTO.swapcase()))
    with pytest.raises(Damaged, match="contents were altered"):
        restore(tmp_path / "copy.tar", tmp_path / "again")


def member(name, content=b"x", kind=tarfile.REGTYPE, link=""):
    made = tarfile.TarInfo(name)
    made.size, made.type, made.linkname = len(content), kind, link
    return made, io.BytesIO(content)


@pytest.mark.parametrize(
    "odd",
    [
        member("../outside"),
        member("/tmp/outside"),
        member("files/../../outside"),
        member("files/ab/" + "c" * 64),
        member("files/ab/../" + "ab" * 32),
        member("indexes/words"),
        member("ledger.sqlite-wal"),
        member("files/ab/" + "ab" * 32, b"", tarfile.SYMTYPE, "/etc/passwd"),
        member("files/ab/" + "ab" * 32, b"", tarfile.LNKTYPE, "ledger.sqlite"),
        member("files/ab/" + "ab" * 32, b"", tarfile.CHRTYPE),
        member("ledger.sqlite"),
    ],
    ids=lambda odd: odd[0].name[:24],
)
def test_a_member_that_does_not_belong_is_refused(studio, tmp_path, odd):
    studio.backup(tmp_path / "copy.tar")
    with tarfile.open(tmp_path / "copy.tar", "a") as tar:
        tar.addfile(*odd)
    with pytest.raises(BadData, match="does not belong"):
        restore(tmp_path / "copy.tar", tmp_path / "again")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["copy.tar", "studio"]


def test_what_is_no_backup_is_said_to_be_none(tmp_path):
    (tmp_path / "notes.txt").write_text("a shopping list")
    (tmp_path / "empty").mkdir()
    for source in ("notes.txt", "empty", "nowhere.tar"):
        with pytest.raises(NoStudio):
            restore(tmp_path / source, tmp_path / "again")
    assert not (tmp_path / "again").exists()


def test_a_database_of_another_kind_is_no_backup(tmp_path):
    (tmp_path / "other").mkdir()
    with raw(tmp_path / "other") as database:
        database.execute("CREATE TABLE t (x)")
    with pytest.raises(NoStudio, match="not a ledger"):
        restore(tmp_path / "other", tmp_path / "again")


def test_a_studio_in_use_is_not_copied_as_if_it_were_a_backup(studio, folder, tmp_path):
    with pytest.raises(Busy, match="in use"):
        restore(folder, tmp_path / "again")


def test_a_newer_layout_is_refused_and_not_touched(studio, folder, tmp_path):
    studio.backup(tmp_path / "copy")
    with raw(tmp_path / "copy") as database:
        database.execute("PRAGMA user_version = 99")
    with pytest.raises(BadSetting, match="newer dorse"):
        restore(tmp_path / "copy", tmp_path / "again")
    shutil.copytree(tmp_path / "copy", tmp_path / "newer")
    with pytest.raises(BadSetting, match="newer dorse"):
        Ledger.open(tmp_path / "newer")
