"""`dorse import` of files and folders: tried without a trace, spreadsheets in a folder told once."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from catalogue.command import main
from catalogue.places import folder

TIDE, ATTIC = sorted((folder("sample_records") / "works").glob("*.json"))[:2]


@pytest.fixture
def dorse(tmp_path):
    def run(*words, exit_code=0):
        told = CliRunner().invoke(
            main, ["--studio", str(tmp_path / "studio"), "--who", "Nell", *map(str, words)]
        )
        assert told.exit_code == exit_code, told.output
        return told

    run("init")
    return run


def rows(told):
    return [json.loads(line) for line in told.stdout.splitlines()]


@pytest.fixture
def sent(tmp_path):
    """A folder with two records and a file that is none."""
    made = tmp_path / "sent"
    made.mkdir()
    for source in (TIDE, ATTIC):
        (made / source.name).write_bytes(source.read_bytes())
    (made / "broken.json").write_text("{", encoding="utf-8")
    return made


def test_files_are_tried_without_a_trace_and_come_to_what_was_foreseen(dorse, sent, tmp_path):
    before = dorse("verify", "--json").stdout
    foreseen = rows(dorse("import", sent, "--dry-run", "--json", exit_code=1))
    assert sorted(row["outcome"] for row in foreseen) == ["new", "new", "refused"]
    assert dorse("verify", "--json").stdout == before
    taken = rows(dorse("import", sent, "--json", exit_code=1))
    documents = [(row["document"], row["outcome"]) for row in foreseen]
    assert sorted(documents) == sorted((row["document"], row["outcome"]) for row in taken)
    again = rows(dorse("import", sent, "--dry-run", "--json", exit_code=1))
    assert sorted(row["outcome"] for row in again) == ["refused", "same", "same"]


def test_every_document_that_was_tried_is_shown_to_people_too(dorse, sent):
    told = dorse("import", sent, "--dry-run", exit_code=1).stdout
    for source in (TIDE, ATTIC):
        assert f"new: {sent / source.name}  work/" in told
    assert f"refused: {sent / 'broken.json'}" in told
    assert told.endswith("2 new, 1 refused\n")


def test_spreadsheets_in_a_folder_are_told_once(dorse, sent):
    (sent / "broken.json").unlink()
    (sent / "books").mkdir()
    for name in ("jobs.csv", "books/Ledger.XLSX"):
        Path(sent / name).write_bytes(b"No.;Title\n1;Low Tide\n")
    told = dorse("import", sent)
    assert told.stderr.count("spreadsheets in a folder are passed over (2)") == 1
    assert "jobs.csv" in told.stderr
    assert "Ledger.XLSX" in told.stderr
    assert "--draft-mapping" in told.stderr
    (sent / "jobs.csv").unlink()
    (sent / "books" / "Ledger.XLSX").unlink()
    assert "spreadsheets" not in dorse("import", sent).stderr


def test_other_files_in_a_folder_are_told_once_with_their_number(dorse, sent):
    (sent / "broken.json").unlink()
    (sent / "photos").mkdir()
    for name in ("note.txt", "letter.docx", "photos/boats.jpg", ".hidden"):
        (sent / name).write_text("Dear Mrs Quillan,\nit is ready.\n", encoding="utf-8")
    for words in (("--dry-run",), ()):
        told = dorse("import", sent, *words).stderr
        assert told.count("files of no kind that is read are passed over (2): ") == 1
        assert "letter.docx" in told
        assert "note.txt" in told
        assert "pictures and papers lie there too (1)" in told
        assert "spreadsheet" not in told
        assert ".hidden" not in told
    (sent / "note.txt").unlink()
    (sent / "letter.docx").unlink()
    assert "passed over" not in dorse("import", sent).stderr


def test_a_text_that_is_no_table_is_not_called_a_spreadsheet(dorse, tmp_path):
    note = tmp_path / "note.txt"
    note.write_text("Dear Mrs Quillan,\nit is ready.\n", encoding="utf-8")
    told = dorse("import", note, exit_code=1).output
    assert "note.txt is a text, and no table" in told
    assert "spreadsheet" not in told
    drafted = dorse("import", note, "--draft-mapping", tmp_path / "m.toml", exit_code=1).output
    assert "note.txt is a text, and no table" in drafted
    assert not (tmp_path / "m.toml").exists()
