"""Keeping a record: joined with what others changed meanwhile, numbered, named in the history.

These are the steps of a save, each within the change that the studio has open.
"""

from __future__ import annotations

import mimetypes
import re
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Generic, TypeVar, cast
from uuid import NAMESPACE_URL, uuid5

from catalogue.errors import BadData, StaleRevision
from catalogue.ledger import Ledger, OpenChange, Revision
from catalogue.linked.addresses import uuid_in
from catalogue.linked.approvals import sealed
from catalogue.linked.documents import FORMAT, from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import parse, write
from catalogue.measure import Day
from catalogue.record import NUMBERED, Job, Party, Record, Reference, Work
from catalogue.record.compare import clashes
from catalogue.record.rules import DOCUMENT_ID, KINDS

_DOCUMENT = re.compile(DOCUMENT_ID)

R = TypeVar("R", Work, Party, Job, Reference)


@dataclass(frozen=True, slots=True)
class Kept(Generic[R]):
    """A record as it was read: with the revision that a save will be measured against."""

    record: R
    revision: int
    document_id: str


def as_read(revision: Revision) -> Kept[Any]:
    """The record of a revision, as it was read."""
    record = from_jsonld(
        parse(revision.body), document_id=revision.document, written_in=revision.format
    )
    return Kept(record, revision.revision, revision.document)


@lru_cache(maxsize=128)
def as_read_lately(revision: Revision) -> Kept[Any]:
    """The same, for pages: a revision never changes, so what was read lately is not read again."""
    return as_read(revision)


def joined(
    ledger: Ledger, record: R, read: Kept[R], change: OpenChange, today: Day
) -> tuple[R, bytes, int]:
    """The record and its text with what everybody changed, and the revision it was joined to."""
    now = ledger.read(read.document_id)
    if now.revision != read.revision:
        theirs = as_read(now).record
        twice = clashes(read.record, record, theirs)
        if twice:
            mine, other = twice[0]
            raise StaleRevision(
                f"the {naming(mine.kind, mine.field)} was changed by somebody else since you read it",
                mine=mine.after,
                theirs=other.after,
                remedy="compare both versions and save again",
            )
    record = numbered(record, change, today)
    document = merge(parse(now.body), read.record, record)
    again = from_jsonld(document, document_id=read.document_id, written_in=now.format)
    if now.revision == read.revision and again != record:
        raise BadData(
            "this record came from elsewhere in a form that this change cannot be written into",
            remedy="nothing was saved; make it a work of your own first",
        )
    return cast("R", again), write(document), now.revision


def written(record: R) -> bytes:
    """The text of a new record. Raises `BadData` for one that would not be read again as it is."""
    body = write(to_jsonld(record))
    try:
        again = from_jsonld(parse(body), document_id=record.document, written_in=FORMAT)
    except BadData as refused:
        raise BadData(
            f"this cannot be kept: {refused.args[0]}",
            remedy="a word of another vocabulary stands where only ours can; choose one from the list",
        ) from refused
    if again != record:
        raise BadData(
            "this cannot be kept: it would not be read again as it was typed",
            remedy="a word of another vocabulary stands where only ours can; choose one from the list",
        )
    return body


def numbered(record: R, change: OpenChange, today: Day) -> R:
    """The record with a number for whatever has none yet, issued within the change.

    An approval that says nothing of what was approved is of the proposal as it stands now.
    """
    if isinstance(record, Work | Job):
        number = record.number or _written(*_SERIES[type(record)], change, today)
        values: dict[str, Any] = {
            name: tuple(
                each if each.number else replace(each, number=short(letter, record, change))
                for each in getattr(record, name)
            )
            for name, letter in _numbered_fields(record)
        }
        if isinstance(record, Job):
            values["approvals"] = sealed(record)
        return replace(record, number=number, **values)
    return record


_SERIES: dict[type, tuple[str, str]] = {Work: ("", "work"), Job: ("J", "job")}
"""What stands before the number of a record, and what it is counted among."""


def _numbered_fields(record: Work | Job) -> list[tuple[str, str]]:
    """The fields whose values people call by a number."""
    return [(name, letter) for name, letter in NUMBERED.items() if hasattr(record, name)]


def short(letter: str, record: Work | Job, change: OpenChange) -> str:
    """The next number of its kind within a record, such as I3."""
    return f"{letter}{change.number(f'{letter} of {record.document}')}"


def claimed(record: Record, change: OpenChange, today: Day) -> tuple[Record, tuple[str, ...]]:
    """Take the numbers that an imported record brings; one that is taken is replaced, and said."""
    said: list[str] = []
    if isinstance(record, Work | Job):
        for name, letter in _numbered_fields(record):
            for number in (each.number for each in getattr(record, name)):
                if number:
                    change.claim(f"{letter} of {record.document}", int(number[1:]))
    if isinstance(record, Work | Job) and record.number:
        kind = type(record).__name__.lower()
        year, _, count = record.number.removeprefix("J").partition("-")
        try:
            change.claim(f"{kind}:{year}", int(count))
        except BadData:
            said.append(f"the number {record.number} is taken here")
            record = replace(record, number=None)
    return numbered(cast("Any", record), change, today), tuple(said)


def _written(prefix: str, kind: str, change: OpenChange, today: Day) -> str:
    return f"{prefix}{today.year}-{change.number(f'{kind}:{today.year}'):03d}"


def is_document(named: str) -> bool:
    """Whether this is the id of a document, such as work/<uuid>."""
    return _DOCUMENT.fullmatch(named) is not None


def at(ledger: Ledger, address: str) -> str | None:
    """The document that came from a full address, whatever it has become here; None for a stranger's."""
    own = uuid_in(address, None)
    for uuid in (str(uuid5(NAMESPACE_URL, address)), *((own,) if own else ())):
        # What came from elsewhere was a reference first, and knows what answers for it today.
        for kind in reversed(KINDS):
            if ledger.has(f"{kind}/{uuid}"):
                return ledger.read(f"{kind}/{uuid}").document
    return None


def subject(verb: str, record: Record) -> str:
    """What a change did and to what, in a few words: "edit work 2026-041".

    A person is not named: the reason of a change cannot be forgotten, and a name must be.
    """
    match record:
        case Work():
            what = record.number or record.title()
        case Party():
            return f"{verb} {'person' if record.kind == 'person' else 'firm'}"
        case Job():
            what = record.number or "commission"
        case Reference():
            what = record.labels[0] if record.labels else record.id
    return f"{verb} {type(record).__name__.lower()} {what}"


def media_type_of(name: str) -> str:
    """What kind of file a paper is, by the ending of its name.

    >>> media_type_of("letter.pdf"), media_type_of("letter")
    ('application/pdf', 'application/octet-stream')
    """
    return mimetypes.guess_type(name)[0] or "application/octet-stream"


def naming(kind: str, field: str) -> str:
    """What to call a value in a message: "medium of the work", "title"."""
    return f"{field} of the {kind.lower()}" if field else kind.lower()
