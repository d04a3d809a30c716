"""Whatever is altered behind the ledger's back, verify says so and says where."""

from __future__ import annotations

import shutil

import pytest
from ledger_samples import (
    PHOTO,
    WHO,
    WHY,
    a_new_folder,
    a_passing_ledger,
    entered,
    furnish,
    raw,
)

from catalogue.errors import Damaged, NotOnFile
from catalogue.ledger import Ledger
from catalogue.ledger.chain import digest_of_change
from catalogue.ledger.tables import tables
from catalogue.ledger.verify import inspect

FIXTURES = (
    a_passing_ledger,
    a_new_folder,
)


@pytest.fixture(scope="module")
def furnished(tmp_path_factory):
    folder = tmp_path_factory.mktemp("furnished") / "studio"
    with Ledger.create(folder) as ledger:
        furnish(ledger)
    return folder


@pytest.fixture
def copy(furnished, tmp_path):
    return shutil.copytree(furnished, tmp_path / "copy")


def verdict_on(folder, **asked):
    with Ledger.open(folder) as ledger:
        return ledger.verify(**asked)


def alter(folder, *statements):
    """Run SQL as somebody would who knows how to get past keys and checks."""
    with raw(folder) as database:
        for statement in statements:
            database.execute(statement)


def test_what_was_not_touched_is_as_saved(copy):
    verdict = verdict_on(copy)
    assert verdict.faults == ()
    assert verdict.notes == ()
    assert (verdict.changes, verdict.documents, verdict.files) == (4, 4, 1)


def test_an_empty_ledger_is_as_saved(ledger):
    verdict = ledger.verify(expected_head="0" * 64)
    assert (verdict.faults, verdict.head) == ((), "0" * 64)


def test_verify_lists_what_was_forgotten(copy):
    first, second = verdict_on(copy).forgotten
    assert str(first).startswith("work/mill revision 1: forgotten by R. Osk at ")
    assert str(first).endswith("(change 4): asked by letter")
    assert second.what.startswith("the file of digest ")


# Each column, the row it is altered in, what with, and what the faults must name.
COLUMNS = [
    ("changes.seq", "seq = 4", "9", "change 9"),
    ("changes.seq", "seq = 2", "-2", "change -2"),
    ("changes.at", "seq = 2", "'2020-01-01T00:00:00.000Z'", "change 2"),
    ("changes.zone", "seq = 2", "'UTC '", "change 2"),
    ("changes.who", "seq = 2", "'somebody else'", "change 2"),
    ("changes.who", "seq = 2", "x'ff00'", "change 2"),
    ("changes.why", "seq = 4", "why || ' '", "change 4"),
    ("changes.format", "seq = 1", "2", "change 1"),
    ("changes.before", "seq = 3", "'" + "a" * 64 + "'", "change 3"),
    ("changes.digest", "seq = 2", "'" + "b" * 64 + "'", "change 2"),
    ("changes.digest", "seq = 4", "'" + "b" * 64 + "'", "change 4"),
    ("entries.seq", "seq = 2 AND place = 3", "3", "change 2"),
    ("entries.seq", "seq = 3 AND place = 2", "77", "change 77"),
    ("entries.place", "seq = 3 AND place = 2", "5", "change 3"),
    ("entries.act", "seq = 3 AND place = 2", "'reinstate'", "change 3"),
    ("entries.document", "seq = 3 AND place = 2", "'work/mill'", "change 3"),
    ("entries.revision", "seq = 2 AND act = 'save' AND revision = 2", "5", "change 2"),
    ("entries.digest", "seq = 2 AND place = 1", "'" + "c" * 64 + "'", "work/mill revision 2"),
    ("entries.source", "seq = 1 AND act = 'save' AND place = 4", "NULL", "change 1"),
    ("entries.target", "seq = 3 AND act = 'merge'", "'work/ferry'", "party/old"),
    ("entries.scope", "seq = 2 AND act = 'number'", "'I of work/ferry'", "change 2"),
    ("entries.number", "seq = 2 AND act = 'number'", "8", "change 2"),
    ("bodies.seq", "seq = 2 AND place = 2", "3", "work/ferry revision 1"),
    ("bodies.place", "seq = 2 AND place = 2", "9", "work/ferry revision 1"),
    ("bodies.salt", "seq = 2 AND place = 2", "zeroblob(32)", "work/ferry revision 1"),
    ("bodies.salt", "seq = 2 AND place = 2", "'salt'", "work/ferry revision 1"),
    ("bodies.body", "seq = 2 AND place = 2", "CAST('{}' AS BLOB)", "work/ferry revision 1"),
    ("bodies.body", "seq = 2 AND place = 2", "CAST(body AS TEXT)", "work/ferry revision 1"),
    ("files.digest", "1", "'" + "d" * 64 + "'", "file "),
    ("files.seq", "1", "2", "file "),
    ("files.place", "1", "1", "file "),
    ("files.salt", "1", "zeroblob(32)", "file "),
    ("files.sha256", "1", "'" + "e" * 64 + "'", "file " + "e" * 64),
    ("files.size", "1", "size + 1", "file "),
    ("files.media_type", "1", "'image/tiff'", "file "),
    ("files.name", "1", "'front.png'", "file "),
    ("files.name", "1", "x'ff'", "file "),
    ("heads.document", "document = 'work/mill'", "'work/other'", "work/other"),
    ("heads.revision", "document = 'work/mill'", "1", "work/mill"),
    ("heads.seq", "document = 'work/mill'", "1", "work/mill"),
    ("heads.place", "document = 'work/mill'", "2", "work/mill"),
    ("heads.touched", "document = 'work/mill'", "2", "work/mill"),
    ("heads.withdrawn", "document = 'work/ferry'", "0", "work/ferry"),
    ("heads.merged_into", "document = 'party/old'", "NULL", "party/old"),
]  # fmt: skip

