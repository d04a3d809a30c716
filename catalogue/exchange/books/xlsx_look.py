"""A first look into a workbook from strangers, before openpyxl opens it.

openpyxl expands entities, keeps the husk of every element and makes up rows between far numbers, so that
one megabyte can take gigabytes or days; and where it reads row by row it does not tell what is merged or
hidden, or that an empty cell is a formula. So each part is first run through a parser that builds nothing:
what no spreadsheet makes is refused, what openpyxl would not tell is noted.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final
from xml.parsers.expat import ExpatError, ParserCreate
from zipfile import ZipFile

from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.xml.constants import SHEET_MAIN_NS

from catalogue.errors import BadDocument
from catalogue.exchange import xml, zips

MOST_ROWS: Final = 1_048_576
MOST_COLUMNS: Final = 16_384
"""So large a sheet can be (the page "Excel specifications and limits")."""

_MOST_PLACES: Final = 20_000_000
"""Places from the first column to the last of each row, all rows together."""

_MOST_IN_ONE: Final = {"row": 120_000, "si": 10_000}
_MOST: Final = {"row": MOST_ROWS, "si": 800_000}
_MOST_OTHERS: Final = 120_000
"""Formats of cells, links and the like; that page has 65,490 formats and 65,530 links at most."""

_MOST_FORMULAS: Final = 1_000_000
_MOST_LETTERS: Final = 4_000_000
_MOST_DEPTH: Final = 64
_MOST_UNENDED: Final = 4_000_000
_MOST_BYTES: Final = {"row": 400_000_000, "si": 64_000_000, None: 16_000_000}
"""Of a sheet, of the texts that cells share, and of any other part, which openpyxl takes in whole.

