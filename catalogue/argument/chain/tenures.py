"""A holding of a painting: by whom, in what capacity, since when and until when at the most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from catalogue.argument.spans import Interval

Hold = Literal["owner", "dealer", "agent", "auctioneer", "custodian", "presence"]
"""What somebody was to a painting: only an owner owned it; presence is all that a label proves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tenure:
    """One holding, from some day in `began` to some day in `ended` (each open where not known).

    `event` is the id of the provenance event that tells of it, `number` what people call it
    ("E2"); `party` the document on file, `name` what they are called. `passage` and `certainty`
    are terms. `supported` is whether anything is cited for it.
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
