"""From reasons to spans: hard and soft kept apart, contradictions shown in pairs, never averaged."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import reduce
from itertools import combinations
from typing import get_args

from catalogue.argument.dating_rules import What
from catalogue.argument.dating_words import sentence
from catalogue.argument.evidence import Conflict, Dated, Dating, Reason
from catalogue.argument.spans import ALWAYS, Spans, both, either
from catalogue.measure import Day

_Group = tuple[Reason, ...]
"""One reason, or several that are alternatives."""


def combine(reasons: Iterable[Reason]) -> Dating:
    """What some reasons say together, for each thing that they date.

    What is filled in cannot be older than the print around it, so the printing's first day holds
    for the use too.
    """
    held = tuple(reasons)
    parts: list[Dated] = []
    conflicts: list[Conflict] = []
    printing: Dated | None = None
    for what in get_args(What):
        own = tuple(each for each in held if each.dates == what)
        if not own:
            continue
        before = _at_least(printing) if what == "use" and printing else {}
        part, clashes = _dated(what, own, tuple(before))
        printing = part if what == "printing" else printing
        parts.append(part)
        conflicts.extend(
            replace(
                each,
                first=before.get(each.first, each.first),
                second=before.get(each.second, each.second),
            )
            for each in clashes
        )
    return Dating(tuple(parts), held, tuple(conflicts))


def _at_least(printing: Dated) -> dict[Reason, Reason]:
    """The print's reasons as far as they say how old the filling can be at most; each with its whole."""
    if not printing.soft_spans or printing.contradicts_itself:
        return {}
    return {replace(each, latest=None, soft_latest=None): each for each in printing.reasons}


def _dated(
    what: What, own: tuple[Reason, ...], before: tuple[Reason, ...]
) -> tuple[Dated, tuple[Conflict, ...]]:
    groups = _groups((*own, *before))
    clashes = _clashes(groups)
    says: list[str] = []
    hard = [group for group in groups if _is_hard(group)]
    spans = _common(_own(group) for group in hard)
    if not spans:
        spans = _common(_reach(group) for group in hard)
        says.append(sentence("used_up" if spans else "contradicted"))
    kept = _without_clashes(groups, clashes)
    if len(kept) < len(groups):
        aside = sorted(
            {each.written for group in groups if group not in kept for each in group}
        )
        says.append(sentence("set_aside", written=", ".join(map(repr, aside))))
    soft = _common(_reach(group) for group in kept)
    part = Dated(what=what, spans=spans, soft_spans=soft, reasons=own, says=tuple(says))
    return part, clashes


def _groups(reasons: Sequence[Reason]) -> list[_Group]:
    found: dict[object, list[Reason]] = {}
    for number, each in enumerate(reasons):
        found.setdefault(each.one_of or number, []).append(each)
    return [tuple(group) for group in found.values()]


def _is_hard(group: _Group) -> bool:
    """Whether one of the alternatives must hold; one of them may be soft in itself."""
    return any(each.strength == "hard" for each in group)


def _own(group: _Group) -> Spans:
    return either(each.own for each in group)


def _reach(group: _Group) -> Spans:
    return either(each.reach for each in group)


def _common(several: Iterable[Spans]) -> Spans:
    return reduce(both, several, ALWAYS)


def _clashes(groups: Sequence[_Group]) -> tuple[Conflict, ...]:
    """Every pair that cannot both hold.

    Of alternatives only those count that the hard reasons leave. Where each pair may still agree in
    one of them, and not all together, the alternatives are told one by one.
    """
    if _common(map(_reach, groups)):
        return ()
    left = _common(_reach(group) for group in groups if _is_hard(group))
    groups = [_possible(group, left) for group in groups]
    pairs = [
        (first, second)
        for first, second in combinations(groups, 2)
        if not both(_reach(first), _reach(second))
    ] or [
        ((one,), (other,))
        for first, second in combinations(groups, 2)
        for one in first
        for other in second
        if one.reach.within(other.reach) is None
    ]
    return tuple(
        _conflict(
            *_nearest(first, second), firm=not left and _is_hard(first) and _is_hard(second)
        )
        for first, second in pairs
    )


def _possible(group: _Group, left: Spans) -> _Group:
    """The alternatives that can hold in what is left; all of them when none can."""
    return tuple(each for each in group if both((each.reach,), left)) or group


def _nearest(first: _Group, second: _Group) -> tuple[Reason, Reason]:
    """Of two groups that have no day in common: the two alternatives that come closest."""
    pairs = [(one, other) for one in first for other in second]
    return min(pairs, key=lambda pair: _days_between(*pair))


def _days_between(first: Reason, second: Reason) -> int:
    older, newer = _in_order(first, second)
    return newer[1].ordinal - older[1].ordinal


def _in_order(first: Reason, second: Reason) -> tuple[tuple[Reason, Day], tuple[Reason, Day]]:
    """Of two reasons that have no day in common: the older with its last day, the newer with its first."""
    for older, newer in ((first, second), (second, first)):
        end, start = older.soft_latest, newer.soft_earliest
        if end and start and end < start:
            return (older, end), (newer, start)
    raise ValueError(f"{first.rule} and {second.rule} have days in common")


def _conflict(first: Reason, second: Reason, *, firm: bool) -> Conflict:
    (older, end), (newer, start) = _in_order(first, second)
    how = "clash" if older.dates == newer.dates else "clash_of_use"
    words = sentence(
        how, older=older.written, newer=newer.written, end=end.iso, start=start.iso
    )
    return Conflict(older, newer, words, firm)


def _without_clashes(groups: Sequence[_Group], clashes: Iterable[Conflict]) -> list[_Group]:
    """What remains to argue from: of a hard and a soft reason the hard one, of two alike neither."""
    dropped: list[_Group] = []
    for clash in clashes:
        pair = [
            next(group for group in groups if reason in group)
            for reason in (clash.first, clash.second)
        ]
        weak = [group for group in pair if not _is_hard(group)]
        dropped.extend(weak if len(weak) == 1 else pair)
    return [group for group in groups if group not in dropped]
