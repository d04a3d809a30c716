"""What stayed home of an export: counted by what and why, and told one by one to whoever listens."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from catalogue.exchange.withholding.redaction import StayedHome

FIRST = 1_000
"""So many are kept as examples; an export of any length leaves no longer list in memory."""

Listener = Callable[[str, StayedHome], None]


@dataclass(slots=True)
class AtHome:
    """The tally of one export. `listen` is told of everything that stayed home, by document."""

    listen: Listener | None = None
    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    first: list[tuple[str, StayedHome]] = field(default_factory=list)

    def add(self, document_id: str, home: Iterable[StayedHome]) -> None:
        """Count what stayed home of one document."""
        for each in home:
            self.counts[each.what, each.why] += 1
            if len(self.first) < FIRST:
                self.first.append((document_id, each))
            if self.listen:
                self.listen(document_id, each)
