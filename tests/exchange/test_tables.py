"""Works as tables: what openpyxl and the csv module read of them; nothing runs, nothing leaves unasked."""

import csv
import io
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_records import ARTIST, WHO, full_job, full_work, works
from test_redaction import SECRETS

from catalogue.errors import BadSetting
from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.tables import in_csv as csv_tables
from catalogue.exchange.tables import in_xlsx as xlsx_tables
from catalogue.exchange.tables.columns import column
from catalogue.exchange.tables.in_csv import guarded, line_of, unguarded
from catalogue.exchange.tables.in_xlsx import FIRST_DAY, MOST_LETTERS, escaped
from catalogue.exchange.tables.tables import tables
from catalogue.exchange.withholding.profiles import profiles
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.measure import Day, read_date
from catalogue.record import Title, Work
from catalogue.studio import Studio

NAMES = ("works", "inscriptions", "findings", "treatments", "chain")
RUN = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", "'=1", "''=1")


def exported(records, module, folder, profile="full"):
    """The files of an export of these records by name."""
    folder.mkdir(parents=True, exist_ok=True)
    sender = Sender(
        None,
        lambda document: ("Person", f"somebody of {document[:9]}"),
        profile,
        scratch=folder,
    )
    writing = module.begin(sender)
    for record in records:
        body = write(to_jsonld(record))
        assert list(writing.add(Leaving(record.document, "stem", body))) == []
    return {
        name: content.read_bytes() if isinstance(content, Path) else content
        for name, content in writing.close()
    }


def rows_of(content):
    text = content.decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def book_of(files, **how):
    return openpyxl.load_workbook(io.BytesIO(files["tables.xlsx"]), **how)


def titled(text):
    return Work(titles=(Title(text=text, kind="title/given", preferred=True),))


# --- csv -------------------------------------------------------------------------------------------


def test_there_is_a_file_for_each_table_and_one_that_explains(tmp_path):
    files = exported([full_work()], csv_tables, tmp_path)
    assert set(files) == {*(f"{name}.csv" for name in NAMES), "about-these-tables.txt"}
    assert "apostrophe" in files["about-these-tables.txt"].decode("utf-8-sig")


def test_a_work_stands_in_its_tables(tmp_path):
    work = full_work()
    files = exported([ARTIST, work], csv_tables, tmp_path)
    heads, *rows = rows_of(files["works.csv"])
    assert len(rows) == 1  # a party is no row
    row = dict(zip(heads, rows[0], strict=True))
    assert row["Title"] == work.title()
    assert row["Made"] == work.made.written
    assert row["Made (EDTF)"] == work.made.edtf
    assert row["Id of the work"] == work.id
    assert len(rows_of(files["inscriptions.csv"])) == 1 + len(work.inscriptions)
    observed = sum(len(each.observations) for each in work.findings)
    assert len(rows_of(files["findings.csv"])) == 1 + observed
    steps = sum(max(1, len(each.steps)) for each in work.treatments)
    assert len(rows_of(files["treatments.csv"])) == 1 + steps
    assert len(rows_of(files["chain.csv"])) == 1 + len(work.provenance)


def test_a_label_is_told_as_seen_and_in_the_markup(tmp_path):
    work = full_work()
    heads, *rows = rows_of(exported([work], csv_tables, tmp_path)["inscriptions.csv"])
    row = next(dict(zip(heads, each, strict=True)) for each in rows if each[2] == "I1")
    reading = work.inscription("I1").preferred().reading()
    assert row["Text as seen"] == reading.seen()
    assert row["Text in the markup"] == work.inscription("I1").preferred().markup


def test_files_begin_with_a_mark_and_lines_end_as_rfc_4180_has_it(tmp_path):
    content = exported([full_work()], csv_tables, tmp_path)["works.csv"]
    assert content.startswith(b"\xef\xbb\xbf")
    assert content.endswith(b"\r\n")


@pytest.mark.parametrize("text", RUN)
def test_no_cell_of_a_csv_file_begins_a_formula(tmp_path, text):
    content = exported([titled(text)], csv_tables, tmp_path)["works.csv"]
    cells = [cell for row in rows_of(content) for cell in row]
    # The signs that begin a formula: OWASP's list, as the advisory CVE-2021-41270 of Symfony repeats it
    # (= + - @ tab, carriage return); line feed: OWASP/www-community, pull request 1116. The wide letters
    # are from memory.
    assert not [
        cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝"))
    ]
    assert text in [unguarded(cell) for cell in cells]


