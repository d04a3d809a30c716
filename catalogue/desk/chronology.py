"""When everything happened to a work, all evidence at once: the timeline, each bound with its reasons.

What cannot all hold stands on top, with what would settle it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from flask import Blueprint, render_template, url_for
from markupsafe import Markup

from catalogue.argument import Interval
from catalogue.argument.timing.claims import Claim, Instant
from catalogue.argument.timing.in_words import (
    claim_in_words,
    contradiction_in_words,
    instant_in_words,
)
from catalogue.argument.timing.solving import Chronology, Contradiction, Link
from catalogue.desk import asking
from catalogue.desk.asking import studio
from catalogue.desk.calling import naming
from catalogue.desk.leading import LeadsTo, leading_in
from catalogue.pictures.chronology import timeline_sheets
from catalogue.pictures.hands import bands_of, gaps_of
from catalogue.pictures.spells import Spell, called, grouped, spells_of, when
from catalogue.pictures.words import table
from catalogue.record import Work
from catalogue.wording import Naming

pages = Blueprint("chronology", __name__)


@dataclass(frozen=True, slots=True)
class Source:
    """Something of the record that a statement rests on: what it is called, where it is shown."""

    called: str
    page: str


@dataclass(frozen=True, slots=True)
class Statement:
    """One claim: its words, how firm it is, who says so, what it rests on, what would settle it."""

    words: str
    firmness: str
    source: str
    rests_on: tuple[Source, ...]
    resolve: str


@dataclass(frozen=True, slots=True)
class Reason:
    """One step of a chain of reasons, and what it leaves: "R1 was made in 1934 or later"."""

    statement: Statement
    leaves: str


@dataclass(frozen=True, slots=True)
class Bound:
    """A beginning or an end: in words, and why it is not earlier and not later."""

    words: str
    earliest: tuple[Reason, ...]
    latest: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One event of the table; a moment has no end of its own."""

    spell: Spell
    called: str
    page: str | None
    began: Bound
    ended: Bound | None


@dataclass(frozen=True, slots=True)
class Clash:
    """A contradiction: its statements, those from which nothing is argued until it is settled."""

    statements: tuple[Statement, ...]
    given_up: tuple[str, ...]
    resolve: tuple[str, ...]
    firm: bool


@pages.get("/work/<uuid:uuid>/argue/chronology")
def show(uuid: UUID) -> Any:
    """Show the chronology of a work."""
    kept = asking.work(uuid)
    work = kept.record
    solved = studio().chronology(work)
    hands = studio().chain(work)
    names = {each.event: each.name for each in hands.tenures}
    spells = spells_of(solved, names)
    leads_to = _leading(work, solved)
    telling = Telling(solved, leads_to, naming(work, studio().name_of))
    sheets = timeline_sheets(
        spells,
        of=work.number or work.title(),
        key="when",
        leads_to=lambda event: leads_to(event) or f"#{_anchor(event)}",
        bands=bands_of(each.window for each in hands.windows),
        gaps=gaps_of(hands.passages, url_for("chain.show", uuid=work.id)),
    )
    return render_template(
        "chronology.html",
        work=work,
        place="leaves.argue",
        sheets=[Markup(each.picture) for each in sheets],
        clashes=[telling.clash(each) for each in solved.contradictions],
        groups=[(head, [telling.row(each) for each in held]) for head, held in grouped(spells)],
        given_up=[telling.statement(each) for each in solved.aside],
        anchor=_anchor,
    )


def _leading(work: Work, solved: Chronology) -> LeadsTo:
    """Where an event is shown; one of a person or firm on the page of that person or firm."""
    within = leading_in(work)
    parties = {
        own: party
        for claim in solved.claims
        for party in claim.rests_on
        if party.startswith("party/")
        for own in claim.rests_on
    }

    def leads_to(named: str) -> str | None:
        return within(named) or (within(parties[named]) if named in parties else None)

    return leads_to


def _anchor(event: str) -> str:
    return "event-" + event.replace("/", "-")


class Telling:
    """What a chronology says, ready for a page."""

    def __init__(self, solved: Chronology, leads_to: LeadsTo, name: Naming) -> None:
        self._solved = solved
        self._leads_to = leads_to
        self._name = name
        self._events = {each.id: each for each in solved.events}
        self._told: dict[str, Statement] = {}

    def row(self, spell: Spell) -> Row:
        """An event with its bounds and their reasons."""
        event = spell.event
        return Row(
            spell,
            called(spell),
            self._leads_to(event.id),
            self._bound(event.began, spell.began),
            None if event.moment else self._bound(event.ended, spell.ended),
        )

    def clash(self, each: Contradiction) -> Clash:
        """A contradiction, its statements in the order in which it has them: the firmest first."""
        told = contradiction_in_words(each)
        return Clash(
            tuple(self.statement(claim) for claim in each.claims),
            told.given_up,
            told.resolve,
            told.firm,
        )

    def statement(self, claim: Claim) -> Statement:
        """A claim, with the pages of what it rests on."""
        if claim.key not in self._told:
            self._told[claim.key] = Statement(
                claim_in_words(claim),
                str(table("spells")["firmness"][claim.firmness.name]),
                claim.source,
                tuple(self._sources(claim.rests_on)),
                claim.resolve,
            )
        return self._told[claim.key]

    def _bound(self, instant: Instant, window: Interval) -> Bound:
        why = self._solved.why
        return Bound(
            when(window),
            tuple(self._reason(link, since=True) for link in why(instant, "earliest")),
            tuple(self._reason(link, since=False) for link in why(instant, "latest")),
        )

    def _reason(self, link: Link, *, since: bool) -> Reason:
        days = Interval(link.day, None) if since else Interval(None, link.day)
        event = self._events[link.at.event]
        return Reason(
            self.statement(link.claim), f"{instant_in_words(event, link.at)} {when(days)}"
        )

    def _sources(self, named: Iterable[str]) -> Iterator[Source]:
        seen: set[str] = set()
        for each in named:
            page = self._leads_to(each)
            if page and page not in seen:
                seen.add(page)
                event = self._events.get(each)
                yield Source(event.called if event else self._name(each), page)
