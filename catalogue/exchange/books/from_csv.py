"""A job book in a text file: its encoding and its separator found out or as told, row by row."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from catalogue.errors import BadDocument
from catalogue.exchange.books.encodings import Encoding, encoding_of, not_in
from catalogue.exchange.books.mapping import Layout
from catalogue.exchange.books.rows import (
    LONGEST_CELL,
    Book,
    BookRow,
    Written,
    headings,
    refuse_too_large,
)
from catalogue.exchange.tables.in_csv import unguarded
from catalogue.places import table

SEPARATORS: Final = ";,\t|"
_LOOKED_AT: Final = 60


def opened(source: Path, layout: Layout) -> Book:
    """The book in a text file. Raises `BadDocument` where it cannot be one."""
    refuse_too_large(source, remedy="cut it into several books")
    words = table("job_books.toml")["told"]
    encoding = encoding_of(source, layout.encoding)
    separator = layout.separator or _separator(source, encoding.name)
    told = [
        words["encoding_guessed" if encoding.guessed else "encoding"].format(name=encoding.name)
    ]
    told.append(words["separator"].format(name=words["separators"][separator]))
    lines = _lines(source, encoding, separator)
    heads: tuple[str, ...] = ()
    for number, cells in lines:
        if layout.header_row == 0:
            heads = headings([""] * len(cells))
            lines = _lines(source, encoding, separator)
            break
        if number == layout.header_row:
            heads = headings(unguarded(cell) if layout.apostrophes else cell for cell in cells)
            break
    return Book(heads, _rows(lines, heads, layout), told)


def _rows(
    lines: Iterator[tuple[int, list[str]]], heads: tuple[str, ...], layout: Layout
) -> Iterator[BookRow]:
    for number, cells in lines:
        if not any(cell.strip() for cell in cells):
            continue
        yield BookRow(
            number,
            {
                head: _cell(unguarded(cell) if layout.apostrophes else cell)
                for head, cell in zip(heads, cells, strict=False)
                if cell.strip()
            },
            beyond="; ".join(cell for cell in cells[len(heads) :] if cell.strip()),
        )


def _cell(text: str) -> Written:
    if len(text) > LONGEST_CELL:
        said = table("job_books.toml")["told"]["cell_too_long"].format(letters=len(text))
        return Written(text[:LONGEST_CELL], text[:LONGEST_CELL], said)
    return Written(text, text)


def _lines(source: Path, encoding: Encoding, separator: str) -> Iterator[tuple[int, list[str]]]:
    """Every row with its number, until the end of the file or of what can be read of it."""
    number = 0
    try:
        with source.open(encoding=encoding.name, newline="") as file:
            fed = _Fed(file)
            for cells in csv.reader(fed, delimiter=separator):
                fed.at_end_of_row()
                number += 1
                yield number, cells
    except UnicodeError as wrong:
        raise not_in(source, encoding.name, wrong) from None
    except csv.Error as wrong:
        raise BadDocument(
            f"{source.name} cannot be read from row {number + 1} on: {wrong}",
            remedy="look for a quotation mark without a partner there",
        ) from None
    except OSError as refused:
        raise BadDocument(f"{source} cannot be read: {refused.strerror}") from None


class _Fed:
    """The lines of a file as they go to the reader of rows, which swallows all behind an open mark.

    A row that takes too much, or at whose end a mark is still open, ends in an error.
    """

    def __init__(self, lines: Iterator[str]) -> None:
        self._lines = lines
        self._letters = self._marks = self._count = 0
        self._ended = False

    def __iter__(self) -> _Fed:
        return self

    def __next__(self) -> str:
        line = next(self._lines, None)
        if line is None:
            self._ended = True
            raise StopIteration
        self._letters += len(line)
        self._marks += line.count('"')
        self._count += 1
        if self._letters > LONGEST_CELL * 2:
            raise csv.Error(f"more than {LONGEST_CELL * 2:,} letters in one row")
        return line

    def at_end_of_row(self) -> None:
        """Take the next line for the beginning of a row."""
        if self._ended and self._count > 1 and self._marks % 2:
            raise csv.Error("the file ends within a text in quotation marks")
        self._letters = self._marks = self._count = 0


def looks_like_a_table(source: Path) -> bool:
    """Whether the first rows of a text are parted into cells, as those of a letter or a note are not."""
    try:
        encoding = encoding_of(source).name
    except OSError:
        return False
    sign = _separator(source, encoding)
    rows = [row for row in _some_rows(source, sign, encoding) if any(map(str.strip, row))]
    widths = Counter(map(len, rows))
    width, often = max(widths.items(), key=lambda each: (each[1], each[0]), default=(1, 0))
    behind = [cell for row in rows for cell in row[1:]]
    # Behind the commas of a sentence stands a space, or the line ends.
    loose = sum(cell[:1].isspace() or not cell for cell in behind) if sign == "," else 0
    return width > 1 and 2 * often > len(rows) and (sign != "," or 2 * loose < len(behind))


def _separator(source: Path, encoding: str) -> str:
    """The sign that cuts most of the first rows into the same number of cells, the headings among them."""
    rows_of = {sign: _some_rows(source, sign, encoding) for sign in SEPARATORS}
    heads = next(
        (
            at
            for at, rows in enumerate(zip(*rows_of.values(), strict=False))
            if _widest(rows) > 1
        ),
        0,
    )
    best, most = ",", 0.0
    for sign, rows in rows_of.items():
        counts = Counter(len(row) for row in rows if row)
        width, often = max(counts.items(), key=lambda each: (each[1], each[0]), default=(1, 0))
        score = (width - 1) * often / max(sum(counts.values()), 1)
        # Commas stand in titles and names as well, but seldom among the headings.
        if len(rows) > heads and len(rows[heads]) == 1:
            score /= 2
        if score > most:
            best, most = sign, score
    return best


def _some_rows(source: Path, sign: str, encoding: str) -> list[list[str]]:
    """The first rows, as they would be cut with this sign, as far as they can be."""
    found: list[list[str]] = []
    with suppress(BadDocument):
        for number, cells in _lines(source, Encoding(encoding), sign):
            found.append(cells)
            if number >= _LOOKED_AT:
                break
    return found


def _widest(rows: Iterable[list[str]]) -> int:
    return max(map(len, rows))
