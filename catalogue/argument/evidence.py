"""What an argument about a date is made of: reasons, and pairs of them that cannot both hold."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.argument.dating_rules import Strength, What
from catalogue.argument.spans import ALWAYS, Interval, Spans
from catalogue.measure import Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One piece of evidence: what stands there, and between which days it can have been made.

    `written` stands in the markup from `start` to `end` (code points; both 0 when it stands in no
    letters). `earliest` to `latest` is when the form was current, `soft_earliest` to
    `soft_latest` how far it may reach; None = open. Reasons with the same `one_of` are
    alternatives, as several kings or several days on which a label was used: one of them holds.
    `rule` is the key of a rule, "address:…" or "name:…" with the party's id, or "date".
    """

    rule: str
    written: str
    start: int
    end: int
    earliest: Day | None
    latest: Day | None
    soft_earliest: Day | None
    soft_latest: Day | None
    strength: Strength
    dates: What
    why: str
    source: str
    verified: str
    one_of: str | None = None

    @property
    def own(self) -> Interval:
        """When the form was current."""
        return Interval(self.earliest, self.latest)

    @property
    def reach(self) -> Interval:
        """How far it may reach: what it can be held to."""
        return Interval(self.soft_earliest, self.soft_latest)


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two reasons that cannot both hold, the older first; `words` say why, and where to look.

    `firm` when both are hard.
    """

    first: Reason
    second: Reason
    words: str
    firm: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated:
    """What all the reasons say together of one thing: the printing, the use, a presence ...

    `spans` is what the hard reasons leave, `soft_spans` what all of them leave with their margins;
    none at all = they contradict each other. `soft_spans` are made without the reasons in
    conflict. `says` are remarks on how the two came about.
    """

    what: What
    spans: Spans
    soft_spans: Spans
    reasons: tuple[Reason, ...] = ()
    says: tuple[str, ...] = ()

    @property
    def earliest(self) -> Day | None:
        """The first firm day; None when open, or when the reasons contradict each other."""
        return self.spans[0].earliest if self.spans else None

    @property
    def latest(self) -> Day | None:
        """The last firm day."""
        return self.spans[-1].latest if self.spans else None

    @property
    def soft_earliest(self) -> Day | None:
        """The first day that is likely."""
        return self.soft_spans[0].earliest if self.soft_spans else None

    @property
    def soft_latest(self) -> Day | None:
        """The last day that is likely."""
        return self.soft_spans[-1].latest if self.soft_spans else None

    @property
    def contradicts_itself(self) -> bool:
        """Whether its hard reasons leave no day."""
        return not self.spans


UNDATED = Dated(what="printing", spans=ALWAYS, soft_spans=ALWAYS)
"""What is said when there are no reasons: any day."""


@dataclass(frozen=True, slots=True)
class Dating:
    """The argument about one mark: its reasons, what they say of each thing, what contradicts.

    `parts` are in the order printing, use, presence, support, repair, paint, and only those that
    have reasons. The days of the whole are those of `main`.
    """

    parts: tuple[Dated, ...]
    reasons: tuple[Reason, ...]
    conflicts: tuple[Conflict, ...]

    @property
    def main(self) -> Dated:
        """The first of its parts: of a label its printing, else its use, else a presence ..."""
        return self.parts[0] if self.parts else UNDATED

    def of(self, what: What) -> Dated | None:
        """What is said of one thing; None when there is no reason about it."""
        return next((part for part in self.parts if part.what == what), None)

    @property
    def earliest(self) -> Day | None:
        """The first firm day of `main`; None = open or contradicted."""
        return self.main.earliest

    @property
    def latest(self) -> Day | None:
        """The last firm day of `main`."""
        return self.main.latest

    @property
    def soft_earliest(self) -> Day | None:
        """The first likely day of `main`."""
        return self.main.soft_earliest

    @property
    def soft_latest(self) -> Day | None:
        """The last likely day of `main`."""
        return self.main.soft_latest

    @property
    def spans(self) -> Spans:
        """The firm days of `main`; none = contradicted."""
        return self.main.spans
