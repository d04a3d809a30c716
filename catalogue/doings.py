"""What the studio knows to have been done to its works on the days of some photographs, and where they say.

Steps, checks, moves, photographs on file, comings and stays; and works that a name or a folder names.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import date, time
from typing import Final

from catalogue.errors import NotOnFile
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.measure import DateSpan, Day
from catalogue.record import Job, Work
from catalogue.sittings import Doing, Frame, names_said, sittings
from catalogue.terms import label

_MOST_WORKS: Final = 400
"""So many works of one day are looked at; a day on which more were changed is one of taking records in."""


def doings(ledger: Ledger, frames: Sequence[Frame]) -> tuple[Doing, ...]:
    """What is known to have been done, to any work, on the days of these photographs.

    And which works their names and folders name. It walks all commissions: not for a page.
    """
    days = sorted({each.at.date() for each in frames if each.at})
    records = _Records(ledger)
    stays = list(_stays(ledger, days))
    found: list[Doing] = []
    for day in days:
        own = Day(day.year, day.month, day.day)
        # A step of many days names only its first and its last; but then the work is in the house.
        here = [work for work, on, _ in stays if on == day]
        about = dict.fromkeys((*ledger.mentioning(own.iso, "work")[:_MOST_WORKS], *here))
        for work in filter(None, map(records.work, about)):
            found += [
                Doing(work=work.document, number=work.number or "", day=day, kind=kind, what=what,
                      begins=begins, ends=ends)
                for kind, what, begins, ends in _done_to(work, own)
            ]  # fmt: skip
    for document, day, kind in stays:
        stayed = records.work(document)
        if stayed is not None and stayed.number:
            found.append(Doing(work=stayed.document, number=stayed.number, day=day, kind=kind))
    found += _named(ledger, frames)
    return tuple(dict.fromkeys(found))


class _Records:
    """Works as they stand, each read once; None for one that is not on file."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._read: dict[str, Work | None] = {}

    def work(self, document: str) -> Work | None:
        """The record of a work."""
        if document not in self._read:
            self._read[document] = None
            with suppress(NotOnFile):
                self._read[document] = as_read(self._ledger.read(document)).record
        return self._read[document]


def _done_to(work: Work, day: Day) -> Iterator[tuple[str, str, time | None, time | None]]:
    for treatment in work.treatments:
        for step in treatment.steps:
            if step.began and step.began <= day <= (step.ended or step.began):
                in_hours = step.began == (step.ended or step.began)
                begins = _clock(step.began_at) if in_hours else None
                ends = _clock(step.ended_at) if in_hours else None
                yield "step", f"{treatment.label(step)} {label(step.kind)}", begins, ends
    for check in work.checks:
        if check.on == day:
            yield "check", f"{check.number or ''} {label(check.occasion)}".strip(), None, None
    taken = [each.number or "" for each in work.photos if each.taken == day and each.sha256]
    if taken:
        more = f" and {len(taken) - 1} more" if len(taken) > 1 else ""
        yield "photos", f"{taken[0]}{more}", None, None
    for move in work.movements:
        if move.piece is None and move.to and _is_day(move.when, day):
            yield "moved", f"to {move.to}", None, None


def _clock(said: str | None) -> time | None:
    return time.fromisoformat(said) if said else None


def _is_day(span: DateSpan | None, day: Day) -> bool:
    return span is not None and span.earliest == day == span.latest


def _stays(ledger: Ledger, days: Sequence[date]) -> Iterator[tuple[str, date, str]]:
    """Which works came on one of these days, or were in the house for a commission."""
    for revision in ledger.bodies("job") if days else ():
        job: Job = as_read(revision).record
        for item in job.items:
            for day in days:
                own = Day(day.year, day.month, day.day)
                if item.came and item.came <= own and not (item.left and item.left < own):
                    yield item.work, day, "came" if item.came == own else "here"


def _named(ledger: Ledger, frames: Sequence[Frame]) -> Iterator[Doing]:
    """The works whose numbers stand in names or folders; a name counts only where such a work is."""
    known: dict[str, str | None] = {}
    for frame in frames:
        for sitting in sittings([frame]):
            for number, place in names_said(sitting).items():
                if number not in known:
                    known[number] = by_number(ledger, number)
                document = known[number]
                if document:
                    day = frame.at.date() if frame.at else date.min
                    yield Doing(work=document, number=number, day=day, kind="named", what=place)


def by_number(ledger: Ledger, number: str) -> str | None:
    """The work that has this very number, None where none has."""
    for document in ledger.mentioning(number, "work"):
        if as_read(ledger.read(document)).record.number == number:
            return document
    return None
