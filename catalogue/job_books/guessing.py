"""A mapping drafted for a job book: from its headings, and from what stands beneath them.

The draft is a file for a person to read and mend; nothing is taken in by a guess alone.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any, Final

from catalogue.errors import BadDocument
from catalogue.exchange.books.mapping import LEAVE, Layout, Mapping, known_fields, mapping_of
from catalogue.exchange.books.rows import Book, BookRow
from catalogue.exchange.passed_over import is_plain_text
from catalogue.exchange.tables.tables import tables
from catalogue.job_books.headings import stand_in, words
from catalogue.job_books.rows import is_workbook, laid_open
from catalogue.job_books.told import said
from catalogue.places import table

_LOOKED_AT: Final = 200
_HEAD_ROWS: Final = 12
_FIGURES: Final = re.compile(r"\s*(\d{1,2})[./-](\d{1,2})[./-](\d{2,4})\s*")
_LONGEST_EXAMPLE: Final = 60


@dataclass(frozen=True, slots=True)
class Draft:
    """A drafted mapping as `text` for a file, and as it would be used."""

    text: str
    mapping: Mapping | None


def drafted(source: Path, mapping_name: str = "mapping.toml") -> Draft:
    """A mapping for a book that nobody has looked at yet. Raises `BadDocument` where it is no book."""
    if is_plain_text(source) and not is_workbook(source):
        told = said("told")
        raise BadDocument(
            told["no_table"].format(name=source.name), remedy=told["no_table_remedy"]
        )
    layout = Layout(header_row=_header_row(source), apostrophes=_is_ours(source))
    book = laid_open(source, layout)
    rows = list(islice(book.rows, _LOOKED_AT))
    columns = fields_of_heads(book.heads)
    key = _key(columns, rows)
    text = "\n".join(_written(source, mapping_name, book, layout, columns, key, rows)) + "\n"
    return Draft(text, _mapping(text))


def _mapping(text: str) -> Mapping | None:
    held = tomllib.loads(text)
    return mapping_of(held) if held["book"]["key"] and held["columns"] else None


def fields_of_heads(heads: Iterable[str]) -> dict[str, str]:
    """Each heading, and the field that it most likely is; "leave" where none fits.

    >>> fields_of_heads(["Job No.", "Artist / Painter", "H (cm)", "Colour of the van"])
    {'Job No.': 'number', 'Artist / Painter': 'artist', 'H (cm)': 'height', 'Colour of the van': 'leave'}
    """
    found: dict[str, tuple[str, int]] = {}
    for head in heads:
        found[head] = _best(head)
    taken: dict[str, str] = {}
    # Of two columns for one field that a work has but once the better fit has it, else the first.
    for head, (name, fit) in sorted(found.items(), key=lambda each: -each[1][1]):
        if name != LEAVE and not known_fields()[name].get("many") and name in taken.values():
            name = LEAVE
        taken[head] = name if fit else LEAVE
    return {head: taken[head] for head in found}


def _best(head: str) -> tuple[str, int]:
    """The field of a heading, and how well it fits: all of its words, or some."""
    among = words(head)
    best, fit = LEAVE, 0
    for name, row in known_fields().items():
        for wanted in row["headings"]:
            phrase = words(wanted)
            if phrase == among:
                score = 1000
            elif stand_in(phrase, among) and (len(phrase) > 1 or len(phrase[0]) > 2):
                score = sum(map(len, phrase))
            else:
                continue
            if score > fit:
                best, fit = name, score
    return best, fit


def _header_row(source: Path) -> int:
    """The row in which most headings are known, among the first; the first where none is."""
    book = laid_open(source, Layout(header_row=0))
    best, most = 1, 0
    for row in islice(book.rows, _HEAD_ROWS):
        heads = [cell.text for cell in row.cells.values()]
        known = sum(_best(head)[1] >= 3 for head in heads if len(head) < 40)
        if known > most:
            best, most = row.number, known
    return best


def _is_ours(source: Path) -> bool:
    """Whether a text file is a table that dorse wrote."""
    if is_workbook(source):
        return False
    try:
        heads = laid_open(source, Layout()).heads
    except BadDocument:
        return False
    return any(heads == each.heads for each in tables())


def _key(columns: dict[str, str], rows: list[BookRow]) -> list[str]:
    """The column of the number where most cells are there and different; else one where all are."""
    for head in sorted(columns, key=lambda each: columns[each] != "number"):
        cells = [row.cells[head].text.strip() if head in row.cells else "" for row in rows]
        different = len(set(filter(None, cells)))
        # Old books skip a number here and there, or use one twice.
        wanted = 0.6 * len(cells) if columns[head] == "number" else len(cells)
        if different and different >= wanted:
            return [head]
    return []


def _written(
    source: Path,
    mapping_name: str,
    book: Book,
    layout: Layout,
    columns: dict[str, str],
    key: list[str],
    rows: list[BookRow],
) -> Iterator[str]:
    words = said("draft")
    for line in words["head"]:
        yield f"# {line.format(book=source.name, mapping=mapping_name)}"
    for told in book.told:
        yield f"# {told}"
    yield from ("", "[book]", f"# {words['name']}", f"name = {_quoted(source.stem)}")
    yield f"# {words['key' if key else 'key_guess']}"
    yield f"key = [{', '.join(map(_quoted, key))}]"
    if book.sheet:
        yield f"sheet = {_quoted(book.sheet)}"
    yield f"header_row = {layout.header_row}"
    if layout.apostrophes:
        yield "apostrophes = true"
    yield from (f"# {words['dates']}", f"dates = {_quoted(_order(columns, rows))}")
    yield from (f"# {words['two_figures']}", "two_figures_from = 0")
    yield from (f"# {words['sizes']}", 'sizes = "height first"')
    yield from (f"# {words['unit']}", f"unit = {_quoted(_unit(columns))}")
    yield from (f"# {words['currency']}", 'currency = ""')
    yield from ("", f"# {words['columns']}")
    for name, row in known_fields().items():
        yield f"#   {name}: {row['says']}"
    yield "[columns]"
    for head, name in columns.items():
        example = next(
            (
                row.cells[head].text
                for row in rows
                if head in row.cells and row.cells[head].text
            ),
            "",
        )
        yield f"{_quoted(head)} = {_quoted(name)}{_such_as(example)}"
    yield from ("", f"# {words['fixed']}", "[fixed]")


def _such_as(example: str) -> str:
    short = " ".join(example.split())
    if len(short) > _LONGEST_EXAMPLE:
        short = f"{short[:_LONGEST_EXAMPLE]}..."
    short = "".join(letter for letter in short if letter.isprintable())
    return f"  # {said('draft')['such_as'].format(text=short)}" if short else ""


def _order(columns: dict[str, str], rows: list[BookRow]) -> str:
    """In which order the days of the book stand: told by those that can be but one."""
    votes = {"day first": 0, "month first": 0}
    for head, name in columns.items():
        if name not in ("came", "due", "left", "date"):
            continue
        for row in rows:
            found = _FIGURES.fullmatch(row.cells[head].text) if head in row.cells else None
            if found and int(found[1]) > 12:
                votes["day first"] += 1
            elif found and int(found[2]) > 12:
                votes["month first"] += 1
    return "month first" if votes["month first"] > votes["day first"] else "day first"


def _unit(columns: dict[str, str]) -> str:
    """The unit that the headings of sizes name."""
    units: dict[str, Any] = table("job_books.toml")["unit"]
    for head, name in columns.items():
        if name not in ("size", "framed-size", "height", "width", "depth"):
            continue
        words = re.findall(r"[\w\"]+", head.casefold())
        for unit, names in units.items():
            if any(each in words for each in names):
                return unit
    return ""


def _quoted(text: str) -> str:
    """A text as TOML has it: its short strings are those of JSON but for one letter."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