OUTSIDE_THE_CHAIN = {"drafts", "settings"}


@pytest.mark.parametrize(("column", "row", "value", "named"), COLUMNS)
def test_an_altered_value_is_found(copy, column, row, value, named):
    table, _, name = column.partition(".")
    with raw(copy) as database:
        database.execute(f"UPDATE {table} SET {name} = {value} WHERE {row}")
        assert database.total_changes == 1
    assert any(named in fault.where for fault in verdict_on(copy).faults)


def test_the_table_above_leaves_no_column_out():
    every = {
        f"{table.name}.{column.name}"
        for table in tables.sorted_tables
        for column in table.columns
        if table.name not in OUTSIDE_THE_CHAIN
    }
    assert {column for column, *_ in COLUMNS} == every


MISSING = [
    ("changes", "seq = 2", "change 3"),
    ("changes", "seq = 1", "change 2"),
    ("entries", "seq = 2 AND place = 3", "change 2"),
    ("entries", "seq = 4", "change 4"),
    ("bodies", "seq = 2 AND place = 1", "work/mill revision 2"),
    ("files", "1", "change 1, entry 2"),
    ("heads", "document = 'work/ferry'", "work/ferry"),
]


@pytest.mark.parametrize(("table", "row", "named"), MISSING)
def test_a_row_taken_out_is_found(copy, table, row, named):
    alter(copy, f"DELETE FROM {table} WHERE {row}")
    assert any(named in fault.where for fault in verdict_on(copy).faults)


ADDED = [
    ("entries", "(4, 3, 'number', NULL, NULL, NULL, NULL, NULL, 'work:2026', 2)", "change 4"),
    ("entries", "(5, 1, 'withdraw', 'work/mill', 0, '', '', '', '', 0)", "change 5"),
    ("entries", "(4, 3, x'00', x'ff', x'ff', NULL, NULL, NULL, NULL, NULL)", "change 4"),
    ("bodies", "(3, 1, zeroblob(32), zeroblob(2))", "change 3, entry 1"),
    ("bodies", "(1, 4, zeroblob(32), CAST('Old Name' AS BLOB))", "work/mill revision 1"),
    ("heads", "('work/x', 1, 1, 4, 1, 0, NULL)", "work/x"),
    ("files", "('f', 1, 3, zeroblob(32), 'f', 1, 'a', 'b')", "file f"),
    ("changes", f"(5, 'a', 'b', 'c', 'd', 1, 'e', '{'f' * 64}')", "change 5"),
]


@pytest.mark.parametrize(("table", "values", "named"), ADDED)
def test_a_row_added_is_found(copy, table, values, named):
    alter(copy, f"INSERT INTO {table} VALUES {values}")
    assert any(named in fault.where for fault in verdict_on(copy).faults)


def test_what_was_forgotten_and_is_put_back_is_found(copy):
    with Ledger.open(copy) as ledger:
        with raw(copy) as database:
            (row,) = database.execute("SELECT * FROM files").fetchall()
        with ledger.change(who=WHO, why=WHY) as change:
            change.forget_file(row[4])
    with raw(copy) as database:
        database.execute("INSERT INTO files VALUES (?, ?, ?, ?, ?, ?, ?, ?)", row)
    messages = {fault.message for fault in verdict_on(copy).faults}
    assert any("forgotten, yet is there" in message for message in messages)


def test_a_change_altered_together_with_its_digest_does_not_fit_the_next_one(copy):
    with Ledger.open(copy) as ledger:
        second = list(ledger.changes())[1]
    digest = digest_of_change(
        seq=2, at=second.at, zone=second.zone, who="somebody else", why=second.why,
        written_in=second.format, before=second.before, entries=second.entries,
    )  # fmt: skip
    alter(copy, f"UPDATE changes SET who = 'somebody else', digest = '{digest}' WHERE seq = 2")
    (fault,) = verdict_on(copy).faults
    assert fault.where == "change 3"
    assert "does not follow" in fault.message