Together these limits hold a book to 500 MB of memory (measured with books that go up to them).
"""

_ITEMS: Final = {"worksheet": "row", "sst": "si"}
_CHUNK: Final = 1 << 16
_TRUE: Final = ("1", "true")


@dataclass(slots=True)
class Look:
    """What was seen of one part. Rows count from 1, columns from 0.

    `without_value` are the places of formulas that no value was saved with, `sixties` those of the
    number 60, which as a day never was; `broken` says where the part breaks off.
    """

    part: str
    root: str = ""
    columns: int = 0
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[str] = field(default_factory=list)
    merged: list[str] = field(default_factory=list)
    without_value: array[int] = field(default_factory=lambda: array("Q"))
    sixties: array[int] = field(default_factory=lambda: array("Q"))
    broken: str = ""

    def formula_without_value(self, row: int, column: int) -> bool:
        """Whether a formula stands there whose value nobody saved."""
        return _among(self.without_value, row, column)

    def sixty(self, row: int, column: int) -> bool:
        """Whether the number 60 stands there."""
        return _among(self.sixties, row, column)


def looks(file: ZipFile) -> dict[str, Look]:
    """Every part of a workbook that is XML, looked over. Raises `BadDocument` for what is refused."""
    return {look.part: look for name in file.namelist() for look in _looked_over(file, name)}


def _looked_over(file: ZipFile, name: str) -> Iterator[Look]:
    looking = _Looking(Look(name))
    parser = ParserCreate(namespace_separator=" ")
    parser.StartDoctypeDeclHandler = looking.document_type
    parser.StartElementHandler = looking.start
    parser.EndElementHandler = looking.end
    parser.CharacterDataHandler = looking.letters
    fed, first = 0, b""
    with zips.reading(file, name) as entry:
        try:
            while chunk := entry.read(_CHUNK):
                first = first or chunk
                fed += len(chunk)
                parser.Parse(chunk, False)
                if fed - parser.CurrentByteIndex > _MOST_UNENDED:
                    raise _refused(name, "holds a sign that does not end")
                most = _MOST_BYTES[looking.item]
                if fed > most:
                    raise _refused(name, f"is larger than {most // 1_000_000} MB")
            parser.Parse(b"", True)
        # An encoding that the parser does not know is a ValueError.
        except (ExpatError, ValueError, LookupError) as wrong:
            if isinstance(wrong, BadDocument):
                raise
            looking.look.broken = str(wrong)
    if looking.look.root:
        yield looking.look
    elif _is_xml(first):
        raise _refused(name, "is in letters that are not read")


def _is_xml(first: bytes) -> bool:
    """Whether another parser would find an element there, so that openpyxl would go on reading."""
    try:
        return bool(xml.root_of(first))
    except BadDocument:
        return False


class _Looking:
    """What is counted while a part goes by."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.item: str | None = None
        self._depth = self._letters = self._items = self._inside = self._others = 0
        self._places = self._row = self._letters_aside = 0
        self._column = -1
        self._in_item = self._formula = self._in_value = False
        self._value = ""

    def document_type(self, *_: object) -> None:
        """Refuse a declaration that can fetch files and swell without end."""
        raise BadDocument(
            f"{self.look.part} declares a document type (<!DOCTYPE ...>), which no workbook needs",
            remedy="it is not read, for such a file can fetch others and swell without end",
        )

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        namespace, _, name = tag.rpartition(" ")
        self._depth += 1
        self._limit(self._depth, _MOST_DEPTH, "elements within each other")
        if not self.look.root:
            self._begin(namespace, name)
        elif name == self.item:
            self._item(attributes)
        elif self._in_item:
            self._inside += 1
            self._limit(self._inside, _MOST_IN_ONE[str(self.item)], "things in one row or text")
            if name == "c":
                self._cell(attributes)
            elif name == "f":
                self._formula = True
            elif name == "v":
                self._in_value = True
        else:
            self._others += 1
            self._limit(self._others, _MOST_OTHERS, "things beside its rows and texts")
            self._aside(name, attributes)
        self._count(sum(map(len, attributes.values())))

    def _begin(self, namespace: str, name: str) -> None:
        self.look.root, self.item = name, _ITEMS.get(name)
        if self.item and namespace != SHEET_MAIN_NS:
            raise BadDocument(
                f"{self.look.part} is in the strict form of the format, which is not read",
                remedy="open the book, and save it as an ordinary .xlsx",
            )

    def _item(self, attributes: dict[str, str]) -> None:
        if self._in_item:
            raise self._damaged("a row or a text within another")
        self._in_item = True
        self._items += 1
        self._limit(self._items, _MOST[str(self.item)], "rows or texts")
        self._inside = self._letters = 0
        if self.item == "row":
            number = self._number(attributes.get("r"), self._row + 1)
            if not self._row < number <= MOST_ROWS:
                raise self._damaged(f"row {number} behind row {self._row}")
            self._row, self._column = number, -1
            if attributes.get("hidden") in _TRUE:
                self.look.hidden_rows.add(number)

    def _cell(self, attributes: dict[str, str]) -> None:
        self._value, self._formula = "", False
        column = self._column + 1
        if "r" in attributes:
            try:
                column = column_index_from_string(attributes["r"].rstrip("0123456789")) - 1
            except ValueError:
                raise self._damaged(f"a cell {attributes['r'][:20]!r}") from None
        if not self._column < column < MOST_COLUMNS:
            raise self._damaged(f"cells out of order in row {self._row}")
        self._column = column

    def _aside(self, name: str, attributes: dict[str, str]) -> None:
        if name == "col" and attributes.get("hidden") in _TRUE:
            first = self._number(attributes.get("min"), 1)
            last = min(self._number(attributes.get("max"), first), first + 8)
            for at in range(first, last + 1):
                if len(self.look.hidden_columns) <= 8 and 0 < at <= MOST_COLUMNS:
                    self.look.hidden_columns.append(get_column_letter(at))
        elif name == "mergeCell":
            self.look.merged.append(attributes.get("ref", ""))

    def letters(self, text: str) -> None:
        """Letters go by."""
        self._count(len(text))
        if self._in_value and len(self._value) < 20:
            self._value += text

    def _count(self, letters: int) -> None:
        if self._in_item:
            self._letters += letters
            self._limit(self._letters, _MOST_LETTERS, "letters in one row or text")
        else:
            self._letters_aside += letters
            self._limit(self._letters_aside, _MOST_LETTERS, "letters beside its rows and texts")

    def end(self, tag: str) -> None:
        """An element ends."""
        self._depth -= 1
        name = tag.rpartition(" ")[2]
        if name == "v":
            self._in_value = False
        elif name == "c" and self._in_item:
            self._noted()
        elif name == self.item:
            self._in_item = False
            self._places += self._column + 1
            self._limit(self._places, _MOST_PLACES, "places for cells")
            self.look.columns = max(self.look.columns, self._column + 1)

    def _noted(self) -> None:
        value = self._value.strip()
        place = _place(self._row, self._column)
        if self._formula and not value:
            self.look.without_value.append(place)
        elif value == "60" or value.startswith("60."):
            self.look.sixties.append(place)
        count = len(self.look.without_value) + len(self.look.sixties)
        self._limit(count, _MOST_FORMULAS, "formulas without a saved value")

    def _number(self, text: str | None, otherwise: int) -> int:
        try:
            return int(float(text)) if text else otherwise
        except (ValueError, OverflowError):
            raise self._damaged(f"a number {str(text)[:20]!r}") from None

    def _limit(self, count: int, most: int, of_what: str) -> None:
        if count > most:
            raise _refused(self.look.part, f"holds more than {most:,} {of_what}")

    def _damaged(self, what: str) -> BadDocument:
        return damaged(self.look.part, what)


def damaged(part: str, what: object) -> BadDocument:
    """The error for a part that cannot be read to its end."""
    return BadDocument(
        f"{part} is damaged: {what}", remedy="open the book, and save it under another name"
    )


def _refused(part: str, why: str) -> BadDocument:
    return BadDocument(
        f"{part} of the book {why}", remedy="save the sheet that matters as a book of its own"
    )


def _place(row: int, column: int) -> int:
    return row * MOST_COLUMNS + column


def _among(places: array[int], row: int, column: int) -> bool:
    place = _place(row, column)
    at = bisect_left(places, place)
    return at < len(places) and places[at] == place
