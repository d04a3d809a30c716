"""A holding of a painting: by whom, in what capacity, since when and until when at the most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from catalogue.argument.spans import Interval

Hold = Literal["owner", "dealer", "agent", "auctioneer", "custodian", "presence"]
"""What somebody was to a painting: only an owner owned it; presence is all that a label proves."""

UNSAID: Final = Interval()
"""Days of which the record says nothing."""

HOLDS: tuple[Hold, ...] = ("owner", "dealer", "agent", "auctioneer", "custodian", "presence")


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenure:
    """One holding, from some day in `began` to some day in `ended` (each open where not known).

    `event` is the id of the provenance event that tells of it, `number` what people call it
    ("E2"); `party` the document on file, `name` what they are called. `passage` and `certainty`
    are terms. `supported` is whether anything is cited for it, `by_mark` whether that is nothing but
    inscriptions and labels.

    `began` and `ended` are what follows from the record with the order and the passages of its
    events; `said_began` and `said_ended` are what it says itself, and `ended_by` is the id of the
    event from which an end follows that it doesn't say. `direct` is whether it passed directly to
    the next link of the chain, with evidence that bears it. `beside` is who held it for somebody
    else, beside the chain; `named` who is known only as the one who gave it, or whose it was.
    """

    event: str
    number: str
    name: str
    hold: Hold
    began: Interval
    ended: Interval
    party: str | None = None
    passage: str | None = None
    certainty: str = "certainty/certain"
    supported: bool = True
    by_mark: bool = False
    said_began: Interval = UNSAID
    said_ended: Interval = UNSAID
    ended_by: str | None = None
    direct: bool = False
    beside: bool = False
    named: bool = False

    @property
    def proves(self) -> bool:
        """Whether it can prove anything: beyond doubt for whoever wrote it down, and with evidence."""
        return self.certainty == "certainty/certain" and self.supported

    @property
    def perhaps(self) -> Interval | None:
        """The days on which they may have had it; None where the dates contradict each other."""
        first, last = self.began.earliest, self.ended.latest
        if first and last and first > last:
            return None
        return Interval(first, last)

    @property
    def surely(self) -> Interval | None:
        """The days on which they had it if the record is right; None where no single day is sure."""
        first, last = self.began.latest, self.ended.earliest
        if first is None or last is None or first > last:
            return None
        return Interval(first, last)

    @property
    def proven(self) -> Interval | None:
        """The days on which they are proven to have had it."""
        return self.surely if self.proves else None

    @property
    def owns(self) -> bool:
        """Whether they are said to have owned it, by more than a mark or a label."""
        return self.hold == "owner" and not self.by_mark
