"""Everything on file about one person or firm: what they may ask to see, and what would have to be put right.

Their own record whole; of every other record only the values that name them, since the rest is about
somebody else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from catalogue.history import called
from catalogue.keeping import Kept, as_read
from catalogue.ledger import Change, Ledger
from catalogue.named_by import NamedBy
from catalogue.record import Party
from catalogue.record.rules import values_within
from catalogue.wording import Naming, field_word, kind_word, said


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """One place where a record names somebody: what the record is called, which of its values, as what."""

    document_id: str
    called: str
    value: str
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPerson:
    """What is on file about one person or firm.

    `written` is whatever their own record says, field by field in words; `named` where others name
    them; `changes` every change of their own record, oldest first, with what it did to that record.
    """

    party: Party
    written: tuple[tuple[str, str], ...]
    named: tuple[Named, ...]
    changes: tuple[Change, ...]


def on_person(ledger: Ledger, read: Kept[Party], name_of: Naming, names: NamedBy) -> OnPerson:
    """All of it, from the records as they stand today; `name_of` says what other records are called."""
    document_id = read.document_id
    ids = frozenset((document_id, *ledger.answering_for(document_id)))
    found: list[Named] = []
    for kind in ("work", "job", "party"):
        for each in names.naming(document_id, kind):
            found += _named_in(as_read(ledger.read(each)), ids)
    return OnPerson(
        party=read.record,
        written=tuple(_written(read.record, name_of)),
        named=tuple(found),
        changes=tuple(ledger.changes(document_id, own_only=True)),
    )


def _written(value: Any, name_of: Naming, under: str = "") -> Iterator[tuple[str, str]]:
    """Every field that says something: what it is called, within what, and what it says."""
    kind = type(value).__name__
    for each in fields(value):
        held = getattr(value, each.name)
        if each.name == "id" or held is None or held == () or held is False:
            continue
        name = ": ".join(filter(None, (under, field_word(kind, each.name).label)))
        for one in held if isinstance(held, tuple) else (held,):
            if hasattr(one, "id"):
                yield from _written(one, name_of, name)
            else:
                yield name, said(one, name_of)


def _named_in(kept: Kept[Any], ids: frozenset[str]) -> Iterator[Named]:
    """Every value of a record that names one of these ids, and in which field."""
    record = kept.record
    for value in values_within(record):
        kind = type(value).__name__
        for each in fields(value):
            held = getattr(value, each.name)
            inner = held if isinstance(held, tuple) else (held,)
            if any(isinstance(one, str) and one in ids for one in inner):
                number = getattr(value, "number", None) or ""
                what = "" if value is record else f"{kind_word(kind).label} {number}".strip()
                yield Named(
                    document_id=kept.document_id,
                    called=called(record),
                    value=what,
                    says=field_word(kind, each.name).label,
                )
