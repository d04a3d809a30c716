"""One writer at a time, many readers: the connections to ledger.sqlite.

SQLAlchemy sends every BEGIN itself, as its page on SQLite tells ("Using SQLAlchemy to emit
BEGIN in lieu of SQLite's transaction control"): a plain one to read, so that a reader sees one
state from first row to last, and BEGIN IMMEDIATE to write, so that what a change is measured
against cannot move under it.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import cast

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event
from sqlalchemy.engine import URL
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DBAPIError

from catalogue.errors import BadSetting, Busy, CatalogueError, NoStudio
from catalogue.ledger.folders import DATABASE, FILES, keep_names
from catalogue.ledger.refusals import explained
from catalogue.ledger.tables import APPLICATION, LAYOUT, tables

PATIENCE_SECONDS = 10.0
"""How long a save waits for another one before it gives up as `Busy`."""


class Database:
    """The connections of one process to one ledger.sqlite; any thread may ask for one.

    `lasting` is False for a passing ledger, which need not outlive a power cut.
    """

    def __init__(self, path: Path, *, patience_seconds: float, lasting: bool = True) -> None:
        self.path = path
        self.engine = _engine(path, patience_seconds, lasting)
        self._writer = threading.Lock()
        self._writing_thread: int | None = None
        self._patience_seconds = patience_seconds

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees the ledger as it stood when first asked."""
        with explained(self.path), self.engine.connect() as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """The one connection that may write: rolled back on any error, committed at the end.

        Who must know whether that went well commits within.

        Only what the ledger itself does is explained here; an error of whoever holds the change
        passes through as it is.
        """
        with self._turn():
            with explained(self.path):
                connection = self.engine.connect()
            try:
                with explained(self.path):
                    connection = connection.execution_options(dorse_writes=True)
                    transaction = connection.begin()
                try:
                    yield connection
                    with explained(self.path):
                        if transaction.is_active:
                            transaction.commit()
                except BaseException:
                    try:
                        connection.rollback()
                    except DBAPIError:
                        connection.invalidate()  # let go of it, and SQLite rolls back by itself
                    raise
            finally:
                connection.close()

    @contextmanager
    def _turn(self) -> Iterator[None]:
        if self._writing_thread == threading.get_ident():
            raise Busy(
                f"{self.path}: this thread is in the midst of a change already",
                remedy="finish that one first",
            )
        if not self._writer.acquire(timeout=self._patience_seconds):
            raise Busy(
                f"{self.path}: somebody else is saving just now; nothing was changed",
                remedy="try again in a moment",
            )
        self._writing_thread = threading.get_ident()
        try:
            yield
        finally:
            self._writing_thread = None
            self._writer.release()

    def scrub(self) -> bool:
        """Overwrite what was deleted, in the database and in its log; False when it must wait.

        Deleted rows are overwritten at once (`secure_delete`), but pieces may remain in pages
        that were split and joined, and in the log: so the database is written anew from what is
        left, and the log cut to nothing. Another program that reads just now holds that up.
        """
        with self._turn():
            try:
                with self._bare() as connection:
                    connection.execute("VACUUM")
                    checkpoint = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                    (waits, *_) = checkpoint.fetchone()
            except sqlite3.Error:
                return False
        return not waits

    def copy_to(self, target: Path) -> None:
        """Copy the database as it stands into the new file `target`, while others save."""
        with explained(target), self._bare() as connection:
            copy = sqlite3.connect(target, isolation_level=None)
            try:
                connection.backup(copy)
                # one file without a log beside it, and nothing in it of what was deleted
                copy.execute("PRAGMA journal_mode = DELETE")
                copy.execute("VACUUM")
            finally:
                copy.close()

    def keep_a_log(self) -> None:
        """Let changes be written ahead into a log: readers and a writer need not wait."""
        with self._bare() as connection:
            connection.execute("PRAGMA journal_mode = WAL")

    @contextmanager
    def _bare(self) -> Iterator[sqlite3.Connection]:
        """A connection for what must stand outside of any transaction."""
        pooled = self.engine.raw_connection()
        try:
            yield cast("sqlite3.Connection", pooled.driver_connection)
        finally:
            pooled.close()


def made(folder: Path, *, patience_seconds: float, lasting: bool = True) -> Database:
    """The database of a new ledger in `folder`, with its tables. Raises `BadSetting`."""
    path, was_there = folder / DATABASE, folder.exists()
    with explained(folder):
        folder.mkdir(parents=True, exist_ok=True)
        try:
            path.touch(exist_ok=False)
        except FileExistsError:
            raise BadSetting(
                f"{folder}: this folder holds a studio already",
                remedy="choose an empty or new folder",
            ) from None
    database = Database(path, patience_seconds=patience_seconds, lasting=lasting)
    try:
        with explained(path):
            (folder / FILES).mkdir(exist_ok=True)
            database.keep_a_log()
            with database.writing() as connection:
                tables.create_all(connection)
                connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION}")
                connection.exec_driver_sql(f"PRAGMA user_version = {LAYOUT}")
            keep_names(folder)
            keep_names(folder.absolute().parent)
    except CatalogueError:
        database.close()
        for left in (path, Path(f"{path}-wal"), Path(f"{path}-shm")):
            left.unlink(missing_ok=True)
        with suppress(OSError):  # what somebody else put there stays
            (folder / FILES).rmdir()
            if not was_there:
                folder.rmdir()
        raise
    return database


def opened(folder: Path, *, patience_seconds: float) -> Database:
    """The database of the ledger in `folder`. Raises `NoStudio`, `BadSetting` if newer."""
    path = folder / DATABASE
    remedy = f"dorse --studio {folder} init makes one"
    if not path.is_file():
        raise NoStudio(f"{folder}: this folder holds no studio", remedy=remedy)
    database = Database(path, patience_seconds=patience_seconds)
    try:
        with database.reading() as connection:
            (application,) = connection.exec_driver_sql("PRAGMA application_id").one()
            (layout,) = connection.exec_driver_sql("PRAGMA user_version").one()
        if application != APPLICATION:
            raise NoStudio(f"{path}: this is not a ledger of dorse", remedy=remedy)
        if layout > LAYOUT:
            raise BadSetting(
                f"{folder}: this studio was kept by a newer dorse (layout {layout}; this one"
                f" knows up to {LAYOUT})",
                remedy="install the newer dorse; nothing was changed",
            )
        with explained(path):
            database.keep_a_log()
    except CatalogueError:
        database.close()
        raise
    return database


def _engine(path: Path, patience_seconds: float, lasting: bool) -> Engine:
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        connect_args={"timeout": patience_seconds, "check_same_thread": False},
        poolclass=QueuePool,
        pool_size=8,
        max_overflow=-1,
    )

    @event.listens_for(engine, "connect")
    def prepare(connection: DBAPIConnection, _record: object) -> None:
        connection.isolation_level = None  # no BEGIN but ours
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA synchronous = {'FULL' if lasting else 'OFF'}")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.execute("PRAGMA secure_delete = ON")
        cursor.execute("PRAGMA trusted_schema = OFF")  # a backup may come from anywhere
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("dorse_writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine
