"""A small ledger with something of everything in it, and ways to get at it from outside."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

import catalogue
from catalogue.ledger import Ledger

CHILD = Path(__file__).with_name("ledger_child.py")
CHILDS_WORLD = {**os.environ, "PYTHONPATH": str(Path(catalogue.__file__).parent.parent)}
PHOTO = b"\x89PNG not really, but byte for byte " + bytes(range(256))
LETTER = b"Dear Sir, the panel came to us in a crate without a number."
WHO, WHY = "N. Feld", "a day at the bench"


# Test modules take these in by name: a second conftest.py would hide the first one from those
# who import from it.


@pytest.fixture(name="ledger")
def a_passing_ledger():
    with Ledger.create(None, zone="Europe/Vienna") as passing:
        yield passing


@pytest.fixture(name="folder")
def a_new_folder(tmp_path):
    return tmp_path / "studio"


def entered(ledger: Ledger, *documents: str, body: bytes = b"{}") -> None:
    """Each of these documents saved once more, as one change."""
    with ledger.change(who=WHO, why=WHY) as change:
        for document in documents:
            known = ledger.head(document).revision if ledger.has(document) else None
            change.save(document, body, expected=known)


def furnish(ledger: Ledger) -> dict[str, str]:
    """Fill a ledger with every kind of entry; the digests of the files that stayed."""
    with ledger.change(who=WHO, why="first works") as change:
        number = change.number("work:2026")
        photo = change.keep_file(PHOTO, name="back.png", media_type="image/png")
        letter = change.keep_file(LETTER, name="letter.txt", media_type="text/plain")
        body = b'{"number": "2026-%03d"}' % number
        change.save("work/mill", body, expected=None, source=photo)
        change.save("party/old", b'{"name": "Old Name"}', expected=None)
        change.save("party/new", b'{"name": "New Name"}', expected=None)
    with ledger.change(who=WHO, why="a label read") as change:
        change.save("work/mill", b'{"number": "2026-001", "label": 1}', expected=1)
        change.save("work/ferry", b'{"title": "Ferry"}', expected=None)
        change.claim("I of work/mill", 7)
    with ledger.change(who="R. Osk", why="two records, one person") as change:
        change.merge("party/old", "party/new")
        change.withdraw("work/ferry")
    with ledger.change(who="R. Osk", why="asked by letter") as change:
        change.forget_revisions("work/mill", [1])
        change.forget_file(letter)
    return {"photo": photo}


@contextmanager
def raw(folder: Path) -> Iterator[sqlite3.Connection]:
    """The database as somebody sees it who goes round the ledger; committed at the end."""
    with closing(sqlite3.connect(folder / "ledger.sqlite")) as connection:
        yield connection
        connection.commit()


def bytes_of(folder: Path) -> bytes:
    """Every byte of every file in a folder, one after the other, names included."""
    return b"".join(
        str(path.name).encode() + path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    )
