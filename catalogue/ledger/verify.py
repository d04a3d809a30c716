"""Whether what is kept is what was saved: everything is worked out again from the entries.

Nothing here trusts a type or an order that the tables promise: whoever alters a database can
alter those as well. So the tables are read as plain rows, text as whatever bytes it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import count, groupby
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, NullPool, create_engine, event
from sqlalchemy.engine import URL
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DBAPIError

from catalogue.ledger.chain import (
    ENTRY_KEYS,
    NOTHING_BEFORE,
    SALT_BYTES,
    digest_of_change,
    digest_of_file,
    salted,
)
from catalogue.ledger.heads import move_on
from catalogue.ledger.tables import SCRUB_DUE, tables
from catalogue.ledger.values import Entry, Fault, Forgotten, Head, Progress, Verdict

Contents = Callable[[str], str | None]
"""Told the name of a file, the digest of what lies under it; None when nothing does."""

_INTO_PAST = "a change was taken out, added or put elsewhere"


def _nothing() -> Iterator[Path]:
    return iter(())


def inspect(
    database: Path,
    contents: Contents,
    *,
    strays: Callable[[], Iterable[Path]] = _nothing,
    expected_head: str | None = None,
    still_kept: Callable[[str], bool] = lambda sha256: True,
    progress: Progress | None = None,
) -> Verdict:
    """The verdict on a database and on the files that `contents` looks into.

    `strays` lists what lies there, so that what nobody names can be noted. `still_kept` is
    asked about a file that is missing: it may have been forgotten since we began.
    """
    lying = list(strays())
    book = _Book()
    faults: list[Fault] = []
    notes: list[str] = []
    engine = create_engine(URL.create("sqlite", database=str(database)), poolclass=NullPool)
    event.listen(engine, "connect", _read_anything)
    try:
        with engine.connect() as connection:
            connection.exec_driver_sql("BEGIN")
            for check in (_sound, book.chain, book.texts, book.heads_kept):
                faults.extend(check(connection))
            faults.extend(
                book.files_kept(
                    connection, _counted(connection, contents, progress), still_kept
                )
            )
            notes.extend(_unfinished(connection))
    except DBAPIError as fault:
        faults.append(Fault("database", database.name, f"cannot be read: {fault.orig}"))
    finally:
        engine.dispose()
    if expected_head not in (None, NOTHING_BEFORE) and expected_head not in book.digests:
        message = f"no change has the digest {expected_head}: the end was cut off, or rewritten"
        faults.append(Fault("change", "the last change", message))
    return Verdict(
        head=book.last_digest,
        changes=book.changes,
        documents=len(book.heads),
        files=len(book.kept_files),
        faults=tuple(faults),
        forgotten=tuple(book.forgotten),
        notes=(*notes, *_notes(lying, book.kept_files)),
    )


def _read_anything(connection: DBAPIConnection, _record: object) -> None:
    connection.isolation_level = None
    connection.text_factory = _text


def _text(told: bytes) -> str:
    return told.decode("utf-8", "surrogateescape")


def _sound(connection: Connection) -> Iterator[Fault]:
    """What SQLite itself finds, and whether the tables are the ones that dorse made."""
    for (said,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if said != "ok":
            yield Fault("database", "integrity check", str(said))
    for table, row, parent, _ in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        where = f"{table} row {row}" if row is not None else str(table)
        yield Fault("database", where, f"names a row of {parent} that is not there")
    query = "SELECT name FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'"
    there = {name for (name,) in connection.exec_driver_sql(query)}
    ours = set(tables.tables) | {
        str(index.name) for table in tables.tables.values() for index in table.indexes
    }
    for name in sorted(ours - there):
        yield Fault("database", f"{name}", "this table or index is missing")
    for name in sorted(there - ours):
        yield Fault("database", f"{name}", "this table, index or trigger is not one of dorse's")


class _Book:
    """What the entries say, gathered along the chain, to hold the other tables against."""

    def __init__(self) -> None:
        self.changes = 0
        self.last_digest = NOTHING_BEFORE
        self.digests: set[str] = set()
        self.heads: dict[str, Head] = {}
        self.forgotten: list[Forgotten] = []
        self.kept_files: set[str] = set()
        self._saved: dict[tuple[int, int], Entry] = {}
        self._filed: dict[str, tuple[int, int]] = {}
        self._gone: set[tuple[str | None, int | None] | str | None] = set()
        self._numbers: set[tuple[str | None, int | None]] = set()

    # --- the chain --------------------------------------------------------------------------

    def chain(self, connection: Connection) -> Iterator[Fault]:
        """Walk the changes with their entries, in order."""
        keys = ", ".join(("seq", "place", *ENTRY_KEYS))
        rows = connection.exec_driver_sql(f"SELECT {keys} FROM entries ORDER BY seq, place")
        by_change = {
            seq: [(row[1], Entry(*row[2:])) for row in of_change]
            for seq, of_change in groupby(rows, key=lambda row: row[0])
        }
        told = connection.exec_driver_sql(
            "SELECT seq, at, zone, who, why, format, before, digest FROM changes ORDER BY seq"
        ).all()
        for position, row in enumerate(told):
            of_change = by_change.pop(row.seq, [])
            follows = told[position + 1].before if position + 1 < len(told) else None
            yield from self._one(row, of_change, follows)
            self.last_digest = row.digest
            self.digests.add(row.digest)
            self.changes += 1
            for place, entry in of_change:
                yield from self._enter(row, place, entry)
        for seq in by_change:
            yield Fault("entry", f"change {seq}", "there are entries, but no such change")

    def _one(
        self, row: Any, entries: list[tuple[int, Entry]], follows: str | None
    ) -> Iterator[Fault]:
        """One change by itself: its number, what it follows, its digest."""
        where = f"change {row.seq}"
        if row.seq != self.changes + 1:
            yield Fault(
                "change", where, f"stands where {self.changes + 1} should: {_INTO_PAST}"
            )
        if row.before != self.last_digest:
            yield Fault("change", where, f"does not follow the one before it: {_INTO_PAST}")
        places = [place for place, _ in entries]
        if places != list(range(1, len(places) + 1)) or not places:
            yield Fault("entry", where, f"has the entries {places}: one was taken out or added")
        try:
            digest = digest_of_change(
                seq=row.seq, at=row.at, zone=row.zone, who=row.who, why=row.why,
                written_in=row.format, before=row.before, entries=[entry for _, entry in
                entries],
            )  # fmt: skip
        except TypeError:  # bytes where text should be
            digest = None
        if digest != row.digest:
            altered = (
                "its digest was altered"
                if digest is not None and digest == follows
                else "who, why, when, the format or an entry was altered since it was saved"
            )
            yield Fault("change", where, altered)

    def _enter(self, row: Any, place: int, entry: Entry) -> Iterator[Fault]:
        """One entry, against all that came before it."""
        where = f"change {row.seq}, entry {place}"
        match entry.act:
            case "save":
                head = self.heads.get(str(entry.document))
                if entry.revision != (head.revision if head else 0) + 1:
                    yield Fault("entry", where, "is not the next revision of its document")
                self._saved[row.seq, place] = entry
            case "file":
                self._filed[str(entry.digest)] = (row.seq, place)
            case "number":
                if (entry.scope, entry.number) in self._numbers:
                    message = f"{entry.scope} {entry.number} was given out before"
                    yield Fault("number", where, message)
                self._numbers.add((entry.scope, entry.number))
            case "forget":
                what = f"{entry.document} revision {entry.revision}"
                if entry.document is None:
                    what = f"the file of digest {entry.digest}"
                self._gone.add(entry.digest or (entry.document, entry.revision))
                told = (str(each) for each in (row.who, row.at, row.why))
                self.forgotten.append(Forgotten(what, row.seq, *told))
        if not isinstance(entry.document, str | None):
            yield Fault("entry", where, "names a document by what is no text")
            return
        move_on(self.heads, row.seq, place, entry)

    # --- what the chain has digests of ------------------------------------------------------

    def texts(self, connection: Connection) -> Iterator[Fault]:
        """Every text and salt, against the digest of its revision."""
        seen = set()
        rows = connection.exec_driver_sql("SELECT seq, place, salt, body FROM bodies")
        for seq, place, salt, body in rows:
            seen.add((seq, place))
            entry = self._saved.get((seq, place))
            if entry is None:
                where = f"change {seq}, entry {place}"
                yield Fault("document", where, "there is a text, but no entry saved it")
                continue
            where = f"{entry.document} revision {entry.revision}"
            if (entry.document, entry.revision) in self._gone:
                yield Fault("document", where, "its text was forgotten, yet is there")
            if not _is_salted(entry.digest, salt, body):
                yield Fault(
                    "document", where, "its text or salt was altered since it was saved"
                )
        for key, entry in self._saved.items():
            if key not in seen and (entry.document, entry.revision) not in self._gone:
                where = f"{entry.document} revision {entry.revision}"
                yield Fault("document", where, "its text is missing, and nobody forgot it")

    def files_kept(
        self, connection: Connection, contents: Contents, still_kept: Callable[[str], bool]
    ) -> Iterator[Fault]:
        """Every file: its facts against the digest of its entry, then its contents."""
        missing = {digest for digest in self._filed if digest not in self._gone}
        rows = connection.exec_driver_sql(
            "SELECT digest, seq, place, salt, sha256, size, media_type, name FROM files"
        )
        for digest, seq, place, salt, sha256, size, media_type, name in rows:
            where = f"file {sha256}"
            self.kept_files.add(str(sha256))
            missing.discard(digest)
            if self._filed.get(digest) != (seq, place):
                yield Fault("file", where, "the entry that kept it is not the one it names")
            elif digest in self._gone:
                yield Fault("file", where, "it was forgotten, yet is there")
            facts = {"sha256": sha256, "size": size, "media_type": media_type, "name": name}
            if not _is_file_digest(digest, salt, facts):
                yield Fault("file", where, "its name, size, kind or salt was altered")
            lies = contents(str(sha256))
            if lies is None and still_kept(str(sha256)):
                yield Fault("file", where, "it is missing from files/, or cannot be read")
            elif lies is not None and lies != sha256:
                yield Fault("file", where, "its contents were altered since it was taken in")
        for digest in sorted(missing):
            seq, place = self._filed[digest]
            where = f"change {seq}, entry {place}"
            yield Fault(
                "file", where, "what is known of this file is missing; nobody forgot it"
            )

    def heads_kept(self, connection: Connection) -> Iterator[Fault]:
        """How the documents stand, against how the entries say that they do."""
        rows = connection.exec_driver_sql(
            "SELECT document, revision, seq, place, touched, withdrawn, merged_into FROM heads"
        )
        told = {row[0]: Head(*row) for row in rows}
        for document in sorted(told.keys() | self.heads.keys(), key=str):
            if told.get(document) != self.heads.get(document):
                message = "its latest state is not what its changes made of it"
                yield Fault("head", str(document), message)


def _is_salted(digest: str | None, salt: object, body: object) -> bool:
    return (
        isinstance(salt, bytes)
        and isinstance(body, bytes)
        and len(salt) == SALT_BYTES
        and salted(salt, body) == digest
    )


def _is_file_digest(digest: str, salt: object, facts: dict[str, Any]) -> bool:
    if not isinstance(salt, bytes) or len(salt) != SALT_BYTES:
        return False
    try:
        return digest_of_file(salt, **facts) == digest
    except TypeError:  # bytes where text should be
        return False


def _counted(connection: Connection, contents: Contents, progress: Progress | None) -> Contents:
    """`contents`, telling `progress` each time it looked."""
    if progress is None:
        return contents
    (of_all,) = connection.exec_driver_sql("SELECT count(*) FROM files").one()
    done = count(1)

    def look(sha256: str) -> str | None:
        found = contents(sha256)
        progress(next(done), of_all)
        return found

    return look


def _unfinished(connection: Connection) -> Iterator[str]:
    query = "SELECT value FROM settings WHERE name = ?"
    for (seq,) in connection.exec_driver_sql(query, (SCRUB_DUE,)):
        yield (
            f"what change {seq} forgot may still lie in unused parts of ledger.sqlite or of its"
            " log: close every program that uses this studio, and open it once"
        )


def _notes(lying: list[Path], kept: set[str]) -> Iterator[str]:
    for path in lying:
        if path.name not in kept:
            yield f"{path}: no change names this file; it can be deleted if nobody is saving"
