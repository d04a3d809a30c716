"""A job book in a workbook (Office Open XML): one sheet, row by row, and what is odd about the book.

Nothing in it is run, computed or followed. A first look over the sheet finds what stands behind the rows
or beside them (merged cells, hidden rows); the second reads them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final
from zipfile import ZipFile

from catalogue.errors import BadDocument
from catalogue.exchange import zips
from catalogue.exchange.book_mapping import Layout
from catalogue.exchange.book_rows import (
    LARGEST,
    LONGEST_CELL,
    Book,
    BookRow,
    Written,
    headings,
    letters,
)
from catalogue.exchange.day_numbers import NEVER_WAS, day_of, time_in
from catalogue.exchange.xlsx_parts import Parts, column_of, elements, inline_text
from catalogue.measure import Day
from catalogue.places import table

LIMITS: Final = zips.Limits(
    entries=5_000, all_bytes=600_000_000, one_bytes=400_000_000, swells=300
)
_OLD_BOOK: Final = b"\xd0\xcf\x11\xe0"
_TOLD_AT_MOST: Final = 8


def opened(source: Path, layout: Layout) -> Book:
    """The book in a workbook. Raises `BadDocument` where it cannot be one."""
    _refuse(source)
    words = table("job_books.toml")["told"]
    with zips.opened(source, LIMITS) as file:
        parts = Parts.of(file)
        sheet = parts.sheet(layout.sheet)
        facts = _Facts.of(file, sheet.part)
        shared = parts.shared_strings(file)
    told = [words["sheet"].format(name=sheet.name)]
    others = [each.name for each in parts.sheets if each.name != sheet.name]
    if others:
        told.append(words["other_sheets"].format(names=", ".join(others)))
    told += [
        words["hidden_sheet"].format(name=each.name) for each in parts.sheets if each.hidden
    ]
    told += [words[name] for name in ("macros", "links", "from_1904") if getattr(parts, name)]
    told += facts.told()
    reader = _Reader(source, sheet.part, parts, shared, facts)
    rows = reader.rows()
    heads = (
        headings([""] * facts.columns)
        if layout.header_row == 0
        else reader.heads(rows, layout.header_row)
    )
    return Book(heads, reader.under(heads, rows), told, parts.from_1904, sheet.name)


def _refuse(source: Path) -> None:
    if not source.is_file():
        raise BadDocument(f"{source} is not there", remedy="check the path")
    size = source.stat().st_size
    if size > LARGEST:
        raise BadDocument(
            f"{source.name} is {size // 1_000_000} MB; at most {LARGEST // 1_000_000} MB are read",
            remedy="save the sheet that matters as a book of its own",
        )
    with source.open("rb") as file:
        if file.read(4) == _OLD_BOOK:
            raise BadDocument(
                f"{source.name} is a workbook of the old sort (.xls), or it wants a password",
                remedy="open it, and save it as .xlsx or .csv without a password",
            )


@dataclass(slots=True)
class _Facts:
    """What a first look over a sheet finds."""

    columns: int = 0
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[str] = field(default_factory=list)
    merged: list[str] = field(default_factory=list)

    @classmethod
    def of(cls, file: ZipFile, part: str) -> _Facts:
        found = cls()
        number = 0
        for element in elements(file, part, ("row", "col", "mergeCell")):
            name = element.tag.rpartition("}")[2]
            if name == "row":
                number = int(element.get("r") or number + 1)
                if element.get("hidden") in ("1", "true"):
                    found.hidden_rows.add(number)
                if len(element):
                    found.columns = max(
                        found.columns, column_of(element[-1], len(element) - 1) + 1
                    )
            elif name == "col" and element.get("hidden") in ("1", "true"):
                first = int(element.get("min", "1")) - 1
                last = min(int(element.get("max", "1")), first + _TOLD_AT_MOST)
                found.hidden_columns += [letters(at) for at in range(first, last)]
            elif name == "mergeCell":
                found.merged.append(str(element.get("ref")))
        return found

    def told(self) -> Iterator[str]:
        words = table("job_books.toml")["told"]
        if self.hidden_rows:
            yield words["hidden_rows"].format(
                count=len(self.hidden_rows),
                rows=_few([str(n) for n in sorted(self.hidden_rows)]),
            )
        if self.hidden_columns:
            yield words["hidden_columns"].format(columns=_few(self.hidden_columns))
        if self.merged:
            yield words["merged"].format(count=len(self.merged), places=_few(self.merged))


def _few(names: list[str]) -> str:
    more = ", ..." if len(names) > _TOLD_AT_MOST else ""
    return ", ".join(names[:_TOLD_AT_MOST]) + more


@dataclass(frozen=True, slots=True)
class _Reader:
    source: Path
    part: str
    parts: Parts
    shared: list[str]
    facts: _Facts

    def rows(self) -> Iterator[tuple[int, dict[int, Written]]]:
        """Every row that holds something, with its number and its cells by their place."""
        number = 0
        with zips.opened(self.source, LIMITS) as file:
            for row in elements(file, self.part, ("row",)):
                number = int(row.get("r") or number + 1)
                cells: dict[int, Written] = {}
                at = -1
                for cell in row:
                    at = column_of(cell, at + 1)
                    told = self._cell(cell)
                    if told is not None:
                        cells[at] = told
                if cells:
                    yield number, cells

    def heads(
        self, rows: Iterator[tuple[int, dict[int, Written]]], wanted: int
    ) -> tuple[str, ...]:
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

    def under(
        self, heads: tuple[str, ...], rows: Iterator[tuple[int, dict[int, Written]]]
    ) -> Iterator[BookRow]:
        """The rows beneath the headings, their cells by heading."""
        words = table("job_books.toml")["told"]
        for number, cells in rows:
            beyond = [each.text for at, each in cells.items() if at >= len(heads) and each.text]
            remarks = (words["hidden_row"],) if number in self.facts.hidden_rows else ()
            held = {heads[at]: cell for at, cell in cells.items() if at < len(heads)}
            yield BookRow(number, held, remarks, "; ".join(beyond))

    def _cell(self, cell: Any) -> Written | None:
        """What stands in a cell, None for nothing."""
        words = table("job_books.toml")["told"]
        kind = cell.get("t", "n")
        held: str | None = None
        formula = False
        for child in cell:
            name = child.tag.rpartition("}")[2]
            if name == "v":
                held = child.text or ""
            elif name == "is":
                held = inline_text(child)
            elif name == "f":
                formula = True
        if held is None or (held == "" and kind == "n"):
            return Written("", None, words["formula_empty"]) if formula else None
        if kind == "e":
            return Written("", None, words["error_cell"].format(text=held))
        if kind == "b":
            return Written("yes" if held == "1" else "no", held == "1")
        if kind == "s":
            at = int(held) if held.isdigit() else -1
            held = self.shared[at] if 0 <= at < len(self.shared) else ""
        if kind == "n":
            return self._number(held, int(cell.get("s") or 0))
        if kind == "d":
            return Written(held, _iso_day(held))
        if not held.strip():
            return None
        if len(held) > LONGEST_CELL:
            said = words["cell_too_long"].format(letters=len(held))
            return Written(held[:LONGEST_CELL], held[:LONGEST_CELL], said)
        return Written(held, held)

    def _number(self, held: str, style: int) -> Written:
        words = table("job_books.toml")
        try:
            number = float(held)
        except ValueError:
            return Written(held, held)
        if style not in self.parts.day_styles:
            short = f"{number:.15g}"
            return Written(
                short, int(number) if number.is_integer() and "e" not in short else number
            )
        day = day_of(number, from_1904=self.parts.from_1904)
        if day is None:
            never = int(number) == NEVER_WAS and not self.parts.from_1904
            return Written(held, number, words["row"]["day_never_was"] if never else "")
        time = time_in(number)
        return Written(
            day.iso, day, words["told"]["with_time"].format(time=time) if time else ""
        )


def _iso_day(text: str) -> Day | str:
    try:
        return Day.from_iso(text[:10])
    except ValueError:
        return text
