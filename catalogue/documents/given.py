"""What a paper is made from: the records as they may leave, and ways to name and to show what they name."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from catalogue.documents.model import Block, Document, PageSize, Picture
from catalogue.documents.words import capital, day_said, joined, number_said, words
from catalogue.errors import NotOnFile
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Job,
    Loan,
    MaterialUse,
    Offer,
    Party,
    Photo,
    Size,
    Work,
)
from catalogue.terms import label

D = TypeVar("D", Loan, Offer)


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """Everything a paper is made from, after redaction: builders print what they find here.

    `works` are the works of the job, or the one that was asked for; `checks` the numbers of the
    condition checks that the paper is to be about, none for those that suggest themselves.
    `party` is the record of somebody who may be named, None else; `photograph` gives a picture's
    file as JPEG, None where there is none; `address` what a code on a label leads to; `sheets` the
    newest safety data sheet of each product of some materials.
    """

    works: tuple[Work, ...]
    job: Job | None
    checks: tuple[str, ...]
    today: Day
    letterhead: tuple[str, ...]
    page: PageSize
    name_of: Callable[[str | None], str]
    party: Callable[[str], Party | None]
    photograph: Callable[[Photo], bytes | None]
    address: Callable[[Work], str]
    sheets: Callable[[Iterable[str]], tuple[MaterialUse, ...]]

    def loan(self) -> Loan | None:
        """What was agreed about lending the one work: the latest loan on file, None without any."""
        return self._latest(self.job.loans if self.job else ())

    def offer(self) -> Offer | None:
        """How the one work is offered; None where it isn't, or no longer."""
        latest = self._latest(self.job.offers if self.job else ())
        return latest if latest and latest.stands else None

    def _latest(self, deals: Iterable[D]) -> D | None:
        of_work = (each for each in deals if each.work == self.work.document)
        return max(of_work, key=lambda each: each.rank, default=None)

    @property
    def work(self) -> Work:
        """The one work of a paper about one work."""
        return self.works[0]

    def commission(self) -> Job:
        """The job of a paper about a job. Raises `NotOnFile`."""
        if self.job is None:
            raise NotOnFile(
                f"{self.work.number or 'this work'} came in with no commission that is on file",
                remedy="a receipt needs a job: add it first",
            )
        return self.job

    def work_of(self, document_id: str) -> Work | None:
        """The work of a job's item, None where it may not leave or answers under another id."""
        return next((each for each in self.works if each.document == document_id), None)

    def document(
        self,
        paper: str,
        number: str,
        day: Day | None,
        blocks: tuple[Block, ...],
        *,
        compact: bool = False,
    ) -> Document:
        """A paper of this name, with the title that vocab/documents.toml gives it."""
        return Document(
            title=words("papers")[paper]["title"],
            number=number,
            day=(day or self.today).iso,
            letterhead=self.letterhead,
            blocks=blocks,
            page=self.page,
            compact=compact,
        )

    def by(self, check: ConditionCheck) -> str:
        """A check in one line: its number, its occasion, its day, who made it."""
        said = (
            check.number or "",
            label(check.occasion),
            day_said(check.on),
            self.name_of(check.by),
        )
        return joined(said)

    def maker(self, work: Work) -> str:
        """Who is said to have made a work, in the words it is said in; "" where nobody says."""
        found = work.attribution()
        if found is None:
            return ""
        if found.written:
            return found.written
        name = self.name_of(found.artist)
        plain = found.qualifier == "qualifier/by"
        return name if plain else joined((label(found.qualifier), name), " ")

    def identity(self, work: Work) -> tuple[tuple[str, str], ...]:
        """The facts by which a reader knows which work is meant."""
        told = words("identity")
        return (
            (told["number"], work.number or ""),
            (told["title"], work.title()),
            (told["maker"], self.maker(work)),
            (told["made"], work.made.written if work.made else ""),
            (told["medium"], capital(work.medium or "")),
            (told["size"], "\n".join(size_said(each) for each in work.sizes)),
        )

    def shown(self, photo: Photo, caption: str) -> Picture | None:
        """A photograph with its caption, None where its file is not here."""
        content = self.photograph(photo)
        if content is None:
            return None
        said = joined((photo.number or "", caption))
        return Picture(
            content=content,
            media_type="image/jpeg",
            width=photo.width or 4,
            height=photo.height or 3,
            alt=said,
            caption=joined((said, day_said(photo.taken), self.name_of(photo.by))),
        )


def size_said(size: Size) -> str:
    """A size, height first, with what was measured.

    >>> size_said(Size(what="size/support", height_mm=500, width_mm=610.5))
    'support: 500 × 610.5 mm (height × width)'
    """
    told = words("identity")
    measures = (
        (told["height"], size.height_mm),
        (told["width"], size.width_mm),
        (told["depth"], size.depth_mm),
        (told["diameter"], size.diameter_mm),
    )
    there = [(name, value) for name, value in measures if value is not None]
    figures = " × ".join(number_said(value) for _, value in there)
    names = " × ".join(name for name, _ in there)
    return f"{label(size.what)}: {figures} mm ({names})"
