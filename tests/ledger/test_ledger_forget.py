"""What was forgotten is gone from every byte of the folder, and the chain still holds."""

from __future__ import annotations

import hashlib
from contextlib import suppress

import pytest
from ledger_samples import WHO, WHY, a_new_folder, a_passing_ledger, bytes_of, entered, raw

from catalogue.errors import BadData, NotOnFile
from catalogue.ledger import Ledger

FIXTURES = (
    a_passing_ledger,
    a_new_folder,
)

SECRET = b"Konstanze Obermair-Liszt, Gasse 4"


def reveal(ledger: Ledger, size: int = 1) -> None:
    """The secret saved among much else, small enough for one page or too large for it."""
    body = b'{"name": "' + SECRET * size + b'"}'
    for n in range(20):
        entered(ledger, f"work/{n:02}", body=b'{"other": "%s"}' % (b"x" * 37 * n))
    entered(ledger, "party/p", body=body)
    entered(ledger, "party/p", body=body + b" ")
    entered(ledger, "party/p", body=b'{"name": "N. N."}')
    for n in range(20):
        entered(ledger, f"work/{n:02}", body=b'{"other": "%s"}' % (b"y" * 41 * n))


@pytest.mark.parametrize("size", [1, 30, 900])
def test_forgotten_text_is_in_no_byte_of_the_folder(folder, size):
    with Ledger.create(folder) as ledger:
        reveal(ledger, size)
        ledger.keep_draft(who=WHO, document="party/p", place="name", text=SECRET.decode())
        assert SECRET in bytes_of(folder)
        with ledger.change(who=WHO, why="asked by letter") as change:
            change.forget_revisions("party/p", [1, 2])
        assert SECRET not in bytes_of(folder)
        assert ledger.drafts() == []
        verdict = ledger.verify()
        assert (verdict.faults, verdict.notes) == ((), ())
        assert [gone.what for gone in verdict.forgotten] == [
            "party/p revision 1",
            "party/p revision 2",
        ]
    assert SECRET not in bytes_of(folder)


def test_who_asks_for_it_is_told_who_forgot_it_and_why(ledger):
    reveal(ledger)
    with ledger.change(who="R. Osk", why="asked by letter") as change:
        change.forget_revisions("party/p", [2, 1, 1])
    with pytest.raises(
        NotOnFile, match=r"revision 2: forgotten by R. Osk at .*asked by letter"
    ):
        ledger.read("party/p", 2)
    assert ledger.read("party/p").revision == 3
    assert [head.document for _, head in ledger.since(change.seq - 1)] == ["party/p"]


def test_the_new_text_can_be_saved_in_the_change_that_forgets_the_old(ledger):
    entered(ledger, "party/p", body=SECRET)
    with ledger.change(who=WHO, why=WHY) as change:
        change.save("party/p", b'{"name": "N. N."}', expected=1)
        change.forget_revisions("party/p", [1])
        with pytest.raises(NotOnFile, match="no revision 2"):
            change.forget_revisions("party/p", [2])
    with ledger.change(who=WHO, why="once more") as again:
        again.forget_revisions("party/p", [1])
    assert again.seq is None
    assert ledger.read("party/p").revision == 2
    assert ledger.verify().faults == ()


def test_a_document_can_be_forgotten_whole(ledger):
    entered(ledger, "party/p", body=SECRET)
    entered(ledger, "party/q")
    with ledger.change(who=WHO, why=WHY) as change:
        change.forget_revisions("party/p", [1])
    with pytest.raises(NotOnFile, match="forgotten by"):
        ledger.read("party/p")
    assert [kept.document for kept in ledger.bodies()] == ["party/q"]
    entered(ledger, "party/p", body=b'{"back": 1}')
    assert ledger.read("party/p").revision == 2
    assert ledger.verify().faults == ()


def test_nothing_is_forgotten_by_a_change_that_fails(ledger):
    entered(ledger, "party/p", body=SECRET)
    with ledger.change(who=WHO, why=WHY) as change:
        sha256 = change.keep_file(SECRET, name="card.txt", media_type="text/plain")
    with suppress(NotOnFile), ledger.change(who=WHO, why=WHY) as change:
        change.forget_revisions("party/p", [1])
        change.forget_file(sha256)
        change.withdraw("party/nobody")
    entered(ledger, "party/q")
    assert ledger.read("party/p").body == SECRET
    assert ledger.read_file(sha256) == SECRET
    verdict = ledger.verify()
    assert (verdict.faults, verdict.notes, verdict.forgotten) == ((), (), ())


