"""The works in the house, kept up with the ledger: only those are read again of which something changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from threading import Lock

from catalogue.at_the_bench import Shown, Stay, shown, stay
from catalogue.errors import NotOnFile
from catalogue.jobs_on_file import JobsOnFile
from catalogue.keeping import as_read
from catalogue.ledger import Head, Ledger
from catalogue.record import Job, Photo, Work

REMEMBERED = 500
"""So many lines about works that are not in the house are remembered."""


class BenchKept:
    """The stays and the lines of a studio's bench. Any thread may ask.

    `showing` is the photograph of a work that shows it best, None where there is none.
    """

    def __init__(
        self,
        ledger: Ledger,
        jobs: JobsOnFile,
        jobs_of: Callable[[str], tuple[Job, ...]],
        name_of: Callable[[str | None], str],
        showing: Callable[[Work], Photo | None],
    ) -> None:
        self._ledger = ledger
        self._jobs = jobs
        self._jobs_of = jobs_of
        self._name_of = name_of
        self._showing = showing
        self._lock = Lock()
        self._last = 0
        self._stays: dict[str, Stay | None] = {}
        self._rests_on: dict[str, frozenset[str]] = {}
        self._lines: dict[str, tuple[Shown, frozenset[str]]] = {}

    def stays(self) -> tuple[Stay, ...]:
        """Every work that is here for a job, for each of its jobs."""
        with self._lock:
            self._let_go_of_changed()
            found = {}
            for job in self._jobs.may_have_one_here():
                for item in job.items:
                    if item.left is None:
                        key = f"{job.document} {item.id}"
                        found[key] = self._stay(key, job, item.work)
            self._stays = {key: stay for key, (stay, _) in found.items()}
            self._rests_on = {key: rests_on for key, (_, rests_on) in found.items()}
            return tuple(each for each in self._stays.values() if each is not None)

    def lines(self, heads: Iterable[Head]) -> tuple[Shown, ...]:
        """What a line says of each of these works."""
        with self._lock:
            self._let_go_of_changed()
            return tuple(self._lines_of(heads))

    def _lines_of(self, heads: Iterable[Head]) -> Iterator[Shown]:
        for head in heads:
            if head.document not in self._lines:
                if len(self._lines) >= REMEMBERED:
                    self._lines.clear()
                work: Work = as_read(self._ledger.read(head.document)).record
                said = work.attribution()
                rests_on = {head.document, said.artist if said and said.artist else ""}
                line = shown(work, self._name_of, self._showing(work))
                self._lines[head.document] = (line, frozenset(rests_on))
            yield self._lines[head.document][0]

    def _stay(self, key: str, job: Job, named: str) -> tuple[Stay | None, frozenset[str]]:
        if key in self._rests_on:
            return self._stays[key], self._rests_on[key]
        rests_on = frozenset({job.document, named})
        item = next(each for each in job.items if key.endswith(each.id))
        try:
            kept = as_read(self._ledger.read(named))
            listed = not self._ledger.head(kept.document_id).withdrawn
        except NotOnFile:
            return None, rests_on
        if not listed or not isinstance(kept.record, Work):
            return None, rests_on | {kept.document_id}
        work = kept.record
        jobs = self._jobs_of(kept.document_id)
        made = stay(work, job, item, jobs, self._name_of, self._showing(work))
        return made, made.rests_on | rests_on

    def _let_go_of_changed(self) -> None:
        last = self._ledger.last()[0]
        if last == self._last:
            return
        touched = {document for document, _ in self._ledger.since(self._last)}
        self._last = last
        if len(touched) > REMEMBERED:
            self._stays, self._rests_on, self._lines = {}, {}, {}
            return
        # A commission that is new says something of works that knew nothing of it.
        touched |= self._jobs.works_named_in(touched)
        self._rests_on = {
            key: rests_on for key, rests_on in self._rests_on.items() if not rests_on & touched
        }
        self._lines = {
            document: (line, rests_on)
            for document, (line, rests_on) in self._lines.items()
            if not rests_on & touched
        }
