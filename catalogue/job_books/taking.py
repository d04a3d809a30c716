"""A job book tried or taken in: its rows as documents, through the same door as every other import."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from catalogue.arriving import Imported, Intake
from catalogue.exchange.books.mapping import Mapping
from catalogue.exchange.books.rows import Book
from catalogue.exchange.incoming import Arrival, Refusal
from catalogue.job_books.entry import shelf_of
from catalogue.job_books.people import PeopleOnFile
from catalogue.job_books.rows import RowReader, is_workbook, opened
from catalogue.job_books.told import BadRow, RowRead
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import parse, write
from catalogue.record import Party, Record

_MEDIA_TYPES = {
    True: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    False: "text/csv",
}
_RANK = ("refused", "different", "added", "new", "same")
"""What is told of a row whose documents came to several things: the first of these."""


@dataclass(slots=True)
class BookTaking:
    """One job book under one mapping, on its way in. `parties` are all those on file."""

    source: Path
    mapping: Mapping
    intake: Intake
    parties: Callable[[], Iterable[Party]]
    book: Book = field(init=False)
    is_workbook: bool = field(init=False)

    def __post_init__(self) -> None:
        self.book = opened(self.source, self.mapping)
        self.is_workbook = is_workbook(self.source)

    def _rows(self) -> Iterator[RowRead]:
        on_file = PeopleOnFile.of(self.parties(), shelf_of(self.mapping.name))
        from_1904 = self.book.from_1904 if self.is_workbook else None
        return RowReader(self.mapping, on_file, from_1904).rows(self.book)

    def tried(self) -> Iterator[RowRead]:
        """Every row as it is read, and what taking it in would come to; nothing is saved."""
        for row in self._rows():
            if row.refused:
                yield replace(row, outcome="refused")
                continue
            outcomes = [
                self.intake.foreseen(self._arrival(each)).outcome for each in row.records
            ]
            yield replace(row, outcome=_of_all(outcomes))

    def taken(self, progress: Callable[[int], None] | None = None) -> Iterator[Imported]:
        """What became of every document of every row, each told with its row."""
        came_from: dict[str, int] = {}

        def documents() -> Iterator[Arrival | Refusal]:
            for row in self._rows():
                if progress:
                    progress(row.row)
                if row.refused:
                    yield Refusal(self.source, BadRow(row.row, row.refused))
                for record in row.records:
                    came_from[_id_of(record)] = row.row
                    yield self._arrival(record)

        for told in self.intake.of_documents(documents()):
            row = came_from.pop(told.document_id, None)
            yield replace(told, source=f"{told.source}, row {row}") if row else told

    def _arrival(self, record: Record) -> Arrival:
        return Arrival(
            self.source,
            _id_of(record),
            parse(write(to_jsonld(record))),
            record,
            (),
            media_type=_MEDIA_TYPES[self.is_workbook],
        )


def _id_of(record: Record) -> str:
    return f"{type(record).__name__.lower()}/{record.id}"


def _of_all(outcomes: Iterable[str]) -> str:
    return min(outcomes, key=_RANK.index)
