"""Job books as files: encodings, separators, workbooks made by openpyxl, and files made to do harm."""

import datetime
import resource
import zipfile
from pathlib import Path

import openpyxl
import pytest
from openpyxl.utils.datetime import MAC_EPOCH, WINDOWS_EPOCH, from_excel

from catalogue.errors import BadDocument, BadSetting
from catalogue.exchange.books import from_csv as csv_books
from catalogue.exchange.books import from_xlsx as xlsx_books
from catalogue.exchange.books.day_numbers import day_of
from catalogue.exchange.books.encodings import encoding_of
from catalogue.exchange.books.mapping import Layout
from catalogue.exchange.tables.in_csv import line_of

HEADS = ["No.", "Title", "Client"]
ROWS = [
    ["1", "Café à l’étoile – Größe", "Frau Müller"],
    ["2", "Señora Núñez, œuvre «inachevée»", "Søren Åby, £5"],
]


def a_text(tmp_path, encoding, separator=";", rows=(HEADS, *ROWS)):
    made = tmp_path / "book.csv"
    made.write_bytes("".join(separator.join(row) + "\r\n" for row in rows).encode(encoding))
    return made


def read_out(book):
    return [{head: cell.text for head, cell in row.cells.items()} for row in book.rows]


# --- text files --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "encoding",
    ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "mac_roman"],
)
def test_an_encoding_is_found_out(tmp_path, encoding):
    book = csv_books.opened(a_text(tmp_path, encoding), Layout())
    assert book.heads == tuple(HEADS)
    assert read_out(book) == [dict(zip(HEADS, row, strict=True)) for row in ROWS]


@pytest.mark.parametrize("encoding", ["cp1252", "mac_roman"])
def test_a_guess_is_told_as_one(tmp_path, encoding):
    told = csv_books.opened(a_text(tmp_path, encoding), Layout()).told
    assert told[0].startswith(f"read as {encoding}, which is a guess")


def test_an_encoding_that_was_said_is_taken(tmp_path):
    source = a_text(tmp_path, "latin-1", rows=[HEADS, ["1", "Grö\x80e", ""]])
    assert (
        read_out(csv_books.opened(source, Layout(encoding="latin-1")))[0]["Title"] == "Grö\x80e"
    )
    with pytest.raises(BadSetting, match="no encoding 'klingon'"):
        encoding_of(source, "klingon")
    with pytest.raises(BadDocument, match="not in the encoding"):
        read_out(csv_books.opened(source, Layout(encoding="utf-8")))


@pytest.mark.parametrize("separator", [";", ",", "\t", "|"])
def test_a_separator_is_found_out(tmp_path, separator):
    rows = [HEADS, ["1", "Low Tide", "Mrs Quillan"], ["2", "a:b", "x"]]
    book = csv_books.opened(a_text(tmp_path, "utf-8", separator, rows), Layout())
    assert book.heads == tuple(HEADS)


def test_commas_within_texts_are_no_separators(tmp_path):
    rows = [HEADS, *([str(n), "Low Tide, Porthmellow, 1887", "Quillan, Mrs"] for n in range(9))]
    assert csv_books.opened(a_text(tmp_path, "utf-8", ";", rows), Layout()).heads == tuple(
        HEADS
    )


def test_empty_lines_and_lines_before_the_headings_are_passed(tmp_path):
    rows = [["Hollis studio"], [""], HEADS, ["", "", ""], ["7", "Low Tide", ""]]
    book = csv_books.opened(a_text(tmp_path, "utf-8", ";", rows), Layout(header_row=3))
    [row] = list(book.rows)
    assert (row.number, row.cells["Title"].text) == (5, "Low Tide")


def test_a_book_without_headings_has_columns_by_letter(tmp_path):
    book = csv_books.opened(a_text(tmp_path, "utf-8", ";", ROWS), Layout(header_row=0))
    assert book.heads == ("column A", "column B", "column C")
    assert len(list(book.rows)) == 2


