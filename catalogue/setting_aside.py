"""Setting a record aside: out of the lists, answered for by another, or forgotten for good.

The first two can be undone, and nothing is lost by them. What each would do is told in numbers
before it is done.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from typing import Any

from catalogue.errors import BadData
from catalogue.history import NameOf, ValueChange, called, in_words, moment, own_name, worded
from catalogue.joining import joined_records
from catalogue.keeping import Kept, as_read, joined, short
from catalogue.ledger import Change, Ledger, OpenChange
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.measure import Day
from catalogue.named_by import NamedBy
from catalogue.record import Party, PartyName, Work
from catalogue.record.compare import Difference
from catalogue.record.rules import DOCUMENT_ID
from catalogue.undoing import taken_back

WITHHELD = "Name withheld"
"""What a person or firm is called that was forgotten, unless somebody says otherwise."""

_NAMED = re.compile(rf'"({DOCUMENT_ID})"'.encode())

NOT_COMPARED = ("id", "number", "visibility")
"""Facts of a whole record that two records of one thing may well have each for itself."""


@dataclass(frozen=True, slots=True)
class Act:
    """Who did something, when by the studio's clock, and why."""

    who: str
    when: str
    why: str


@dataclass(frozen=True, slots=True)
class Former:
    """A record that is answered for: what it was called, since when, by whose word."""

    document: str
    called: str
    act: Act


@dataclass(frozen=True, slots=True)
class Standing:
    """How a record stands: `withdrawn` says by whom; `answers_for` are records merged into it."""

    document: str
    withdrawn: Act | None
    answers_for: tuple[Former, ...]


@dataclass(frozen=True, slots=True)
class Joining:
    """What a merge would do: what is added, what stays with the old record because both say it."""

    old: Any
    into: Any
    adds: tuple[ValueChange, ...]
    differs: tuple[ValueChange, ...]
    named_by: int


@dataclass(frozen=True, slots=True)
class Forgetting:
    """What forgetting would do, in numbers.

    `files` are those it was imported from and that go as well; `shared` hold other records too, and
    stay.
    """

    revisions: int
    named_by: int
    drafts: int
    files: tuple[str, ...]
    shared: tuple[str, ...]


def reasoned(why: str, what: str) -> str:
    """The reason for something that needs one. Raises `BadData`."""
    if not why.strip():
        raise BadData(f"{what} needs a reason", remedy='say it with --why "..."')
    return why.strip()


# --- how it stands --------------------------------------------------------------------------------


def standing(ledger: Ledger, document_id: str, name_of: NameOf) -> Standing:
    """How a record stands; of a merged one, how the one stands that answers for it."""
    document_id = ledger.read(document_id).document
    head = ledger.head(document_id)
    merged = ledger.answering_for(document_id)
    if not head.withdrawn and not merged:
        return Standing(document_id, None, ())
    return Standing(
        document_id,
        _last(ledger, document_id, "withdraw", name_of) if head.withdrawn else None,
        tuple(
            Former(each, own_name(ledger, each), _last(ledger, each, "merge", name_of))
            for each in merged
        ),
    )


def _last(ledger: Ledger, document_id: str, act: str, name_of: NameOf) -> Act:
    change = _last_change(ledger, document_id, act, own_only=True)
    return Act(name_of(change.who), moment(change.at, change.zone), change.why)


def _last_change(ledger: Ledger, document_id: str, act: str, *, own_only: bool) -> Change:
    """The last change that did this to a document; there is one, for its head says so."""
    return [
        change
        for change in ledger.changes(document_id, own_only=own_only)
        if any(each.act == act and each.document == document_id for each in change.entries)
    ][-1]


def now_answering(ledger: Ledger) -> dict[str, str]:
    """Every merged record with the one that answers for it today."""
    merged = ledger.merged()
    return {each: _end_of(each, merged) for each in merged}


def _end_of(document_id: str, merged: dict[str, str]) -> str:
    while document_id in merged:
        document_id = merged[document_id]
    return document_id


def with_present_ids(ledger: Ledger) -> Callable[[bytes], bytes]:
    """What makes a document name, for every merged record, the one that answers for it today."""
    answering = {old.encode(): new.encode() for old, new in now_answering(ledger).items()}

    def named(found: re.Match[bytes]) -> bytes:
        return b'"' + answering.get(found[1], found[1]) + b'"'

    def present(body: bytes) -> bytes:
        return _NAMED.sub(named, body) if answering else body

    return present


