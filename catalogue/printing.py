"""Papers: which record is meant, what of it may leave for the client, and the file that it becomes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from catalogue.documents.given import Given
from catalogue.documents.model import SIZES, PageSize
from catalogue.documents.papers import PAPERS, Paper, paper_named, says, writer_named
from catalogue.errors import BadData, BadPicture, BadSetting, CatalogueError, NotOnFile
from catalogue.exchange.withholding.redaction import (
    StayedHome,
    areas_to_cover,
    profile,
)
from catalogue.ledger import Ledger
from catalogue.linked.addresses import address_of
from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.measure import Day
from catalogue.naming_parties import Naming
from catalogue.photos import Outline
from catalogue.record import Job, MaterialUse, Photo, Work
from catalogue.setting_aside import with_present_ids


@dataclass(frozen=True, slots=True)
class Printed:
    """A paper as a file, its title, what it is filed under, and what it says nothing of."""

    title: str
    number: str
    content: bytes
    stayed_home: tuple[StayedHome, ...]


@dataclass(slots=True)
class Printing:
    """One paper under way. `picture` gives the file of a photograph at a size ("screen"), `covered` a
    copy with areas painted over, None without its file; `sheets` the newest safety data sheet of each
    product of some materials.
    """

    ledger: Ledger
    base: str | None
    today: Day
    letterhead: tuple[str, ...]
    jobs_of: Callable[[str], tuple[Job, ...]]
    picture: Callable[[str, str], Path]
    covered: Callable[[Photo, tuple[Outline, ...]], Path | None]
    sheets: Callable[[Iterable[str]], tuple[MaterialUse, ...]]
    home: list[StayedHome] = field(default_factory=list)

    def paper(
        self,
        document_id: str,
        name: str,
        *,
        work: str | None = None,
        checks: tuple[str, ...] = (),
        written_as: str = "pdf",
        page: str = "a4",
    ) -> Printed:
        """The paper of that name about a work or a job, written as "pdf" or "html".

        `work` is the document of the one of a job's works that a paper about one work is about.
        Raises `BadSetting` for a paper, format or page that there is none of, `BadData` where it is
        not clear which work or commission is meant, `NotOnFile` where nothing is there to print.
        """
        paper, write, size = paper_named(name), writer_named(written_as), _page(page)
        job, works = self._about(document_id, paper, work)
        given = self._given(job, works, paper, checks, size)
        made = paper.make(given)
        return Printed(made.title, made.number, write(made), tuple(self.home))

    def _about(
        self, document_id: str, paper: Paper, wanted: str | None
    ) -> tuple[Job | None, list[Work]]:
        """The commission and the works that a paper is about.

        A paper about a work that is asked for by the work is for no client: no commission is told,
        but for what was agreed about lending or selling that work where the paper rests on it.
        """
        record = self._present(document_id)
        if isinstance(record, Job):
            works = self._works_of(record, paper, wanted)
            return _with_latest(record, paper, works), works
        if not isinstance(record, Work):
            raise BadData("a paper is about a work or a commission, this is neither")
        if paper.of == "work":
            return _with_latest(self._dealt(record, paper), paper, [record]), [record]
        jobs = self.jobs_of(record.document)
        if len(jobs) > 1 and paper.of == "job":
            numbers = ", ".join(each.number or each.document for each in jobs)
            raise BadData(
                f"{record.number} came in more than once", remedy=f"name one of: {numbers}"
            )
        job = self._present(jobs[0].document) if len(jobs) == 1 else None
        together = job is not None and paper.of == "job"
        return job, self._works_of(job, paper, None) if together else [record]

    def _dealt(self, work: Work, paper: Paper) -> Job | None:
        """The commission with the latest deal about a work, of the kind that a paper rests on."""
        jobs = [self._present(each.document) for each in self.jobs_of(work.document)]
        latest = [job for job in jobs if paper.deal and _deals(job, paper, work)]
        return max(latest, key=lambda job: _deals(job, paper, work)[-1].rank, default=None)

    def _works_of(self, job: Any, paper: Paper, wanted: str | None) -> list[Work]:
        """The works of a commission that a paper is about: all of them, or the one that is wanted."""
        works = [self._present(item.work) for item in job.items]
        if paper.of == "job":
            return works
        if wanted is not None:
            works = [each for each in works if each.document == wanted]
            if not works:
                raise BadData(f"{job.number} is not about that work")
        if paper.of == "work" and len(works) != 1:
            numbers = ", ".join(each.number or each.document for each in works)
            raise BadData(
                f"{job.number} is about several works, this paper about one"
                if works
                else f"{job.number} is about no work yet",
                remedy=f"say which (--work): {numbers}" if works else "add a work to it first",
            )
        return works

    def _given(
        self,
        job: Job | None,
        works: list[Work],
        paper: Paper,
        checks: tuple[str, ...],
        page: PageSize,
    ) -> Given:
        theirs = _named(job, paper) if job else ()
        known = Naming(
            self.ledger, profile(paper.profile), frozenset(each for each in theirs if each)
        )
        return Given(
            works=tuple(
                kept for work in works if (kept := self._leaving(work, known)) is not None
            ),
            job=self._leaving(job, known) if job else None,
            checks=checks,
            today=self.today,
            letterhead=self.letterhead,
            page=page,
            name_of=known.name,
            party=known.party,
            photograph=self._photograph,
            address=lambda work: (
                address_of(work.document, work.document, self.base)
                if self.base
                else work.number or work.document
            ),
            sheets=self.sheets,
        )

    def _present(self, document_id: str) -> Any:
        """A record as it stands, naming for every merged one what answers for it today."""
        found = self.ledger.read(document_id)
        body = with_present_ids(self.ledger)(found.body)
        return from_jsonld(parse(body), document_id=found.document, written_in=found.format)

    def _leaving(self, record: Any, known: Naming) -> Any:
        kept, home = known.leaving(record, self.today)
        self.home += home
        return kept

    def _photograph(self, photo: Photo) -> bytes | None:
        if photo.sha256 is None:
            return None
        areas = areas_to_cover(self.home).get(photo.id, ())
        try:
            if areas:
                # what stays home of a reading is not to be read off its picture either
                copy = self.covered(photo, areas)
                return copy.read_bytes() if copy else None
            return self.picture(photo.sha256, "screen").read_bytes()
        except (NotOnFile, BadPicture, OSError) as why:
            said = str(why).partition("\n")[0] if isinstance(why, CatalogueError) else "no file"
            self.home.append(StayedHome("Photo", photo.id, said))
            return None


def _deals(job: Job, paper: Paper, work: Work) -> list[Any]:
    """What a commission agreed about a work, of the kind that a paper rests on, the latest last."""
    found = (each for each in getattr(job, paper.deal) if each.work == work.document)
    return sorted(found, key=lambda each: each.rank)


def _with_latest(job: Job | None, paper: Paper, works: list[Work]) -> Job | None:
    """The commission with the latest deal alone: an offer that was taken back hides those before it."""
    if job is None or not paper.deal:
        return job
    latest = [deal for work in works for deal in _deals(job, paper, work)[-1:]]
    changed: dict[str, Any] = {paper.deal: tuple(latest)}
    return replace(job, **changed)


def _named(job: Job, paper: Paper) -> tuple[str | None, ...]:
    """Whom a paper about a commission names, whatever its profile says: those who sign it."""
    if paper.of == "job":
        return job.client, job.owner, job.depositor
    if paper.deal == "loans":
        return tuple(
            party for loan in job.loans for party in (loan.lender, loan.borrower, loan.courier)
        )
    return ()


def printable() -> dict[str, str]:
    """Every paper that can be printed, and the sentence that says for whom and when."""
    return {name: says(name) for name in PAPERS}


def _page(size: str) -> PageSize:
    for each in SIZES:
        if each == size:
            return each
    raise BadSetting(f"there is no page {size!r}", remedy=f"choose one of: {', '.join(SIZES)}")
