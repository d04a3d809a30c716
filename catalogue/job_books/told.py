"""What came of a cell and of a row, as plain values: what was understood, what is left over, what is odd."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from catalogue.errors import BadDocument
from catalogue.places import table
from catalogue.record import Job, Party, Work


@dataclass(frozen=True, slots=True)
class CellRead:
    """One cell: its column, the field it goes to, the letters, and what was made of them.

    `understood` are sentences or values in words; `rest` what was not understood, "" for nothing;
    `remarks` are doubts.
    """

    column: str
    field: str
    written: str
    understood: tuple[str, ...] = ()
    rest: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RowRead:
    """One row: its number in the book, its key, its cells as read, and the records that it makes.

    `parties` are those that it is the first to name and that are not on file otherwise. `refused` is
    why no record can be made of it, "" where one can; `outcome` what taking it in would come to.
    """

    row: int
    key: str
    cells: tuple[CellRead, ...] = ()
    remarks: tuple[str, ...] = ()
    work: Work | None = None
    job: Job | None = None
    parties: tuple[Party, ...] = ()
    refused: str = ""
    outcome: str = ""

    @property
    def records(self) -> tuple[Any, ...]:
        """The records in the order in which they are kept: whom others name comes first."""
        held = (*self.parties, self.work, self.job)
        return tuple(each for each in held if each is not None)


class BadRow(BadDocument):
    """A row that cannot be taken in; the others are not stopped by it."""

    def __init__(self, row: int, why: str, column: str = "") -> None:
        words = said("row")
        where = words["column"].format(column=column) if column else ""
        super().__init__(
            why, where=words["refused"].format(row=row, column=where, why="").rstrip(": ")
        )


def said(which: str) -> dict[str, str]:
    """A table of sentences of vocab/job_books.toml."""
    held: dict[str, str] = table("job_books.toml")[which]
    return held
