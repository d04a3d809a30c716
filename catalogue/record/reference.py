"""Anything else that a record points at: another institution's record, a place, an event, a text."""

from __future__ import annotations

from dataclasses import dataclass, field

from catalogue.record import rules
from catalogue.record.rules import Id, new_id


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """An entity kept as it came: its address there, its types, and the labels it is found by."""

    id: Id = field(default_factory=new_id)
    address: str | None = None
    types: tuple[str, ...] = ()
    labels: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        rules.check(self)

    @property
    def document(self) -> str:
        """The id under which the ledger keeps it."""
        return f"reference/{self.id}"
