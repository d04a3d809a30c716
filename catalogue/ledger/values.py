"""What the ledger tells: changes, entries, revisions, heads, files, drafts, verdicts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeAlias

Act: TypeAlias = Literal[
    "save", "file", "number", "forget", "withdraw", "reinstate", "merge", "unmerge"
]


Progress: TypeAlias = Callable[[int, int], None]
"""Told how much is done, and of how much."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a change; what does not belong to its act is None.

    save       document, revision, digest (salted, of its bytes), source (digest of a file)
    file       digest (salted, of its facts)
    number     scope, number
    forget     document and revision, or digest of a file entry
    withdraw   document; so reinstate and unmerge
    merge      document, target (the document that answers for it from now on)
    """

    act: Act
    document: str | None = None
    revision: int | None = None
    digest: str | None = None
    source: str | None = None
    target: str | None = None
    scope: str | None = None
    number: int | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """One change as it stands in the ledger: all of its entries were kept, or none.

    `at` is UTC, `zone` the studio's IANA zone on that day, `format` the one that its documents
    are written in, `before` the digest of the change before (64 zeros for the first).
    """

    seq: int
    at: str
    zone: str
    who: str
    why: str
    format: int
    before: str
    digest: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Revision:
    """The bytes of a document as one change saved them.

    `source` is the plain SHA-256 of the file it was imported from, None when there is none or
    when that was forgotten.
    """

    document: str
    revision: int
    seq: int
    format: int
    body: bytes
    source: str | None


@dataclass(frozen=True, slots=True)
class Head:
    """How a document stands: its last revision, who answers for it, whether lists show it.

    `seq` and `place` are the entry that saved it, `touched` the last change that did anything
    to it, `merged_into` the document that answers in its stead.
    """

    document: str
    revision: int
    seq: int
    place: int
    touched: int
    withdrawn: bool = False
    merged_into: str | None = None

    @property
    def kind(self) -> str:
        """What stands before the slash: work, party, job, reference."""
        return self.document.partition("/")[0]

    @property
    def listed(self) -> bool:
        """Whether lists and searches show it."""
        return not self.withdrawn and self.merged_into is None


@dataclass(frozen=True, slots=True)
class FileFacts:
    """What is known of a file: its plain SHA-256, its size in bytes, the name it came with."""

    sha256: str
    size: int
    media_type: str
    name: str
    seq: int


@dataclass(frozen=True, slots=True)
class Draft:
    """Something half typed: by whom, for which place in which document. `at` is UTC."""

    id: str
    who: str
    document: str
    place: str
    text: str
    at: str


@dataclass(frozen=True, slots=True)
class Fault:
    """Something kept is not what was saved.

    `what` is one of database, change, entry, document, file, head, number; `where` says which.
    """

    what: str
    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.where}: {self.message}"


@dataclass(frozen=True, slots=True)
class Forgotten:
    """What was withdrawn from the ledger for good, and by whom, when (UTC) and why.

    >>> print(Forgotten("party/7 revision 1", 9, "N. Feld", "2026-02-03T10:00Z", "asked"))
    party/7 revision 1: forgotten by N. Feld at 2026-02-03T10:00Z (change 9): asked
    """

    what: str
    seq: int
    who: str
    at: str
    why: str

    def __str__(self) -> str:
        return (
            f"{self.what}: forgotten by {self.who} at {self.at} (change {self.seq}): {self.why}"
        )


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether what is kept is what was saved.

    `head` is the last digest, to be kept outside the studio; the three counts are of what is on
    file. `notes` are no faults: a stray file, say.
    """

    head: str
    changes: int
    documents: int
    files: int
    faults: tuple[Fault, ...]
    forgotten: tuple[Forgotten, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BackupFacts:
    """What a backup holds, as verified after it was written."""

    target: Path
    size: int
    head: str
    changes: int
    documents: int
    files: int
