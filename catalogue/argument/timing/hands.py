"""The chain of hands in time: holdings, their order, who could take part in them, the marks they rest on.

Agents, auctioneers and those who only keep a painting do not own it (trade sheet 2.8), so an owner's
holding is held to the next owner's alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from catalogue.argument.chain.grades import DIRECT, bears_direct
from catalogue.argument.chain.words import terms as of_chain
from catalogue.argument.timing.claims import Claim, Event, Firmness, Instant
from catalogue.argument.timing.dated import beginning, ending, lasting
from catalogue.argument.timing.lives import in_life, life_of, written_life
from catalogue.argument.timing.making import made
from catalogue.argument.timing.saying import (
    Said,
    after,
    called,
    claim,
    event,
    facts_of,
    is_one,
    named,
    not_after,
    together,
)
from catalogue.record import Inscription, Party, PartyRole, ProvenanceEvent, Work

_HAVING = ("owner", "dealer", "custodian", "presence")
_FOR_OTHERS = ("agent", "auctioneer")


def hands(work: Work, parties: Mapping[str, Party], known: frozenset[str]) -> Iterator[Said]:
    """Every event of the chain; `known` are the ids of all other events, of what marks speak of."""
    own = made(work)
    for each in work.provenance:
        here = holding(each)
        yield here
        yield from beginning(here, each.when, each.id, named(each), each.certainty)
        yield from ending(here, each.until, each.id, named(each), each.certainty)
        yield from _of_a_painting(each, here, own)
        for role in each.parties:
            if role.party not in parties:
                yield from written_life(role)
            yield from _took_part(each, here, role, parties)
        yield from _rests_on_marks(work, each, here, known)
        yield from _rests_on_papers(work, each, here)
    yield from _in_order(work.provenance)


def holding(each: ProvenanceEvent) -> Event:
    """An event of the chain: a holding that lasts, or something that passed on one day."""
    over = each.kind in of_chain("kinds", "staying") | of_chain("kinds", "returning")
    over = over or (_has(each, _FOR_OTHERS) and not _has(each, _HAVING))
    moment = over and each.until is None
    kind = "passing" if moment else "holding"
    return event(kind, each.id, called(each), named(each), moment=moment)


def owns(each: ProvenanceEvent) -> bool:
    """Whether somebody is said to have owned it, or taken it, from this event on; the maker does."""
    if is_one(each.kind, "created"):
        return True
    passes = of_chain("kinds", "ownership") | of_chain("kinds", "taken")
    return each.kind in passes and _has(each, ("owner", "dealer"))


def _has(each: ProvenanceEvent, holds: Iterable[str]) -> bool:
    """Whether one of its parties gets it in one of these ways."""
    return any(
        role.role in of_chain("receives", hold) for role in each.parties for hold in holds
    )


# --- the painting had to be there -----------------------------------------------------------------


def _of_a_painting(each: ProvenanceEvent, here: Event, own: Event) -> Iterator[Said]:
    about = facts_of(each)
    if is_one(each.kind, "before_made"):
        return
    if is_one(each.kind, "created"):
        yield from lasting(own, each.when, each.id, own.called, each.certainty, "made-date")
        bounds = (*after(own.began, here.began), *after(here.began, own.ended))
        yield claim("created", each.id, bounds, (each.id,), **about)
        return
    for kind, instant in (("held-begun", own.began), ("held-finished", own.ended)):
        bounds = after(instant, here.began)
        yield claim(kind, each.id, bounds, (each.id,), **about)


# --- and whoever took part ------------------------------------------------------------------------


def _took_part(
    each: ProvenanceEvent, here: Event, role: PartyRole, parties: Mapping[str, Party]
) -> Iterator[Said]:
    """Nobody gets a painting before birth or after death; an estate may still give one away."""
    life, name, firm = life_of(role, parties)
    facts = {**facts_of(each), "name": name}
    rests_on = (each.id, role.id, *([role.party] if role.party else []))
    whose = f"{each.id}:{role.id}"
    gets = any(role.role in of_chain("receives", hold) for hold in (*_HAVING, *_FOR_OTHERS))
    if not gets:
        bounds = after(Instant(life, "began"), here.began)
        yield claim("had-begun", whose, bounds, rests_on, **facts)
        return
    kind = "traded" if firm else "acted"
    bounds = in_life(life, here.began, here.began)
    yield claim(kind, whose, bounds, rests_on, **facts)
    having = [one for one in each.parties if _has_it(one)]
    if having == [role] and not here.moment:
        # of several who have it together one may go on after the other
        bounds = after(here.ended, Instant(life, "ended"))
        yield claim("until-death", whose, bounds, rests_on, **facts)


def _has_it(role: PartyRole) -> bool:
    return any(role.role in of_chain("receives", hold) for hold in _HAVING)


# --- the marks that it rests on -------------------------------------------------------------------


def _rests_on_marks(
    work: Work, each: ProvenanceEvent, here: Event, known: frozenset[str]
) -> Iterator[Claim]:
    cited = {evidence.source for evidence in each.evidence}
    if here.moment:
        return
    for mark in work.inscriptions:
        if mark.id not in cited or not _put_on_meanwhile(each, mark):
            continue
        for kind, at in (
            ("includes", mark.id),
            ("includes-there", f"{mark.id}/there"),
        ):
            if at in known:
                instant = Instant(at, "began")
                bounds = (*after(here.began, instant), *after(instant, here.ended))
                yield claim(
                    kind, f"{each.id}:{mark.id}", bounds, (each.id, mark.id),
                    **facts_of(each), mark=named(mark),
                )  # fmt: skip


def _put_on_meanwhile(each: ProvenanceEvent, mark: Inscription) -> bool:
    return each.kind in of_chain("kinds", "presence") or is_one(mark.kind, "while_held")


def _rests_on_papers(work: Work, each: ProvenanceEvent, here: Event) -> Iterator[Claim]:
    """What a letter or a bill of some day tells of had begun on that day."""
    cited = {evidence.source for evidence in each.evidence}
    for paper in work.papers:
        if paper.id in cited and paper.on:
            yield claim(
                "papered", f"{each.id}:{paper.id}", not_after(here.began, paper.on),
                (each.id, paper.id), **facts_of(each),
                paper=named(paper), written=paper.on.iso,
            )  # fmt: skip


# --- one after the other --------------------------------------------------------------------------


def _in_order(events: Iterable[ProvenanceEvent]) -> Iterator[Claim]:
    """Neighbours follow each other; an owner's holding ends when the next owner's begins."""
    chain = sorted((each for each in events if each.order is not None), key=_place)
    for before, each in pairwise(chain):
        if _place(before) == _place(each):
            continue
        facts = {**facts_of(each), "before": named(before)}
        pair, rests_on = f"{before.id}:{each.id}", (before.id, each.id)
        first, second = holding(before), holding(each)
        bounds = after(first.began, second.began)
        yield claim("follows", pair, bounds, rests_on, **facts)
        if before.passage == DIRECT and _one_kind_of_hold(before, each):
            borne = bears_direct((*before.evidence, *each.evidence))
            firm = Firmness.HARD if borne else Firmness.LIKELY
            bounds = together(first.ended, second.began)
            yield claim("direct", pair, bounds, rests_on, firm, **facts)
    owners = [each for each in chain if owns(each)]
    for before, each in pairwise(owners):
        if _place(before) != _place(each):
            facts = {**facts_of(each), "before": named(before)}
            yield claim(
                "handed-on", f"{before.id}:{each.id}",
                after(holding(before).ended, holding(each).began),
                (before.id, each.id), **facts,
            )  # fmt: skip


def _place(each: ProvenanceEvent) -> int:
    return each.order or 0


def _one_kind_of_hold(before: ProvenanceEvent, each: ProvenanceEvent) -> bool:
    """Whether both own it, or neither does: an agent gets it from an owner who goes on owning it."""
    return owns(before) is owns(each)
