"""Works as one workbook (Office Open XML, ECMA-376): a sheet a table, and one that says how to read them.

Its parts are written by hand, for so every cell says itself that it is a text, a number or a day and
none can be a formula; rows go to the disk as they come; and the same works give the same bytes.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import IO, Final
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from catalogue import places
from catalogue.exchange.book_rows import letters
from catalogue.exchange.columns import Cell
from catalogue.exchange.outgoing import Files, Leaving, Sender, Writing
from catalogue.exchange.tables import SOURCE, Table, Tabling, tables
from catalogue.measure import Day

SAYS = "One workbook (XLSX): a sheet each for works, inscriptions, findings, treatments, the chain of hands."

MOST_ROWS: Final = 1_048_576
"""So many rows a sheet can have; what comes after goes onto another."""

MOST_LETTERS: Final = 32_767
"""So many letters a cell can hold (both from the page "Excel specifications and limits")."""

FIRST_DAY: Final = Day(1900, 3, 1)
"""The first day whose number is right: the count of days holds a 29 February 1900 that never was."""

LAST_DAY: Final = Day(9999, 12, 31)
_NOUGHT: Final = Day(1899, 12, 30).ordinal
_HEAD, _TEXT, _NUMBER, _DAY = 1, 2, 3, 4
_NAME: Final = "tables.xlsx"
_MAIN: Final = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_REFERS: Final = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE: Final = "http://schemas.openxmlformats.org/package/2006"
_SHEET_TYPE: Final = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_OPENING: Final = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_FIXED: Final = (1980, 1, 1, 0, 0, 0)
_UNWRITABLE: Final = re.compile("[\0-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")


def begin(sender: Sender) -> Writing:
    """An export as one workbook under way."""
    return _Workbook(sender)


class _Workbook:
    """A sheet a table, each a file in the scratch folder until the last work is in."""

    def __init__(self, sender: Sender) -> None:
        self._tabling = Tabling.under(sender)
        self._folder = sender.needed_scratch()
        self._sheets = {table.name: [self._sheet(table, 1)] for table in tables()}

    def _sheet(self, table: Table, part: int) -> _Sheet:
        name = table.name if part == 1 else f"{table.name} {part}"
        widths = [each.width for each in table.columns]
        return _Sheet(name, self._folder / f"{table.name}-{part}.xml", table.heads, widths)

    def add(self, leaving: Leaving) -> Files:
        for table, cells in self._tabling.rows(leaving):
            parts = self._sheets[table.name]
            if parts[-1].rows == MOST_ROWS:
                parts.append(self._sheet(table, len(parts) + 1))
            parts[-1].write(cells)
        return ()

    def close(self) -> Files:
        words = places.table(SOURCE)["words"]
        notes = _Sheet(words["notes_sheet"], self._folder / "notes.xml", (), (120,))
        for paragraph in self._tabling.notes(*words["notes_xlsx"]):
            notes.write((paragraph,))
        sheets = [each for parts in self._sheets.values() for each in parts] + [notes]
        for sheet in sheets:
            sheet.close()
        made = self._folder / _NAME
        with ZipFile(made, "w", ZIP_DEFLATED, compresslevel=6) as book:
            for name, part in _frame([each.name for each in sheets]).items():
                book.writestr(_entry(name), part)
            for number, sheet in enumerate(sheets, 1):
                into_book = _entry(f"xl/worksheets/sheet{number}.xml")
                with book.open(into_book, "w") as into, sheet.path.open("rb") as written:
                    shutil.copyfileobj(written, into, 1 << 20)
                sheet.path.unlink()
        yield _NAME, made


class _Sheet:
    """One sheet on its way to the disk: its head row stays in sight."""

    def __init__(
        self, name: str, path: Path, heads: tuple[str, ...], widths: Iterable[int]
    ) -> None:
        self.name = name
        self.path = path
        self.rows = 0
        self._letters: list[str] = []
        self._file: IO[str] = path.open("w", encoding="utf-8", newline="")
        columns = "".join(
            f'<col min="{at}" max="{at}" width="{width}" customWidth="1"/>'
            for at, width in enumerate(widths, 1)
        )
        frozen = (
            '<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/>'
            if heads
            else ""
        )
        self._file.write(
            f'{_OPENING}<worksheet xmlns="{_MAIN}"><sheetViews><sheetView workbookViewId="0">{frozen}'
            f"</sheetView></sheetViews><cols>{columns}</cols><sheetData>"
        )
        if heads:
            self._row(_text_cell(head, _HEAD) for head in heads)

    def write(self, cells: Iterable[Cell]) -> None:
        """Put one row beneath the others."""
        self._row(map(_cell, cells))

    def _row(self, cells: Iterable[str]) -> None:
        self.rows += 1
        number = self.rows
        told = []
        for at, cell in enumerate(cells):
            if at == len(self._letters):
                self._letters.append(letters(at))
            if cell:
                told.append(f'<c r="{self._letters[at]}{number}"{cell}')
        self._file.write(f'<row r="{number}">{"".join(told)}</row>')

    def close(self) -> None:
        """Write what stands behind the last row."""
        self._file.write("</sheetData></worksheet>")
        self._file.close()


def _cell(cell: Cell) -> str:
    """What follows the place of a cell, "" where nothing stands in it."""
    match cell:
        case None:
            return ""
        case str():
            return _text_cell(cell, _TEXT)
        case Day():
            if FIRST_DAY <= cell <= LAST_DAY:
                return f' s="{_DAY}"><v>{cell.ordinal - _NOUGHT}</v></c>'
            return _text_cell(cell.iso, _TEXT)
        case _:
            return f' s="{_NUMBER}"><v>{cell:.15g}</v></c>'


def _text_cell(text: str, style: int) -> str:
    return f' t="inlineStr" s="{style}"><is><t xml:space="preserve">{escaped(_held(text))}</t></is></c>'


def _held(text: str) -> str:
    """As much of a text as a cell holds, with a word where it is not all."""
    if len(text) <= MOST_LETTERS // 2 or _units(text) <= MOST_LETTERS:
        return text
    cut = places.table(SOURCE)["words"]["cut"]
    kept = text.encode("utf-16-le")[: 2 * (MOST_LETTERS - len(cut))]
    return kept.decode("utf-16-le", "ignore") + str(cut)


def _units(text: str) -> int:
    """How long a text is as spreadsheets count it: a letter beyond the first 65,536 counts twice."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def escaped(text: str) -> str:
    """A text as a part holds it; what XML cannot is written _xHHHH_ (ECMA-376 part 1, ST_Xstring).

    >>> escaped("Tide & Sky"), escaped("a_x0041_")
    ('Tide &amp; Sky', 'a_x005F_x0041_')
    """
    return escape(_UNWRITABLE.sub(lambda found: f"_x{ord(found[0]):04X}_", text))


