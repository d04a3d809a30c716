"""A job book in a workbook (Office Open XML): one sheet, row by row, and what is odd about the book.

openpyxl reads it, once `xlsx_look` has seen that it can do no harm. Nothing in it is run, computed or
followed.
"""

from __future__ import annotations

import re
import warnings
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from io import BytesIO
from pathlib import Path
from typing import Any, Final
from xml.etree.ElementTree import ParseError
from zipfile import BadZipFile

from lxml.etree import XMLSyntaxError
from openpyxl import load_workbook
from openpyxl.utils import range_boundaries
from openpyxl.utils.datetime import CALENDAR_MAC_1904
from openpyxl.utils.exceptions import InvalidFileException

from catalogue.errors import BadDocument
from catalogue.exchange import zips
from catalogue.exchange.books.day_numbers import NEVER_WAS
from catalogue.exchange.books.mapping import FILL, Layout
from catalogue.exchange.books.rows import (
    LONGEST_CELL,
    Book,
    BookRow,
    Written,
    headings,
    refuse_too_large,
)
from catalogue.exchange.books.xlsx_look import Look, damaged, looks
from catalogue.measure import Day
from catalogue.places import table

LIMITS: Final = zips.Limits(
    entries=5_000, all_bytes=600_000_000, one_bytes=400_000_000, swells=300
)
_OLD_BOOK: Final = b"\xd0\xcf\x11\xe0"
_TOLD_AT_MOST: Final = 8
_ESCAPED: Final = re.compile(r"_x([0-9A-Fa-f]{4})_")
_REFUSES: Final = (
    ArithmeticError, AttributeError, BadZipFile, EOFError, InvalidFileException, LookupError,
    OSError, ParseError, RecursionError, TypeError, ValueError, XMLSyntaxError, zlib.error,
)  # fmt: skip
"""What openpyxl raises for a book that it cannot read: it looks at what it wants, as it comes to it."""

_Rows = Iterator[tuple[int, dict[int, Written]]]


def opened(source: Path, layout: Layout) -> Book:
    """The book in a workbook. Raises `BadDocument` where it cannot be one."""
    _refuse(source)
    words = table("job_books.toml")["told"]
    with zips.opened(source, LIMITS) as file:
        names = file.namelist()
        seen = looks(file)
    book = _loaded(source)
    sheet = _sheet(book, layout.sheet)
    # openpyxl has no other word for which part a sheet is in.
    look = seen.get(sheet._worksheet_path) or Look(sheet._worksheet_path)
    if look.broken:
        raise damaged(look.part, look.broken)
    told = [words["sheet"].format(name=sheet.title)]
    others = [each.title for each in book.worksheets if each is not sheet]
    if others:
        told.append(words["other_sheets"].format(names=", ".join(others)))
    told += [
        words["hidden_sheet"].format(name=each.title)
        for each in book.worksheets
        if each.sheet_state != "visible"
    ]
    from_1904 = book.epoch == CALENDAR_MAC_1904
    if any(name.endswith("vbaProject.bin") for name in names):
        told.append(words["macros"])
    if any(name.startswith("xl/externalLinks/") for name in names):
        told.append(words["links"])
    if from_1904:
        told.append(words["from_1904"])
    told += _told(look, layout)
    reader = _Reader(source, sheet, look, from_1904, fill=layout.merged == FILL)
    rows = reader.rows()
    heads = (
        headings([""] * look.columns)
        if layout.header_row == 0
        else reader.heads(rows, layout.header_row)
    )
    return Book(heads, reader.under(heads, rows), told, from_1904, sheet.title)


def _refuse(source: Path) -> None:
    refuse_too_large(source, remedy="save the sheet that matters as a book of its own")
    with source.open("rb") as file:
        if file.read(4) == _OLD_BOOK:
            raise BadDocument(
                f"{source.name} is a workbook of the old sort (.xls), or it wants a password",
                remedy="open it, and save it as .xlsx or .csv without a password",
            )


def _loaded(source: Path) -> Any:
    # From memory, so that no file stays open for as long as nobody reads the rows.
    held = BytesIO(source.read_bytes())
    try:
        # What it warns of (drawings, rules for typing) is nothing that a job book says.
        with warnings.catch_warnings(action="ignore"):
            return load_workbook(held, read_only=True, data_only=True, keep_links=False)
    except _REFUSES as wrong:
        raise BadDocument(
            f"{source.name} cannot be read as a workbook: {_first_line(wrong)}",
            remedy="open it, and save it anew as .xlsx or .csv",
        ) from None


def _sheet(book: Any, wanted: str) -> Any:
    """The sheet of that name, or the first one that is not hidden. Raises `BadDocument`."""
    for each in book.worksheets:
        if wanted.casefold() == each.title.casefold() or (
            not wanted and each.sheet_state == "visible"
        ):
            # What a sheet says of its size may be wrong, and would cut it off.
            each.reset_dimensions()
            return each
    raise BadDocument(
        f"the book has no sheet {wanted!r}",
        remedy=f"it has: {', '.join(each.title for each in book.worksheets) or 'none'}",
    )


def _told(look: Look, layout: Layout) -> Iterator[str]:
    words = table("job_books.toml")["told"]
    if look.hidden_rows:
        yield words["hidden_rows"].format(
            count=len(look.hidden_rows),
            rows=_few([str(number) for number in sorted(look.hidden_rows)]),
        )
    if look.hidden_columns:
        yield words["hidden_columns"].format(columns=_few(look.hidden_columns))
    if look.merged:
        said = words["merged_filled" if layout.merged == FILL else "merged"]
        yield said.format(count=len(look.merged), places=_few(look.merged))