def test_a_cell_is_guarded_where_a_semicolon_would_cut_it_in_another_country():
    assert ";=" not in guarded("a;=1+1")
    assert unguarded(guarded("a;=1+1")) == "a;=1+1"


@given(st.text())
def test_any_text_survives_csv_byte_for_byte(text):
    line = line_of([text])
    [[cell]] = csv.reader(io.StringIO(line, newline=""), strict=True)
    assert unguarded(cell) == text
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))


@given(st.text(alphabet="'=+-@\t\r\n;a", max_size=12))
def test_signs_and_apostrophes_come_back_however_they_stand(text):
    assert unguarded(guarded(text)) == text


def test_a_year_before_our_era_is_no_formula():
    assert line_of([Day(-43, 3, 15)]) == '"\'-0043-03-15"\r\n'


# --- xlsx ------------------------------------------------------------------------------------------


def test_a_workbook_has_five_sheets_with_frozen_heads_and_one_that_explains(tmp_path):
    book = book_of(exported([full_work()], xlsx_tables, tmp_path))
    assert book.sheetnames == [*NAMES, "about"]
    for name in NAMES:
        assert book[name].freeze_panes == "A2"
        assert book[name]["A1"].font.bold
        assert book[name].column_dimensions["B"].width > 10


def test_csv_and_workbook_tell_the_same(tmp_path):
    work = full_work()
    files = exported([work], csv_tables, tmp_path / "csv")
    book = book_of(exported([work], xlsx_tables, tmp_path / "xlsx"))
    for name in NAMES:
        rows = rows_of(files[f"{name}.csv"])
        for row, cells in zip(rows, book[name].iter_rows(), strict=True):
            for written, cell in zip(row, cells, strict=False):
                assert said(cell.value) == unguarded(written)


def said(value):
    if value is None:
        return ""
    if hasattr(value, "date"):
        return value.date().isoformat()
    return f"{value:.10g}" if isinstance(value, int | float) else value


@pytest.mark.parametrize("text", RUN)
def test_no_cell_of_a_workbook_is_a_formula(tmp_path, text):
    book = book_of(exported([titled(text)], xlsx_tables, tmp_path))
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    cell = book["works"]["B2"]
    assert cell.data_type in ("s", "inlineStr")
    assert cell.number_format == "@"
    assert cell.value.replace("_x000D_", "\r") == text


def test_days_are_days_from_march_1900_on_and_texts_before(tmp_path):
    def made(text):
        return replace(titled(text), made=read_date(text))

    records = [made(each) for each in ("1900-03-01", "1900-02-28", "1887-05-03", "2026-05-03")]
    sheet = book_of(exported(records, xlsx_tables, tmp_path))["works"]
    at = next(cell.column for cell in sheet[1] if cell.value == "Made, from")
    days = [sheet.cell(row, at) for row in range(2, 6)]
    assert [cell.is_date for cell in days] == [True, False, False, True]
    # 1 March 1900 is number 61 in every spreadsheet: the count has a 29 February 1900 that never was
    # (R. Nyffenegger's notes, page "Excel: Serial number", has both numbers).
    assert days[0].value.date().isoformat() == FIRST_DAY.iso
    assert days[1].value == "1900-02-28"
    with zipfile.ZipFile(
        io.BytesIO(exported(records, xlsx_tables, tmp_path)["tables.xlsx"])
    ) as file:
        assert "<v>61</v>" in file.read("xl/worksheets/sheet1.xml").decode()


def test_letters_that_xml_cannot_hold_are_escaped_as_the_standard_says():
    # ECMA-376 part 1, 22.9.2.19 (ST_Xstring): "character 8 ... must be escaped"; that an underscore
    # which only looks like one is escaped too is from memory.
    assert escaped("a\x0bb") == "a_x000B_b"
    assert escaped("_x000B_") == "_x005F_x000B_"


def test_a_text_longer_than_a_cell_is_cut_and_says_so(tmp_path):
    book = book_of(exported([titled("ß" * 40_000)], xlsx_tables, tmp_path))
    held = book["works"]["B2"].value
    assert len(held) <= MOST_LETTERS
    assert held.endswith("the whole text is in the table as CSV]")


