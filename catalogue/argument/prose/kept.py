"""The provenance of a record as entries of prose, and entries that were read as events of a record.

An event may take several blocks: the saleroom and the buyer, the agent and the new owner. They stand
one after the other as the trade writes them, and each remembers its event.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from catalogue.argument.chain.grades import DIRECT, bears_direct, direct_stands
from catalogue.argument.prose.blocks import LONGEST_LIFE
from catalogue.argument.prose.entries import CERTAIN, Entry, EntryNote, EntryParty
from catalogue.argument.prose.evidence_said import footnotes
from catalogue.argument.prose.wording import is_unknown, is_withheld, words
from catalogue.measure import DateSpan, Day
from catalogue.record import Party, PartyRole, ProvenanceEvent, Work

People = Callable[[str], Party | None]
"""Who a party's document is about; None for one that is not here."""

_ARTIST, _COMMISSION, _CREATION = (
    "capacity/artist",
    "provenance/commission",
    "provenance/creation",
)
_OWNERS, _DEALER = ("capacity/owner",), "capacity/dealer"
_CONSENT = "consent/name"
_SALES = ("provenance/sale", "provenance/private-sale")


@dataclass(frozen=True, slots=True)
class Chain:
    """The entries of a record's provenance, with the footnotes that they cite."""

    entries: tuple[Entry, ...]
    notes: tuple[EntryNote, ...]


def entries_of(work: Work, people: People, *, today: Day) -> Chain:
    """The chain of a work, earliest first, with its evidence as footnotes.

    Somebody who may be alive on that day is named in the house alone.
    """
    events = in_time(work.provenance)
    names = _names(people)
    entries: list[Entry] = []
    notes: list[EntryNote] = []
    following = [after for _, after in pairwise(events)]
    for event, after in zip(events, [*following, None], strict=True):
        own: list[str] = []
        if not _is_bare(event):
            for text in footnotes(event, work, names):
                own.append(f"{event.id} {len(own)}")
                notes.append(EntryNote(own[-1], text))
        before = entries[-1] if entries else None
        entries += _blocks(event, after, before, tuple(own), people, today)
    return Chain(tuple(entries), tuple(notes))


def in_time(events: Iterable[ProvenanceEvent]) -> tuple[ProvenanceEvent, ...]:
    """Events in their order; one without a place in the chain goes where its date lets it, else last.

    Nothing is put between two that are joined directly.
    """
    placed = [each for each in events if each.order is not None]
    for loose in (each for each in events if each.order is None):
        at = len(placed)
        day = _begins(loose)
        if day is not None:
            for place, each in enumerate(placed):
                begins = _begins(each)
                joined = place > 0 and placed[place - 1].passage == DIRECT
                if begins is not None and begins > day and not joined:
                    at = place
                    break
        placed.insert(at, loose)
    return tuple(placed)


def last_searched(work: Work) -> Day | None:
    """The last day on which a register or list of losses was asked about a work."""
    kinds = words("gap")["searches"]
    return max(
        (each.on for each in work.inquiries if each.on and each.kind in kinds), default=None
    )


def _begins(event: ProvenanceEvent) -> Day | None:
    span = event.when or event.until
    return (span.earliest or span.latest) if span else None


def _blocks(
    event: ProvenanceEvent,
    after: ProvenanceEvent | None,
    before: Entry | None,
    notes: tuple[str, ...],
    people: People,
    today: Day,
) -> Iterator[Entry]:
    """The blocks of one event, its notes on the last, each joined to the next."""
    passage = event.passage if after else None
    whole = Entry(
        kind=event.kind,
        phrase=event.phrase,
        place=event.at,
        when=event.when,
        until=event.until,
        lot=event.lot,
        price=event.price.written if event.price else None,
        stock_number=event.stock_number,
        certainty=event.certainty or CERTAIN,
        passage=passage,
        notes=notes,
        event=event.id,
        evidenced=direct_stands(event, after) if after and passage == DIRECT else None,
        documented=_documented(event),
    )
    parties = _one_maker(
        [_party(each, event, people, today) for each in _told(event, before, people)]
    )
    for place, party in enumerate(parties):
        last = place == len(parties) - 1
        yield _part(whole, party, parties, last, bears_direct(event.evidence))
    if not parties:
        yield whole


def _one_maker(parties: list[EntryParty]) -> list[EntryParty]:
    """Several who may have made it in one block: it did not pass from one to the other."""
    if len(parties) < 2 or any(each.role != _ARTIST for each in parties):
        return parties
    between = f" {words('dates')['or']} "
    return [EntryParty(name=between.join(each.name for each in parties), role=_ARTIST)]


def _part(
    whole: Entry, party: EntryParty, parties: Sequence[EntryParty], last: bool, borne: bool
) -> Entry:
    """The block of one party of an event: what belongs to the saleroom stands with the saleroom."""
    roles = words("roles")
    inside = party.role in roles["inside"]
    sold = any(each.role == "capacity/auctioneer" for each in parties) and not inside
    entry = replace(whole, parties=(party,))
    through = entry.phrase is not None and not entry.phrase.endswith(" to")
    if not last:
        if not through:
            entry = replace(entry, phrase=None)
        entry = replace(
            entry, passage=DIRECT, evidenced=borne, notes=(), certainty=CERTAIN, price=None
        )
        if not inside:
            # whoever let it go: what is told of the event stands with those who received it
            entry = replace(
                entry, phrase="", kind="provenance/presence", when=None, until=None, lot=None,
                stock_number=None, place=None,
            )  # fmt: skip
    elif sold and party.role not in roles["from"]:
        entry = replace(
            entry, kind="provenance/sale", phrase=words("sales")["bought_there"], when=None,
            lot=None, place=None,
        )  # fmt: skip
    elif len(parties) > 1 and parties[-2].role == "capacity/agent":
        entry = replace(entry, place=None, phrase=None if through else entry.phrase)
    if party.role == _DEALER and entry.kind in _SALES and entry.phrase is None:
        entry = replace(entry, phrase="")
    return entry