def test_two_headings_alike_are_told_apart(tmp_path):
    source = a_text(tmp_path, "utf-8", ";", [["No.", "Notes", "Notes"], ["1", "a", "b"]])
    assert read_out(csv_books.opened(source, Layout())) == [
        {"No.": "1", "Notes": "a", "Notes (2)": "b"}
    ]


def test_an_apostrophe_that_dorse_put_there_is_taken_away(tmp_path):
    made = tmp_path / "works.csv"
    made.write_bytes((line_of(["Title"]) + line_of(["=Sunset"])).encode("utf-8-sig"))
    assert read_out(csv_books.opened(made, Layout()))[0]["Title"] == "'=Sunset"
    assert read_out(csv_books.opened(made, Layout(apostrophes=True)))[0]["Title"] == "=Sunset"


def test_a_quotation_mark_without_a_partner_is_told_with_its_row(tmp_path):
    made = tmp_path / "book.csv"
    made.write_text(
        'No.;Title\n1;Low Tide\n2;"and so on\n' + "x;y\n" * 60_000, encoding="utf-8"
    )
    book = csv_books.opened(made, Layout())
    with pytest.raises(BadDocument, match="cannot be read from row 3 on"):
        list(book.rows)
    made.write_text('No.;Title\n1;Low Tide\n2;"and so on\n3;Boats\n', encoding="utf-8")
    with pytest.raises(BadDocument, match="row 3 on: the file ends within"):
        list(csv_books.opened(made, Layout()).rows)


def test_a_book_of_a_gigabyte_is_refused_at_once(tmp_path):
    made = tmp_path / "book.csv"
    with made.open("wb") as file:
        file.truncate(1_000_000_000)
    for module in (csv_books, xlsx_books):
        with pytest.raises(BadDocument, match="at most 67 MB"):
            module.opened(made, Layout())


# --- workbooks -----------------------------------------------------------------------------------------


def a_workbook(tmp_path, fill, name="book.xlsx"):
    book = openpyxl.Workbook()
    book.active.title = "Jobs"
    book.active.append(HEADS)
    fill(book)
    book.save(tmp_path / name)
    return tmp_path / name


def test_a_workbook_is_read_as_openpyxl_reads_it(tmp_path):
    def fill(book):
        for row in ROWS:
            book.active.append(row)
        book.active.append([3, 63.5, True])
        book.active.append([None, None, "only a client"])
        book.active.append([4, datetime.date(1987, 5, 3), datetime.datetime(1950, 1, 2)])

    source = a_workbook(tmp_path, fill)
    ours = read_out(xlsx_books.opened(source, Layout()))
    theirs = [
        {head: told(value) for head, value in zip(HEADS, row, strict=True) if value is not None}
        for row in openpyxl.load_workbook(source).active.iter_rows(min_row=2, values_only=True)
    ]
    assert ours == theirs


def told(value):
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value.date().isoformat() if isinstance(value, datetime.datetime) else f"{value}"


@pytest.mark.parametrize("from_1904", [False, True])
def test_numbers_of_days_are_those_of_openpyxl_but_for_the_day_that_never_was(from_1904):
    epoch = MAC_EPOCH if from_1904 else WINDOWS_EPOCH
    for number in (1, 2, 58, 59, 61, 62, 366, 367, 1462, 10_000, 31_900, 46_000, 2_900_000):
        assert (
            day_of(number, from_1904=from_1904).iso
            == from_excel(number, epoch).date().isoformat()
        )


def test_number_60_is_no_day():
    # 1 is 1 January 1900 and 39448 is 1 January 2008: Microsoft's page "DATE function". 60 is 29 February
    # 1900 and 61 is 1 March 1900: R. Nyffenegger's notes, page "Excel: Serial number". That 0 is 1 January
    # 1904 in the other system is from memory; openpyxl agrees (the test above).
    assert day_of(60) is None
    assert day_of(1).iso == "1900-01-01"
    assert day_of(61).iso == "1900-03-01"
    assert day_of(39_448).iso == "2008-01-01"
    assert day_of(0, from_1904=True).iso == "1904-01-01"


