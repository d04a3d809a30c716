"""Works as tables in CSV: one file a table, and one that says how to read them.

Rows and cells are written as RFC 4180 has it, in UTF-8 with a mark at the beginning, without which
spreadsheets take the file for another encoding. A text that a spreadsheet would run as a formula gets
an apostrophe; `unguarded` takes it off again, so that every text comes back as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import IO, Final

from catalogue import places
from catalogue.exchange.outgoing import Files, Leaving, Sender, Writing
from catalogue.exchange.tables.columns import Cell
from catalogue.exchange.tables.tables import SOURCE, Tabling, tables
from catalogue.measure import Day

SAYS = "Tables as CSV files: works, inscriptions, findings, treatments, the chain of hands."

_RUN: Final = "=+\\-@＝＋－＠"
"""What begins a formula (OWASP, page "CSV Injection"), also in the wide letters of East Asian keyboards
(from memory)."""

_GUARD_HERE: Final = rf"(?:\A(?='*[{_RUN}\t\r\n])|(?<=[;\t\r\n])(?='*[{_RUN}]))"
_TO_GUARD: Final = re.compile(_GUARD_HERE)
_GUARDED: Final = re.compile(rf"(?:\A'(?='*[{_RUN}\t\r\n])|(?<=[;\t\r\n])'(?='*[{_RUN}]))")


def guarded(text: str) -> str:
    """The text as no program runs it: with an apostrophe before whatever begins a formula.

    >>> guarded("=1+1"), guarded("63 x 76"), guarded("bought;-5")
    ("'=1+1", '63 x 76', "bought;'-5")
    """
    return _TO_GUARD.sub("'", text)


def unguarded(text: str) -> str:
    """The text that was guarded: `unguarded(guarded(text)) == text`.

    >>> unguarded("'=1+1"), unguarded("'tis")
    ('=1+1', "'tis")
    """
    return _GUARDED.sub("", text)


def begin(sender: Sender) -> Writing:
    """An export as CSV files under way."""
    return _Csv(sender)


class _Csv:
    """One file a table, open in the scratch folder until the last work is in."""

    def __init__(self, sender: Sender) -> None:
        self._tabling = Tabling.under(sender)
        self._folder = sender.needed_scratch()
        self._files: dict[str, IO[str]] = {}
        for table in tables():
            file = (self._folder / f"{table.name}.csv").open("w", encoding="utf-8", newline="")
            file.write("\N{BYTE ORDER MARK}" + line_of(table.heads))
            self._files[table.name] = file

    def add(self, leaving: Leaving) -> Files:
        for table, cells in self._tabling.rows(leaving):
            self._files[table.name].write(line_of(cells))
        return ()

    def close(self) -> Files:
        words = places.table(SOURCE)["words"]
        notes = self._tabling.notes(*words["notes_csv"])
        for name, file in self._files.items():
            file.close()
            yield f"{name}.csv", Path(file.name)
        yield words["notes_file"], ("\r\n".join(notes) + "\r\n").encode("utf-8-sig")


def line_of(cells: Iterable[Cell]) -> str:
    """One row as RFC 4180 has it: texts in quotation marks, numbers and days bare.

    >>> print(line_of(['12 "F"', 63.5, None, Day(1887, 3, 1)]).rstrip())
    "12 ""F""\",63.5,,1887-03-01
    """
    return ",".join(map(_written, cells)) + "\r\n"


def _written(cell: Cell) -> str:
    match cell:
        case None:
            return ""
        case str():
            return '"' + guarded(cell).replace('"', '""') + '"'
        case Day():
            # A year before our era begins with a sign that a spreadsheet would run.
            return cell.iso if cell.year >= 0 else _written(cell.iso)
        case _:
            return f"{cell:.10g}" if isinstance(cell, float) else str(cell)
