"""Which texts of documents were found to be as dorse writes them, so that none is held to the shapes twice.

The shapes look at one text and at nothing around it, and a saved text never changes: the verdict holds
until the shapes, the terms or the tool do. Beside the indexes lies a small file of digests of the texts
in which nothing was found; what was found elsewhere is held in memory alone. The file may be deleted at
any time.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections import OrderedDict
from contextlib import closing, suppress
from functools import cached_property
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

from catalogue.ledger import Revision
from catalogue.linked.documents import FORMAT, as_today
from catalogue.linked.text import parse
from catalogue.places import folder

if TYPE_CHECKING:
    from catalogue.checking.shapes import Fault

_FORM = 1
"""Goes up when `checking/shapes.py` or `linked/` look at a text in another way without a new release."""

REMEMBERED = 500
"""So many verdicts are held in memory."""

_JUDGES = ("dorse", "pyshacl", "rdflib", "cromulent")
"""The packages whose release a verdict rests on."""

_READ_BY_THE_SHAPES = ("shapes", "terms", "context.json")
"""What a verdict rests on in vocab/."""


class ShapesKept:
    """The verdicts of the shapes on the texts of one ledger. Any thread may ask."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._lock = Lock()
        self._held: OrderedDict[bytes, tuple[Fault, ...]] = OrderedDict()

    def known(self, revision: Revision) -> tuple[Fault, ...] | None:
        """What the shapes found in a text, None where it was not held to them yet."""
        return self._known(self._key(revision))

    def faults(self, revision: Revision) -> tuple[Fault, ...]:
        """What the shapes find in a text; half a second for a full one that is new."""
        from catalogue.checking.shapes import faults  # brings an engine that few commands need

        key = self._key(revision)
        found = self._known(key)
        if found is None:
            found = faults(as_today(parse(revision.body), revision.format))
            self._remember(key, found)
            if not found:
                self._write(key)
        return found

    def clear(self) -> None:
        """Let go of everything, the digests of texts that must be gone among it."""
        with self._lock:
            self._held.clear()
        with suppress(OSError):
            self._file.unlink(missing_ok=True)

    def _known(self, key: bytes) -> tuple[Fault, ...] | None:
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        if not self._is_written(key):
            return None
        self._remember(key, ())
        return ()

    def _remember(self, key: bytes, found: tuple[Fault, ...]) -> None:
        with self._lock:
            self._held[key] = found
            while len(self._held) > REMEMBERED:
                self._held.popitem(last=False)

    def _is_written(self, key: bytes) -> bool:
        if not self._file.exists():
            return False
        try:
            with closing(self._connected()) as file:
                found = file.execute("select 1 from conforms where text = ?", (key,)).fetchone()
            return found is not None
        except sqlite3.OperationalError:  # somebody else is writing: then it is looked at anew
            return False
        except sqlite3.DatabaseError:  # no file of ours, or a broken one
            self.clear()
            return False

    def _write(self, key: bytes) -> None:
        # Where the folder takes no file the verdict is remembered for as long as the studio is open.
        with suppress(sqlite3.DatabaseError), closing(self._connected()) as file, file:
            file.execute("insert or ignore into conforms values (?)", (key,))

    def _connected(self) -> sqlite3.Connection:
        file = sqlite3.connect(self._file, timeout=1)
        # What is thrown away must be gone from the disk too: it may have been forgotten.
        file.execute("pragma secure_delete = on")
        file.execute(
            "create table if not exists conforms (text blob primary key) without rowid"
        )
        file.execute("create table if not exists rules (digest blob not null)")
        if file.execute("select digest from rules").fetchall() != [(self._rules,)]:
            with file:
                file.execute("delete from conforms")
                file.execute("delete from rules")
                file.execute("insert into rules values (?)", (self._rules,))
        return file

    def _key(self, revision: Revision) -> bytes:
        told = hashlib.sha256(self._rules)
        told.update(f"{revision.format} ".encode())
        told.update(revision.body)
        return told.digest()

    @cached_property
    def _rules(self) -> bytes:
        """The digest of all that a verdict rests on beside the text."""
        told = hashlib.sha256(repr((_FORM, FORMAT, *map(_release, _JUDGES))).encode())
        for name in _READ_BY_THE_SHAPES:
            where = folder("vocab") / name
            for each in sorted(where.rglob("*")) if where.is_dir() else [where]:
                if each.is_file():
                    content = each.read_bytes()
                    told.update(f"{each.name} {len(content)} ".encode())
                    told.update(content)
        return told.digest()


def _release(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""
