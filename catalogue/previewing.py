"""What of a record leaves under a profile and what stays, value by value, for the eye of whoever sends it.

It goes through the record in its own order and asks the same redaction as every export does: nothing is
decided here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields
from typing import Any, Literal

from catalogue.exchange.withholding.redaction import Profile, StayedHome, profile
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.naming_parties import Naming as NamingParties
from catalogue.record import Note
from catalogue.record.rules import values_within
from catalogue.terms import known, label
from catalogue.wording import Naming, field_word, kind_word, said

Way = Literal["release", "mark", "list"]
"""What could be done so that something leaves: release the text, mark the value otherwise, or nothing here:
the list of the profile, or a rule about lives and places, keeps it at home."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stays:
    """One field that stays at home: what it is called, what it says, why it stays, what could be done."""

    field: str
    says: str
    why: str
    way: Way


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One value: how deep it stands in the record, what it is called, what leaves of it and what stays.

    `value` is its id, `whole` why none of it leaves, "" where some of it does.
    """

    depth: int
    kind: str
    value: str
    called: str
    leaves: tuple[tuple[str, str], ...]
    stays: tuple[Stays, ...]
    whole: str = ""


def preview(
    record: Any, kept: Any, home: Iterable[StayedHome], allowed: Profile, name_of: Naming
) -> Iterator[Seen]:
    """Every value of a record that says something, as it stands beside what is kept of it.

    `kept` is the record after redaction, None where it does not leave at all; `home` is what the
    redaction said.
    """
    left = {} if kept is None else {_id_of(each): each for each in values_within(kept)}
    why = {(each.what, each.value): each.why for each in home}
    numbers = {_id_of(each): _called(each) for each in values_within(record)}
    yield from _Preview(left, why, allowed, lambda said: numbers.get(said) or name_of(said)).of(
        record, 0
    )


def preview_on_file(
    ledger: Ledger, document_id: str, profile_name: str, name_of: Naming, today: Day
) -> tuple[Seen, ...]:
    """The preview of a record on file, as it would leave today. Raises `BadSetting`."""
    allowed = profile(profile_name)
    known = NamingParties(ledger, allowed)
    record = as_read(ledger.read(document_id)).record
    kept, home = known.leaving(record, today)
    return tuple(preview(record, kept, home, allowed, name_of))


@dataclass(frozen=True, slots=True)
class _Preview:
    left: dict[str, Any]
    why: dict[tuple[str, str], str]
    allowed: Profile
    name_of: Naming

    def of(self, value: Any, depth: int, whole: str = "") -> Iterator[Seen]:
        """A value and those within it; `whole` is why the one around it stays at home altogether."""
        kind, own = type(value).__name__, _id_of(value)
        left = self.left.get(own)
        altogether = self.why.get((kind, own)) or self.why.get((kind, _document(value)), "")
        if left is None:
            whole = altogether or whole
        leaves: list[tuple[str, str]] = []
        stays: list[Stays] = []
        inner: list[tuple[Any, str]] = []
        for each in fields(value):
            held = getattr(value, each.name)
            if each.name in ("id", "visibility") or held in (None, (), False):
                continue
            parts = held if isinstance(held, tuple) else (held,)
            because = self.why.get((f"{kind}.{each.name}", own)) or altogether or whole
            inner += [(part, because) for part in parts if hasattr(part, "id")]
            plain = tuple(part for part in parts if not hasattr(part, "id"))
            if not plain:
                continue
            word = field_word(kind, each.name)
            says = said(plain if isinstance(held, tuple) else held, self.name_of, word.unit)
            now = getattr(left, each.name, None)
            if left is not None and now == held:
                leaves.append((word.label, says))
                continue
            if left is not None and now not in (None, (), False):
                leaves.append((word.label, said(now, self.name_of, word.unit)))
            stays.append(Stays(field=word.label, says=says, why=because, way=self._way(value)))
        if leaves or stays:
            yield Seen(
                depth=depth, kind=kind, value=own, called=_called(value),
                leaves=tuple(leaves), stays=tuple(stays), whole=whole if left is None else "",
            )  # fmt: skip
        for part, because in inner:
            yield from self.of(part, depth + 1, because)

    def _way(self, value: Any) -> Way:
        if getattr(value, "visibility", None) not in (None, *self.allowed.visibility):
            return "mark"
        if isinstance(value, Note) and not value.may_leave and not self.allowed.free_text:
            return "release"
        return "list"


def _called(value: Any) -> str:
    """What to call a value: by its number where people call it so, else by what kind of thing it is."""
    number, kind = getattr(value, "number", None), getattr(value, "kind", None)
    word = kind_word(type(value).__name__).label
    if isinstance(number, str) and number:
        return f"{word} {number}"
    return label(kind) if isinstance(kind, str) and known(kind) else word


def _id_of(value: Any) -> str:
    return str(getattr(value, "id", ""))


def _document(value: Any) -> str:
    return str(getattr(value, "document", ""))
