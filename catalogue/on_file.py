"""What the rest of the ledger tells about a work: the firms on file, its commissions, its painters.

It is read once and kept up with what was saved since; nothing here is kept anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from catalogue.arguing import FirmsOnFile
from catalogue.errors import NotOnFile
from catalogue.facts_of_labels import Firms, name_words
from catalogue.facts_of_works import facts
from catalogue.indexes.facts_of import Known
from catalogue.keeping import as_read
from catalogue.ledger import Ledger
from catalogue.record import Job, Party, Record, Work, is_address

_WORK = re.compile(rb'"(work/[0-9a-f-]{36})"')
_A_GROUP = b'"Group"'
_SHORTEST_NAME = 5
"""Letters of a firm's name that is looked for in labels: a shorter one stands in too many."""
_ARTIST = "role/artist"


class OnFile:
    """Everything beside a work's own record that its facts rest on."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._addresses = FirmsOnFile(ledger)
        self._last = 0
        self._firms = Firms()
        self._jobs: dict[str, set[str]] = {}
        self._roles: dict[str, tuple[str, ...]] = {}

    def known(self, record: Record) -> Known:
        """What is worked out about a record; nothing but for works."""
        if not isinstance(record, Work):
            return {}
        self._look()
        artists = (each.artist for each in record.attributions if each.artist)
        painters = dict.fromkeys(role for artist in artists for role in self._painting(artist))
        return facts(record, self._firms, self._jobs_of(record), painters)

    def also_touched(self, touched: Iterable[str]) -> set[str]:
        """The works that a save of these documents tells something new about: those of a job."""
        jobs = [document for document in touched if document.startswith("job/")]
        if not jobs:
            return set()
        before = {work for job in jobs for work, held in self._jobs.items() if job in held}
        self._look()
        return before | {
            work for job in jobs for work, held in self._jobs.items() if job in held
        }

    def _look(self) -> None:
        """Read what was saved since the last look."""
        now = self._ledger.last()[0]
        if now == self._last:
            return
        touched = (
            [document for document, _ in self._ledger.since(self._last)] if self._last else []
        )
        if self._last == 0:
            for revision in self._ledger.bodies("job"):
                self._take_job(revision.document, revision.body)
        for document in touched:
            if document.startswith("job/"):
                for held in self._jobs.values():
                    held.discard(document)
                head = self._ledger.head(document)
                if head.listed:
                    self._take_job(document, self._ledger.read(document).body)
        if self._last == 0 or any(each.startswith("party/") for each in touched):
            self._roles.clear()
            self._firms = Firms(self._addresses.known(), self._names())
        self._last = now

    def _take_job(self, document: str, body: bytes) -> None:
        for work in set(_WORK.findall(body)):
            self._jobs.setdefault(work.decode(), set()).add(document)

    def _jobs_of(self, work: Work) -> Iterator[Job]:
        for document in sorted(self._jobs.get(work.document, ())):
            job = as_read(self._ledger.read(document)).record
            if isinstance(job, Job) and any(item.work == work.document for item in job.items):
                yield job

    def _names(self) -> dict[str, list[tuple[str, str]]]:
        """The names of firms and other groups, by their first word."""
        found: dict[str, list[tuple[str, str]]] = {}
        for revision in self._ledger.bodies("party"):
            if _A_GROUP not in revision.body:
                continue
            party = as_read(revision).record
            for name in party.names:
                words = name_words(name.text)
                if len(words) >= _SHORTEST_NAME:
                    found.setdefault(words.split()[0], []).append((words, party.document))
        return found

    def _painting(self, artist: str) -> tuple[str, ...]:
        """The roles of an artist beyond being one."""
        if artist not in self._roles:
            self._roles[artist] = ()
            if not is_address(artist):
                try:
                    party = as_read(self._ledger.read(artist)).record
                except NotOnFile:
                    party = None
                if isinstance(party, Party):
                    self._roles[artist] = tuple(each for each in party.roles if each != _ARTIST)
        return self._roles[artist]
