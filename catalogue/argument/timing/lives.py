"""Lives of people and years of firms, and where firms were: events that others are held to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from catalogue.argument.timing.claims import Claim, Event, Instant
from catalogue.argument.timing.dated import firmness_of
from catalogue.argument.timing.saying import (
    Bounds,
    Said,
    after,
    between,
    claim,
    event,
    not_after,
    not_before,
)
from catalogue.measure import DateSpan, read_date, read_edtf
from catalogue.record import Address, Party, PartyRole

_ACTIVE: Final = "active"
"""The rule of `measure` for "active 1900-1920", which bounds no life."""


def life_id(party: Party) -> str:
    """The id of the event that is a party's life."""
    return f"{party.document}/life"


def lives(parties: Iterable[Party]) -> Iterator[Said]:
    """The life of each person and the years of each firm, as far as they are known."""
    for party in parties:
        kind = "life" if party.kind == "person" else "firm"
        life = event(kind, life_id(party), party.name(), party.name())
        yield life
        about = {"name": party.name()}
        if party.began:
            bounds = between(life.began, party.began.earliest, life.began, party.began.latest)
            yield from _told("born", party.document, party.began, bounds, about)
        if party.ended:
            bounds = between(life.ended, party.ended.earliest, life.ended, party.ended.latest)
            yield from _told("died", party.document, party.ended, bounds, about)


def addresses(parties: Iterable[Party]) -> Iterator[Said]:
    """When each party was at each address of theirs that has years."""
    for party in parties:
        for address in party.addresses:
            if address.when:
                there = address_event(party, address)
                yield there
                span = address.when
                bounds = between(there.began, span.earliest, there.ended, span.latest)
                about = {"name": party.name(), "address": address.text}
                yield from _told(
                    "was-at", address.id, span, bounds, about, (party.document, address.id)
                )


def address_event(party: Party, address: Address) -> Event:
    """The years of somebody at an address."""
    called = f"{party.name()} at {address.text}"
    return event("address", address.id, called, called)


def written_life(role: PartyRole) -> Iterator[Said]:
    """The life of somebody who is not on file, from their dates as written ("1889-1961", "d. 1956")."""
    span = read_date(role.life) if role.life and role.written else None
    if span is None or span.rule.startswith(_ACTIVE):
        return
    name = role.written or ""
    life = event("life", written_life_id(role), name, name)
    yield life
    first, _, last = span.edtf.partition("/")
    born, died = (read_edtf(each) if last else None for each in (first, last))
    bounds: Bounds = between(life.began, span.earliest, life.ended, span.latest)
    if born and first != "..":
        bounds += not_after(life.began, born.latest)
    if died and last != "..":
        bounds += not_before(life.ended, died.earliest)
    yield from _told("lived", role.id, span, bounds, {"name": name})


def written_life_id(role: PartyRole) -> str:
    """The id of the event that is the life of somebody who is not on file."""
    return f"{role.id}/life"


def life_of(role: PartyRole, parties: Mapping[str, Party]) -> tuple[str, str, bool]:
    """Whose life bounds what somebody did: the event's id, the name, and whether it is a firm."""
    party = parties.get(role.party or "")
    if party is not None:
        return life_id(party), party.name(), party.kind != "person"
    return written_life_id(role), role.written or "", False


def in_life(life: str, began: Instant, ended: Instant) -> Bounds:
    """That something lies within a life."""
    return (*after(Instant(life, "began"), began), *after(ended, Instant(life, "ended")))


def _told(
    kind: str,
    whose: str,
    span: DateSpan,
    bounds: Bounds,
    about: dict[str, str],
    rests_on: tuple[str, ...] = (),
) -> Iterator[Claim]:
    if bounds:
        yield claim(
            kind, whose, bounds, rests_on or (whose,),
            firmness_of(span), written=span.written, **about,
        )  # fmt: skip
