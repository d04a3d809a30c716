"""Through whose hands a work went: each holding and what lies between, who had it on a day, windows of years.

Beside it stand the prose, the showings and the literature, and what is asked before a sale or loan.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, Final
from uuid import UUID

from flask import Blueprint, render_template, request, url_for
from markupsafe import Markup

from catalogue.argument.chain.held import Held
from catalogue.argument.chain.passages import Passage
from catalogue.argument.chain.resting import Rest
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import windows
from catalogue.argument.chain.words import table
from catalogue.argument.prose.wording import Brackets, Form
from catalogue.argument.prose.writing import Written
from catalogue.desk import asking
from catalogue.desk.asking import page_of, studio
from catalogue.desk.leading import LeadsTo, leading_in
from catalogue.errors import CatalogueError, NotOnFile
from catalogue.pictures.coverage import coverage_bar
from catalogue.pictures.spells import when
from catalogue.record import Citation, Exhibition, Inscription, Work

pages = Blueprint("chain", __name__)


@dataclass(frozen=True, slots=True)
class Ground:
    """One thing that an event rests on: its name, its page, and the photos on which it is framed."""

    called: str
    page: str | None
    grade: str | None
    photos: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Link:
    """One holding as it is shown, and how it leads on, None at the end and beside the chain."""

    tenure: Tenure
    page: str | None
    said: str
    began: str
    ended: str
    grounds: tuple[Ground, ...]
    doubts: tuple[str, ...]
    passage: Passage | None


@pages.get("/work/<uuid:uuid>/argue/chain")
def show(uuid: UUID) -> Any:
    """Show the chain of hands, and answer who had it on a day where one was asked for."""
    kept = asking.work(uuid)
    work = kept.record
    keys = request.args.getlist("window")
    hands = studio().chain(work, keys)
    answer, refused = _asked(work)
    told: tuple[Exhibition | Citation, ...] = (*work.exhibitions, *work.citations)
    leads_to = leading_in(work)
    return render_template(
        "chain.html",
        work=work,
        place="leaves.argue",
        links=list(_links(work, hands.tenures, hands.passages, leads_to)),
        unsupported=[(each, leads_to(each.id)) for each in hands.unsupported],
        windows=[
            (each, Markup(coverage_bar(each.known, key=f"years-{number}") or ""))
            for number, each in enumerate(hands.windows)
        ],
        every_window=windows(),
        looked_at={each.window.key for each in hands.windows},
        answer=answer,
        refused=refused,
        shows=[(each, _grounds(work, each.id, leads_to)) for each in told],
        questions=studio().diligence(work),
        leads_to=leads_to,
        prose=list(_prose(work)),
    )


WAYS: Final[tuple[tuple[Brackets, Form], ...]] = (
    ("life", "public"), ("dealer", "public"), ("life", "internal"), ("dealer", "internal"),
)  # fmt: skip
"""The ways in which the chain is written on the page."""


@dataclass(frozen=True, slots=True)
class Prose:
    """The chain in words, in one habit of brackets and one form."""

    brackets: Brackets
    form: Form
    written: Written


def _prose(work: Work) -> Iterator[Prose]:
    """The chain in words; nothing where there is none, or where the work may not be told of."""
    if not work.provenance:
        return
    for brackets, form in WAYS:
        with suppress(NotOnFile):
            yield Prose(brackets, form, studio().provenance(work, brackets, form))


def _asked(work: Work) -> tuple[Held | None, CatalogueError | None]:
    """Who had it on the day of the little form; what is wrong with what was typed."""
    day = request.args.get("on", "").strip()
    if not day:
        return None, None
    try:
        return studio().held(work, day), None
    except CatalogueError as refused:
        return None, refused


def _links(
    work: Work,
    tenures: tuple[Tenure, ...],
    passages: tuple[Passage, ...],
    leads_to: LeadsTo,
) -> Iterator[Link]:
    passed = {each.before[-1]: each for each in passages}
    for each in tenures:
        yield Link(
            tenure=each,
            page=page_of(each.party) if each.party else None,
            said=table("holds")[each.hold],
            began=when(each.began),
            ended=when(each.ended),
            grounds=_grounds(work, each.event, leads_to),
            doubts=tuple(_doubts(each)),
            passage=passed.get(each),
        )


def _doubts(each: Tenure) -> Iterator[str]:
    said = table("doubts")
    if not each.supported:
        yield said["unsupported"]
    if each.by_mark:
        yield said["by_mark"]


def _grounds(work: Work, event: str, leads_to: LeadsTo) -> tuple[Ground, ...]:
    return tuple(_ground(work, each, leads_to) for each in studio().rests_on(work, event))


def _ground(work: Work, rest: Rest, leads_to: LeadsTo) -> Ground:
    source = rest.source
    photos = []
    if isinstance(source, Inscription):
        numbers = {each.id: each.number or "" for each in work.photos}
        photos = [
            (
                numbers[each],
                url_for("slip.again", uuid=work.id, inscription=source.id, photo=each),
            )
            for each in dict.fromkeys(rest.photos)
            if each in numbers
        ]
    page = leads_to(source.id) if source else None
    return Ground(rest.called, page, rest.evidence.strength, tuple(photos))
