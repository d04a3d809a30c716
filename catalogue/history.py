"""The history of a record in words: every change with what it changed, value by value, before and after."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from catalogue.errors import NotOnFile
from catalogue.keeping import as_read, as_read_lately
from catalogue.ledger import Change, Entry, Ledger
from catalogue.record.compare import Difference
from catalogue.record.rules import OPEN
from catalogue.terms import label
from catalogue.undoing import Placed, changes_between, everything, fields_changed, values_within
from catalogue.wording import MONTHS, Naming, act_said, field_word, kind_word, said

NameOf = Callable[[str], str]
"""What to call a document by its id, or a person as the ledger names them."""

AT_MOST = 20
"""How many changes a page of a history shows at once."""

MARKUP = ("Transcript", "markup")


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field before and after, in words; "" where it said nothing. `markup`: these are readings."""

    label: str
    before: str
    after: str
    markup: bool = False


@dataclass(frozen=True, slots=True)
class ValueChange:
    """One value before and after. `key` names it to whoever takes this one change back.

    `what` says which value ("reading of inscription I2"), `did` is added, changed or taken away.
    """

    key: str
    kind: str
    number: str | None
    what: str
    did: str
    fields: tuple[FieldChange, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """One change of one record. `at` is UTC, `when` the studio's own clock on that day, in words.

    `revision` is None for a change that saved no text; `gone` says who deleted the text, if it was.
    Where it is not `whole`, what was changed was not asked for.
    """

    seq: int
    at: str
    when: str
    zone: str
    who: str
    why: str
    revision: int | None
    acts: tuple[str, ...]
    changes: tuple[ValueChange, ...]
    gone: str
    whole: bool = True


def moment(at: str, zone: str) -> str:
    """A moment in UTC by the clock of a zone, in words.

    >>> moment("2026-07-02T22:20:31.120Z", "Europe/Vienna")
    '3 July 2026, 00:20'
    """
    here = datetime.fromisoformat(at).astimezone(ZoneInfo(zone))
    return f"{here.day} {MONTHS[here.month - 1]} {here.year}, {here:%H:%M}"


def retold(
    ledger: Ledger,
    document_id: str,
    name_of: NameOf,
    *,
    skip: int = 0,
    at_most: int | None = None,
    only: Container[int] | None = None,
) -> tuple[int, list[Told]]:
    """How many changes a document has seen, and some of them in words, the newest first.

    With `only` some sequence numbers, what was changed is told of these; of the others when and why.
    """
    changes = list(ledger.changes(document_id, own_only=True))[::-1]
    chosen = changes[skip:] if at_most is None else changes[skip : skip + at_most]
    return len(changes), [
        told(ledger, each, document_id, name_of, whole=only is None or each.seq in only)
        for each in chosen
    ]


def told(
    ledger: Ledger, change: Change, document_id: str, name_of: NameOf, *, whole: bool = True
) -> Told:
    """One change in words, as far as it concerns one document; not `whole`: without what it changed."""
    own = [each for each in change.entries if document_id in (each.document, each.target)]
    saved = next((each for each in own if each.act == "save"), None)
    values: tuple[ValueChange, ...] = ()
    gone = ""
    if whole and saved is not None and saved.revision is not None:
        try:
            values = differences_in_words(ledger, document_id, saved.revision, name_of)
        except NotOnFile as forgotten:
            gone = forgotten.args[0]
    return Told(
        seq=change.seq,
        at=change.at,
        when=moment(change.at, change.zone),
        zone=change.zone,
        who=name_of(change.who),
        why=change.why,
        revision=saved.revision if saved else None,
        acts=tuple(_acts(ledger, own, document_id, name_of)),
        changes=values,
        gone=gone,
        whole=whole,
    )


def _acts(ledger: Ledger, own: list[Entry], document_id: str, name_of: NameOf) -> Iterator[str]:
    deleted = sum(each.act == "forget" for each in own)
    for each in own:
        match each.act:
            case "save" if each.revision == 1:
                yield act_said("first")
                source = _source(ledger, document_id)
                if source:
                    yield act_said("source", source)
            case "withdraw" | "reinstate" | "unmerge":
                yield act_said(each.act)
            case "merge" if each.document == document_id:
                yield act_said("merge", name_of(each.target or ""))
            case "merge":
                yield act_said("join", own_name(ledger, each.document or ""))
    if deleted:
        yield act_said("forget", deleted) if deleted > 1 else act_said("forget_one")


def _source(ledger: Ledger, document_id: str) -> str:
    try:
        source = ledger.read(document_id, 1).source
        return ledger.file_facts(source).name if source else ""
    except NotOnFile:
        return ""


def own_name(ledger: Ledger, document_id: str) -> str:
    """What a record is called itself, whoever answers for it; its id where it was forgotten."""
    try:
        return called(
            as_read(ledger.read(document_id, ledger.head(document_id).revision)).record
        )
    except NotOnFile:
        return document_id


def called(record: Any) -> str:
    """What to call a record: its number and title, its name, its label."""
    match type(record).__name__:
        case "Work":
            return f"{record.number or ''} {record.title()}".strip()
        case "Party":
            return str(record.name())
        case "Job":
            return str(record.number or kind_word("Job").label)
    return str(record.labels[0] if record.labels else record.address or record.id)


# --- what differs ---------------------------------------------------------------------------------


def differences_in_words(
    ledger: Ledger, document_id: str, revision: int, name_of: NameOf
) -> tuple[ValueChange, ...]:
    """What one revision changed against the one before; of the first, all that it says.

    Raises `NotOnFile` when one of the two was forgotten.
    """
    after = as_read_lately(ledger.read(document_id, revision)).record
    before = (
        as_read_lately(ledger.read(document_id, revision - 1)).record if revision > 1 else None
    )
    return in_words(before, after, name_of)


def between(
    ledger: Ledger, document_id: str, first: int, second: int, name_of: NameOf
) -> tuple[ValueChange, ...]:
    """What differs from one revision to another, in words; the second may be the earlier one.

    Raises `NotOnFile` for a revision that there is not, or whose text was forgotten.
    """
    before, after = (
        as_read_lately(ledger.read(document_id, each)).record for each in (first, second)
    )
    return in_words(before, after, name_of)


def in_words(before: Any, after: Any, name_of: NameOf) -> tuple[ValueChange, ...]:
    """The differences between two states of a record; of the first (`before` None) all that it says."""
    known = {**(values_within(before) if before else {}), **values_within(after)}
    found = changes_between(before, after) if before else everything(after)
    return worded(found, known, name_of)


def worded(
    found: Iterable[Difference], known: dict[str, Placed], name_of: NameOf
) -> tuple[ValueChange, ...]:
    """Differences in words, in the record's own order; `known` are the values that ids may mean."""

    def naming(text: str) -> str:
        return _designation(known[text], known) if text in known else name_of(text)

    place = {key: place for place, key in enumerate(known)}
    ordered = sorted(found, key=lambda each: (not each.field, place.get(each.value, -1)))
    return tuple(_value_change(each, known, naming) for each in ordered)


def _value_change(each: Difference, known: dict[str, Placed], naming: Naming) -> ValueChange:
    if each.field:
        word = field_word(each.kind, each.field)
        line = FieldChange(
            "", said(each.before, naming, word.unit), said(each.after, naming, word.unit)
        )
        did = (
            "added"
            if each.before is None
            else "taken away"
            if each.after is None
            else "changed"
        )
        return ValueChange(each.field, each.kind, None, word.label, did, (line,))
    placed = known[each.value]
    did = "added" if each.before is None else "taken away" if each.after is None else "changed"
    return ValueChange(
        each.value,
        each.kind,
        getattr(placed.value, "number", None) if each.kind != "Number" else None,
        _designation(placed, known),
        did,
        tuple(_lines(each, naming)),
    )


def _lines(each: Difference, naming: Naming) -> Iterator[FieldChange]:
    old, new = each.before or {}, each.after or {}
    names = fields_changed(each) if old and new else [*(old or new)]
    for name in names:
        if name in ("id", "number", "belongs to"):
            continue
        word = field_word(each.kind, name)
        before, after = (said(state.get(name), naming, word.unit) for state in (old, new))
        if (each.kind, name) == MARKUP:
            before, after = old.get(name) or "", new.get(name) or ""
        # A default that says nothing ("no", "open") is noise where a value is told as a whole.
        quiet = not (old and new) and (old or new).get(name) in (False, OPEN)
        if before != after and not quiet:
            yield FieldChange(word.label, before, after, (each.kind, name) == MARKUP)


def _designation(placed: Placed, known: dict[str, Placed]) -> str:
    """Which value this is: its kind and number, else what kind it is of, and whose."""
    value = placed.value
    kind = type(value).__name__
    number = getattr(value, "number", None) if kind != "Number" else None
    if number:
        return f"{kind_word(kind).label} {number}"
    sort = getattr(value, "kind", None) or getattr(value, "what", None)
    named = kind_word(kind).label + (f" ({label(sort)})" if sort else "")
    owner = known.get(placed.owner)
    return f"{named} of {_designation(owner, known)}" if owner else named
