"""Questions to what is kept. Each takes a connection that is open for reading."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from sqlalchemy import (
    Connection,
    LargeBinary,
    Select,
    bindparam,
    func,
    literal,
    or_,
    select,
    union,
)

from catalogue.errors import NotOnFile
from catalogue.ledger.chain import ENTRY_KEYS, NOTHING_BEFORE
from catalogue.ledger.tables import IS_SAVE, bodies, changes, entries, files, heads
from catalogue.ledger.values import Change, Entry, FileFacts, Forgotten, Head, Revision

_AT_ONCE = 500
"""How many rows a stream fetches at a time."""

_LAST = select(changes.c.seq, changes.c.digest).order_by(changes.c.seq.desc()).limit(1)
_HEAD = select(heads).where(heads.c.document == bindparam("document"))
SAVE = select(entries.c.seq, entries.c.place).where(
    IS_SAVE,
    entries.c.document == bindparam("document"),
    entries.c.revision == bindparam("revision"),
)

_WHOLE = select(
    entries.c.document,
    entries.c.revision,
    entries.c.seq,
    changes.c.format,
    bodies.c.body,
    files.c.sha256,
)
_KEPT = (
    entries.join(changes, changes.c.seq == entries.c.seq)
    .outerjoin(bodies, (bodies.c.seq == entries.c.seq) & (bodies.c.place == entries.c.place))
    .outerjoin(files, files.c.digest == entries.c.source)
)
_OF_HEAD = (heads.c.seq == entries.c.seq) & (heads.c.place == entries.c.place)
_REVISION = _WHOLE.select_from(_KEPT).where(
    IS_SAVE,
    entries.c.document == bindparam("document"),
    entries.c.revision == bindparam("revision"),
)
_CURRENT = _WHOLE.select_from(_KEPT.join(heads, _OF_HEAD)).add_columns(heads.c.merged_into)
_CURRENT_OF = _CURRENT.where(heads.c.document == bindparam("document"))
_LISTED = (heads.c.withdrawn.is_(False), heads.c.merged_into.is_(None))
_FORGOTTEN = (
    select(changes)
    .join_from(entries, changes, changes.c.seq == entries.c.seq)
    .where(
        entries.c.act == "forget",
        entries.c.document == bindparam("document"),
        entries.c.revision == bindparam("revision"),
    )
    .order_by(changes.c.seq)
)
_CHANGES = (
    select(changes, *(entries.c[key].label(f"entry_{key}") for key in ENTRY_KEYS))
    .join_from(changes, entries, changes.c.seq == entries.c.seq)
    .order_by(entries.c.seq, entries.c.place)
)
_FILE = select(files).where(files.c.sha256 == bindparam("sha256"))


def last(connection: Connection) -> tuple[int, str]:
    """Number and digest of the last change; 0 and 64 zeros before the first."""
    row = connection.execute(_LAST).first()
    return (row.seq, row.digest) if row else (0, NOTHING_BEFORE)


def head(connection: Connection, document_id: str) -> Head | None:
    """How a document stands, None when it is not on file."""
    row = connection.execute(_HEAD, {"document": document_id}).first()
    return _as_head(row) if row else None


def current(connection: Connection, document_id: str) -> Revision:
    """The last revision of a document, or of the one that it was merged into."""
    asked = document_id
    while True:
        row = connection.execute(_CURRENT_OF, {"document": asked}).first()
        if row is None:
            raise NotOnFile(f"{document_id} is not on file")
        if row.merged_into is None:
            return _revision(connection, row)
        asked = row.merged_into


def revision(connection: Connection, document_id: str, number: int) -> Revision:
    """One revision of a document, as it was saved."""
    wanted = {"document": document_id, "revision": number}
    row = connection.execute(_REVISION, wanted).first()
    if row is None:
        raise NotOnFile(f"{document_id} has no revision {number} on file")
    return _revision(connection, row)


def _revision(connection: Connection, row: Any) -> Revision:
    if row.body is None:
        raise NotOnFile(_gone(connection, row.document, row.revision))
    return Revision(*row[:6])


def _gone(connection: Connection, document_id: str, number: int) -> str:
    wanted = {"document": document_id, "revision": number}
    row = connection.execute(_FORGOTTEN, wanted).first()
    where = f"{document_id} revision {number}"
    if row is None:
        return f"{where}: its text is missing; run `dorse verify`"
    return str(Forgotten(where, row.seq, row.who, row.at, row.why))


def _as_head(row: Any) -> Head:
    return Head(*row)


def all_heads(connection: Connection, kind: str | None, listed_only: bool) -> Iterator[Head]:
    """How every document stands, by id."""
    query = _narrowed(select(heads), kind, listed_only).order_by(heads.c.document)
    for row in _stream(connection, query):
        yield _as_head(row)


def all_bodies(
    connection: Connection, kind: str | None, listed_only: bool
) -> Iterator[Revision]:
    """The last revision of every document, by id; one that was forgotten is left out."""
    query = _narrowed(_CURRENT, kind, listed_only).where(bodies.c.body.is_not(None))
    for row in _stream(connection, query.order_by(heads.c.document)):
        yield Revision(*row[:6])


def latest(connection: Connection, kind: str | None, how_many: int) -> list[Head]:
    """The documents that were changed last, the latest first."""
    query = _narrowed(select(heads), kind, listed_only=True)
    ordered = query.order_by(heads.c.touched.desc(), heads.c.document).limit(how_many)
    return [_as_head(row) for row in connection.execute(ordered)]


def merged(connection: Connection) -> dict[str, str]:
    """Every merged document with the one it was merged into."""
    query = select(heads.c.document, heads.c.merged_into).where(
        heads.c.merged_into.is_not(None)
    )
    ordered = query.order_by(heads.c.document)
    return {str(row.document): str(row.merged_into) for row in connection.execute(ordered)}


def how_many(connection: Connection, kind: str) -> int:
    """How many documents of a kind are listed."""
    query = _narrowed(select(func.count()).select_from(heads), kind, listed_only=True)
    return int(connection.execute(query).scalar_one())


def since(connection: Connection, seq: int) -> list[tuple[str, Head]]:
    """Every document that a change after `seq` did anything to, in the order of the changes."""
    query = select(heads).where(heads.c.touched > seq)
    ordered = query.order_by(heads.c.touched, heads.c.document)
    return [(row.document, _as_head(row)) for row in connection.execute(ordered)]


def touched(connection: Connection, kind: str) -> dict[str, str]:
    """When each listed document of a kind was changed last, in UTC."""
    query = _narrowed(select(heads.c.document, changes.c.at), kind, listed_only=True)
    joined = query.join_from(heads, changes, changes.c.seq == heads.c.touched)
    return {str(document): str(at) for document, at in connection.execute(joined)}


def acts_since(connection: Connection, seq: int) -> dict[str, set[str]]:
    """What changes after `seq` did to each document that they touched: "save", "forget" ..."""
    query = select(entries.c.document, entries.c.act).where(
        entries.c.seq > seq, entries.c.document.is_not(None)
    )
    found: dict[str, set[str]] = {}
    for row in connection.execute(query.distinct()):
        found.setdefault(row.document, set()).add(row.act)
    return found


def all_changes(
    connection: Connection,
    document_id: str | None,
    *,
    own_only: bool = False,
    act: str | None = None,
) -> Iterator[Change]:
    """Every change with its entries, or those that concern one document; oldest first.

    With `own_only` they come with the entries of that document alone: a change that brought in a
    thousand works has a thousand. With `act` only those that did this ("forget") to something.
    """
    query = _CHANGES
    if act is not None:
        query = query.where(
            changes.c.seq.in_(select(entries.c.seq).where(entries.c.act == act))
        )
    if document_id is not None:
        about = union(
            select(entries.c.seq).where(entries.c.document == document_id),
            select(entries.c.seq).where(entries.c.target == document_id),
        )
        query = query.where(changes.c.seq.in_(about))
        if own_only:
            own = or_(entries.c.document == document_id, entries.c.target == document_id)
            query = query.where(own)
    for told, rows in groupby(_stream(connection, query), key=lambda row: tuple(row[:8])):
        whole = (*told, tuple(Entry(*row[8:]) for row in rows))
        yield Change(*whole)


def answering_for(connection: Connection, document_id: str) -> list[str]:
    """The documents for which one answers now, those merged into them in turn included."""
    found: list[str] = []
    pending = [document_id]
    while pending:
        above = pending.pop()
        # the index of targets finds who was ever merged there; the head says who still is
        once = select(entries.c.document).where(entries.c.target == above)
        query = select(heads.c.document).where(
            heads.c.document.in_(once), heads.c.merged_into == above
        )
        merged = [row.document for row in connection.execute(query.order_by(heads.c.document))]
        found += merged
        pending += merged
    return found


def mentioning(connection: Connection, words: bytes, kind: str | None) -> list[str]:
    """The listed documents of a kind whose text, as it stands, holds these very bytes."""
    held = func.instr(bodies.c.body, literal(words, LargeBinary)) > 0
    query = _narrowed(select(heads.c.document), kind, listed_only=True).where(held)
    joined = query.join_from(
        heads, bodies, (bodies.c.seq == heads.c.seq) & (bodies.c.place == heads.c.place)
    )
    return [row.document for row in connection.execute(joined.order_by(heads.c.document))]


def kept_revisions(connection: Connection, document_id: str) -> list[int]:
    """The revisions of a document whose text is still there, the first first."""
    there = (bodies.c.seq == entries.c.seq) & (bodies.c.place == entries.c.place)
    query = (
        select(entries.c.revision)
        .join_from(entries, bodies, there)
        .where(IS_SAVE, entries.c.document == document_id)
        .order_by(entries.c.revision)
    )
    return [int(row.revision) for row in connection.execute(query)]


def come_from(connection: Connection, sha256: str) -> list[tuple[str, int]]:
    """The documents and revisions that were imported from a file on record."""
    query = (
        select(entries.c.document, entries.c.revision)
        .join_from(entries, files, files.c.digest == entries.c.source)
        .where(files.c.sha256 == sha256)
        .order_by(entries.c.seq, entries.c.place)
    )
    return [(str(row.document), int(row.revision)) for row in connection.execute(query)]


def file_facts(connection: Connection, sha256: str) -> FileFacts:
    """What is known of a file. Raises `NotOnFile`."""
    row = connection.execute(_FILE, {"sha256": sha256}).first()
    if row is None:
        raise NotOnFile(f"no file {sha256[:80]} is on record")
    return FileFacts(row.sha256, row.size, row.media_type, row.name, row.seq)


def _narrowed(query: Select[Any], kind: str | None, listed_only: bool) -> Select[Any]:
    if listed_only:
        query = query.where(*_LISTED)
    if kind is not None:
        # a range, so that the key of the table answers it; "0" is the sign after "/"
        query = query.where(heads.c.document > f"{kind}/", heads.c.document < f"{kind}0")
    return query


def _stream(connection: Connection, query: Select[Any]) -> Iterator[Any]:
    return iter(connection.execute(query.execution_options(yield_per=_AT_ONCE)))
