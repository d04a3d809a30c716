"""Ends of holdings that the record does not say, as far as its passages and its order give them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from catalogue.argument.chain.grades import DIRECT, GAP, direct_stands
from catalogue.argument.chain.tenures import UNSAID, Tenure
from catalogue.argument.chain.words import terms
from catalogue.argument.spans import Interval
from catalogue.measure import Day
from catalogue.record import ProvenanceEvent


def settled(
    found: Sequence[Tenure], events: Sequence[ProvenanceEvent], made: Day | None
) -> tuple[Tenure, ...]:
    """The holdings with the ends that follow from the others; nobody held it before it was made."""
    by_id = {event.id: event for event in events}
    at = {event.id: place for place, event in enumerate(events)}
    held = [_direct(each, place, found, events, at) for place, each in enumerate(found)]
    for place, each in enumerate(held):
        before = _before(held, place)
        held[place] = _beginning(each, before, made, by_id)
    next_link, next_owner = _following(held)
    done: list[Tenure] = []
    for place, each in enumerate(held):
        if each.beside:
            done.append(_given_back(each, events[at[each.event] + 1 :]))
            continue
        link = next_link.get(place)
        follows = next_owner.get(place) if each.hold == "owner" else link
        lost = _lost(each, events[at[each.event] + 1 : at[link.event] if link else None])
        done.append(lost or _ending(each, link, follows, by_id))
    return tuple(map(_no_end_before_its_beginning, done))


def _direct(
    each: Tenure,
    place: int,
    found: Sequence[Tenure],
    events: Sequence[ProvenanceEvent],
    at: dict[str, int],
) -> Tenure:
    """Whether it leads directly to the next link; whoever gives it in an event does so by itself."""
    if each.beside:
        return each
    follows = next(
        (it for it in found[place + 1 :] if not it.beside and not _together(it, each)), None
    )
    end = at[follows.event] if follows else len(events)
    between = events[at[each.event] + 1 : end]
    if any(it.kind in terms("kinds", "nowhere") for it in between):
        return replace(each, passage=GAP)
    if follows is None:
        return each
    if each.event == follows.event:
        return replace(each, passage=DIRECT, direct=each.supported)
    return replace(each, direct=direct_stands(events[at[each.event]], *between, events[end]))


def _beginning(
    each: Tenure, before: Tenure | None, made: Day | None, by_id: dict[str, ProvenanceEvent]
) -> Tenure:
    """When it began, where the event has no day: when the holder before gave it up."""
    began = each.began
    if began == UNSAID and before and before.direct and before.said_ended != UNSAID:
        began = before.said_ended
    if began.earliest is None and before and not each.beside and _in_order(before, each, by_id):
        began = _not_before(began, before.began.earliest)
    return replace(each, began=_not_before(began, made))


def _ending(
    each: Tenure,
    link: Tenure | None,
    owner: Tenure | None,
    by_id: dict[str, ProvenanceEvent],
) -> Tenure:
    """When it ended, where the record doesn't say: at the next beginning, at the latest at it."""
    if each.said_ended != UNSAID and not (each.named and each.said_ended.latest is None):
        return each
    if each.direct and link is not None:
        return replace(each, ended=link.began, ended_by=link.event)
    if owner is None or owner.began.latest is None or not _in_order(each, owner, by_id):
        return each
    latest = owner.began.latest
    if any(day and day > latest for day in (each.began.earliest, each.ended.earliest)):
        return each  # the dates contradict the order: told elsewhere, not mended here
    return replace(each, ended=Interval(each.ended.earliest, latest), ended_by=owner.event)


def _lost(each: Tenure, between: Sequence[ProvenanceEvent]) -> Tenure | None:
    """A holding whose end nobody recorded, and behind which nobody is said to have had it."""
    if each.said_ended != UNSAID:
        return None
    lost = next((it for it in between if it.kind in terms("kinds", "nowhere")), None)
    latest = lost.when.latest if lost and lost.when else None
    first = each.began.earliest
    if lost is None or latest is None or (first and first > latest):
        return None
    return replace(each, ended=Interval(None, latest), ended_by=lost.id)


def _given_back(each: Tenure, later: Sequence[ProvenanceEvent]) -> Tenure:
    """What was lent or deposited ended when the next return of a loan says so."""
    if each.ended != UNSAID:
        return each
    back = next((it for it in later if it.kind in terms("kinds", "returning")), None)
    if back is None or back.when is None:
        return each
    return replace(each, ended=Interval(back.when.earliest, back.when.latest), ended_by=back.id)


def _no_end_before_its_beginning(each: Tenure) -> Tenure:
    """Its end not before it can have begun, its beginning not behind the last day it can have ended."""
    first, last = each.began.earliest, each.ended.latest
    if first and last and first > last:
        return each  # the record contradicts itself: told elsewhere
    starts = [day for day in (first, each.ended.earliest) if day]
    stops = [day for day in (last, each.began.latest) if day]
    return replace(
        each,
        began=Interval(first, min(stops, default=None)),
        ended=Interval(max(starts, default=None), last),
    )


def _not_before(began: Interval, day: Day | None) -> Interval:
    if began.earliest is None and day and (began.latest is None or day <= began.latest):
        return Interval(day, began.latest)
    return began


def _in_order(one: Tenure, other: Tenure, by_id: dict[str, ProvenanceEvent]) -> bool:
    """Whether the record says that one came before the other: by their order, or by their days."""
    if one.event == other.event:
        return one.named and not other.named
    here, there = by_id[one.event].order, by_id[other.event].order
    if here is not None and there is not None and here != there:
        return here < there
    last, first = one.began.latest, other.began.earliest
    return bool(last and first and last <= first)


def _together(one: Tenure, other: Tenure) -> bool:
    """Whether two hold it side by side: named by one event in the same part."""
    return one.event == other.event and one.named == other.named


def _before(held: Sequence[Tenure], place: int) -> Tenure | None:
    return next(
        (
            each
            for each in reversed(held[:place])
            if not each.beside and not _together(each, held[place])
        ),
        None,
    )


def _following(held: Sequence[Tenure]) -> tuple[dict[int, Tenure], dict[int, Tenure]]:
    """For the place of each link the next link of the chain, and the next owner."""
    groups: list[list[int]] = []
    for place, each in enumerate(held):
        if each.beside:
            continue
        if groups and _together(held[groups[-1][-1]], each):
            groups[-1].append(place)
        else:
            groups.append([place])
    links: dict[int, Tenure] = {}
    owners: dict[int, Tenure] = {}
    link: Tenure | None = None
    owner: Tenure | None = None
    for group in reversed(groups):
        for place in group:
            if link:
                links[place] = link
            if owner:
                owners[place] = owner
        link = held[group[0]]
        owner = next((held[it] for it in group if held[it].hold == "owner"), owner)
    return links, owners
