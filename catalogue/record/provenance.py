"""Where a painting has been: hands, exhibitions, books, movements, what was asked, what it belongs with."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import DateSpan, Day
from catalogue.record import rules
from catalogue.record.common import Note, Rank
from catalogue.record.rules import (
    OPEN,
    Id,
    PartyId,
    Text,
    Visibility,
    between,
    document,
    inside,
    matches,
    new_id,
    term,
)

ReferenceId = Annotated[str, document("reference")]
IN_THE_HOUSE = "visibility/studio"


def span_rank(span: DateSpan | None) -> str:
    """A span as something to sort by: when it may first have been, unknown spans first."""
    return rules.day_rank(span.earliest or span.latest) if span else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyRole:
    """Somebody's part in an event (`role`): as a party on file, in the words found, or both.

    `life`, `place` and `relation` are what a source says of them, as written: "1889-1961", "Ghent",
    "her nephew" (of whoever had it before).
    """

    id: Id = field(default_factory=new_id)
    party: PartyId | None = None
    written: Text | None = None
    life: Text | None = None
    place: Text | None = None
    relation: Text | None = None
    role: Annotated[str, term("capacity")]
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.party is None and self.written is None:
            raise rules.refuse("PartyRole.party", None, "name somebody, on file or in words")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.role, self.party or "", self.written or "", self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What was paid, as written, and as an amount in a currency where that is known."""

    id: Id = field(default_factory=new_id)
    written: Text
    amount: Annotated[float, between(0, 1e12)] | None = None
    currency: Annotated[str, term("currency")] | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if self.amount is not None and self.currency is None:
            raise rules.refuse("Price.currency", None, "an amount needs its currency")


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What an event, a showing or a citation rests on: an inscription, paper or citation, or words.

    `none cited` is an answer too: it is said, not left out. `strength` is the cataloguer's grade.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("evidence")]
    source: Annotated[str, inside("Inscription", "Paper", "Citation")] | None = None
    text: Text | None = None
    strength: Annotated[str, term("strength")] | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        silent = self.kind == "evidence/none-cited"
        if silent and (self.source or self.text or self.strength):
            raise rules.refuse("Evidence.kind", self.kind, "something is cited after all")
        if not silent and not (self.source or self.text):
            raise rules.refuse(
                "Evidence.source", None, "say what it is: a value here, or words"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvenanceEvent:
    """One thing that happened to the ownership or custody of a painting.

    `order` is its place in the chain. `when` is the day of the event, or when the holding that it
    tells of began; `until` is when that holding ended, as far as a source says so. `phrase` are the
    words that say how it passed, as found. `passage` says how it leads to the next event (direct,
    not known, a gap). A gap is not an accusation.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"E[1-9]\d*", "an event's number is E1")] | None = None
    order: Annotated[int, between(1, 10_000)] | None = None
    kind: Annotated[str, term("provenance")]
    parties: tuple[PartyRole, ...] = ()
    at: Text | None = None
    place: ReferenceId | None = None
    when: DateSpan | None = None
    until: DateSpan | None = None
    phrase: Text | None = None
    lot: Text | None = None
    stock_number: Text | None = None
    price: Price | None = None
    passage: Annotated[str, term("passage")] | None = None
    certainty: Annotated[str, term("certainty")] | None = None
    evidence: tuple[Evidence, ...]
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if not self.evidence:
            raise rules.refuse(
                "ProvenanceEvent.evidence", (), "cite what it rests on, or say 'none cited'"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.order or 1 << 30, span_rank(self.when), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exhibition:
    """One showing of the painting, with its number in the catalogue and the title it was given.

    `evidence` is what it rests on: the label that was stuck on for it, as a rule.
    """

    id: Id = field(default_factory=new_id)
    title: Text
    organiser: PartyId | None = None
    at: Text | None = None
    place: ReferenceId | None = None
    when: DateSpan | None = None
    catalogue_number: Text | None = None
    shown_as: Text | None = None
    lender: PartyId | None = None
    evidence: tuple[Evidence, ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (span_rank(self.when), self.title, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """A book, catalogue, article or archive that speaks of the painting, and where in it.

    `evidence` is what shows that it is this painting that it speaks of.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("citation")]
    text: Text
    pages: Text | None = None
    illustrated: bool | None = None
    source: ReferenceId | None = None
    evidence: tuple[Evidence, ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        if any(each.source == self.id for each in self.evidence):
            raise rules.refuse("Citation.evidence", self.id, "it cannot rest on itself")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.text, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inquiry:
    """One thing that was looked up, asked or seen about the history of a painting, and what came of it.

    `subject` is the register, list or person that was asked, or the paper that was looked at;
    `asked` the words that were searched for; `reference` the number of the answer; `papers` are
    those seen. An answer is a fact of its day, and "nothing found" says no more than that. It stays
    in the house (a seller's identity may be part of it) until somebody marks it open or restricted:
    then it leaves with the work, to those who may see its papers.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"S[1-9]\d*", "an inquiry's number is S1")] | None = None
    kind: Annotated[str, term("inquiry")]
    subject: Text
    asked: Text | None = None
    on: Day | None = None
    by: PartyId | None = None
    result: Annotated[str, term("inquiry-result")] | None = None
    reference: Text | None = None
    papers: tuple[Annotated[str, inside("Paper")], ...] = ()
    notes: tuple[Note, ...] = ()
    visibility: Visibility = IN_THE_HOUSE

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """A painting, or a piece of it, came to a place: a rack, an envelope, a borrower.

    `piece` is the part, label or repair that moved; None is the painting itself. Where something is
    kept stays in the house unless somebody says otherwise.
    """

    id: Id = field(default_factory=new_id)
    piece: Annotated[str, inside("Part", "Inscription", "PriorRepair", "Layer")] | None = None
    to: Text | None = None
    place: ReferenceId | None = None
    keeper: PartyId | None = None
    when: DateSpan | None = None
    reason: Annotated[str, term("movement")] | None = None
    by: PartyId | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = IN_THE_HOUSE

    def __post_init__(self) -> None:
        rules.check(self)
        if not (self.to or self.place or self.keeper):
            raise rules.refuse("Movement.to", None, "say where to, or who has it now")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (span_rank(self.when), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """How the painting belongs with another: a part of it, its pendant, a copy after it."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("relation")]
    to: Annotated[str, document("work", "reference")]
    by: PartyId | None = None
    on: Day | None = None
    notes: tuple[Note, ...] = ()
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.to, self.id)
