"""How every record stands to the rules of retention: what they look at is kept up with the ledger.

Of each record only what a rule asks for is kept. From which day it is due is worked out once after every
change; whether that day has come, and who holds it, is asked at each look.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from operator import itemgetter
from typing import Final

from catalogue.following import Following, Remembered
from catalogue.history import called
from catalogue.keeping import as_read
from catalogue.ledger import Ledger, Revision
from catalogue.measure import Day
from catalogue.record import Job, Party, Work
from catalogue.record.rules import UUID
from catalogue.retention import Due, Rule, holds, rules

_PARTY: Final = re.compile(rf"party/{UUID}".encode())
_INQUIRY: Final = b"activity/inquiry"
"""Without these signs in its text a work has no inquiry, and need not be read for one."""


@dataclass(frozen=True, slots=True)
class _OfWork:
    """What a rule asks of a work: its inquiries with their days, and whom its text names."""

    called: str
    asked: tuple[tuple[str, Day], ...]
    names: frozenset[str]


@dataclass(frozen=True, slots=True)
class _OfJob:
    """What a rule asks of a commission: the day its last work went back, None while one is here."""

    called: str
    left: Day | None
    names: frozenset[str]


class RetentionKept:
    """How the records of a studio stand to the rules. Any thread may ask."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._works = Following(ledger, "work", _of_work)
        self._jobs = Following(ledger, "job", _of_job)
        self._reached = Following(ledger, "party", _with_contact)
        self._without_holds = Remembered(ledger, 1)

    def standing(self) -> Iterator[Due]:
        """Every record that a rule with years is about, and how it stands; by rule, then by id."""
        held = {each.document_id: each for each in holds(self._ledger)}
        for each in self._without_holds.get((), lambda: tuple(self._worked_out())):
            hold = held.get(each.document_id)
            yield replace(each, held=hold) if hold else each

    def _worked_out(self) -> Iterator[Due]:
        for rule in rules():
            for document, its_name, begins in sorted(self._concerned(rule), key=itemgetter(0)):
                yield Due(
                    rule=rule,
                    document_id=document,
                    called=its_name,
                    begins=begins,
                    due=rule.due(begins) if begins else None,
                    held=None,
                )

    def get_ready(self) -> None:
        """Look at what was not looked at yet, so that nobody waits for it."""
        list(self.standing())

    def _concerned(self, rule: Rule) -> Iterator[tuple[str, str, Day | None]]:
        """The records that a rule is about, what they are called, and the day their years count from."""
        match rule.of:
            case "job":
                for document, job in self._jobs.now().items():
                    yield document, job.called, job.left
            case "inquiry":
                for document, work in self._works.now().items():
                    days = [day for kind, day in work.asked if kind in rule.kinds]
                    if days:
                        yield document, work.called, max(days)
            case "party":
                named, touched = self._named_anywhere(), self._ledger.touched("party")
                for document, its_name in self._reached.now().items():
                    if its_name is not None and document not in named and document in touched:
                        yield document, its_name, Day.from_iso(touched[document][:10])

    def _named_anywhere(self) -> frozenset[str]:
        """Every party that a work or a commission names."""
        kept: tuple[Mapping[str, _OfWork | _OfJob], ...] = (self._works.now(), self._jobs.now())
        return frozenset().union(*(each.names for held in kept for each in held.values()))


def _of_work(revision: Revision) -> _OfWork:
    if _INQUIRY not in revision.body:
        return _OfWork("", (), _named_in(revision))
    work: Work = as_read(revision).record
    asked = tuple((each.kind, each.on) for each in work.inquiries if each.kind and each.on)
    return _OfWork(called(work), asked, _named_in(revision))


def _of_job(revision: Revision) -> _OfJob:
    job: Job = as_read(revision).record
    days = [item.left for item in job.items]
    gone = [day for day in days if day]
    left = max(gone) if job.items and len(gone) == len(days) else None
    return _OfJob(called(job), left, _named_in(revision))


def _with_contact(revision: Revision) -> str | None:
    """What a person or firm is called of whom it is on file how to reach them; None for the others."""
    party = as_read(revision).record
    return called(party) if isinstance(party, Party) and party.contact else None


def _named_in(revision: Revision) -> frozenset[str]:
    # The same people stand in many texts: each is held once.
    return frozenset(sys.intern(each.decode()) for each in _PARTY.findall(revision.body))
