"""Which commissions a work is in, and which may have one in the house: told without reading all of them."""

from __future__ import annotations

import re
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from threading import Lock
from typing import Final

from catalogue.following import Following
from catalogue.keeping import as_read
from catalogue.ledger import Ledger, Revision
from catalogue.record import Job
from catalogue.record.rules import UUID

_WORK: Final = re.compile(f"work/{UUID}".encode())
_STAY: Final = b"activity/stay"
_LEFT: Final = b'"left_on"'
AT_HAND: Final = 400
"""So many commissions are kept as they were read."""


@dataclass(frozen=True, slots=True)
class Glimpse:
    """What the text of a commission tells at a glance: the works that it names, and its revision.

    `may_be_here` says that more works came than have a day on which they left.
    """

    revision: int
    works: frozenset[str]
    may_be_here: bool


class JobsOnFile:
    """The commissions of a studio, by the works that they name. Any thread may ask."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._glimpses = Following(ledger, "job", glimpse)
        self._by_work: tuple[Mapping[str, Glimpse], Mapping[str, tuple[str, ...]]] = ({}, {})
        self._read: OrderedDict[tuple[str, int], Job] = OrderedDict()
        self._lock = Lock()

    def naming(self, works: Iterable[str]) -> tuple[Job, ...]:
        """The listed commissions whose text names one of these works, by id."""
        glimpses, by_work = self._indexed()
        found = sorted({job for work in works for job in by_work.get(work, ())})
        return tuple(self._job(each, glimpses[each]) for each in found)

    def may_have_one_here(self) -> Iterator[Job]:
        """The listed commissions of which a work may be in the house, by id."""
        glimpses, _ = self._indexed()
        for document in sorted(each for each, seen in glimpses.items() if seen.may_be_here):
            yield self._job(document, glimpses[document])

    def works_named_in(self, documents: Iterable[str]) -> frozenset[str]:
        """The works that any of these commissions names; what is no commission names none."""
        glimpses, _ = self._indexed()
        found = (glimpses[each].works for each in documents if each in glimpses)
        return frozenset().union(*found)

    def _indexed(self) -> tuple[Mapping[str, Glimpse], Mapping[str, tuple[str, ...]]]:
        glimpses = self._glimpses.now()
        known, by_work = self._by_work
        if known is not glimpses:
            found: dict[str, list[str]] = {}
            for job, seen in glimpses.items():
                for work in seen.works:
                    found.setdefault(work, []).append(job)
            by_work = {work: tuple(jobs) for work, jobs in found.items()}
            self._by_work = (glimpses, by_work)
        return glimpses, by_work

    def _job(self, document: str, seen: Glimpse) -> Job:
        key = (document, seen.revision)
        with self._lock:
            job = self._read.get(key)
            if job is not None:
                self._read.move_to_end(key)
                return job
        revision = self._ledger.read(document)
        job = as_read(revision).record
        assert isinstance(job, Job)
        if revision.revision == seen.revision:
            with self._lock:
                self._read[key] = job
                while len(self._read) > AT_HAND:
                    self._read.popitem(last=False)
        return job


def glimpse(revision: Revision) -> Glimpse:
    """What a commission tells without being read."""
    body = revision.body
    works = frozenset(each.decode() for each in _WORK.findall(body))
    return Glimpse(revision.revision, works, body.count(_STAY) > body.count(_LEFT))
