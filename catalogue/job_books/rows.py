"""The rows of a job book, one after another, each as the records that it makes.

A row that cannot be read is told with its number and column, and the next one goes on.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final
from uuid import uuid5

from catalogue.errors import BadData, BadDocument, BadSetting
from catalogue.exchange.books import from_csv as csv_books
from catalogue.exchange.books import from_xlsx as xlsx_books
from catalogue.exchange.books.mapping import LEAVE, Layout, Mapping
from catalogue.exchange.books.rows import Book, BookRow, Written
from catalogue.job_books.cells import MEASURES, READERS, take_sizes
from catalogue.job_books.entry import Entry, shelf_of
from catalogue.job_books.people import PeopleOnFile
from catalogue.job_books.sizes import in_columns
from catalogue.job_books.told import CellRead, RowRead, said
from catalogue.job_books.totals import adds_up

WORKBOOKS: Final = (".xlsx", ".xlsm")
TEXTS: Final = (".csv", ".tsv", ".txt", ".tab")
_ZIP: Final = b"PK\x03\x04"
_OF_A_FIELD: Final = re.compile(r"^\w+\.(\w+):")


def opened(source: Path, mapping: Mapping) -> Book:
    """A job book under a mapping; columns that go nowhere are told first. Raises `BadDocument`."""
    book = laid_open(source, mapping.layout)
    words = said("told")
    missing = [name for name in (*mapping.columns, *mapping.key) if name not in book.heads]
    if missing:
        raise BadSetting(
            words["head_missing"].format(names=", ".join(dict.fromkeys(missing))),
            remedy=f"the book has: {', '.join(book.heads)}",
        )
    nowhere = [name for name in book.heads if mapping.columns.get(name, LEAVE) == LEAVE]
    if nowhere:
        book.told.insert(0, words["nowhere"].format(names=", ".join(nowhere)))
    return book


def laid_open(source: Path, layout: Layout) -> Book:
    """A job book, whatever its columns mean. Raises `BadDocument`."""
    if is_workbook(source):
        return xlsx_books.opened(source, layout)
    return csv_books.opened(source, layout)


def is_workbook(source: Path) -> bool:
    """Whether a file is a workbook, by how it begins; by its name where it is not there."""
    try:
        with source.open("rb") as file:
            start = file.read(4)
    except OSError:
        return source.suffix.lower() in WORKBOOKS
    return start in (_ZIP, b"\xd0\xcf\x11\xe0") or source.suffix.lower() in WORKBOOKS


@dataclass(slots=True)
class RowReader:
    """What reads the rows of one book, and remembers the keys that it met."""

    mapping: Mapping
    on_file: PeopleOnFile
    from_1904: bool | None = None
    _met: dict[bytes, int] = field(default_factory=dict)

    def rows(self, book: Book) -> Iterator[RowRead]:
        """Every row of a book as read, the bad ones with the reason; so is what breaks the book off."""
        last = self.mapping.layout.header_row
        try:
            for row in book.rows:
                last = row.number
                yield self.read(row)
        except BadDocument as wrong:
            yield RowRead(row=last + 1, key="", refused=str(wrong).removeprefix("/: "))

    def read(self, row: BookRow) -> RowRead:
        """One row as read."""
        words = said("row")
        key = " / ".join(self._plain(row, name) for name in self.mapping.key)
        if adds_up(row, key.strip(" /"), self.mapping):
            return RowRead(row=row.number, key=key, refused=words["total"])
        if not key.strip(" /"):
            columns = ", ".join(self.mapping.key)
            return RowRead(
                row=row.number, key="", refused=words["no_key"].format(columns=columns)
            )
        digest = hashlib.blake2b(key.encode("utf-8", "surrogatepass"), digest_size=16).digest()
        before = self._met.setdefault(digest, row.number)
        if before != row.number:
            said_twice = words["twice"].format(key=key, row=before)
            return RowRead(row=row.number, key=key, refused=said_twice)
        entry = Entry(self.mapping, uuid5(shelf_of(self.mapping.name), key), self.from_1904)
        cells: list[CellRead] = []
        made = RowRead(row=row.number, key=key)
        try:
            cells += self._cells(entry, row)
            cells.sort(key=lambda each: self._place(each.column))
            if row.beyond:
                entry.note("note/other", row.beyond, "beyond")
            if not entry.says_something:
                return replace(made, cells=tuple(cells), refused=words["nothing"])
            parties = self.on_file.fresh()
            return replace(
                made,
                cells=tuple(cells),
                remarks=self._remarks(row),
                work=entry.work(),
                job=entry.commission(),
                parties=parties,
            )
        except BadData as wrong:
            self.on_file.forget_fresh()
            return replace(made, cells=tuple(cells), refused=self._why(wrong, cells))

    def _cells(self, entry: Entry, row: BookRow) -> Iterator[CellRead]:
        found = {name: head for head, name in self.mapping.columns.items() if name != LEAVE}
        by_field: dict[str, list[str]] = {}
        for head, name in self.mapping.columns.items():
            by_field.setdefault(name, []).append(head)
        for name, reads in READERS.items():
            heads = [head for head in by_field.get(name, ()) if self._says(row, head)]
            for head in heads:
                cell = row.cells[head]
                read = _with_rest(self._one(entry, head, cell, name))
                yield replace(read, remarks=(*filter(None, (cell.remark,)), *read.remarks))
            if not heads and name in self.mapping.fixed:
                text = self.mapping.fixed[name]
                yield reads(entry, name, Written(text, text), self.on_file)
        yield from self._saying_nothing(row)
        if entry.measures:
            columns = ", ".join(found[name] for name in MEASURES if name in entry.measures)
            written = " × ".join(entry.measures.values())
            sizes = in_columns(entry.measures, self.mapping.habits)
            yield take_sizes(entry, columns, "size", written, sizes, "size/support")
        if entry.reaches and "client" not in entry.job:
            for _, text in entry.reaches:
                entry.job_note("note/private", text, "contact", name="?")

    def _saying_nothing(self, row: BookRow) -> Iterator[CellRead]:
        """Cells that hold but a word for an empty one, or nothing but what went wrong with them."""
        for head, name in self.mapping.columns.items():
            cell = row.cells.get(head)
            if cell is None or name == LEAVE or self._says(row, head):
                continue
            yield from _empty(head, name, cell, self._plain(row, head))

    def _one(self, entry: Entry, head: str, cell: Written, name: str) -> CellRead:
        try:
            return READERS[name](entry, head, cell, self.on_file)
        except BadData as wrong:
            raise BadCell(head, str(wrong)) from None

    def _says(self, row: BookRow, head: str) -> bool:
        text = self._plain(row, head)
        return bool(text) and text.casefold() not in self.mapping.habits.nothing

    @staticmethod
    def _plain(row: BookRow, head: str) -> str:
        return " ".join(row.cells[head].text.split()) if head in row.cells else ""

    def _place(self, column: str) -> int:
        """Where a column stands in the mapping, so that a row is shown as it stands in the book."""
        heads = [*self.mapping.columns, *self.mapping.fixed]
        first = column.partition(", ")[0] if column not in heads else column
        return heads.index(first) if first in heads else len(heads)

    @staticmethod
    def _remarks(row: BookRow) -> tuple[str, ...]:
        beyond = said("told")["beyond_heads"].format(text=row.beyond) if row.beyond else ""
        return tuple(filter(None, (*row.remarks, beyond)))

    def _why(self, wrong: BadData, cells: list[CellRead]) -> str:
        """Why a row is refused, with the column where that is known."""
        if isinstance(wrong, BadCell):
            return said("row")["no_field"].format(column=wrong.column, why=wrong.why)
        found = _OF_A_FIELD.match(str(wrong))
        name = found[1].replace("_", "-") if found else ""
        column = next((each.column for each in cells if each.field == name), "")
        if not column:
            return str(wrong)
        why = str(wrong).removeprefix(found[0]).strip() if found else str(wrong)
        return said("row")["no_field"].format(column=column, why=why)


def _empty(head: str, name: str, cell: Written, text: str) -> Iterator[CellRead]:
    """A cell that stands empty, as read: a stroke says that there is nothing, a "?" is left over."""
    words = said("row")
    remarks = (cell.remark,) if cell.remark else ()
    if "?" in text:
        unknown = words["unknown_said"].format(text=text)
        yield CellRead(head, name, cell.text, rest=text, remarks=(*remarks, unknown))
    elif text:
        yield CellRead(head, name, cell.text, (words["nothing_said"],), remarks=remarks)
    elif remarks:
        yield CellRead(head, name, "", remarks=remarks)


def _with_rest(read: CellRead) -> CellRead:
    """The same, with all of a cell as what is left over where nothing of it was understood."""
    if read.understood or read.rest or read.field in MEASURES:
        return read
    return replace(read, rest=" ".join(read.written.split()))


class BadCell(BadData):
    """A cell that cannot be kept; `column` is its heading."""

    def __init__(self, column: str, why: str) -> None:
        super().__init__(f"{column}: {why}")
        self.column = column
        self.why = why