def _entry(name: str) -> ZipInfo:
    entry = ZipInfo(name, _FIXED)
    entry.compress_type = ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    return entry


def _frame(names: list[str]) -> dict[str, str]:
    """Every part of the workbook but its sheets."""
    numbers = range(1, len(names) + 1)
    overrides = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{_SHEET_TYPE}.worksheet+xml"/>'
        for n in numbers
    )
    sheets = "".join(
        f'<sheet name="{escape(name)}" sheetId="{n}" r:id="rId{n}"/>'
        for n, name in zip(numbers, names, strict=True)
    )
    targets = "".join(
        f'<Relationship Id="rId{n}" Type="{_REFERS}/worksheet" Target="worksheets/sheet{n}.xml"/>'
        for n in numbers
    )
    styles = len(names) + 1
    return {
        "[Content_Types].xml": f'{_OPENING}<Types xmlns="{_PACKAGE}/content-types">'
        f'<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{_SHEET_TYPE}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{_SHEET_TYPE}.styles+xml"/>'
        f"{overrides}</Types>",
        "_rels/.rels": f'{_OPENING}<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{_REFERS}/officeDocument" Target="xl/workbook.xml"/>'
        f"</Relationships>",
        "xl/workbook.xml": f'{_OPENING}<workbook xmlns="{_MAIN}" xmlns:r="{_REFERS}">'
        f"<sheets>{sheets}</sheets></workbook>",
        "xl/_rels/workbook.xml.rels": f'{_OPENING}<Relationships xmlns="{_PACKAGE}/relationships">'
        f'{targets}<Relationship Id="rId{styles}" Type="{_REFERS}/styles" Target="styles.xml"/>'
        f"</Relationships>",
        "xl/styles.xml": _STYLES,
    }


_ALIGNED: Final = 'applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>'
_STYLES: Final = (
    f'{_OPENING}<styleSheet xmlns="{_MAIN}">'
    '<numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts>'
    '<fonts count="2"><font><sz val="11"/></font>'
    '<font><b/><sz val="11"/></font></fonts>'
    '<fills count="2"><fill><patternFill patternType="none"/></fill>'
    '<fill><patternFill patternType="gray125"/></fill></fills>'
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
    '<cellXfs count="5">'
    '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    f'<xf numFmtId="49" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1" {_ALIGNED}'
    f'<xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" {_ALIGNED}'
    '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
    '<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>'
    "</cellXfs>"
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>'
    "</styleSheet>"
)
"""Nothing; a head; a text (format 49 is "@": what is typed there later stays a text too); a number; a day."""
