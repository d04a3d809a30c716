"""What a record says about time, all of it: the events of a painting, and the claims about their days.

Each module beside this one finds those of one subject: `making`, `writing`, `repairs`, `over` (what
lies over what), `hands`, `shows` (exhibitions and the studio), `lives`. `chronology` solves them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from catalogue.argument.dating import date_label, date_repair
from catalogue.argument.evidence import Dating
from catalogue.argument.timing.at_address import at_addresses, of_firms_on_file
from catalogue.argument.timing.claims import Claim, Event
from catalogue.argument.timing.hands import hands
from catalogue.argument.timing.lives import addresses, lives
from catalogue.argument.timing.making import artist_of, making
from catalogue.argument.timing.over import over
from catalogue.argument.timing.proofs import firms_of
from catalogue.argument.timing.repairs import repairs
from catalogue.argument.timing.saying import Said
from catalogue.argument.timing.shows import in_the_studio, shows
from catalogue.argument.timing.solving import Chronology, solve
from catalogue.argument.timing.writing import writing
from catalogue.record import Party, Work

NOBODY: Final[Mapping[str, Party]] = {}


def chronology(
    work: Work,
    *,
    datings: Mapping[str, Dating] | None = None,
    parties: Mapping[str, Party] = NOBODY,
) -> Chronology:
    """When everything happened to a painting, as far as all that is on record leaves it.

    `datings` are the arguments about each mark and repair by its id, worked out without firms on
    file where none are given; `parties` are the people and firms that the record names, by id.

    >>> from catalogue.measure import read_date
    >>> from catalogue.record import Inscription, PriorRepair, Work
    >>> label = Inscription(number="I1", kind="inscription/label", face="face/back")
    >>> tape = PriorRepair(number="R1", kind="repair/tape", covers=(label.id,), made=read_date("1934"))
    >>> solved = chronology(Work(made=read_date("1931"), inscriptions=(label,), repairs=(tape,)))
    >>> solved.window(solved.events[2].began).latest.iso
    '1934-12-31'
    """
    events, claims = events_and_claims(work, datings=datings, parties=parties)
    return solve(events, claims)


def events_and_claims(
    work: Work,
    *,
    datings: Mapping[str, Dating] | None = None,
    parties: Mapping[str, Party] = NOBODY,
) -> tuple[tuple[Event, ...], tuple[Claim, ...]]:
    """Every event that the record tells of, and every claim about when it was; nothing is weighed."""
    if datings is None:
        datings = datings_of(work)
    named = named_in(work, datings)
    concerned = {party: parties[party] for party in named if party in parties}
    people = list({each.document: each for each in concerned.values()}.values())
    said: list[Said] = [
        *making(work, concerned),
        *writing(work, datings, concerned, of_firms_on_file(datings, people)),
        *repairs(work, datings, concerned),
        *over(work),
    ]
    known = frozenset(each.id for each in said if isinstance(each, Event))
    said += [
        *hands(work, concerned, known),
        *shows(work, concerned),
        *in_the_studio(work),
        *lives(people),
        *at_addresses(work, datings, people),
        *addresses(people),
    ]
    return _sorted_out(said)


def named_in(work: Work, datings: Mapping[str, Dating]) -> Iterator[str]:
    """The ids of the people and firms whose years bear on a painting: each as the record names it."""
    shown = artist_of(work)
    if shown and shown.artist:
        yield shown.artist
    for event in work.provenance:
        yield from (role.party for role in event.parties if role.party)
    yield from (each.lender for each in work.exhibitions if each.lender)
    yield from (each.by for each in work.repairs if each.by)
    for dating in datings.values():
        yield from firms_of(dating.reasons)


def datings_of(work: Work) -> dict[str, Dating]:
    """What each mark and each repair proves of its own years, as far as nobody on file is needed."""
    found = {}
    for mark in work.inscriptions:
        shown = mark.preferred()
        if shown is not None:
            found[mark.id] = date_label(shown.reading(), techniques=mark.techniques)
    for repair in work.repairs:
        found[repair.id] = date_repair(repair.made_of, kind=repair.kind)
    return found


def _sorted_out(said: Iterable[Said]) -> tuple[tuple[Event, ...], tuple[Claim, ...]]:
    """Events and claims apart; without claims about what no event tells of, such as nobody's life."""
    events: dict[str, Event] = {}
    claims: dict[str, Claim] = {}
    for each in said:
        if isinstance(each, Event):
            events.setdefault(each.id, each)
        else:
            claims.setdefault(each.key, each)
    kept = (each for each in claims.values() if _is_about(each, events))
    return tuple(events.values()), tuple(kept)


def _is_about(claim: Claim, events: Mapping[str, Event]) -> bool:
    ends = (end for bound in claim.bounds for end in (bound.earlier, bound.later))
    return all(end is None or end.event in events for end in ends)