# --- out of the lists, and back -------------------------------------------------------------------


def withdraw(change: OpenChange, ledger: Ledger, document_id: str) -> None:
    """Take a record out of lists, searches and exports. Raises `BadData` for one that is merged."""
    head = ledger.head(document_id)
    if head.merged_into is not None:
        raise BadData(
            f"{own_name(ledger, document_id)} is in no list: {own_name(ledger, head.merged_into)}"
            " answers for it",
            remedy="set that one aside, or undo the merge first",
        )
    if head.withdrawn:
        raise BadData(f"{own_name(ledger, document_id)} is set aside already")
    change.withdraw(document_id)


def reinstate(change: OpenChange, ledger: Ledger, document_id: str) -> None:
    """Put a record that was set aside back into the lists."""
    if not ledger.head(document_id).withdrawn:
        raise BadData(f"{own_name(ledger, document_id)} is not set aside")
    change.reinstate(document_id)


def refuse_withdrawn(ledger: Ledger, document_id: str, name_of: NameOf) -> None:
    """Raise `BadData` for a record that was set aside and is about to leave."""
    if ledger.head(document_id).withdrawn:
        act = _last(ledger, document_id, "withdraw", name_of)
        raise BadData(
            f"{own_name(ledger, document_id)} was set aside by {act.who} on {act.when}: {act.why}",
            remedy="take it back into the lists first: dorse withdraw --undo",
        )


# --- one answers for the other --------------------------------------------------------------------


def joining(ledger: Ledger, old: str, into: str, name_of: NameOf, names: NamedBy) -> Joining:
    """What would happen if `into` answered for `old`. Raises `BadData` where it cannot."""
    mine, theirs = _both(ledger, old, into)
    together = joined_records(mine.record, theirs.record, lambda letter: None)
    return Joining(
        old=theirs.record,
        into=mine.record,
        adds=in_words(mine.record, together, name_of),
        differs=worded(_said_otherwise(mine.record, theirs.record), {}, name_of),
        named_by=len(names.naming(old, "work")) + len(names.naming(old, "job")),
    )


def _said_otherwise(into: Any, other: Any) -> Iterator[Difference]:
    """The facts of the whole record in which the other one says something else, which is not added."""
    for each in fields(into):
        mine, theirs = getattr(into, each.name), getattr(other, each.name)
        if each.name in NOT_COMPARED or isinstance(mine, tuple) or hasattr(mine, "id"):
            continue
        if None not in (mine, theirs) and mine != theirs:
            yield Difference(type(into).__name__, into.id, each.name, mine, theirs)


def merge(change: OpenChange, ledger: Ledger, old: str, into: str, today: Day) -> None:
    """Let `into` answer for `old`, with what only `old` says added to it."""
    mine, theirs = _both(ledger, old, into)

    def number(letter: str) -> str:
        return short(letter, mine.record, change)

    together = joined_records(mine.record, theirs.record, number)
    if together != mine.record:
        _, body, current = joined(ledger, together, mine, change, today)
        change.save(into, body, expected=current)
    change.merge(old, into)


def _both(ledger: Ledger, old: str, into: str) -> tuple[Kept[Any], Kept[Any]]:
    """The one that shall answer and the one that shall be answered for. Raises `BadData`."""
    for each in (old, into):
        above = ledger.head(each).merged_into
        if above is not None:
            raise BadData(
                f"{own_name(ledger, each)} was merged already:"
                f" {own_name(ledger, above)} answers for it",
                remedy="name that one, or undo the merge first",
            )
    if old == into:
        raise BadData(f"{own_name(ledger, old)} cannot be merged into itself")
    mine, theirs = as_read(ledger.read(into)), as_read(ledger.read(old))
    if type(mine.record) is not type(theirs.record):
        raise BadData(
            f"{called(theirs.record)} and {called(mine.record)} are not of one kind",
            remedy="a work goes into a work, a person or firm into a person or firm",
        )
    if ledger.head(into).withdrawn:
        raise BadData(
            f"{called(mine.record)} is set aside and cannot answer for another",
            remedy="take it back into the lists first",
        )
    return mine, theirs