def test_a_forgotten_file_is_gone_with_its_name_and_digest(folder):
    with Ledger.create(folder) as ledger:
        with ledger.change(who=WHO, why=WHY) as change:
            sha256 = change.keep_file(SECRET, name="Obermair.txt", media_type="text/plain")
            change.save("party/p", b"{}", expected=None, source=sha256)
        assert ledger.read("party/p").source == sha256
        with ledger.change(who=WHO, why="asked by letter") as change:
            change.forget_file(sha256)
            with pytest.raises(BadData, match="being forgotten"):
                change.keep_file(SECRET, name="again.txt", media_type="text/plain")
        left = bytes_of(folder)
        for trace in (SECRET, b"Obermair", sha256.encode()):
            assert trace not in left
        assert ledger.read("party/p").source is None
        assert not ledger.has_file(sha256)
        with pytest.raises(NotOnFile):
            ledger.file(sha256)
        verdict = ledger.verify()
        assert (verdict.faults, verdict.files) == ((), 0)
        assert verdict.forgotten[0].why == "asked by letter"
        with ledger.change(who=WHO, why="it may stay after all") as change:
            change.keep_file(SECRET, name="card.txt", media_type="text/plain")
        assert ledger.verify().faults == ()


def test_what_a_reader_holds_up_is_overwritten_when_next_opened(folder):
    with Ledger.create(folder, patience_seconds=0.05) as ledger:
        reveal(ledger)
        with raw(folder) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT count(*) FROM bodies").fetchone()
            with ledger.change(who=WHO, why=WHY) as change:
                change.forget_revisions("party/p", [1, 2])
            assert SECRET in bytes_of(folder)
            verdict = ledger.verify()
            assert verdict.faults == ()
            assert f"change {change.seq} forgot" in verdict.notes[0]
            reader.rollback()
    with Ledger.open(folder) as ledger:
        assert SECRET not in bytes_of(folder)
        assert ledger.verify().notes == ()


def test_a_file_whose_deletion_was_cut_short_goes_when_next_opened(folder):
    with Ledger.create(folder) as ledger:
        with ledger.change(who=WHO, why=WHY) as change:
            kept = change.keep_file(b"kept", name="a", media_type="text/plain")
            gone = change.keep_file(b"gone", name="b", media_type="text/plain")
        place = ledger.file(gone)
        with ledger.change(who=WHO, why=WHY) as change:
            change.forget_file(gone)
    # as a power cut leaves it: committed, the mark there, the contents too
    place.write_bytes(b"gone")
    (folder / "files" / "leaving" / gone).touch()
    (folder / "files" / "leaving" / kept).touch()
    with Ledger.open(folder) as ledger:
        assert not place.exists()
        assert ledger.read_file(kept) == b"kept"
        assert list((folder / "files" / "leaving").iterdir()) == []
        assert ledger.verify().faults == ()


def test_a_copy_holds_nothing_of_what_was_forgotten(folder, tmp_path):
    with Ledger.create(folder, patience_seconds=0.05) as ledger:
        reveal(ledger)
        with raw(folder) as reader:
            reader.execute("BEGIN")
            reader.execute("SELECT count(*) FROM bodies").fetchone()
            with ledger.change(who=WHO, why=WHY) as change:
                change.forget_revisions("party/p", [1, 2])
            ledger.backup(tmp_path / "copy")
            ledger.backup(tmp_path / "copy.tar")
    assert SECRET not in bytes_of(tmp_path / "copy")
    assert SECRET not in (tmp_path / "copy.tar").read_bytes()


def test_what_lies_in_unused_pages_is_overwritten_and_never_copied(folder, tmp_path):
    with Ledger.create(folder) as ledger:
        entered(ledger, "party/p", body=SECRET)
        entered(ledger, "party/p")
        with raw(folder) as careless:
            careless.execute("PRAGMA secure_delete = OFF")
            careless.execute("CREATE TABLE passing (said BLOB)")
            careless.execute("INSERT INTO passing VALUES (?)", (SECRET * 300,))
            careless.commit()
            careless.execute("DROP TABLE passing")
        ledger.backup(tmp_path / "copy")
        assert bytes_of(tmp_path / "copy").count(SECRET) == 1
        with ledger.change(who=WHO, why=WHY) as change:
            change.forget_revisions("party/p", [1])
        assert SECRET not in bytes_of(folder)


def test_contents_that_another_program_just_forgot_can_be_taken_in_again(folder):
    with Ledger.create(folder) as ledger:
        sha256 = hashlib.sha256(SECRET).hexdigest()
        (folder / "files" / "leaving").mkdir()
        (folder / "files" / "leaving" / sha256).touch()
        with ledger.change(who=WHO, why=WHY) as change:
            assert change.keep_file(SECRET, name="a", media_type="b") == sha256
    with Ledger.open(folder) as ledger:
        assert ledger.read_file(sha256) == SECRET
