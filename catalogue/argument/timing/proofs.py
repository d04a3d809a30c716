"""What stands on a mark, or went into a repair, as claims: every reason of its dating is a claim.

A hard reason cannot be pushed beyond how far it may reach; within that it is held to when the form
was current. A soft reason is held to its reach. Reasons that are alternatives are taken together, as
far apart as they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from catalogue.argument.evidence import Dated, Reason
from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import Claim, Firmness, Instant
from catalogue.argument.timing.saying import between, claim, not_after

OF_A_FIRM: Final = ("address:", "name:")
"""How the rule of a reason begins that rests on what is known of a firm; its id follows."""
NONE: Final[frozenset[Reason]] = frozenset()


def of_material(
    reason: Reason, at: Instant, whose: str, what: str, called: str, *, upper: bool = True
) -> Iterator[Claim]:
    """Not before a material was to be had, and (`upper`) not after it was; a hull can last longer."""
    first, last = reason.soft_earliest, reason.soft_latest if upper else None
    bounds = between(at, first, at, last)
    if bounds:
        yield claim(
            "material", f"{whose}:{reason.rule}", bounds, (whose,),
            _firm([reason]), reason.source,
            what=what, called=called, written=reason.written, why=_why(reason),
        )  # fmt: skip


def of_part(
    dated: Dated,
    at: Instant,
    whose: str,
    what: str,
    called: str,
    but: frozenset[Reason] = NONE,
) -> Iterator[Claim]:
    """What the reasons about one thing (the printing, the use ...) claim of its day, `but` for some."""
    about = {"what": what, "called": called}
    own_bounds: list[Interval] = []
    for key, group in groups(dated.reasons):
        reach, own = hull(each.reach for each in group), hull(each.own for each in group)
        firm = _firm(group)
        told = {
            **about,
            "written": " / ".join(dict.fromkeys(each.written for each in group)),
            "why": _why(group[0]),
        }
        own_bounds.append(own if firm is Firmness.HARD else Interval())
        if not but.isdisjoint(group):
            continue
        for kind, span, firmness in (
            ("dating", reach, firm),
            ("dating-current", own, Firmness.LIKELY),
        ):
            bounds = between(at, span.earliest, at, span.latest)
            if kind == "dating-current" and (own == reach or firm is not Firmness.HARD):
                continue
            if bounds:
                yield claim(
                    kind, f"{whose}:{dated.what}:{key}", bounds, (whose, *firms_of(group)),
                    firmness, group[0].source, **told,
                )  # fmt: skip
    yield from _all_together(dated, own_bounds, at, whose, about)


def used_up(
    dated: Dated, fixed: Instant, whose: str, what: str, called: str
) -> Iterator[Claim]:
    """That a printed label was stuck on before the last of its like had been used up."""
    for key, group in groups(dated.reasons):
        reach = hull(each.reach for each in group)
        bounds = not_after(fixed, reach.latest)
        if bounds:
            written = " / ".join(dict.fromkeys(each.written for each in group))
            yield claim(
                "used-up", f"{whose}:{key}", bounds, (whose,),
                what=what, called=called, written=written,
            )  # fmt: skip


def groups(reasons: Iterable[Reason]) -> Iterator[tuple[str, list[Reason]]]:
    """The reasons one by one, but for alternatives, which go together; each with a key of its own."""
    found: dict[str, list[Reason]] = {}
    for each in reasons:
        key = each.one_of or f"{each.rule}@{each.start}"
        found.setdefault(key, []).append(each)
    yield from found.items()


def firms_of(reasons: Iterable[Reason]) -> tuple[str, ...]:
    """The ids of the firms on file on whose years reasons rest."""
    rules = (each.rule for each in reasons if each.rule.startswith(OF_A_FIRM))
    return tuple(dict.fromkeys(rule.partition(":")[2] for rule in rules))


def hull(intervals: Iterable[Interval]) -> Interval:
    """From the first day of several to the last; open where one of them is.

    >>> from catalogue.measure import Day
    >>> hull([Interval(Day(1910, 5, 6), Day(1936, 1, 20)), Interval(Day(1936, 12, 11), None)])
    Interval(earliest=Day(year=1910, month=5, day=6), latest=None)
    """
    held = list(intervals)
    starts, ends = [each.earliest for each in held], [each.latest for each in held]
    first = min((day for day in starts if day), default=None) if all(starts) else None
    last = max((day for day in ends if day), default=None) if all(ends) else None
    return Interval(first, last)


def _why(reason: Reason) -> str:
    """Why a reason holds, as a part of a sentence."""
    return reason.why.strip().removesuffix(".")


def _firm(group: Iterable[Reason]) -> Firmness:
    hard = any(each.strength == "hard" for each in group)
    return Firmness.HARD if hard else Firmness.LIKELY


def _all_together(
    dated: Dated,
    own_bounds: Iterable[Interval],
    at: Instant,
    whose: str,
    about: dict[str, str],
) -> Iterator[Claim]:
    """What the firm reasons leave together, where that is less than each alone: alternatives."""
    if not dated.spans:
        return
    first, last = dated.earliest, dated.latest
    starts = [each.earliest for each in own_bounds if each.earliest]
    ends = [each.latest for each in own_bounds if each.latest]
    later = first and (not starts or first > max(starts))
    sooner = last and (not ends or last < min(ends))
    bounds = between(at, first if later else None, at, last if sooner else None)
    if bounds:
        written = " / ".join(dict.fromkeys(each.written for each in dated.reasons))
        yield claim(
            "dating-together", f"{whose}:{dated.what}", bounds, (whose,),
            written=written, **about,
        )  # fmt: skip