def _told(
    event: ProvenanceEvent, before: Entry | None, people: People
) -> tuple[PartyRole, ...]:
    """The parties of an event that get a block, in the order in which the trade names them."""
    roles = words("roles")
    order: list[str] = roles["order"]
    kept = sorted(
        event.parties,
        key=lambda each: order.index(each.role) if each.role in order else len(order),
    )
    named = [each for each in kept if not _nobody(each)]
    known = [each for each in named if each.role not in roles["aside"]] or named
    if event.kind == _COMMISSION and any(each.role != _ARTIST for each in known):
        known = [each for each in known if each.role != _ARTIST]
    came_from = {*roles["from"], *(_OWNERS if event.kind in roles["taken_from"] else ())}
    told = [
        each
        for each in known
        if each.role not in came_from or not _is_same(each, before, people)
    ]
    told.sort(key=lambda each: each.role not in came_from)
    received = [each for each in kept if each.role not in came_from]
    if not any(each.role not in came_from for each in told) and received:
        told += [received[-1]]
    return tuple(told)


def _nobody(role: PartyRole) -> bool:
    return role.party is None and is_unknown(role.written or "")


def _is_same(role: PartyRole, before: Entry | None, people: People) -> bool:
    """Whether somebody is who the chain has just named."""
    if before is None or not before.parties:
        return False
    last = before.parties[-1]
    found = people(role.party) if role.party else None
    name = found.name() if found else role.written
    return (role.party is not None and role.party == last.party) or name == last.name


def _party(role: PartyRole, event: ProvenanceEvent, people: People, today: Day) -> EntryParty:
    if is_withheld(role.written):
        return EntryParty(
            name=words("phrases")["private"], role=role.role, place=role.place, withheld=True
        )
    found = people(role.party) if role.party else None
    name = found.name() if found else role.written or words("phrases")["nobody"]
    artists = sum(each.role == _ARTIST for each in event.parties)
    if found and event.kind == _CREATION and role.role == _ARTIST and artists == 1:
        return EntryParty(name=words("phrases")["artist"], role=role.role, party=role.party)
    place = role.place if role.place and role.place != event.at else None
    return EntryParty(
        name=name,
        role=_DEALER if _is_trader(role, found) else role.role,
        life=role.life or (life_of(found) if found else None),
        place=place,
        relation=role.relation,
        party=role.party,
        withheld=found is not None and _may_be_alive(found, today),
    )


def _is_trader(role: PartyRole, found: Party | None) -> bool:
    """Whether somebody who sold it is a firm of dealers by its record: then it stands in their brackets."""
    roles = words("roles")
    firm = (
        found is not None
        and found.kind == "group"
        and bool(set(found.roles) & set(roles["traders"]))
    )
    return firm and role.role in roles["from"]


def life_of(party: Party) -> str | None:
    """The years of a person's life, as they stand in brackets; None of a firm or where none is known.

    >>> from catalogue.measure import read_date
    >>> from catalogue.record import PartyName
    >>> called = (PartyName(text="Agnes Verlinden"),)
    >>> life_of(Party(kind="person", names=called, began=read_date("1889"), ended=read_date("c. 1961")))
    '1889-c. 1961'
    >>> life_of(Party(kind="person", names=called, ended=read_date("1961")))
    'd. 1961'
    """
    if party.kind != "person":
        return None
    born, died = _year(party.began), _year(party.ended)
    if born and died:
        return f"{born}-{died}"
    return f"b. {born}" if born else f"d. {died}" if died else None


def _year(span: DateSpan | None) -> str:
    """One year, "c." before one that is not certain; the earliest of several."""
    if span is None or not (span.earliest or span.latest):
        return ""
    first, last = (span.earliest or span.latest), (span.latest or span.earliest)
    assert first is not None
    assert last is not None
    if first.year == last.year:
        return str(first.year)
    middle = (first.year + last.year) // 2
    return str(words("dates")["circa"].format(date=middle))


def _may_be_alive(party: Party, today: Day) -> bool:
    """Whether a private person was born not too long ago, without a death on record or their consent."""
    if any(each.to == _CONSENT and each.holds_on(today) for each in party.consents):
        return False
    public = set(party.roles) & set(words("roles")["public"])
    if party.kind != "person" or party.ended is not None or party.began is None or public:
        return False
    born = party.began.latest or party.began.earliest
    return born is not None and today.year - born.year <= LONGEST_LIFE


def _documented(event: ProvenanceEvent) -> bool:
    """Whether a document of the first grade is cited: a mark or somebody's word is none."""
    needs = words("needs")
    return any(
        each.kind in needs["documents"] and each.strength == needs["grade"]
        for each in event.evidence
    )


def _is_bare(event: ProvenanceEvent) -> bool:
    """Whether nothing of an event came this far but that it took place."""
    return (
        event.kind == "provenance/unknown"
        and bool(event.parties)
        and all(is_withheld(each.written) for each in event.parties)
        and not event.notes
    )


def _names(people: People) -> Callable[[str], str]:
    def name(document: str) -> str:
        found = people(document)
        return found.name() if found else ""

    return name