def test_a_book_that_counts_from_1904_is_read_so(tmp_path):
    def fill(book):
        book.epoch = MAC_EPOCH
        book.active.append([1, datetime.date(1987, 5, 3), None])

    book = xlsx_books.opened(a_workbook(tmp_path, fill), Layout())
    assert read_out(book)[0]["Title"] == "1987-05-03"
    assert "the book counts its days from 1904" in book.told


def test_what_is_hidden_or_merged_is_told(tmp_path):
    def fill(book):
        for row in ROWS:
            book.active.append(row)
        book.active.row_dimensions[3].hidden = True
        book.active.column_dimensions["C"].hidden = True
        book.active.merge_cells("B2:B3")
        book.create_sheet("old").sheet_state = "hidden"

    book = xlsx_books.opened(a_workbook(tmp_path, fill), Layout())
    said = " / ".join(book.told)
    assert "other sheets are not read: old" in said
    assert "the sheet “old” is hidden" in said
    assert "rows that are hidden in the book are read like the others: 3" in said
    assert "hidden columns are read like the others: C" in said
    assert "merged cells: B2:B3" in said
    assert [row.remarks for row in book.rows] == [(), ("this row is hidden in the book",)]


def test_a_formula_gives_its_saved_value_or_says_that_it_has_none(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(["1", "=1+1", "x"]))
    [row] = list(xlsx_books.opened(source, Layout()).rows)
    assert row.cells["Title"].text == ""
    assert row.cells["Title"].remark.startswith("a formula without a saved value")
    rewritten(source, "xl/worksheets/sheet1.xml", b"<v></v>", b"<v>2</v>")
    rewritten(source, "xl/worksheets/sheet1.xml", b"<v/>", b"<v>2</v>")
    rewritten(source, "xl/worksheets/sheet1.xml", b"<v />", b"<v>2</v>")
    [row] = list(xlsx_books.opened(source, Layout()).rows)
    assert row.cells["Title"].value == 2


def rewritten(source, part, old, new):
    """The workbook with some bytes of a part changed."""
    with zipfile.ZipFile(source) as file:
        held = {name: file.read(name) for name in file.namelist()}
    held[part] = held[part].replace(old, new)
    with zipfile.ZipFile(source, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in held.items():
            file.writestr(name, content)


def test_a_cell_that_went_wrong_says_so(tmp_path):
    def fill(book):
        book.active.append(["1", "#REF!", "x"])
        book.active["B2"].data_type = "e"

    [row] = list(xlsx_books.opened(a_workbook(tmp_path, fill), Layout()).rows)
    assert "#REF!" in row.cells["Title"].remark


def test_merged_cells_are_filled_down_where_the_mapping_says_so(tmp_path):
    def fill(book):
        for row in (
            [1, "Low Tide", "Mrs Quillan"],
            [2, "Boats", None],
            [None] * 3,
            [3, "Gulls", None],
        ):
            book.active.append(row)
        book.active.merge_cells("C2:C4")

    source = a_workbook(tmp_path, fill)
    clients = [row.cells.get("Client") for row in xlsx_books.opened(source, Layout()).rows]
    assert [cell and cell.text for cell in clients] == ["Mrs Quillan", None, None]
    book = xlsx_books.opened(source, Layout(merged="fill"))
    assert (
        "merged cells: C2:C4. What stands in them is filled down, as the mapping says"
        in book.told
    )
    clients = [row.cells.get("Client") for row in book.rows]
    assert [cell and cell.text for cell in clients] == ["Mrs Quillan", "Mrs Quillan", None]
    assert clients[1].remark == "filled down from the merged cells C2:C4"


def test_a_cell_with_the_day_that_never_was_says_so(tmp_path):
    def fill(book):
        book.active.append([1, 60, 61])
        book.active["B2"].number_format = book.active["C2"].number_format = "dd/mm/yyyy"

    [row] = list(xlsx_books.opened(a_workbook(tmp_path, fill), Layout()).rows)
    assert (row.cells["Title"].text, row.cells["Client"].text) == ("60", "1900-03-01")
    assert "never was" in row.cells["Title"].remark


def test_letters_that_xml_cannot_hold_come_back(tmp_path):
    # ECMA-376 part 1, 22.9.2.19 (ST_Xstring); the escaped underscore is from memory.
    source = a_workbook(
        tmp_path, lambda book: book.active.append(["1", "a_x000D_b", "a_x005F_x0041_"])
    )
    [row] = list(xlsx_books.opened(source, Layout()).rows)
    assert (row.cells["Title"].text, row.cells["Client"].text) == ("a\rb", "a_x0041_")


def test_a_sheet_is_named_or_the_first_that_is_seen(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.create_sheet("1988").append(HEADS))
    assert xlsx_books.opened(source, Layout(sheet="1988")).sheet == "1988"
    assert xlsx_books.opened(source, Layout()).sheet == "Jobs"
    with pytest.raises(BadDocument, match=r"no sheet 'Joobs'"):
        xlsx_books.opened(source, Layout(sheet="Joobs"))


def test_macros_and_other_books_are_told_and_left(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    with zipfile.ZipFile(source, "a") as file:
        file.writestr("xl/vbaProject.bin", b"Sub Run()")
        file.writestr("xl/externalLinks/externalLink1.xml", "<externalLink/>")
    said = xlsx_books.opened(source, Layout()).told
    assert "the book holds macros; they are never run" in said
    assert "the book refers to other books; they are never opened" in said


# --- harm -----------------------------------------------------------------------------------------------


def test_an_old_workbook_is_refused_with_the_way_out(tmp_path):
    made = tmp_path / "book.xls"
    made.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2000))
    with pytest.raises(BadDocument, match=r"old sort \(.xls\), or it wants a password"):
        xlsx_books.opened(made, Layout())


