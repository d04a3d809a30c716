"""What must not leave, kept up with the ledger: each commission and each party is read once for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from catalogue.exchange.scanning.guarded import Guarded, Leaving, gathered
from catalogue.exchange.scanning.secrets_in import (
    InCommission,
    InParty,
    in_commission,
    in_party,
)
from catalogue.following import Following, Remembered
from catalogue.ledger import Ledger
from catalogue.setting_aside import now_answering

AT_HAND: Final = 16
"""So many gatherings are kept, each for one list and the works that leave, until something is saved."""


class SecretsKept:
    """What commissions and parties say, those too that were taken out of the lists. Any thread may ask."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._commissions = Following(
            ledger, "job", lambda it: in_commission(it.document, it.body), listed_only=False
        )
        self._parties = Following(
            ledger, "party", lambda it: in_party(it.document, it.body), listed_only=False
        )
        self._made = Remembered(ledger, AT_HAND)

    def guarded(self, leaving: Leaving, folders: Iterable[str]) -> Guarded:
        """What must not stand in the files that leave; `folders` are places on this computer."""
        places = tuple(folders)
        found = self._made.get(
            (leaving, places),
            lambda: gathered(self._said_in_jobs(), self._parties_by_id(), leaving, places),
        )
        return found.apart()

    def get_ready(self) -> None:
        """Read what was not read yet, so that nobody waits for it."""
        self._commissions.now()
        self._parties.now()

    def _said_in_jobs(self) -> Iterator[tuple[str, InCommission]]:
        """Every commission; whom or what was merged is named by what answers for it today."""
        answering = now_answering(self._ledger)
        for document, found in sorted(self._commissions.now().items()):
            if answering:
                found = replace(
                    found,
                    people=tuple(answering.get(each, each) for each in found.people),
                    works=frozenset(answering.get(each, each) for each in found.works),
                )
            yield document, found

    def _parties_by_id(self) -> Iterator[tuple[str, InParty]]:
        yield from sorted(self._parties.now().items())
