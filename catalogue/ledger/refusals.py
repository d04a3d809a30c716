"""What SQLite and the disk say when they refuse, in words a person can act on."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from catalogue.errors import BadData, Busy, CannotSave, CatalogueError, Damaged

_BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_DAMAGED = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}
_TOO_BIG = {sqlite3.SQLITE_TOOBIG}
_REMEDIES = {
    sqlite3.SQLITE_FULL: "free some space on this disk and save again",
    sqlite3.SQLITE_READONLY: "check who may write to this folder and to ledger.sqlite in it",
    sqlite3.SQLITE_PERM: "check who may write to this folder and to ledger.sqlite in it",
    sqlite3.SQLITE_CANTOPEN: "check that the folder is there and who may write to it",
    sqlite3.SQLITE_IOERR: "check that the disk is there and not full, then save again",
}


@contextmanager
def explained(where: Path) -> Iterator[None]:
    """Raise `Busy`, `CannotSave` or `Damaged` for what SQLite or the system raise within.

    Only the ledger's own steps go in here, never what a caller does in a change of his.
    """
    try:
        yield
    except CatalogueError:
        raise
    except DBAPIError as fault:
        if not isinstance(fault.orig, sqlite3.Error):
            raise
        raise explanation(fault.orig, where) from fault
    except sqlite3.Error as fault:
        raise explanation(fault, where) from fault
    except OSError as fault:
        raise CannotSave(
            f"{where}: the disk refused ({fault.strerror or fault}); nothing was saved",
            remedy="free some space, or check who may write to this folder",
        ) from fault


def explanation(fault: sqlite3.Error, where: Path) -> CatalogueError:
    """The error of our own family that says what SQLite means by `fault`."""
    # the low byte is the kind, the rest says more of it than anyone here needs
    code = getattr(fault, "sqlite_errorcode", 0) & 0xFF
    if code in _BUSY:
        return Busy(
            f"{where}: another program is saving just now; nothing was changed",
            remedy="try again in a moment; if it stays so, close the other program",
        )
    if code in _DAMAGED:
        return Damaged(
            f"{where}: the database is damaged ({fault})",
            remedy="run `dorse verify`, and restore from a backup",
        )
    if code in _TOO_BIG:
        return BadData(f"{where}: one document is larger than the database can hold")
    if code in _REMEDIES:
        return CannotSave(
            f"{where}: the disk refused ({fault}); nothing was saved", remedy=_REMEDIES[code]
        )
    return Damaged(
        f"{where}: the database does not answer as it should ({fault}); nothing was saved",
        remedy="run `dorse verify`",
    )
