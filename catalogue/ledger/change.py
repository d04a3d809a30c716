"""A change being made: entries are gathered, and written all at its end, or none."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select
from sqlalchemy.dialects.sqlite import insert as insert_or_update

from catalogue.errors import BadData, NotOnFile, StaleRevision
from catalogue.ledger import lookup
from catalogue.ledger.aside import now, set_setting, setting, text_of
from catalogue.ledger.chain import (
    ENTRY_KEYS,
    SALT_BYTES,
    digest_of_change,
    digest_of_file,
    salted,
)
from catalogue.ledger.files import Shelf, Taken
from catalogue.ledger.heads import move_on
from catalogue.ledger.numbers import Numbers
from catalogue.ledger.tables import (
    SCRUB_DUE,
    bodies,
    changes,
    drafts,
    entries,
    files,
    heads,
)
from catalogue.ledger.values import Entry, Head

_DOCUMENT = re.compile(r"[a-z][a-z0-9_-]*/[A-Za-z0-9][A-Za-z0-9._~-]*")
_FILE_DIGEST = select(files.c.digest).where(files.c.sha256 == bindparam("sha256"))
_upsert = insert_or_update(heads)
_MOVE_HEAD = _upsert.on_conflict_do_update(
    index_elements=[heads.c.document],
    set_={column.name: _upsert.excluded[column.name] for column in heads.c[1:]},
)


class OpenChange:
    """A change that is being made, in one transaction; `seq` and `digest` are known at its end.

    Nothing else can be saved meanwhile, so keep it short. What the change did so far is not
    seen by the ledger's own questions until it is committed. A change that enters nothing is
    none: it leaves no trace, and `seq` and `digest` stay None.
    """

    def __init__(
        self,
        connection: Connection,
        shelf: Shelf,
        *,
        who: str,
        why: str,
        written_in: int | None,
    ) -> None:
        self.seq: int | None = None
        self.digest: str | None = None
        self.forgets = False
        self._who = text_of("who makes this change", who)
        self._why = text_of("why this change is made", why)
        self._format = written_in
        self._connection = connection
        self._shelf = shelf
        seq, self._before = lookup.last(connection)
        self._seq = seq + 1
        self._entries: list[Entry] = []
        self._heads: dict[str, Head] = {}
        self._asked: set[str] = set()
        self._numbers = Numbers(connection)
        self._bodies: list[dict[str, Any]] = []
        self._files: dict[str, dict[str, Any]] = {}
        self._taken: list[Taken] = []
        self._drafts: list[str] = []

    # --- documents --------------------------------------------------------------------------

    def save(
        self, document_id: str, body: bytes, *, expected: int | None, source: str | None = None
    ) -> int:
        """Keep `body` as the next revision of a document; which one that is.

        `expected` is the revision it was read at, None for a new document. Raises
        `StaleRevision` when the document moved on. `source` is the SHA-256 of a file on record
        that it was imported from.
        """
        if not _DOCUMENT.fullmatch(document_id) or len(document_id) > 200:
            raise BadData(
                f"{document_id!r} is not the id of a document", remedy="such as work/<uuid>"
            )
        if not isinstance(body, bytes) or not body:
            raise BadData(f"{document_id}: a document is some bytes of JSON")
        head = self._head(document_id)
        if head is None and expected is not None:
            raise NotOnFile(f"{document_id} is not on file")
        if head is not None:
            _refuse_stale(head, expected)
        origin = self._file_digest(source) if source is not None else None
        salt = secrets.token_bytes(SALT_BYTES)
        revision = head.revision + 1 if head else 1
        place = self._enter(
            Entry(
                "save",
                document=document_id,
                revision=revision,
                digest=salted(salt, body),
                source=origin,
            )
        )
        self._bodies.append({"seq": self._seq, "place": place, "salt": salt, "body": body})
        return revision

    def withdraw(self, document_id: str) -> None:
        """Take a document out of lists and searches; its history stays."""
        if self._on_file(document_id).withdrawn:
            raise BadData(f"{document_id} is withdrawn already")
        self._enter(Entry("withdraw", document=document_id))

    def reinstate(self, document_id: str) -> None:
        """Put a withdrawn document back into the lists."""
        if not self._on_file(document_id).withdrawn:
            raise BadData(f"{document_id} is not withdrawn")
        self._enter(Entry("reinstate", document=document_id))

    def merge(self, document_id: str, into: str) -> None:
        """Let the document `into` answer for this one from now on; `unmerge` undoes it."""
        if self._on_file(document_id).merged_into is not None:
            raise BadData(f"{document_id} is merged already", remedy="undo that merge first")
        above: str | None = into
        while above is not None:
            if above == document_id:
                raise BadData(f"{document_id} cannot be merged into itself, nor in a ring")
            above = self._on_file(above).merged_into
        self._enter(Entry("merge", document=document_id, target=into))

    def unmerge(self, document_id: str) -> None:
        """Let a merged document answer for itself again."""
        merged_into = self._on_file(document_id).merged_into
        if merged_into is None:
            raise BadData(f"{document_id} is not merged into another")
        self._head(merged_into)
        self._enter(Entry("unmerge", document=document_id))

    def forget_revisions(self, document_id: str, revisions: Iterable[int]) -> None:
        """Delete text and salt of some revisions for good, and every draft for the document.

        That they were there, and who forgot them when and why, stays. One forgotten earlier is
        passed over. Backups made earlier, and what was printed or sent out, still have the
        text.
        """
        self._on_file(document_id)
        for revision in sorted(set(revisions)):
            where = {"document": document_id, "revision": revision}
            kept = self._connection.execute(lookup.SAVE, where).first()
            if kept is None:
                raise NotOnFile(
                    f"{document_id} has no revision {revision} that could be forgotten",
                    remedy="one that this very change saves cannot be",
                )
            gone = self._connection.execute(
                delete(bodies).where(bodies.c.seq == kept.seq, bodies.c.place == kept.place)
            )
            if gone.rowcount:
                self._enter(Entry("forget", document=document_id, revision=revision))
                self.forgets = True
        self._connection.execute(delete(drafts).where(drafts.c.document == document_id))

    # --- numbers ----------------------------------------------------------------------------

    def number(self, scope: str) -> int:
        """The next number of a scope, such as "work:2026": the highest ever given plus one."""
        number = self._numbers.next(scope)
        self._enter(Entry("number", scope=scope, number=number))
        return number

    def claim(self, scope: str, number: int) -> None:
        """Give out this very number of a scope. Raises `BadData` when that was done before."""
        self._numbers.claim(scope, number)
        self._enter(Entry("number", scope=scope, number=number))

    # --- files and drafts -------------------------------------------------------------------

    def keep_file(self, content: bytes | Path, *, name: str, media_type: str) -> str:
        """Keep a file byte for byte; its plain SHA-256. The same contents are kept once."""
        text_of("the name of the file", name)
        text_of("the media type of the file", media_type)
        taken = self._shelf.take(content)
        if self._known_file(taken.sha256) is not None:
            taken.let_go()
            return taken.sha256
        if taken.sha256 in self._shelf.leaving():
            # an earlier change's marks were swept before this one began: the mark is our own
            taken.let_go()
            raise BadData(f"{name}: this file is being forgotten by this very change")
        self._taken.append(taken)
        taken.keep()
        facts = {
            "sha256": taken.sha256,
            "size": taken.size,
            "media_type": media_type,
            "name": name,
        }
        salt = secrets.token_bytes(SALT_BYTES)
        digest = digest_of_file(
            salt, sha256=taken.sha256, size=taken.size, media_type=media_type, name=name
        )
        place = self._enter(Entry("file", digest=digest))
        self._files[taken.sha256] = {
            "digest": digest,
            "seq": self._seq,
            "place": place,
            "salt": salt,
            **facts,
        }
        return taken.sha256

    def forget_file(self, sha256: str) -> None:
        """Delete a file for good: contents, name and plain digest. That there was one stays."""
        self._shelf.place(sha256)
        digest = self._connection.execute(_FILE_DIGEST, {"sha256": sha256}).scalar()
        if digest is None:
            raise NotOnFile(f"no file {sha256} is on record that could be forgotten")
        self._enter(Entry("forget", digest=digest))
        self._connection.execute(delete(files).where(files.c.sha256 == sha256))
        self._shelf.mark_leaving(sha256)
        self.forgets = True

    def take_draft(self, draft_id: str) -> None:
        """Let this change consume a draft; one that is gone already is no reason to refuse."""
        self._drafts.append(draft_id)

    def _known_file(self, sha256: str) -> str | None:
        if sha256 in self._files:
            return str(self._files[sha256]["digest"])
        known: str | None = self._connection.execute(_FILE_DIGEST, {"sha256": sha256}).scalar()
        return known

    def _file_digest(self, sha256: str) -> str:
        known = self._known_file(sha256)
        if known is None:
            raise NotOnFile(f"no file {sha256} is on record", remedy="keep the file first")
        return known

    # --- the end ----------------------------------------------------------------------------

    def write(self) -> tuple[int, str] | None:
        """Write everything gathered; number and digest of the change, None if it is empty."""
        run = self._connection.execute
        if self._drafts:
            run(delete(drafts).where(drafts.c.id.in_(self._drafts)))
        if not self._entries:
            return None
        zone, kept_in = (setting(self._connection, each) for each in ("zone", "format"))
        told: dict[str, Any] = {
            "seq": self._seq,
            "at": now(),
            "zone": zone or "UTC",
            "who": self._who,
            "why": self._why,
            "before": self._before,
        }
        written_in = int(kept_in or 1) if self._format is None else self._format
        digest = digest_of_change(**told, written_in=written_in, entries=self._entries)
        run(insert(changes), {**told, "format": written_in, "digest": digest})
        run(insert(entries), [self._row(*each) for each in enumerate(self._entries, 1)])
        if self._bodies:
            run(insert(bodies), self._bodies)
        if self._files:
            run(insert(files), list(self._files.values()))
        moved = [_head_row(head) for head in self._heads.values() if head.touched == self._seq]
        if moved:
            run(_MOVE_HEAD, moved)
        if self.forgets:
            set_setting(self._connection, SCRUB_DUE, str(self._seq))
        return self._seq, digest

    def let_go(self) -> None:
        """Leave nothing of the files that were taken in, for a change that is rolled back."""
        for taken in self._taken:
            taken.let_go()

    def _row(self, place: int, entry: Entry) -> dict[str, Any]:
        told = {key: getattr(entry, key) for key in ENTRY_KEYS}
        return {"seq": self._seq, "place": place, **told}

    def _enter(self, entry: Entry) -> int:
        self._entries.append(entry)
        place = len(self._entries)
        move_on(self._heads, self._seq, place, entry)
        return place

    def _head(self, document_id: str) -> Head | None:
        if document_id not in self._asked:
            self._asked.add(document_id)
            head = lookup.head(self._connection, document_id)
            if head is not None:
                self._heads[document_id] = head
        return self._heads.get(document_id)

    def _on_file(self, document_id: str) -> Head:
        head = self._head(document_id)
        if head is None:
            raise NotOnFile(f"{document_id} is not on file")
        return head


def _refuse_stale(head: Head, expected: int | None) -> None:
    if head.merged_into is not None:
        raise StaleRevision(
            f"{head.document} was merged into {head.merged_into} since it was read",
            mine=expected,
            theirs=head.revision,
            remedy=f"read {head.merged_into} and save there",
        )
    if expected != head.revision:
        was = "made anew" if expected is None else f"read at revision {expected}"
        raise StaleRevision(
            f"{head.document} was {was}, but is on file at revision {head.revision}",
            mine=expected,
            theirs=head.revision,
            remedy="read it again, compare, and save again",
        )


def _head_row(head: Head) -> dict[str, Any]:
    return {column.name: getattr(head, column.name) for column in heads.c}
