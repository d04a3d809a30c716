"""People, firms and institutions: what they were called, where they were when, and how to reach them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import DateSpan, Day
from catalogue.record import rules
from catalogue.record.common import Note, Number, Rank
from catalogue.record.rules import OPEN, Id, PartyId, Text, Visibility, matches, new_id, term


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyName:
    """One form of a name, as written; `sort` is the form that lists are ordered by."""

    id: Id = field(default_factory=new_id)
    text: Text
    sort: Text | None = None
    preferred: bool = False
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (not self.preferred, self.text, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Where somebody lived or traded, and when: evidence, not a way to reach them."""

    id: Id = field(default_factory=new_id)
    text: Text
    when: DateSpan | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.when.earliest if self.when else None), self.text, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """One way to reach somebody today: a telephone number, an e-mail, a postal address."""

    id: Id = field(default_factory=new_id)
    medium: Annotated[str, term("reach")]
    text: Text

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.medium, self.text, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """The part of a party that never leaves: how to reach them, and what was said in private."""

    id: Id = field(default_factory=new_id)
    reaches: tuple[Reach, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSame:
    """Somebody's word that this party is not `other`, or not whoever is `written` so somewhere.

    It is remembered, so that the two are not offered as one again.
    """

    id: Id = field(default_factory=new_id)
    other: PartyId | None = None
    written: Text | None = None
    by: PartyId | None = None
    on: Day | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if (self.other is None) is (self.written is None):
            raise rules.refuse(
                "NotSame.other",
                self.other,
                "say who it is not: one on file, or a name as written",
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.other or "", self.written or "", rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Consent:
    """Somebody's word that something may be told of them outside the house (`to`), given `on` a day.

    `by` took it down; `withdrawn` is the day on which it was taken back. How it was given stands in a
    note. It stays in the house: what it allows is what leaves.
    """

    id: Id = field(default_factory=new_id)
    to: Annotated[str, term("consent")]
    on: Day
    by: PartyId | None = None
    withdrawn: Day | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = "visibility/studio"

    def __post_init__(self) -> None:
        rules.check(self)
        if self.withdrawn and self.withdrawn < self.on:
            raise rules.refuse(
                "Consent.withdrawn", self.withdrawn.iso, f"it was given on {self.on.iso}"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.to, rules.day_rank(self.on), self.id)

    def holds_on(self, day: Day | None) -> bool:
        """Whether it was given by that day and not taken back; no day, no consent."""
        return (
            day is not None
            and self.on <= day
            and (self.withdrawn is None or day < self.withdrawn)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """A person or a group (`kind`), in the roles in which the studio meets them."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, matches("person|group", "a party is a person or a group")]
    names: tuple[PartyName, ...]
    roles: tuple[Annotated[str, term("role")], ...] = ()
    began: DateSpan | None = None
    ended: DateSpan | None = None
    addresses: tuple[Address, ...] = ()
    numbers: tuple[Number, ...] = ()
    not_same: tuple[NotSame, ...] = ()
    consents: tuple[Consent, ...] = ()
    contact: Contact | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if not self.names:
            raise rules.refuse(
                "Party.names", self.names, "a party needs a name, if only a word"
            )
        if any(each.other == self.document for each in self.not_same):
            raise rules.refuse("Party.not_same", self.document, "it is no other than itself")

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"party/{self.id}"

    def name(self) -> str:
        """The name to show: the preferred one, else the first by alphabet."""
        return self.names[0].text
