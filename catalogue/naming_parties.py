"""Who may be named to whom: parties on file as a profile lets them leave, by name and as a whole."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeVar

from catalogue.exchange.withholding.lives import Lives
from catalogue.exchange.withholding.redaction import Profile, StayedHome, leaving
from catalogue.exchange.withholding.standing_in import StandIns
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.record import Job, Party, Work

R = TypeVar("R", bound=Work | Party | Job)
MEMBER = "role/studio-member"


@dataclass(frozen=True, slots=True)
class Naming:
    """The names of parties for readers of one profile; those in `named` may be told whatever it says."""

    ledger: Ledger
    allowed: Profile
    named: frozenset[str] = frozenset()

    def hides(self, party: str) -> bool:
        """Whether somebody may not even be named."""
        return party not in self.named and not self._open_names(party)

    def name(self, party: str | None) -> str:
        """What to call somebody, "" where they may not be named or are not on file."""
        if not party:
            return ""
        found = self._on_file(party) if party in self.named else None
        return found.name() if found else next(iter(self._open_names(party)), "")

    def party(self, party: str) -> Party | None:
        """Somebody's record as it may leave; in which roles the studio meets them and what they agreed to
        have told comes along.
        """
        found = self._on_file(party)
        if found is None or self.hides(party):
            return None
        kept, _ = leaving(found, self.allowed, self.hides)
        return replace(kept, roles=found.roles, consents=found.consents) if kept else None

    def leaving(self, record: R, today: Day) -> tuple[R | None, list[StayedHome]]:
        """A record as it may leave for these readers on a day, and what stayed home of it."""
        lives = Lives(self._on_file, today)
        return leaving(record, self.allowed, self.hides, StandIns(), lives)

    def _on_file(self, party: str) -> Party | None:
        found = as_read(self.ledger.read(party)).record if self.ledger.has(party) else None
        return found if isinstance(found, Party) else None

    def _open_names(self, party: str) -> tuple[str, ...]:
        """What somebody may be called before these readers; nothing for one who may not be named at all."""
        record, visible = self._on_file(party), self.allowed.visibility
        if record is None or not (record.visibility in visible or MEMBER in record.roles):
            return ()
        return tuple(each.text for each in record.names if each.visibility in visible)