def _few(names: list[str]) -> str:
    more = ", ..." if len(names) > _TOLD_AT_MOST else ""
    return ", ".join(names[:_TOLD_AT_MOST]) + more


@dataclass(frozen=True, slots=True)
class _Reader:
    source: Path
    sheet: Any
    look: Look
    from_1904: bool
    fill: bool

    def rows(self) -> _Rows:
        """Every row that holds something, with its number and its cells by their place."""
        rows = self._filled() if self.fill else self._read()
        yield from ((number, cells) for number, cells in rows if cells)

    def _read(self) -> _Rows:
        rows = self.sheet.iter_rows()
        number = 0
        while True:
            try:
                with warnings.catch_warnings(action="ignore"):
                    row = next(rows, None)
            except _REFUSES as wrong:
                why = f"behind row {number}: {_first_line(wrong)}"
                raise damaged(self.look.part, why) from None
            if row is None:
                return
            number += 1
            told = ((at, self._cell(number, at, cell)) for at, cell in enumerate(row))
            yield number, {at: cell for at, cell in told if cell is not None}

    def _filled(self) -> _Rows:
        """The rows with what stands in merged cells filled down to the last of them."""
        ends: dict[tuple[int, int], tuple[int, str]] = {}
        for place in self.look.merged:
            try:
                column, first, _, last = range_boundaries(place)
            except (ValueError, TypeError):
                continue
            ends[first, column - 1] = last, place
        remark = table("job_books.toml")["told"]["filled"]
        going: dict[int, tuple[int, Written]] = {}
        for number, cells in self._read():
            begun = {
                at: (last, replace(cell, remark=remark.format(place=place)))
                for at, cell in cells.items()
                if (found := ends.get((number, at)))
                for last, place in (found,)
            }
            going = {at: each for at, each in going.items() if number <= each[0]}
            # A row that holds nothing of its own does not become one by this.
            if cells:
                cells = {**{at: cell for at, (_, cell) in going.items()}, **cells}
            going.update(begun)
            yield number, cells

    def heads(self, rows: _Rows, wanted: int) -> tuple[str, ...]:
        """The head words, which stand in the row of this number."""
        for number, cells in rows:
            if number == wanted:
                texts = [cells[at].text if at in cells else "" for at in range(max(cells) + 1)]
                return headings(texts)
            if number > wanted:
                break
        raise BadDocument(
            f"{self.source.name}: nothing stands in row {wanted}, where the headings should be",
            remedy="say header_row = ... in the mapping",
        )

    def under(self, heads: tuple[str, ...], rows: _Rows) -> Iterator[BookRow]:
        """The rows beneath the headings, their cells by heading."""
        words = table("job_books.toml")["told"]
        for number, cells in rows:
            beyond = [each.text for at, each in cells.items() if at >= len(heads) and each.text]
            remarks = (words["hidden_row"],) if number in self.look.hidden_rows else ()
            held = {heads[at]: cell for at, cell in cells.items() if at < len(heads)}
            yield BookRow(number, held, remarks, "; ".join(beyond))

    def _cell(self, row: int, column: int, cell: Any) -> Written | None:
        """What stands in a cell, None for nothing."""
        words = table("job_books.toml")
        value = cell.value
        if value is None:
            if self.look.formula_without_value(row, column):
                return Written("", None, words["told"]["formula_empty"])
            return None
        if cell.data_type == "e":
            return Written("", None, words["told"]["error_cell"].format(text=value))
        if isinstance(value, datetime):
            if not self.from_1904 and self.look.sixty(row, column):
                return Written(str(NEVER_WAS), NEVER_WAS, words["row"]["day_never_was"])
            day = Day(value.year, value.month, value.day)
            hour = f"{value:%H:%M}" if value.time() != time() else ""
            return Written(
                day.iso, day, words["told"]["with_time"].format(time=hour) if hour else ""
            )
        match value:
            case bool():
                return Written("yes" if value else "no", value)
            case date():
                day = Day(value.year, value.month, value.day)
                return Written(day.iso, day)
            case int() | float():
                return _number(value)
            case _:
                return _text(str(value))


def _number(value: float) -> Written:
    try:
        short = f"{value:.15g}"
    except OverflowError:
        return Written(str(value), str(value))
    whole = isinstance(value, float) and value.is_integer() and "e" not in short
    return Written(short, int(value) if whole else value)


def _text(text: str) -> Written | None:
    text = _ESCAPED.sub(lambda found: _letter(found[1]), text)
    if not text.strip():
        return None
    if len(text) > LONGEST_CELL:
        said = table("job_books.toml")["told"]["cell_too_long"].format(letters=len(text))
        return Written(text[:LONGEST_CELL], text[:LONGEST_CELL], said)
    return Written(text, text)


def _letter(code: str) -> str:
    """The letter that a workbook writes as _xHHHH_ (ECMA-376 part 1, ST_Xstring)."""
    letter = chr(int(code, 16))
    # What is half a letter, or nought, is no text.
    return (
        "\N{REPLACEMENT CHARACTER}"
        if letter == "\0" or "\ud800" <= letter <= "\udfff"
        else letter
    )


def _first_line(wrong: BaseException) -> str:
    return (str(wrong).strip().splitlines() or [type(wrong).__name__])[0]