def unmerge(
    change: OpenChange, ledger: Ledger, document_id: str, today: Day, name_of: NameOf
) -> tuple[ValueChange, ...]:
    """Let a merged record answer for itself again, and take back out what it had added.

    What was worked on since stays with the one that answered, and is told.
    """
    into = ledger.head(document_id).merged_into
    if into is None:
        raise BadData(f"{own_name(ledger, document_id)} was not merged into another")
    above = ledger.head(into).merged_into
    if above is not None:
        raise BadData(
            f"{own_name(ledger, into)} was itself merged into {own_name(ledger, above)} since",
            remedy="undo that merge first",
        )
    if not ledger.kept_revisions(document_id):
        raise BadData(
            "what this record said was forgotten: there is nothing to answer for itself",
            remedy="the other one goes on answering for it",
        )
    left: tuple[ValueChange, ...] = ()
    saved = _saved_by_merge(ledger, document_id, into)
    change.unmerge(document_id)
    if saved == 1:
        # It was made from a record that came from elsewhere: that one stands for itself again.
        if not ledger.head(into).withdrawn:
            change.withdraw(into)
    elif saved is not None:
        now = as_read(ledger.read(into))
        before, after = (as_read(ledger.read(into, each)).record for each in (saved - 1, saved))
        record, stays = taken_back(now.record, before, after)
        if record != now.record:
            record, body, current = joined(ledger, record, now, change, today)
            change.save(into, body, expected=current)
        kept = {each.field or each.value for each in stays}
        left = tuple(each for each in in_words(before, after, name_of) if each.key in kept)
    return left


def _saved_by_merge(ledger: Ledger, document_id: str, into: str) -> int | None:
    """Which revision of the answering record the merge saved; None when it added nothing."""
    change = _last_change(ledger, document_id, "merge", own_only=False)
    for each in change.entries:
        if each.act == "save" and each.document == into:
            return each.revision
    return None


# --- forgotten for good ---------------------------------------------------------------------------


def forgetting(ledger: Ledger, document_id: str, names: NamedBy) -> Forgetting:
    """What forgetting a person or firm, or what a work used to say, would do."""
    lost = dict(_lost(ledger, document_id))
    own, shared = _sources(ledger, lost)
    concerned = set(lost) | {document_id}
    return Forgetting(
        revisions=sum(len(each) for each in lost.values()),
        named_by=len(names.naming(document_id)),
        drafts=sum(each.document in concerned for each in ledger.drafts()),
        files=tuple(ledger.file_facts(each).name for each in own),
        shared=tuple(ledger.file_facts(each).name for each in shared),
    )


def _lost(ledger: Ledger, document_id: str) -> Iterator[tuple[str, list[int]]]:
    """The revisions whose text goes: of a party all that there are, of anything else the older ones."""
    party = document_id.startswith("party/")
    held = ledger.kept_revisions(document_id)
    yield document_id, held if party else [each for each in held if each != held[-1]]
    for each in ledger.answering_for(document_id) if party else ():
        yield each, ledger.kept_revisions(each)


def _sources(ledger: Ledger, lost: dict[str, list[int]]) -> tuple[list[str], list[str]]:
    """The files from which these revisions were imported: theirs alone, and those others share."""
    gone = {(document, revision) for document, held in lost.items() for revision in held}
    own: dict[str, None] = {}
    shared: dict[str, None] = {}
    for document, revision in sorted(gone):
        source = ledger.read(document, revision).source
        if source is not None:
            alone = set(ledger.come_from(source)) <= gone
            (own if alone else shared)[source] = None
    return list(own), list(shared)


def forget(change: OpenChange, ledger: Ledger, read: Kept[Any], pseudonym: str) -> int:
    """Replace a person or firm by a pseudonym, or keep of a work only what it says today.

    What the older revisions said is deleted, with the files that held nothing else; how many
    revisions those were.
    """
    lost = dict(_lost(ledger, read.document_id))
    own, _ = _sources(ledger, lost)
    how_many = sum(len(each) for each in lost.values())
    if isinstance(read.record, Party):
        bare = Party(
            id=read.record.id,
            kind=read.record.kind,
            names=(PartyName(text=pseudonym, preferred=True),),
            roles=read.record.roles,
            visibility=read.record.visibility,
        )
        change.save(read.document_id, write(to_jsonld(bare)), expected=read.revision)
    elif not isinstance(read.record, Work) or not how_many:
        raise BadData(
            f"{called(read.record)} has no older state that could be forgotten",
            remedy="only a person, a firm, or what a work used to say can be forgotten",
        )
    for document, revisions in lost.items():
        change.forget_revisions(document, revisions)
    for sha256 in own:
        change.forget_file(sha256)
    return how_many
