"""Who may be living: what redaction asks about people before it tells their names and addresses.

Nobody is taken for dead because nothing is known. Without a record of a death somebody may be living
until so many years after the birth (`vocab/withholding.toml`), and longer where no birth is known.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from catalogue.measure import DateSpan, Day
from catalogue.places import table
from catalogue.record import Party

_BORN = re.compile(r"(?:b\.|born)\s*(?:c\.\s*)?(\d{4})|(\d{4})\s*[-\N{EN DASH}](?!\s*\d)")
_DIED = re.compile(r"(?:d\.|died)\s*(?:c\.\s*)?(\d{4})|\d{4}\s*[-\N{EN DASH}]\s*(\d{4})")


def _nobody(document_id: str) -> Party | None:
    return None


@dataclass(frozen=True, slots=True)
class Life:
    """The last day on which somebody may have been born, and on which they may have died; None = unknown."""

    born: Day | None = None
    died: Day | None = None


@dataclass(frozen=True, slots=True)
class Lives:
    """What is known of people on file (`party`) on one day; with no day, everybody may be living."""

    party: Callable[[str], Party | None] = _nobody
    today: Day | None = None

    def is_past(self, day: Day | None, years: int) -> bool:
        """Whether a day lies so many years back."""
        return bool(day and self.today and day.years_on(years) < self.today)

    def may_live(self, life: Life) -> bool:
        """Whether somebody of that life may be living.

        >>> lives = Lives(today=Day(2026, 3, 2))
        >>> [lives.may_live(life_of(each)) for each in ("b. 1948", "1889-1961", "b. 1860", "d. 1956", "")]
        [True, False, False, False, True]
        """
        if life.died is not None and self.today and life.died <= self.today:
            return False
        return not self.is_past(life.born, years("living"))

    def of(self, document_id: str | None) -> Life:
        """What is known of the life of somebody on file."""
        found = self.party(document_id) if document_id else None
        if found is None:
            return Life()
        return Life(_latest(found.began), _latest(found.ended))


NOTHING_KNOWN = Lives()
"""Where nobody is on file, so that everybody may be living."""


def life_of(written: str | None) -> Life:
    """The life that life dates as written tell of.

    >>> life_of("1889-1961").died, life_of("b. 1948").born
    (Day(year=1961, month=12, day=31), Day(year=1948, month=12, day=31))
    """
    born, died = _BORN.search(written or ""), _DIED.search(written or "")
    return Life(_end_of(born), _end_of(died))


def years(which: str) -> int:
    """One of the numbers of years of vocab/withholding.toml."""
    return int(rules()["years"][which])


def rules() -> dict[str, Any]:
    """What vocab/withholding.toml says."""
    return table("withholding.toml")


def _end_of(found: re.Match[str] | None) -> Day | None:
    return Day(int(found[1] or found[2]), 12, 31) if found else None


def _latest(span: DateSpan | None) -> Day | None:
    return span.latest if span else None
