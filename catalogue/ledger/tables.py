"""The tables of ledger.sqlite.

`changes` and `entries` are the chain: rows are added and never altered. `bodies` and `files`
hold what the chain has digests of, and can be deleted from. `heads` is derived from the
entries. `drafts` and `settings` stand outside the chain.
"""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    text,
)

LAYOUT = 1
"""Which tables these are; kept in the database as its `user_version`."""

APPLICATION = 0x646F7273
"""What marks the database as ours ("dors"); kept in it as its `application_id`."""

tables = MetaData()

changes = Table(
    "changes",
    tables,
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("at", Text, nullable=False),
    Column("zone", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("format", Integer, nullable=False),
    Column("before", Text, nullable=False, unique=True),
    Column("digest", Text, nullable=False, unique=True),
)

entries = Table(
    "entries",
    tables,
    Column("seq", Integer, ForeignKey("changes.seq"), primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("act", Text, nullable=False),
    Column("document", Text),
    Column("revision", Integer),
    Column("digest", Text),
    Column("source", Text),
    Column("target", Text),
    Column("scope", Text),
    Column("number", Integer),
    sqlite_with_rowid=False,
)

IS_SAVE = text("entries.act = 'save'")
"""Written out, not bound: SQLite takes the index of saves only for a query that says this."""

Index(
    "a_revision_once",
    entries.c.document,
    entries.c.revision,
    unique=True,
    sqlite_where=text("act = 'save'"),
)
Index(
    "a_number_once",
    entries.c.scope,
    entries.c.number,
    unique=True,
    sqlite_where=entries.c.scope.is_not(None),
)
Index(
    "entries_of_document",
    entries.c.document,
    sqlite_where=entries.c.document.is_not(None),
)
Index("entries_of_target", entries.c.target, sqlite_where=entries.c.target.is_not(None))

bodies = Table(
    "bodies",
    tables,
    Column("seq", Integer, primary_key=True),
    Column("place", Integer, primary_key=True),
    Column("salt", LargeBinary, nullable=False),
    Column("body", LargeBinary, nullable=False),
    ForeignKeyConstraint(["seq", "place"], ["entries.seq", "entries.place"]),
)

files = Table(
    "files",
    tables,
    Column("digest", Text, primary_key=True),
    Column("seq", Integer, nullable=False),
    Column("place", Integer, nullable=False),
    Column("salt", LargeBinary, nullable=False),
    Column("sha256", Text, nullable=False, unique=True),
    Column("size", Integer, nullable=False),
    Column("media_type", Text, nullable=False),
    Column("name", Text, nullable=False),
    ForeignKeyConstraint(["seq", "place"], ["entries.seq", "entries.place"]),
)

heads = Table(
    "heads",
    tables,
    Column("document", Text, primary_key=True),
    Column("revision", Integer, nullable=False),
    Column("seq", Integer, nullable=False),
    Column("place", Integer, nullable=False),
    Column("touched", Integer, ForeignKey("changes.seq"), nullable=False, index=True),
    Column("withdrawn", Boolean, nullable=False),
    Column("merged_into", Text),
    ForeignKeyConstraint(["seq", "place"], ["entries.seq", "entries.place"]),
    sqlite_with_rowid=False,
)

drafts = Table(
    "drafts",
    tables,
    Column("id", Text, primary_key=True),
    Column("who", Text, nullable=False),
    Column("document", Text, nullable=False),
    Column("place", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("at", Text, nullable=False),
)

settings = Table(
    "settings",
    tables,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)

SCRUB_DUE = "scrub due"
"""The setting that says which change forgot text that the disk may still hold."""
