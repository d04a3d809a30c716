"""What is kept of labels so that no work need be read to compare one: a small file beside the indexes.

It holds what is compared of every label (its print, its size, its looks), and which works hold what a
person said of two labels. It is derived: the file may be deleted at any time, and is brought up to date
by what was saved since. The first of the two costs a reading of every work once, the second a look.
"""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from typing import Any

from catalogue.argument.look_alikes import Seen, seen_of
from catalogue.argument.look_alikes.comparing import is_form
from catalogue.argument.look_alikes.print_words import TABLE, PrintWord
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.places import table

Everything = Callable[[], Iterable[str]]
RowsOf = Callable[[str], list[tuple[str, ...]]]

_FORM = 2
"""Goes up when what is kept changes; the file is then made anew, as it is when the rules change."""

_BREATH = 0.001
"""Seconds between two works for whoever asks a page meanwhile."""
_SAID = b'"compared"'
_SAID_WORDS = '"compared"'
_LABELLED = b'"carries"'
_TABLES = """
create table if not exists reached (what text primary key, seq integer not null, rules text not null);
create table if not exists said (work text primary key) without rowid;
create table if not exists label (work text not null, inscription text not null, seen text not null,
    primary key (work, inscription)) without rowid;
"""


class Leaving(Exception):
    """Whoever looked through the works was asked to leave; nothing half done is kept."""


class LabelsKept:
    """The labels of one ledger as they are compared, and the works that say something of two."""

    def __init__(self, ledger: Ledger, file: Path) -> None:
        self._ledger = ledger
        self._file = file
        self._leaving = threading.Event()
        self._rules = sha256(repr((_FORM, table(TABLE))).encode()).hexdigest()

    def leave(self) -> None:
        """Let whoever looks through thousands of works on another thread stop at the next one."""
        self._leaving.set()

    def works_that_say(self) -> tuple[str, ...]:
        """The works that hold what a person said of two labels, by id."""
        rows = self._asked(
            "said", self._all_that_say, self._said_in, "select work from said order by work", 0
        )
        return tuple(work for (work,) in rows)

    def labels(self, *, patient: bool = False) -> Iterator[Seen]:
        """What is compared of every label on file; `patient` lets others work between two works."""
        rows = self._asked(
            "label", self._all_labelled, self._labels_of,
            "select work, inscription, seen from label order by work", _BREATH if patient else 0,
        )  # fmt: skip
        return (_seen(*row) for row in rows)

    def _asked(
        self, what: str, everything: Everything, rows_of: RowsOf, query: str, breath: float
    ) -> list[Any]:
        """One table brought up to date and asked; in memory where the folder takes no file."""
        for name in (str(self._file), ":memory:"):
            try:
                with closing(self._connected(name)) as file:
                    while not self._caught_up(file, what, everything, rows_of, breath):
                        pass  # somebody else brought it further meanwhile
                    return file.execute(query).fetchall()
            except sqlite3.OperationalError:
                if name == ":memory:":
                    raise
            except sqlite3.DatabaseError:
                self._file.unlink(missing_ok=True)  # no file of ours, or a broken one
        return []

    @staticmethod
    def _connected(name: str) -> sqlite3.Connection:
        file = sqlite3.connect(name, timeout=30)
        # What is taken out must be gone from the disk too: it may have been forgotten.
        file.execute("pragma secure_delete = on")
        file.executescript(_TABLES)
        return file

    def _caught_up(
        self,
        file: sqlite3.Connection,
        what: str,
        everything: Everything,
        rows_of: RowsOf,
        breath: float,
    ) -> bool:
        """Bring one table up to the last change; False where somebody else wrote it meanwhile.

        The works are read before anything is locked: it may take long, and nobody is to wait for it.
        """
        now, reached = self._ledger.last()[0], self._reached(file, what)
        if reached == now:
            return True
        anew = not 0 < reached <= now
        touched = (
            [(each, True) for each in everything()]
            if anew
            else [
                (document, head.listed)
                for document, head in self._ledger.since(reached)
                if document.startswith("work/")
            ]
        )
        rows: list[tuple[str, ...]] = []
        for document, listed in touched:
            if self._leaving.wait(breath):
                raise Leaving
            if listed:
                rows += rows_of(document)
        with file:
            file.execute("begin immediate")
            if self._reached(file, what) != reached:
                return False
            if anew:
                file.execute(f"delete from {what}")
            else:
                file.executemany(
                    f"delete from {what} where work = ?", ((each,) for each, _ in touched)
                )
            if rows:
                places = ", ".join("?" * len(rows[0]))
                file.executemany(f"insert or replace into {what} values ({places})", rows)
            file.execute(
                "insert or replace into reached values (?, ?, ?)", (what, now, self._rules)
            )
        return True

    def _reached(self, file: sqlite3.Connection, what: str) -> int:
        found = file.execute(
            "select seq from reached where what = ? and rules = ?", (what, self._rules)
        ).fetchone()
        return int(found[0]) if found else 0

    def _all_that_say(self) -> Iterable[str]:
        return self._ledger.mentioning(_SAID_WORDS, "work")

    def _said_in(self, work: str) -> list[tuple[str, ...]]:
        return [(work,)] if _SAID in self._ledger.read(work).body else []

    def _all_labelled(self) -> Iterable[str]:
        return [each.document for each in self._ledger.heads("work")]

    def _labels_of(self, work: str) -> list[tuple[str, ...]]:
        revision = self._ledger.read(work)
        if _LABELLED not in revision.body:
            return []
        return [
            (work, each.id, _written(seen_of(work, each)))
            for each in as_read(revision).record.inscriptions
            if is_form(each)
        ]


def _written(seen: Seen) -> str:
    return json.dumps(
        {
            "print": seen.print,
            "numbers": seen.numbers,
            "size": seen.size_mm,
            "cut": seen.cut,
            "looks": {name: sorted(held) for name, held in seen.looks.items()},
        },
        ensure_ascii=False,
    )


def _seen(work: str, inscription: str, written: str) -> Seen:
    told: dict[str, Any] = json.loads(written)
    return Seen(
        work=work,
        inscription=inscription,
        print=tuple(PrintWord(*each) for each in told["print"]),
        numbers=tuple(told["numbers"]),
        size_mm=tuple(told["size"]) if told["size"] else None,
        cut=told["cut"],
        looks={name: frozenset(held) for name, held in told["looks"].items()},
    )
