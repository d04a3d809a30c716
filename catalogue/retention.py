"""How long what is kept: the rules of vocab/retention.toml, what is due by them, what is held all the same.

Nothing goes by itself. A record that is held, because of a dispute or a claim, is never due and cannot
be forgotten until it is let go.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from catalogue import places
from catalogue.errors import BadData, BadSetting, NotOnFile
from catalogue.ledger import Ledger
from catalogue.measure import Day

_UNDER: Final = "hold/"
KINDS: Final = ("always", "job", "inquiry", "party")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One class of records: how many years from which day, None for those that are never due."""

    key: str
    name: str
    of: str
    kinds: frozenset[str]
    years: int | None
    to_year_end: bool
    basis: str
    source: str

    def due(self, begins: Day) -> Day | None:
        """The day from which it need not be kept, counted from `begins`.

        >>> accounts = next(each for each in rules() if each.key == "accounts")
        >>> accounts.due(Day(2016, 2, 29)).iso
        '2027-01-01'
        """
        if self.years is None:
            return None
        ends = begins.years_on(self.years)
        return Day(ends.year + 1, 1, 1) if self.to_year_end else ends


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """Somebody's word that a record must stay, whatever its years."""

    document_id: str
    why: str
    who: str
    since: Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """One record under one rule: the day it counts from, None where that has not come; when it is due."""

    rule: Rule
    document_id: str
    called: str
    begins: Day | None
    due: Day | None
    held: Hold | None

    def is_due(self, today: Day) -> bool:
        """Whether it need not be kept any more: its years are over and nobody holds it."""
        return self.held is None and self.due is not None and self.due <= today

    def says(self, today: Day) -> str:
        """How it stands, in words."""
        words = places.table("retention.toml")["said"]
        if self.held:
            held = self.held
            return str(words["held"].format(who=held.who, day=held.since.iso, why=held.why))
        if self.due is None:
            return str(words["here"])
        return str(words["due" if self.due <= today else "later"].format(day=self.due.iso))


@cache
def rules() -> tuple[Rule, ...]:
    """The rules of vocab/retention.toml, in their order. Raises `BadSetting`."""
    return tuple(map(_rule, places.table("retention.toml")["class"]))


def _rule(row: dict[str, Any]) -> Rule:
    years = row.get("years")
    if row["of"] not in KINDS or (row["of"] == "always") is not (years is None):
        raise BadSetting(
            f"vocab/retention.toml: {row['key']} is of {row['of']!r} with years {years!r}",
            remedy=f"of is one of {', '.join(KINDS)}; only “always” has no years",
        )
    return Rule(
        key=row["key"], name=row["name"], of=row["of"], kinds=frozenset(row.get("kinds", ())),
        years=years, to_year_end=row.get("to_year_end", False), basis=row["basis"], source=row["source"],
    )  # fmt: skip


def holds(ledger: Ledger) -> tuple[Hold, ...]:
    """Every record that is held, by its id."""
    found = ledger.settings(_UNDER)
    return tuple(_hold(name.removeprefix(_UNDER), text) for name, text in sorted(found.items()))


def hold(ledger: Ledger, document_id: str, *, why: str, who: str, today: Day) -> Hold:
    """Hold a record. Raises `BadData` without a reason, `NotOnFile` for one that is not on file."""
    if not why.strip():
        raise BadData("a record is held for a reason", remedy="say why: a claim, a dispute")
    if not ledger.has(document_id):
        raise NotOnFile(f"{document_id} is not on file")
    told = {"why": why.strip(), "who": who, "since": today.iso}
    ledger.set_setting(_UNDER + document_id, json.dumps(told))
    return Hold(document_id=document_id, why=why.strip(), who=who, since=today)


def let_go(ledger: Ledger, document_id: str) -> Hold:
    """Hold a record no longer, and say how it was held. Raises `NotOnFile`."""
    before = held(ledger, document_id)
    if before is None:
        raise NotOnFile(
            f"{document_id} is not held", remedy="dorse retention --held lists them"
        )
    ledger.unset(_UNDER + document_id)
    return before


def held(ledger: Ledger, document_id: str) -> Hold | None:
    """How a record is held, None where it is not."""
    text = ledger.setting(_UNDER + document_id)
    return _hold(document_id, text) if text else None


def refuse_held(ledger: Ledger, document_id: str) -> None:
    """Raise `BadData` for a record that is held."""
    found = held(ledger, document_id)
    if found:
        raise BadData(
            f"{document_id} is held by {found.who} since {found.since.iso}: {found.why}",
            remedy="let it go first: dorse retention --let-go",
        )


def _hold(document_id: str, text: str) -> Hold:
    told = json.loads(text)
    return Hold(
        document_id=document_id,
        why=told["why"],
        who=told["who"],
        since=Day.from_iso(told["since"]),
    )