def test_a_document_type_in_a_workbook_is_refused(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    laughs = b'<!DOCTYPE worksheet [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]><worksheet '
    rewritten(source, "xl/worksheets/sheet1.xml", b"<worksheet ", laughs)
    with pytest.raises(BadDocument, match="document type"):
        list(xlsx_books.opened(source, Layout()).rows)


@pytest.mark.parametrize(
    "part", ["xl/styles.xml", "xl/workbook.xml", "docProps/core.xml", "xl/media/image1.png"]
)
def test_a_document_type_is_refused_wherever_it_stands(tmp_path, part):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    with zipfile.ZipFile(source) as file:
        held = {name: file.read(name) for name in file.namelist()}
    held[part] = b'<!DOCTYPE a [<!ENTITY b "ha">]>' + held.get(part, b"<a>&b;</a>")
    with zipfile.ZipFile(source, "w") as file:
        for name, content in held.items():
            file.writestr(name, content)
    with pytest.raises(BadDocument, match=f"{part} declares a document type"):
        xlsx_books.opened(source, Layout())


SHEET = "xl/worksheets/sheet1.xml"
OPENS = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
SST = b'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
CELL = b'<row r="1"><c r="A1" t="inlineStr"><is><t>No.</t></is></c></row>'


@pytest.mark.parametrize(
    ("part", "opens", "again", "times", "said"),
    [
        (SHEET, OPENS + b"<sheetData>", b"<row/>", 2_000_000, "more than 1,048,576 rows"),
        (SHEET, OPENS + b'<sheetData><row r="1">', b"<c/>", 2_000_000, "cells out of order in row 1"),
        (SHEET, OPENS + b'<sheetData><row r="1"><c>', b"<t>a</t>", 1_000_000, "things in one row"),
        (SHEET, OPENS, b"<x/>", 1_000_000, "things beside its rows"),
        (SHEET, OPENS + b"<mergeCells>", b'<mergeCell ref="A1:B2"/>', 500_000, "things beside its rows"),
        (SHEET, OPENS, b"<x y='" + b"1" * 999 + b"'/>", 5_000, "letters beside its rows"),
        (SHEET, OPENS, b"<x>", 1_000_000, "elements within each other"),
        (SHEET, OPENS + b"<sheetData><row><c><v>", b"1" * 64, 100_000, "letters in one row"),
        (SHEET, OPENS + b"<x y='", b"1" * 64, 500_000, "a sign that does not end"),
        (SHEET, OPENS + b"<sheetData>", b'<row><c r="XFD1"/></row>', 20_000, "places for cells"),
        (SHEET, OPENS + b"<sheetData>" + CELL, b'<row r="999999999"/>', 1, "row 999999999 behind row 1"),
        ("xl/sharedStrings.xml", SST, b"<si/>", 3_000_000, "more than 800,000 rows or texts"),
        ("xl/styles.xml", b"<styleSheet>", b"<xf/>", 1_000_000, "things beside its rows"),
        ("xl/styles.xml", b"<styleSheet>", b"<!-- " + b"x" * 200 + b" -->", 100_000, "larger than 16 MB"),
    ],
)  # fmt: skip
def test_a_book_made_to_swell_is_refused_before_it_does(
    tmp_path, part, opens, again, times, said
):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    with zipfile.ZipFile(source) as file:
        held = {name: file.read(name) for name in file.namelist()}
    held[part] = opens + again * times
    # Not packed, so that it is not already refused for how far it would swell.
    with zipfile.ZipFile(source, "w") as file:
        for name, content in held.items():
            file.writestr(name, content)
    del held
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(BadDocument, match=said):
        list(xlsx_books.opened(source, Layout()).rows)
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert (after - before) / 1024 < 200  # megabytes


def test_letters_that_only_one_parser_reads_are_refused(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    rewritten(
        source,
        "xl/styles.xml",
        b"<styleSheet ",
        b"<?xml version='1.0' encoding='GB2312'?><styleSheet ",
    )
    with pytest.raises(BadDocument, match="in letters that are not read"):
        xlsx_books.opened(source, Layout())


def test_the_strict_form_of_the_format_is_told_with_the_way_out(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    strict = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
    rewritten(
        source, SHEET, b"http://schemas.openxmlformats.org/spreadsheetml/2006/main", strict
    )
    with pytest.raises(BadDocument, match="strict form of the format"):
        xlsx_books.opened(source, Layout())


def test_a_bomb_in_a_workbook_is_refused(tmp_path):
    source = a_workbook(tmp_path, lambda book: book.active.append(ROWS[0]))
    with zipfile.ZipFile(source, "a", zipfile.ZIP_DEFLATED) as file:
        file.writestr("xl/media/image1.png", bytes(200_000_000))
    with pytest.raises(BadDocument, match="swells"):
        xlsx_books.opened(source, Layout())


@pytest.mark.parametrize("damage", [b"", b"PK\x03\x04", b"<xml/>", b"PK\x05\x06" + bytes(18)])
def test_what_is_no_workbook_is_told_in_words(tmp_path, damage):
    made = tmp_path / "book.xlsx"
    made.write_bytes(damage)
    with pytest.raises(BadDocument):
        xlsx_books.opened(made, Layout())


def test_a_sheet_that_breaks_off_gives_its_rows_and_then_says_so(tmp_path):
    source = a_workbook(tmp_path, lambda book: [book.active.append(row) for row in ROWS])
    rewritten(source, "xl/worksheets/sheet1.xml", b"</sheetData>", b"<row><c>")
    with pytest.raises(BadDocument, match="is damaged"):
        list(xlsx_books.opened(source, Layout()).rows)


def test_a_workbook_of_many_rows_needs_little_memory(tmp_path):
    source = tmp_path / "many.xlsx"
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Jobs")
    sheet.append(HEADS)
    for number in range(30_000):
        sheet.append([number, f"Low Tide {number}", "Mrs Quillan"])
    book.save(source)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert sum(1 for _ in xlsx_books.opened(source, Layout()).rows) == 30_000
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert (after - before) / 1024 < 150  # megabytes
    assert Path(source).stat().st_size > 500_000
