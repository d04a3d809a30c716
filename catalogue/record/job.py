"""One commission by one client: what came in, what was agreed, what goes back. It never leaves."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Paper, Rank
from catalogue.record.loan import Loan
from catalogue.record.offer import Offer
from catalogue.record.proposal import Approval, Hour, Money, Option, Proposal
from catalogue.record.rules import (
    Id,
    PartyId,
    Text,
    WorkId,
    between,
    in_work,
    matches,
    new_id,
    term,
)
from catalogue.record.valuation import Cover, Valuation

YES = "answer/yes"
KEPT = "piece-state/kept"


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """Things of one kind that came with a work, counted: the frame, the board, a bag of labels."""

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("content")]
    count: Annotated[int, between(1, 10_000)] = 1
    what: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.what or "", self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Risk:
    """What somebody looked for when a work came in (`kind`: live insects ...), and the answer.

    The answer stays as it was given. `settled` is the day on which the danger was found to be over,
    `settled_how` in which way.
    """

    id: Id = field(default_factory=new_id)
    kind: Annotated[str, term("risk")]
    answer: Annotated[str, term("answer")]
    settled: Day | None = None
    settled_how: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)
        if self.settled and self.answer != YES:
            raise rules.refuse(
                "Risk.settled",
                self.settled.iso,
                "there was nothing to settle: it was not a yes",
            )
        if (self.settled is None) is not (self.settled_how is None):
            raise rules.refuse(
                "Risk.settled_how", self.settled_how, "say on which day and how, or neither"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (self.kind, self.id)

    @property
    def stands(self) -> bool:
        """Whether the danger is there and not settled."""
        return self.answer == YES and self.settled is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One work within a job: its own way in and out, what came with it, its condition in brief.

    `risks` are the answers on entry, one for each kind.
    """

    id: Id = field(default_factory=new_id)
    work: WorkId
    came: Day | None = None
    arrived_by: Text | None = None
    packing: Text | None = None
    due: Day | None = None
    left: Day | None = None
    kept_at: Text | None = None
    contents: tuple[Content, ...] = ()
    risks: tuple[Risk, ...] = ()
    condition: Text | None = None
    next_step: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)
        if self.came and self.left and self.left < self.came:
            raise rules.refuse("Item.left", self.left.iso, f"it came on {self.came.iso}")
        kinds = [risk.kind for risk in self.risks]
        if len(set(kinds)) < len(kinds):
            twice = next(kind for kind in kinds if kinds.count(kind) > 1)
            raise rules.refuse("Item.risks", twice, "each danger has one answer on entry")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.came), self.work, self.id)

    @property
    def quarantine(self) -> bool:
        """Whether it is to be kept apart: a danger was found on entry and is not settled."""
        return any(risk.stands for risk in self.risks)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Time worked on one day: `step` is the id of a step of `work`'s treatments, None for the whole.

    `work` is None where the job has one work only.
    """

    id: Id = field(default_factory=new_id)
    on: Day
    by: PartyId | None = None
    hours: Hour
    work: WorkId | None = None
    step: Annotated[str, in_work("Step")] | None = None
    note: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlay:
    """Money spent for the job on materials or on somebody outside, without tax."""

    id: Id = field(default_factory=new_id)
    on: Day
    what: Text
    amount: Money
    by: PartyId | None = None

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.what, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Something taken off a painting and put into a bag of its own: a label, nails, an old patch.

    `of` is the id of the part, inscription or repair of `work` that it was. `gone` is the day on
    which it went back to the owner or was thrown away by agreement.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"B[1-9]\d*", "a bag's number is B1")] | None = None
    work: WorkId
    of: Annotated[str, in_work("Part", "Inscription", "PriorRepair")] | None = None
    kind: Annotated[str, term("piece")]
    what: Text
    taken: Day | None = None
    state: Annotated[str, term("piece-state")] = KEPT
    kept_at: Text | None = None
    gone: Day | None = None

    def __post_init__(self) -> None:
        rules.check(self)
        if self.gone and self.state == KEPT:
            raise rules.refuse(
                "Piece.gone", self.gone.iso, "it is still kept: say what became of it"
            )
        if self.gone and self.taken and self.gone < self.taken:
            raise rules.refuse(
                "Piece.gone", self.gone.iso, f"it was taken off on {self.taken.iso}"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (*rules.number_rank(self.number), self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Departure:
    """What was done, or is to be done, otherwise than agreed; `cost` is what it adds, without tax.

    `told` is how the client heard of it, `told_on` when.
    """

    id: Id = field(default_factory=new_id)
    on: Day
    what: Text
    why: Text | None = None
    by: PartyId | None = None
    told: Text | None = None
    told_on: Day | None = None
    cost: Money | None = None
    approved: bool = False

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.on), self.what, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One commission. `client` asked for it; `owner` is named where somebody else owns the works.

    `depositor` brought them, where that is not the client; `authority` says by what right, where
    it is not the owner. `disclosure` is what the client was told in writing where the studio also
    advises on buying or selling the same work, `disclosed` the day.
    """

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"J\d{4}-\d{3,}", "a job's number is J2026-007")] | None = (
        None
    )
    client: PartyId | None = None
    client_kind: Annotated[str, term("client-kind")] | None = None
    owner: PartyId | None = None
    depositor: PartyId | None = None
    authority: Text | None = None
    reason: Annotated[str, term("reason")]
    basis: Text | None = None
    requirements: Text | None = None
    insurance: Text | None = None
    terms_version: Text | None = None
    disclosure: Text | None = None
    disclosed: Day | None = None
    items: tuple[Item, ...] = ()
    proposals: tuple[Proposal, ...] = ()
    approvals: tuple[Approval, ...] = ()
    approved: Day | None = None
    hours: tuple[Hours, ...] = ()
    outlays: tuple[Outlay, ...] = ()
    departures: tuple[Departure, ...] = ()
    offers: tuple[Offer, ...] = ()
    loans: tuple[Loan, ...] = ()
    valuations: tuple[Valuation, ...] = ()
    covers: tuple[Cover, ...] = ()
    pieces: tuple[Piece, ...] = ()
    papers: tuple[Paper, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)
        if self.disclosed and self.disclosure is None:
            raise rules.refuse(
                "Job.disclosed", self.disclosed.iso, "say what was disclosed on that day"
            )
        for approval in self.approvals:
            self._hold(approval)

    def _hold(self, approval: Approval) -> None:
        """Refuse an approval of what was not proposed, or of a proposal that left no choice."""
        proposal = next((it for it in self.proposals if it.id == approval.proposal), None)
        if proposal is None:
            raise rules.refuse("Approval.proposal", approval.proposal, "no such proposal here")
        if all(option.id != approval.option for option in proposal.options):
            raise rules.refuse(
                "Approval.option", approval.option, "it is not an option of that proposal"
            )
        if not proposal.leaves_a_choice:
            raise rules.refuse(
                "Approval.proposal",
                proposal.number or proposal.id,
                "a client can choose only where doing nothing is among the options",
            )

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"job/{self.id}"

    def proposal(self, approval: Approval) -> Proposal:
        """The proposal that was approved."""
        return next(each for each in self.proposals if each.id == approval.proposal)

    def option(self, approval: Approval) -> Option:
        """The option that was approved."""
        options = self.proposal(approval).options
        return next(each for each in options if each.id == approval.option)
