"""One commission by one client: what came in, what was agreed, what goes back. It never leaves."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Note, Paper, Rank
from catalogue.record.rules import Id, PartyId, Text, WorkId, matches, new_id, term


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One work within a job: its own way in and out, and its condition on entry in brief."""

    id: Id = field(default_factory=new_id)
    work: WorkId
    came: Day | None = None
    due: Day | None = None
    left: Day | None = None
    kept_at: Text | None = None
    condition: Text | None = None
    next_step: Text | None = None

    def __post_init__(self) -> None:
        rules.check(self)
        if self.came and self.left and self.left < self.came:
            raise rules.refuse("Item.left", self.left.iso, f"it came on {self.came.iso}")

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.came), self.work, self.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One commission. `client` asked for it; `owner` is named where somebody else owns the works."""

    id: Id = field(default_factory=new_id)
    number: Annotated[str, matches(r"J\d{4}-\d{3,}", "a job's number is J2026-007")] | None = (
        None
    )
    client: PartyId | None = None
    owner: PartyId | None = None
    reason: Annotated[str, term("reason")]
    items: tuple[Item, ...] = ()
    approved: Day | None = None
    papers: tuple[Paper, ...] = ()
    notes: tuple[Note, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"job/{self.id}"
