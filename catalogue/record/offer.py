"""A work offered for sale within a commission: what is asked, on what terms, how it stands.

What the owner must have (`net`) and the least that would be taken (`reserve`) are fields of their
own, so that the list of what may leave can name the price asked and leave those two at home.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalogue.measure import Day
from catalogue.record import rules
from catalogue.record.common import Rank
from catalogue.record.proposal import Money
from catalogue.record.rules import OPEN, Id, Text, Visibility, WorkId, new_id, term

FOR_SALE = "offer-status/for-sale"
RESERVED = "offer-status/reserved"
ON_REQUEST = "offer-status/on-request"
SOLD = "offer-status/sold"
WITHDRAWN = "offer-status/withdrawn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One work offered for sale. All sums are in `currency`; `until` is the last day it holds.

    >>> boats = "work/7a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a10"
    >>> offer = Offer(work=boats, status=ON_REQUEST, asked=2400, currency="currency/euro")
    >>> offer.told
    False
    """

    id: Id = field(default_factory=new_id)
    work: WorkId
    status: Annotated[str, term("offer-status")]
    asked: Money | None = None
    currency: Annotated[str, term("currency")] | None = None
    terms: Text | None = None
    since: Day | None = None
    until: Day | None = None
    net: Money | None = None
    reserve: Money | None = None
    visibility: Visibility = OPEN

    def __post_init__(self) -> None:
        rules.check(self)
        sums = (self.asked, self.net, self.reserve)
        if self.currency is None and any(each is not None for each in sums):
            raise rules.refuse("Offer.currency", None, "a sum needs its currency")
        if self.since and self.until and self.until < self.since:
            raise rules.refuse(
                "Offer.until", self.until.iso, f"it was offered on {self.since.iso}"
            )

    @property
    def rank(self) -> Rank:
        """What it is ordered by among its like."""
        return (rules.day_rank(self.since), self.work, self.id)

    @property
    def stands(self) -> bool:
        """Whether a buyer may still be told of it; one that was withdrawn is nobody's business."""
        return self.status != WITHDRAWN

    @property
    def told(self) -> bool:
        """Whether the price asked is told: on request it is told to whoever asks, once sold to nobody."""
        return self.status in (FOR_SALE, RESERVED) and self.asked is not None
