"""An old job book as rows of cells, whichever file it is in, and what should be told of the file itself.

`csv_books` and `xlsx_books` make these; nothing here knows what a column means.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, TypeAlias

from catalogue.errors import BadDocument
from catalogue.measure import Day

LARGEST: Final = 64 * 1024 * 1024
"""The largest job book that is read, in bytes."""

LONGEST_CELL: Final = 100_000
"""So many letters of a cell are read; one of prose has a few hundred."""

Value: TypeAlias = str | int | float | bool | Day | None


@dataclass(frozen=True, slots=True)
class Written:
    """What stands in one cell: its letters as a person sees them, its value, and what is odd about it."""

    text: str
    value: Value
    remark: str = ""


@dataclass(frozen=True, slots=True)
class BookRow:
    """One row: its number as a spreadsheet counts, its cells by heading, what is odd about the row.

    `beyond` is what stands in cells that no heading stands over.
    """

    number: int
    cells: dict[str, Written]
    remarks: tuple[str, ...] = ()
    beyond: str = ""


@dataclass(slots=True)
class Book:
    """A job book that is open: its headings, its rows one by one, and what is told of the file.

    `told` may grow while the rows are read. `from_1904` says that numbers of days count from 1904.
    """

    heads: tuple[str, ...]
    rows: Iterator[BookRow]
    told: list[str] = field(default_factory=list)
    from_1904: bool = False
    sheet: str = ""


def headings(cells: Iterable[str]) -> tuple[str, ...]:
    """What columns are called: by their head words, made different where two are alike or there are none.

    >>> headings(["No.", "Notes", "", "Notes"])
    ('No.', 'Notes', 'column C', 'Notes (2)')
    """
    found: list[str] = []
    for at, cell in enumerate(cells):
        word = " ".join(cell.split()) or f"column {letters(at)}"
        name, count = word, 1
        while name in found:
            count += 1
            name = f"{word} ({count})"
        found.append(name)
    return tuple(found)


def letters(at: int) -> str:
    """What a column is called in a spreadsheet, the first being 0.

    >>> letters(0), letters(25), letters(26), letters(701), letters(702)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    name = ""
    at += 1
    while at:
        at, place = divmod(at - 1, 26)
        name = chr(ord("A") + place) + name
    return name


def refuse_too_large(source: Path, remedy: str) -> None:
    """Raise `BadDocument` where there is no such file, or it is larger than a job book may be."""
    if not source.is_file():
        raise BadDocument(f"{source} is not there", remedy="check the path")
    size = source.stat().st_size
    if size > LARGEST:
        raise BadDocument(
            f"{source.name} is {size // 1_000_000} MB; at most {LARGEST // 1_000_000} MB are read",
            remedy=remedy,
        )
