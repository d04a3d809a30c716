"""What a catalogue says of a painting beside its facts: offer, provenance, showings, books, what was asked.

It is written of the record as it leaves, so a chapter is there only where the list lets something of it
leave. No clock is asked: whoever may have been alive on the last day that the record tells of is taken
to be alive.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Literal

from catalogue.argument.chain.diligence import closing, diligence
from catalogue.argument.chain.holders import tenures
from catalogue.argument.chain.words import day
from catalogue.argument.offers import price_said
from catalogue.argument.prose.lists import write_citations, write_exhibitions
from catalogue.argument.prose.told import provenance_told
from catalogue.argument.prose.wording import raised
from catalogue.exchange.outgoing import Sender
from catalogue.exchange.parcels.chapter import Chapter, capital, joined, named, words
from catalogue.measure import Day
from catalogue.record import Attribution, Inscription, Party, PartyName, Work
from catalogue.terms import label

_LONG_AGO = Day(1, 1, 1)
"""The day of a record that tells of none: then nobody's death is taken for granted."""


def chapters(work: Work, sender: Sender, last: str) -> Iterator[Chapter]:
    """Provenance, showings, books; `last` is the last day that the record tells of, "" for none."""
    yield from _provenance(work, sender, Day.from_iso(last) if last else _LONG_AGO)
    yield from _listed("exhibited", write_exhibitions(work, _names(sender)))
    yield from _listed("literature", write_citations(work, _names(sender)))


def asked(work: Work, sender: Sender) -> Iterator[Chapter]:
    """What was looked up and seen, each answer with its day."""
    said, names = words("told"), _names(sender)
    found = diligence(work, tenures(work, names), names)
    facts = []
    for each in found:
        lines = [capital(fact.says) for fact in each.facts if fact.sort != "event"]
        if lines:
            facts.append((each.question, "\n".join(lines)))
    if facts:
        yield Chapter(said["asked"], tuple(facts), small=(said["asked_says"], closing()))


def attributed(work: Work, sender: Sender) -> str:
    """Who says so, and when, and what else has been said, a line each."""
    said, shown = words("told"), work.attribution()
    lines = []
    for each in work.attributions:
        by = named(sender, each.said_by)
        who = joined((by, day(each.on) if each.on else ""))
        if each is not shown:
            what = _attribution(each, sender)
            lines.append(said["also"].format(what=what) + (f" ({who})" if who else ""))
        elif who:
            lines.insert(0, said["said_by"].format(who=who))
    return "\n".join(lines)


def _attribution(each: Attribution, sender: Sender) -> str:
    name = named(sender, each.artist)
    return each.written or joined((label(each.qualifier), name), " ")


def hand(inscription: Inscription, sender: Sender) -> str:
    """Whose hand it is held to be and how firmly; of a signature or date, that nobody has said so."""
    said, name = words("told"), named(sender, inscription.written_by)
    if name:
        sure = inscription.written_by_certainty
        return str(said["hand"].format(name=joined((name, label(sure) if sure else ""))))
    return str(said["bears"]) if inscription.kind in said["claims"] else ""


def offered(work: Work, sender: Sender) -> Iterator[Chapter]:
    """How it stands and what is asked for it, where that is told."""
    offer = sender.offer(work.document)
    if offer is None:
        return
    said = words("told")
    facts = (
        (said["stands"], capital(label(offer.status))),
        (said["price"], price_said(offer)),
        (said["terms"], offer.terms or ""),
        (said["since"], day(offer.since) if offer.since else ""),
        (said["until"], day(offer.until) if offer.until else ""),
    )
    yield Chapter(said["offer"], tuple(each for each in facts if each[1]))


def _provenance(work: Work, sender: Sender, today: Day) -> Iterator[Chapter]:
    """The chain as prose with its notes, and the sentence on how it is written."""
    if not work.provenance:
        return
    said = words("told")
    inside = sender.profile in said["inside"]
    form: Literal["public", "internal"] = "internal" if inside else "public"
    written = provenance_told(work, _people(sender), today=today, form=form)
    notes = (f"{raised(each.mark)} {each.text}" for each in written.notes)
    small = (*notes, written.says, said["gap"])
    yield Chapter(said["provenance"], says=(written.text,), small=small)


def _listed(what: str, lines: tuple[str, ...]) -> Iterator[Chapter]:
    if lines:
        yield Chapter(words("told")[what], points=lines)


def _names(sender: Sender) -> Callable[[str], str]:
    return lambda party: named(sender, party)


def _people(sender: Sender) -> Callable[[str], Party | None]:
    """Those whom the record as it leaves still names, by what they are called."""

    def party(document: str) -> Party | None:
        kind, name = sender.labels(document)[0], named(sender, document)
        if not name:
            return None
        return Party(
            id=document.partition("/")[2],
            kind="person" if kind == "Person" else "group",
            names=(PartyName(text=name),),
        )

    return party
