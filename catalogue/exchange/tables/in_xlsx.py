"""Works as one workbook (Office Open XML): a sheet a table, and one that says how to read them.

openpyxl writes it, row by row as they come. Every text is given to it as a text, so that no cell is a
formula; and what it takes from the clock is fixed afterwards, so that the same works give the same bytes.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import Any, Final
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font, NamedStyle
from openpyxl.utils import get_column_letter
from openpyxl.xml.functions import tostring

from catalogue import places
from catalogue.exchange.outgoing import Files, Leaving, Sender, Writing
from catalogue.exchange.tables.columns import Cell
from catalogue.exchange.tables.tables import SOURCE, Table, Tabling, tables
from catalogue.measure import Day

SAYS = "One workbook (XLSX): a sheet each for works, inscriptions, findings, treatments, the chain of hands."

MOST_ROWS: Final = 1_048_576
"""So many rows a sheet can have; what comes after goes onto another."""

MOST_LETTERS: Final = 32_767
"""So many letters a cell can hold (both from the page "Excel specifications and limits")."""

FIRST_DAY: Final = Day(1900, 3, 1)
"""The first day whose number is right: the count of days holds a 29 February 1900 that never was."""

LAST_DAY: Final = Day(9999, 12, 31)
_HEAD, _TEXT, _NUMBER, _DAY = "head", "text", "number", "day"
_NAME: Final = "tables.xlsx"
_PROPERTIES: Final = "docProps/core.xml"
_FIXED: Final = datetime(1980, 1, 1)
_UNWRITABLE: Final = re.compile(
    "[\0-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)"
)


def begin(sender: Sender) -> Writing:
    """An export as one workbook under way."""
    return _Workbook(sender)


class _Workbook:
    """A sheet a table; the rows of each wait on the disk until the last work is in."""

    def __init__(self, sender: Sender) -> None:
        self._tabling = Tabling.under(sender)
        self._folder = sender.needed_scratch()
        self._changed = datetime.fromisoformat(sender.changed) if sender.changed else _FIXED
        self._book = Workbook(write_only=True)
        for style in _styles():
            self._book.add_named_style(style)
        self._sheets = {table.name: [self._sheet(table)] for table in tables()}

    def _sheet(self, table: Table, before: _Sheet | None = None, part: int = 1) -> _Sheet:
        """A sheet for the rows of a table, behind the sheet that the ones `before` filled."""
        name = table.name if part == 1 else f"{table.name} {part}"
        place = self._book.index(before.held) + 1 if before else None
        widths = [each.width for each in table.columns]
        return _Sheet(self._book.create_sheet(name, place), table.heads, widths)

    def add(self, leaving: Leaving) -> Files:
        for table, cells in self._tabling.rows(leaving):
            parts = self._sheets[table.name]
            if parts[-1].rows == MOST_ROWS:
                parts.append(self._sheet(table, parts[-1], len(parts) + 1))
            parts[-1].write(cells)
        return ()

    def close(self) -> Files:
        words = places.table(SOURCE)["words"]
        notes = _Sheet(self._book.create_sheet(words["notes_sheet"]), (), (120,))
        for paragraph in self._tabling.notes(*words["notes_xlsx"]):
            notes.write((paragraph,))
        written = self._folder / "written.xlsx"
        self._book.save(written)
        made = self._folder / _NAME
        about = self._book.properties
        about.creator, about.created, about.modified = "dorse", self._changed, self._changed
        _without_clock(written, made, {_PROPERTIES: tostring(about.to_tree())})
        written.unlink()
        yield _NAME, made


class _Sheet:
    """One sheet on its way to the disk: its head row stays in sight."""

    def __init__(self, held: Any, heads: tuple[str, ...], widths: Iterable[int]) -> None:
        self.held = held
        self.rows = 0
        for at, width in enumerate(widths, 1):
            held.column_dimensions[get_column_letter(at)].width = width
        if heads:
            held.freeze_panes = "A2"
            self._append(self._cell(head, _HEAD) for head in heads)

    def write(self, cells: Iterable[Cell]) -> None:
        """Put one row beneath the others."""
        self._append(map(self._told, cells))

    def _append(self, cells: Iterable[Any]) -> None:
        self.rows += 1
        self.held.append(list(cells))

    def _told(self, cell: Cell) -> Any:
        match cell:
            case None:
                return None
            case str():
                return self._cell(cell, _TEXT)
            case Day():
                if FIRST_DAY <= cell <= LAST_DAY:
                    return self._cell(date(cell.year, cell.month, cell.day), _DAY)
                return self._cell(cell.iso, _TEXT)
            case _:
                return self._cell(cell, _NUMBER)

    def _cell(self, value: str | float | date, style: str) -> Any:
        cell = WriteOnlyCell(self.held)
        if isinstance(value, str):
            value = _held(escaped(value))
        cell.value = value
        if isinstance(value, str):
            # What begins with = would be taken for a formula, and "#REF!" for a mistake.
            cell.data_type = "s"
        cell.style = style
        return cell


def _held(text: str) -> str:
    """As much of a text as a cell holds, with a word where it is not all."""
    if len(text) <= MOST_LETTERS // 2 or _units(text) <= MOST_LETTERS:
        return text
    cut = places.table(SOURCE)["words"]["cut"]
    kept = text.encode("utf-16-le", "surrogatepass")[: 2 * (MOST_LETTERS - len(cut))]
    return kept.decode("utf-16-le", "ignore") + str(cut)


def _units(text: str) -> int:
    """How long a text is as spreadsheets count it: a letter beyond the first 65,536 counts twice."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def escaped(text: str) -> str:
    """A text as a cell holds it; what XML cannot is written _xHHHH_ (ECMA-376 part 1, ST_Xstring).

    >>> escaped("Tide\\x0b"), escaped("a_x0041_")
    ('Tide_x000B_', 'a_x005F_x0041_')
    """
    return _UNWRITABLE.sub(lambda found: f"_x{ord(found[0]):04X}_", text)


def _without_clock(written: Path, made: Path, instead: dict[str, bytes]) -> None:
    """The same workbook with entries in order and of one time, and other content for some of them."""
    with ZipFile(written) as old, ZipFile(made, "w") as new:
        for name in sorted(old.namelist()):
            entry = ZipInfo(name, _FIXED.timetuple()[:6])
            entry.compress_type = ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            if name in instead:
                new.writestr(entry, instead[name])
                continue
            with old.open(name) as held, new.open(entry, "w") as into:
                shutil.copyfileobj(held, into, 1 << 20)


def _styles() -> tuple[NamedStyle, ...]:
    """How a head, a text (typed there later it stays a text), a number and a day are shown."""
    wrapped = Alignment(vertical="top", wrap_text=True)
    return (
        NamedStyle(_HEAD, font=Font(bold=True), alignment=wrapped, number_format="@"),
        NamedStyle(_TEXT, alignment=wrapped, number_format="@"),
        NamedStyle(_NUMBER),
        NamedStyle(_DAY, number_format="yyyy-mm-dd"),
    )
