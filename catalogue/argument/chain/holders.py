"""From the events of a provenance to holdings: who received it, in what capacity, from when to when.

Whoever received a painting holds it from the day of the event. Whoever gave it is a holder of their
own only where no event before tells how they came by it. What is offered and bought in stays whose
it was; what is lent or deposited is held beside the chain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final, get_args

from catalogue.argument.chain import words
from catalogue.argument.chain.ends import settled
from catalogue.argument.chain.grades import is_supported, marks_alone, marks_of
from catalogue.argument.chain.tenures import UNSAID, Hold, Tenure
from catalogue.argument.spans import Interval
from catalogue.measure import DateSpan, fold
from catalogue.record import PartyRole, ProvenanceEvent, Work

Names = Callable[[str], str]
"""What to call a party by the id of its document."""

_ARTIST: Final = "capacity/artist"
_COMMISSIONER: Final = "capacity/commissioner"
_AUTHORITY: Final = "capacity/authority"
_FOR_OTHERS: Final = ("agent", "auctioneer")


def tenures(work: Work, names: Names = str) -> tuple[Tenure, ...]:
    """Every holding that the provenance of a work tells of, in the order of its events."""
    found: list[Tenure] = []
    known = _Known()
    marks = marks_of(work)
    for event in work.provenance:
        for each in _of_event(event, names, marks_alone(event, marks)):
            if not (each.named and (_is_nobody(each) or known.has(each))):
                found.append(each)
                known.add(each)
    made = work.made.earliest if work.made else None
    return settled(found, work.provenance, made)


def bounds(span: DateSpan | None) -> Interval:
    """The first and last day that a span may mean; open at both ends where there is none."""
    return Interval(span.earliest, span.latest) if span else Interval()


def treatment_of(kind: str) -> str:
    """What an event of a kind does: "ownership", "taken", "keeping" ... (vocab/chain.toml).

    >>> treatment_of("provenance/bought-in"), treatment_of("provenance/loan")
    ('staying', 'keeping')
    """
    for name, kinds in words.table("kinds").items():
        if kind in kinds:
            return str(name)
    return "ownership"


def _of_event(event: ProvenanceEvent, names: Names, by_mark: bool) -> Iterator[Tenure]:
    does = treatment_of(event.kind)
    if does == "nowhere":
        return
    receivers: list[Tenure] = []
    givers: list[Tenure] = []
    for role in event.parties:
        hold, receives = _capacity(role, event, does)
        if hold is None:
            continue
        each = replace(_tenure(event, role, hold, names), by_mark=by_mark)
        (receivers if receives else givers).append(each)
    if does == "ownership" and any(each.hold == "owner" for each in receivers):
        receivers = [each if each.hold == "owner" else _for_the_day(each) for each in receivers]
    yield from (_until_then(each, does) for each in givers)
    yield from (_received(each, does) for each in receivers)


def _capacity(role: PartyRole, event: ProvenanceEvent, does: str) -> tuple[Hold | None, bool]:
    """What an event makes of somebody, and whether they received the painting."""
    gives = _listed("gives", role.role)
    takes = _listed("receives", role.role)
    if role.role == _ARTIST and event.kind in words.terms("evidence", "making"):
        ordered = any(each.role == _COMMISSIONER for each in event.parties)
        return (None, False) if ordered else ("owner", True)
    if does == "presence":
        return (takes if takes in (*_FOR_OTHERS, "custodian") else "presence"), True
    if does == "taken":
        if gives or takes == "owner":
            return gives or takes, False
        return (takes if takes in ("dealer", *_FOR_OTHERS) else "custodian"), True
    if does in ("keeping", "returning", "staying") and takes == "owner":
        # It stays theirs: the event only says that it was.
        buys = does == "staying" and role.role == "capacity/buyer"
        return (None if buys else "owner"), False
    if gives:
        return gives, False
    if role.role == _AUTHORITY and does == "ownership" and _has_new_owner(event):
        return "custodian", False  # what it gives back it had until then
    if does == "returning":
        return None, False
    return takes or "presence", True


def _has_new_owner(event: ProvenanceEvent) -> bool:
    return any(_listed("receives", role.role) == "owner" for role in event.parties)


def _listed(table: str, role: str) -> Hold | None:
    for hold in get_args(Hold):
        if role in words.table(table).get(hold, ()):
            return hold  # type: ignore[no-any-return]
    return None


def _tenure(event: ProvenanceEvent, role: PartyRole, hold: Hold, names: Names) -> Tenure:
    named = names(role.party) if role.party else ""
    if named == role.party and role.written:
        named = role.written  # nobody on file knows that id
    return Tenure(
        event=event.id,
        number=event.number or "",
        name=named or role.written or words.table("words")["nobody_named"],
        hold=hold,
        began=bounds(event.when),
        ended=bounds(event.until),
        party=role.party,
        passage=event.passage,
        certainty=event.certainty or "certainty/certain",
        supported=is_supported(event),
        said_began=bounds(event.when),
        said_ended=bounds(event.until),
    )


def _received(each: Tenure, does: str) -> Tenure:
    """Whoever the event put the painting with; agents and keepers stand beside the chain."""
    if each.beside:
        return each
    if each.hold in _FOR_OTHERS:
        return _for_the_day(each)
    if does == "staying":
        return replace(_for_the_day(each), by_mark=False)
    return replace(each, beside=does == "keeping")


def _for_the_day(each: Tenure) -> Tenure:
    """A part in the event and no more: from its day to its day, unless the record says until when."""
    ended = each.said_ended if each.said_ended != UNSAID else each.said_began
    return replace(each, ended=ended, beside=True)


def _until_then(each: Tenure, does: str) -> Tenure:
    """Whose it was up to the event; where it was only lent or offered it stays theirs after it."""
    day, stays = each.said_began, does in ("keeping", "returning", "staying")
    return replace(
        each,
        began=Interval(None, day.latest),
        ended=Interval(day.earliest, None if stays else day.latest),
        said_began=Interval(None, day.latest),
        said_ended=Interval(day.earliest, None if stays else day.latest),
        named=True,
    )


def _is_nobody(each: Tenure) -> bool:
    """Whether the name only says that nobody knows it: "not known"."""
    return fold(each.name) in words.terms("words", "nobody_known")


class _Known:
    """Those in the chain so far, by their party and by their name, as `same_person` tells them apart."""

    def __init__(self) -> None:
        self._parties: set[str] = set()
        self._names: set[str] = set()
        self._in_words: set[str] = set()

    def add(self, each: Tenure) -> None:
        """Take in a holder, unless they only held it for somebody else."""
        if each.beside:
            return
        name = fold(each.name)
        self._names.add(name)
        if each.party:
            self._parties.add(each.party)
        else:
            self._in_words.add(name)

    def has(self, each: Tenure) -> bool:
        """Whether this is one of them."""
        if each.party:
            return each.party in self._parties or fold(each.name) in self._in_words
        return fold(each.name) in self._names


def same_person(one: Tenure, other: Tenure) -> bool:
    """Whether two holders are one: the same party on file, else the same name in any letters."""
    if one.party and other.party:
        return one.party == other.party
    return fold(one.name) == fold(other.name)