def test_a_byte_moved_from_the_text_to_its_salt_is_found(copy):
    with raw(copy) as database:
        for seq, place, salt, body in database.execute("SELECT * FROM bodies").fetchall():
            database.execute(
                "UPDATE bodies SET salt = ?, body = ? WHERE seq = ? AND place = ?",
                (salt + body[:1], body[1:], seq, place),
            )
    assert len(verdict_on(copy).faults) == 4


def test_two_changes_that_changed_places_are_found(copy):
    alter(
        copy,
        "PRAGMA foreign_keys = OFF",
        *(
            f"UPDATE {table} SET seq = {new} WHERE seq = {old}"
            for old, new in ((2, 99), (3, 2), (99, 3))
            for table in ("changes", "entries", "bodies", "heads")
        ),
    )
    where = {fault.where for fault in verdict_on(copy).faults}
    assert {"change 2", "change 3"} <= where


def test_a_number_given_twice_is_found_even_without_the_index(copy):
    alter(
        copy,
        "DROP INDEX a_number_once",
        "UPDATE entries SET scope = 'work:2026', number = 1 WHERE seq = 2 AND act = 'number'",
    )
    faults = verdict_on(copy).faults
    assert {"number", "database", "change"} <= {fault.what for fault in faults}
    assert any("work:2026 1 was given out before" in fault.message for fault in faults)


def test_a_strange_trigger_is_found(copy):
    alter(copy, "CREATE TRIGGER odd AFTER INSERT ON drafts BEGIN DELETE FROM heads; END")
    assert [fault.where for fault in verdict_on(copy).faults] == ["odd"]


def test_a_tail_cut_off_with_care_shows_against_the_head_kept_elsewhere(copy):
    head = verdict_on(copy).head
    assert verdict_on(copy, expected_head=head).faults == ()
    alter(
        copy,
        "UPDATE heads SET touched = 1 WHERE touched > 1",
        "DELETE FROM files",
        *(f"DELETE FROM {table} WHERE seq > 1" for table in ("bodies", "heads")),
        "DELETE FROM entries WHERE seq > 1",
        "DELETE FROM changes WHERE seq > 1",
    )
    (cut,) = (f for f in verdict_on(copy, expected_head=head).faults if f.what == "change")
    assert head in cut.message


def test_an_earlier_head_still_holds_after_more_was_saved(copy):
    head = verdict_on(copy).head
    with Ledger.open(copy) as ledger:
        entered(ledger, "work/later")
        assert ledger.verify(expected_head=head).faults == ()


def test_a_file_that_is_altered_shortened_or_missing_is_found(copy):
    with Ledger.open(copy) as ledger:
        (sha256,) = {path.name for path in (copy / "files").rglob("*") if path.is_file()}
        place = ledger.file(sha256)
        assert ledger.read_file(sha256) == PHOTO
        for wrong in (b"", PHOTO[:-1], PHOTO + b"\n", PHOTO.swapcase()):
            place.write_bytes(wrong)
            (fault,) = ledger.verify().faults
            assert (fault.what, fault.where) == ("file", f"file {sha256}")
            with pytest.raises(Damaged, match="not the file"):
                ledger.read_file(sha256)
        place.unlink()
        (fault,) = ledger.verify().faults
        assert "missing" in fault.message
        with pytest.raises(Damaged, match="missing"):
            ledger.file(sha256)


def test_a_stray_file_is_noted_and_is_no_fault(copy):
    (copy / "files" / "notes.txt").write_text("left here")
    verdict = verdict_on(copy)
    assert verdict.faults == ()
    assert "notes.txt" in verdict.notes[0]


def test_a_page_written_over_is_found(copy):
    database = copy / "ledger.sqlite"
    whole = bytearray(database.read_bytes())
    whole[4096:8192] = b"\x5a" * 4096
    database.write_bytes(whole)
    assert inspect(database, {}.get).faults[0].what == "database"


def test_what_is_no_database_is_said_to_be_damaged(copy):
    (copy / "ledger.sqlite").write_bytes(b"this is not a database at all" * 400)
    with pytest.raises(Damaged, match="database is damaged"):
        Ledger.open(copy)
    assert inspect(copy / "ledger.sqlite", {}.get).faults[0].what == "database"


def test_a_text_that_went_missing_is_not_read_as_empty(copy):
    alter(copy, "DELETE FROM bodies WHERE seq = 2 AND place = 1")
    with Ledger.open(copy) as ledger, pytest.raises(NotOnFile, match="verify"):
        ledger.read("work/mill")


def test_verify_goes_on_while_others_save(ledger):
    furnish(ledger)
    with ledger.change(who=WHO, why=WHY) as change:
        change.save("work/new", b"{}", expected=None)
        assert ledger.verify().faults == ()
    assert ledger.verify().changes == 5