def test_nothing_in_a_workbook_is_of_the_day_it_was_made(tmp_path):
    content = exported([titled("Low Tide")], xlsx_tables, tmp_path)["tables.xlsx"]
    with zipfile.ZipFile(io.BytesIO(content)) as file:
        assert {entry.date_time for entry in file.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert file.namelist() == sorted(file.namelist())
    about = book_of({"tables.xlsx": content}).properties
    assert about.created == about.modified
    assert about.created.year == 1980


def test_a_cell_that_looks_like_a_mistake_of_a_formula_is_a_text(tmp_path):
    cell = book_of(exported([titled("#REF!")], xlsx_tables, tmp_path))["works"]["B2"]
    assert (cell.data_type, cell.value) == ("s", "#REF!")


def test_more_rows_than_a_sheet_holds_go_onto_another(tmp_path, monkeypatch):
    monkeypatch.setattr(xlsx_tables, "MOST_ROWS", 3)
    records = [titled(f"Tide {number}") for number in range(5)]
    book = book_of(exported(records, xlsx_tables, tmp_path))
    assert book.sheetnames[:4] == ["works", "works 2", "works 3", "inscriptions"]
    parts = [book[name] for name in ("works", "works 2", "works 3")]
    assert [part["B1"].value for part in parts] == ["Title"] * 3
    told = [part.cell(row, 2).value for part in parts for row in range(2, part.max_row + 1)]
    assert told == [f"Tide {number}" for number in range(5)]


# --- both ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("module", [csv_tables, xlsx_tables])
def test_the_same_works_give_the_same_bytes(tmp_path, module):
    records = [full_work(), titled("Low Tide")]
    one, other = (exported(records, module, tmp_path / name) for name in ("one", "other"))
    assert one == other


@settings(max_examples=25, deadline=None)
@given(works())
def test_every_work_can_be_told_in_tables(tmp_path_factory, work):
    files = exported([work], xlsx_tables, tmp_path_factory.mktemp("x"))
    assert book_of(files, read_only=True)["works"]["A1"].value == "Work"


def test_a_column_that_may_not_leave_says_so_for_every_work(tmp_path):
    files = exported([full_work(), titled("Low Tide")], csv_tables, tmp_path, "public")
    heads, *rows = rows_of(files["treatments.csv"])
    assert not rows or set(rows[0][heads.index("Outcome")]) == set("[withheld]")
    heads, *rows = rows_of(files["works.csv"])
    assert [row[heads.index("Other numbers")] for row in rows] == ["[withheld]", "[withheld]"]
    assert "Other numbers: [withheld]" in files["about-these-tables.txt"].decode("utf-8-sig")


@pytest.mark.parametrize("name", ["csv", "xlsx"])
def test_no_secret_leaves_in_a_table(tmp_path, name):
    work = full_work()
    with Studio.open("memory:") as studio:
        for record in (ARTIST, work, full_job(work)):
            studio.save(record, who=WHO)
        published = {ARTIST.name(): "she stands in the catalogue of her own show"}
        studio.export(name, "public", tmp_path / "public", allow=published)
    told = everything(tmp_path / "public")
    assert work.title() in told
    for secret in SECRETS:
        assert secret not in told


def everything(folder):
    """All that stands in the files of a folder, those in a zip unpacked."""
    told = []
    for path in folder.rglob("*"):
        if path.suffix == ".xlsx":
            with zipfile.ZipFile(path) as file:
                told += [file.read(name).decode() for name in file.namelist()]
        elif path.is_file():
            told.append(path.read_text("utf-8"))
    return "\n".join(told)


@pytest.mark.parametrize("name", sorted(profiles()))
def test_every_profile_has_tables(tmp_path, name):
    files = exported([full_work()], csv_tables, tmp_path, name)
    assert rows_of(files["works.csv"])[1][1] == full_work().title()


def test_head_words_are_different_within_a_table():
    for table in tables():
        assert len(set(table.heads)) == len(table.heads)


def test_a_way_that_leads_nowhere_is_told_with_its_place():
    levels = {"work": (Work, frozenset())}
    with pytest.raises(BadSetting, match=r"column 'Titel'.*leads nowhere at 'titel'"):
        column(levels, {"head": "Titel", "value": "work.titel"}, "table works, column 'Titel'")
