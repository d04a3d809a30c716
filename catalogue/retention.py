"""How long what is kept: the rules of vocab/retention.toml, what is due by them, what is held all the same.

Nothing goes by itself. A record that is held, because of a dispute or a claim, is never due and cannot
be forgotten until it is let go.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from catalogue import places
from catalogue.errors import BadData, BadSetting, NotOnFile
from catalogue.history import called
from catalogue.keeping import Kept, as_read
from catalogue.ledger import Ledger
from catalogue.measure import Day
from catalogue.record import Job, Party, Work
from catalogue.record.rules import UUID

_UNDER: Final = "hold/"
_PARTY: Final = re.compile(rf"party/{UUID}")
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


def standing(ledger: Ledger) -> Iterator[Due]:
    """Every record that a rule with years is about, and how it stands."""
    held = {each.document_id: each for each in holds(ledger)}
    named = _named(ledger)
    for rule in rules():
        for kept, begins in _concerned(ledger, rule, named):
            yield Due(
                rule=rule,
                document_id=kept.document_id,
                called=called(kept.record),
                begins=begins,
                due=rule.due(begins) if begins else None,
                held=held.get(kept.document_id),
            )


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


def _concerned(
    ledger: Ledger, rule: Rule, named: frozenset[str]
) -> Iterator[tuple[Kept[Any], Day | None]]:
    """The records that a rule is about, and the day from which its years count."""
    match rule.of:
        case "job":
            for kept in _listed(ledger, "job"):
                yield kept, _left(kept.record)
        case "inquiry":
            for kept in _listed(ledger, "work"):
                begins = _asked(kept.record, rule.kinds)
                if begins:
                    yield kept, begins
        case "party":
            days = _days(ledger)
            for head in ledger.heads("party"):
                if head.document not in named:
                    kept = as_read(ledger.read(head.document))
                    if isinstance(kept.record, Party) and kept.record.contact:
                        yield kept, days[head.touched]


def _listed(ledger: Ledger, kind: str) -> Iterator[Kept[Any]]:
    return map(as_read, ledger.bodies(kind))


def _left(job: Job) -> Day | None:
    """The day the last work of a commission went back; None while one is here."""
    days = [item.left for item in job.items]
    gone = [day for day in days if day]
    if job.items and len(gone) == len(days):
        return max(gone)
    return None


def _asked(work: Work, kinds: frozenset[str]) -> Day | None:
    """The day of the latest inquiry of these kinds."""
    days = [each.on for each in work.inquiries if each.kind in kinds and each.on]
    return max(days, default=None)


def _named(ledger: Ledger) -> frozenset[str]:
    """Every party that a work or a commission names."""
    found: set[str] = set()
    for kind in ("work", "job"):
        for each in ledger.bodies(kind):
            found.update(_PARTY.findall(each.body.decode()))
    return frozenset(found)


def _days(ledger: Ledger) -> dict[int, Day]:
    return {each.seq: Day.from_iso(each.at[:10]) for each in ledger.changes()}
