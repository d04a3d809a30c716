"""The provenance against its own evidence: what nothing bears, what a label cannot prove, what stays open."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

from catalogue.argument.chain import words
from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.grades import (
    DIRECT,
    cited,
    downgraded,
    is_supported,
    marks_alone,
    marks_of,
)
from catalogue.argument.chain.holders import same_person, tenures
from catalogue.argument.chain.passages import Passage, passages
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import default_windows
from catalogue.checking.remark import Remark, check
from catalogue.checking.where import Places
from catalogue.measure import Day
from catalogue.record import Party, PartyRole, ProvenanceEvent, Record, Work
from catalogue.terms import label

Read = Callable[[str], Record | None]
Names = Callable[[str], str]

_GROWN_UP = 18
"""Years at which somebody buys or inherits at the earliest; common practice, no source."""
_ACTS_FOR_OTHERS = ("agent", "auctioneer")


def provenance(
    work: Work, read: Read, names: Names, today: Day | None, places: Places
) -> Iterator[Remark]:
    """What wants another look in the provenance. A gap is no accusation, and nothing is certified."""
    yield from _evidence(work, places)
    held = tenures(work, names)
    by_id = {each.id: each for each in work.provenance}
    for passage in passages(held):
        yield from _passage(passage, by_id, places)
    yield from _agents(held, by_id, places)
    if held:
        yield from _windows(work, held, places)
    if today:
        yield from _living(work, read, today, places)


def _evidence(work: Work, places: Places) -> Iterator[Remark]:
    marks = marks_of(work)
    for event in work.provenance:
        where = places.of(event, "evidence")
        if not is_supported(event):
            yield check("provenance.unsupported").remark(where, event.id)
        elif marks_alone(event, marks) and _has_owner(event):
            yield check("provenance.mark-alone").remark(where, event.id)
        said = _taken(event)
        written = words.terms("evidence", "written_down")
        if said and not any(each.kind in written for each in cited(event.evidence)):
            yield check("provenance.no-paper").remark(where, event.id, said=said)
    for event, following in downgraded(work):
        facts = {"next": places.named(following.id)}
        where = places.of(event, "passage")
        yield check("provenance.not-direct").remark(where, event.id, **facts)


def _has_owner(event: ProvenanceEvent) -> bool:
    owners = words.table("receives")["owner"]
    passes = event.kind in words.terms("kinds", "ownership")
    return passes and any(role.role in owners for role in event.parties)


def _taken(event: ProvenanceEvent) -> str:
    """The words by which an event says that it was taken or given back; "" where it doesn't."""
    if event.kind in words.terms("evidence", "asks_paper"):
        return label(event.kind)
    texts = (event.phrase or "", *(each.text for each in event.notes))
    found = next((it for text in texts if (it := _loss_words().search(text))), None)
    return f"“{found[0]}”" if found else ""


@cache
def _loss_words() -> re.Pattern[str]:
    said = "|".join(map(re.escape, words.table("evidence")["loss_words"]))
    return re.compile(rf"\b(?:{said})\b", re.IGNORECASE)


def _passage(
    each: Passage, by_id: dict[str, ProvenanceEvent], places: Places
) -> Iterator[Remark]:
    left, came = each.before[0], each.after[0]
    event = by_id[left.event]
    if each.overlap:
        yield check("provenance.overlap").remark(
            places.of(event, "until"),
            event.id,
            first=left.name,
            second=came.name,
            days=words.days(each.overlap_days),
            span=words.span(each.overlap),
        )
    if each.stands and each.gap:
        yield check("provenance.direct-gap").remark(
            places.of(event, "passage"),
            event.id,
            next=places.named(came.event),
            days=words.days(each.gap_days),
            span=words.span(each.gap),
        )
    if came.named and each.recorded == DIRECT and left.event != came.event:
        yield check("provenance.other-giver").remark(
            places.of(by_id[came.event], "parties"),
            came.event,
            giver=came.name,
            before=words.together(it.name for it in each.before),
        )


def _agents(
    held: tuple[Tenure, ...], by_id: dict[str, ProvenanceEvent], places: Places
) -> Iterator[Remark]:
    """Who acted for somebody else and is recorded as an owner at the same event or beside it."""
    acting = [each for each in held if each.hold in _ACTS_FOR_OTHERS]
    order = {event: place for place, event in enumerate(by_id)}
    for agent in acting:
        for each in held:
            near = abs(order[each.event] - order[agent.event]) <= 1
            if each.hold == "owner" and near and same_person(agent, each):
                yield check("provenance.agent-owner").remark(
                    places.of(by_id[each.event], "parties"),
                    each.event,
                    name=each.name,
                    here=places.named(agent.event),
                )
                break


def _windows(work: Work, held: tuple[Tenure, ...], places: Places) -> Iterator[Remark]:
    for window in default_windows():
        found = coverage(held, window, work.made)
        if found.level == "open":
            says = found.says()[0]
            yield check("provenance.window").remark(
                places.of(work, "provenance"), window=window.name, says=says
            )


def _living(work: Work, read: Read, today: Day, places: Places) -> Iterator[Remark]:
    """Private persons who may be alive, each once: no death on record, born less than a long life ago."""
    row = check("provenance.living")
    oldest = today.years_on(-int(row.high or 110))
    said: set[str] = set()
    for event in work.provenance:
        for role in event.parties:
            private = role.role in words.terms("evidence", "private")
            name = _may_live(role, event, read, oldest) if private else ""
            if name and name not in said and role.visibility == "visibility/open":
                said.add(name)
                yield row.remark(places.of(event, "parties"), event.id, name=name)


def _may_live(role: PartyRole, event: ProvenanceEvent, read: Read, oldest: Day) -> str:
    """The name of somebody who may be alive, "" for nobody."""
    party = read(role.party) if role.party else None
    if isinstance(party, Party):
        if party.kind != "person" or party.ended:
            return ""
        return party.name() if _born_after(oldest, party, event) else ""
    born = re.search(words.table("words")["born_only"], role.life or "")
    return (role.written or "") if born and int(born[1]) > oldest.year else ""


def _born_after(oldest: Day, party: Party, event: ProvenanceEvent) -> bool:
    """Whether somebody can have been born later: by their birth, else as a grown-up at the event."""
    if party.began:
        return party.began.latest is None or party.began.latest > oldest
    latest = event.when.latest if event.when else None
    return latest is not None and latest > oldest.years_on(_GROWN_UP)
