"""The door to everything a studio keeps: open it, change it, ask it, verify it."""

from __future__ import annotations

import os
import shutil
import tempfile
import weakref
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType

from sqlalchemy import Connection, select

from catalogue.errors import Busy, CannotSave, Damaged, NotOnFile
from catalogue.ledger import aside, lookup
from catalogue.ledger.aside import text_of
from catalogue.ledger.backup import write_backup
from catalogue.ledger.change import OpenChange
from catalogue.ledger.database import PATIENCE_SECONDS, Database, made, opened
from catalogue.ledger.files import Shelf
from catalogue.ledger.folders import FILES, refuse_unsafe
from catalogue.ledger.refusals import explained
from catalogue.ledger.tables import SCRUB_DUE, files
from catalogue.ledger.values import (
    BackupFacts,
    Change,
    Draft,
    FileFacts,
    Head,
    Progress,
    Revision,
    Verdict,
)
from catalogue.ledger.verify import inspect


class Ledger:
    """An open ledger. Close it, or use it in a `with`; any thread may call it.

    >>> with Ledger.create(None, zone="Europe/Vienna") as ledger:
    ...     with ledger.change(who="N. Feld", why="label read") as change:
    ...         number = change.number("work:2026")
    ...         revision = change.save("work/7", b'{"title": "Mill"}', expected=None)
    ...     print(number, revision, ledger.read("work/7").body.decode())
    ...     print(len(ledger.verify().faults), "faults")
    1 1 {"title": "Mill"}
    0 faults
    """

    def __init__(self, database: Database, folder: Path, *, passing: bool = False) -> None:
        self.folder = folder
        self._database = database
        self._shelf = Shelf(folder / FILES, lasting=not passing)
        self._let_go = weakref.finalize(
            self, _let_go, database, folder if passing else None, os.getpid()
        )

    # --- opening and closing ----------------------------------------------------------------

    @classmethod
    def create(
        cls,
        folder: Path | None,
        *,
        zone: str | None = None,
        patience_seconds: float = PATIENCE_SECONDS,
    ) -> Ledger:
        """A new ledger in `folder`; with None a passing one, which is gone when it is closed.

        A passing ledger lies in a temporary folder and is never flushed to the disk. `zone` is
        an IANA name, by default the system's. Raises `BadSetting` for a folder that holds a
        ledger already, or that is synced or on a network where that can be told.
        """
        chosen = aside.known_zone(zone) if zone is not None else aside.system_zone()
        passing = folder is None
        if folder is None:
            where = Path(tempfile.mkdtemp(prefix="dorse-"))
        else:
            refuse_unsafe(folder)
            where = folder.absolute()
        database = made(where, patience_seconds=patience_seconds, lasting=not passing)
        ledger = cls(database, where, passing=passing)
        ledger.set_setting("zone", chosen)
        return ledger

    @classmethod
    def open(cls, folder: Path, *, patience_seconds: float = PATIENCE_SECONDS) -> Ledger:
        """The ledger in `folder`. Raises `NoStudio`, `BadSetting` if a newer dorse made it."""
        where = folder.absolute()
        ledger = cls(opened(where, patience_seconds=patience_seconds), where)
        ledger.finish_forgetting()
        return ledger

    def close(self) -> None:
        """Let go of the ledger."""
        self._let_go()

    def __enter__(self) -> Ledger:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # --- changing ---------------------------------------------------------------------------

    @contextmanager
    def change(
        self, *, who: str, why: str, written_in: int | None = None
    ) -> Iterator[OpenChange]:
        """A change, committed when the `with` ends, rolled back whole on any error within.

        `written_in` is the format of its documents, by default the setting "format". Raises
        `Busy` when another thread or program goes on saving, `CannotSave` when the disk
        refuses.
        """
        text_of("who makes this change", who)
        text_of("why this change is made", why)
        with self._database.writing() as connection:
            self._sweep(connection)
            with explained(self.folder):
                change = OpenChange(
                    connection, self._shelf, who=who, why=why, written_in=written_in
                )
            committed = False
            try:
                yield change
                with explained(self.folder):
                    told = change.write()
                    connection.commit()
                committed = True
            finally:
                if not committed:
                    change.let_go()
        change.seq, change.digest = told or (None, None)
        if change.forgets:
            self.finish_forgetting()

    def finish_forgetting(self) -> bool:
        """Overwrite on the disk what was forgotten; True when nothing is left to overwrite.

        Done after each change that forgets, and again on opening while another program stood in
        the way.
        """
        with suppress(Busy, CannotSave):
            if self._shelf.leaving():
                with self._database.writing() as connection:
                    self._sweep(connection)
            if self.setting(SCRUB_DUE) is None:
                return True
            if self._database.scrub():
                with self._database.writing() as connection:
                    aside.unset(connection, SCRUB_DUE)
                return True
        return False

    def _sweep(self, connection: Connection) -> None:
        if self._shelf.leaving():
            self._shelf.sweep(lambda sha256: _is_file(connection, sha256))

    # --- documents --------------------------------------------------------------------------

    def read(self, document_id: str, revision: int | None = None) -> Revision:
        """A document as it stands, or one of its revisions as it was saved.

        For a document that was merged the one that answers for it. Raises `NotOnFile`, which
        says by whom, when and why the text was forgotten, if it was.
        """
        with self._database.reading() as connection:
            if revision is None:
                return lookup.current(connection, document_id)
            return lookup.revision(connection, document_id, revision)

    def head(self, document_id: str) -> Head:
        """How a document stands. Raises `NotOnFile`."""
        with self._database.reading() as connection:
            head = lookup.head(connection, document_id)
        if head is None:
            raise NotOnFile(f"{document_id} is not on file")
        return head

    def has(self, document_id: str) -> bool:
        """Whether a document is on file, listed or not."""
        with self._database.reading() as connection:
            return lookup.head(connection, document_id) is not None

    def heads(self, kind: str | None = None, *, listed_only: bool = True) -> Iterator[Head]:
        """How every document of a kind ("work"; None for all) stands, by id."""
        with self._database.reading() as connection:
            yield from lookup.all_heads(connection, kind, listed_only)

    def merged(self) -> dict[str, str]:
        """Every merged document with the one it was merged into."""
        with self._database.reading() as connection:
            return lookup.merged(connection)

    def how_many(self, kind: str) -> int:
        """How many documents of a kind are listed."""
        with self._database.reading() as connection:
            return lookup.how_many(connection, kind)

    def bodies(
        self, kind: str | None = None, *, listed_only: bool = True
    ) -> Iterator[Revision]:
        """The last revision of every document of a kind, by id, all as of one moment."""
        with self._database.reading() as connection:
            yield from lookup.all_bodies(connection, kind, listed_only)

    def latest(self, kind: str | None = None, how_many: int = 10) -> list[Head]:
        """The listed documents that were changed last, the latest first."""
        with self._database.reading() as connection:
            return lookup.latest(connection, kind, how_many)

    def since(self, seq: int) -> list[tuple[str, Head]]:
        """Every document that a change after number `seq` touched, and how it stands."""
        with self._database.reading() as connection:
            return lookup.since(connection, seq)

    def touched(self, kind: str) -> dict[str, str]:
        """When each listed document of a kind was changed last, in UTC."""
        with self._database.reading() as connection:
            return lookup.touched(connection, kind)

    def acts_since(self, seq: int) -> dict[str, set[str]]:
        """What changes after number `seq` did to each document: "save", "merge", "forget" ..."""
        with self._database.reading() as connection:
            return lookup.acts_since(connection, seq)

    def last(self) -> tuple[int, str]:
        """Number and digest of the last change; 0 and 64 zeros before the first."""
        with self._database.reading() as connection:
            return lookup.last(connection)

    def changes(
        self,
        document_id: str | None = None,
        *,
        own_only: bool = False,
        act: str | None = None,
    ) -> Iterator[Change]:
        """Every change with its entries, or those that concern one document; newest last.

        With `own_only` they come with the entries of that document alone; with `act` only those that
        did this ("forget") to something.
        """
        with self._database.reading() as connection:
            yield from lookup.all_changes(connection, document_id, own_only=own_only, act=act)

    def answering_for(self, document_id: str) -> list[str]:
        """The documents for which one answers since they were merged into it."""
        with self._database.reading() as connection:
            return lookup.answering_for(connection, document_id)

    def mentioning(self, words: str, kind: str | None = None) -> list[str]:
        """The listed documents of a kind whose text holds these very words, such as an id."""
        with self._database.reading() as connection:
            return lookup.mentioning(connection, words.encode(), kind)

    def kept_revisions(self, document_id: str) -> list[int]:
        """The revisions of a document whose text was not forgotten, the first first."""
        with self._database.reading() as connection:
            return lookup.kept_revisions(connection, document_id)

    def come_from(self, sha256: str) -> list[tuple[str, int]]:
        """The documents and revisions that were imported from a file on record."""
        with self._database.reading() as connection:
            return lookup.come_from(connection, sha256)

    # --- files ------------------------------------------------------------------------------

    def has_file(self, sha256: str) -> bool:
        """Whether a file with this plain SHA-256 is on record."""
        with self._database.reading() as connection:
            return _is_file(connection, sha256)

    def file_facts(self, sha256: str) -> FileFacts:
        """What is known of a file. Raises `NotOnFile`."""
        with self._database.reading() as connection:
            return lookup.file_facts(connection, sha256)

    def file(self, sha256: str) -> Path:
        """Where a file lies; read it there, never write. Raises `NotOnFile` or `Damaged`."""
        self.file_facts(sha256)
        place = self._shelf.place(sha256)
        if not place.is_file():
            raise Damaged(
                f"{place}: this file is on record, but missing",
                remedy="run `dorse verify`, and bring the file back from a backup",
            )
        return place

    def read_file(self, sha256: str) -> bytes:
        """The contents of a file, held against its digest. Raises `NotOnFile` or `Damaged`."""
        place = self.file(sha256)
        if self._shelf.digest(sha256) != sha256:
            raise Damaged(
                f"{place}: this is not the file that was taken in",
                remedy="run `dorse verify`, and bring the file back from a backup",
            )
        with explained(place):
            return place.read_bytes()

    # --- drafts and settings ----------------------------------------------------------------

    def drafts(self, who: str | None = None, document: str | None = None) -> list[Draft]:
        """What is half typed, by one person or by all, for one document or any, the oldest first."""
        with self._database.reading() as connection:
            return aside.drafts_of(connection, who, document)

    def draft(self, draft_id: str) -> Draft | None:
        """One draft; None when it is not there, or no longer."""
        with self._database.reading() as connection:
            return aside.draft(connection, draft_id)

    def keep_draft(
        self, *, who: str, document: str, place: str, text: str, draft_id: str | None = None
    ) -> Draft:
        """Keep something half typed, over the draft `draft_id` if one is named."""
        with self._database.writing() as connection, explained(self.folder):
            return aside.keep_draft(connection, who, document, place, text, draft_id)

    def drop_draft(self, draft_id: str) -> None:
        """Throw a draft away, if it is still there."""
        with self._database.writing() as connection, explained(self.folder):
            aside.drop_draft(connection, draft_id)

    def setting(self, name: str, default: str | None = None) -> str | None:
        """The value of a setting, or `default` while nobody set it."""
        with self._database.reading() as connection:
            found = aside.setting(connection, name)
        return default if found is None else found

    def set_setting(self, name: str, value: str) -> None:
        """Set a setting. Raises `BadSetting` for a zone or a format that there is not."""
        with self._database.writing() as connection, explained(self.folder):
            aside.set_setting(connection, name, value)

    def settings(self, under: str) -> dict[str, str]:
        """Every setting whose name begins so."""
        with self._database.reading() as connection:
            return aside.all_settings(connection, under)

    def add_setting(self, name: str, value: str) -> bool:
        """Set a setting that nobody set before; whether it was so. It is not set over."""
        with self._database.writing() as connection, explained(self.folder):
            return aside.add_setting(connection, name, value)

    def unset(self, name: str) -> None:
        """Let a setting be as if nobody had set it."""
        with self._database.writing() as connection, explained(self.folder):
            aside.unset(connection, name)

    # --- keeping ----------------------------------------------------------------------------

    def verify(
        self, *, expected_head: str | None = None, progress: Progress | None = None
    ) -> Verdict:
        """Whether everything kept is what was saved, while others go on working.

        `expected_head` is a digest that was printed or kept elsewhere: it must still be there.
        `progress` is told how many files are done, and of how many.
        """
        return inspect(
            self._database.path,
            self._shelf.digest,
            strays=self._shelf.names,
            expected_head=expected_head,
            still_kept=self.has_file,
            progress=progress,
        )

    def backup(self, target: Path, *, progress: Progress | None = None) -> BackupFacts:
        """A verified copy while others go on working: a folder, or one file if it ends in .tar.

        Raises `CannotSave` when there is something at `target` already, `Damaged` when the copy
        does not verify; nothing is left at `target` then.
        """
        return write_backup(self._database, self._shelf, target, progress)


def _is_file(connection: Connection, sha256: str) -> bool:
    query = select(files.c.seq).where(files.c.sha256 == sha256)
    return connection.execute(query).first() is not None


def _let_go(database: Database, passing: Path | None, made_by: int) -> None:
    database.close()
    # a process split off from the one that made it may end earlier
    if passing is not None and os.getpid() == made_by:
        shutil.rmtree(passing, ignore_errors=True)
