"""What stands on a mark, or went into a repair, as claims: every reason of its dating is a claim.

A hard reason cannot be pushed beyond how far it may reach; within that it is held to when the form
was current. A soft reason is held to its reach. Reasons that are alternatives are taken together, as
far apart as they lie.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from catalogue.argument.evidence import Dated, Reason
from catalogue.argument.spans import Interval
from catalogue.argument.timing.claims import Claim, Firmness, Instant
from catalogue.argument.timing.saying import between, claim, not_after

OF_A_FIRM: Final = ("address:", "name:")
"""How the rule of a reason begins that rests on what is known of a firm; its id follows."""
NONE: Final[frozenset[Reason]] = frozenset()


@dataclass(frozen=True, slots=True)
class Subject:
    """What is dated: the id of the value, what it is with its number, how people call it."""

    whose: str
    what: str
    called: str


def of_materials(
    reasons: Iterable[Reason], at: Instant, subject: Subject, *, upper: bool = True
) -> Iterator[Claim]:
    """Not before a material was to be had, and (`upper`) not long after it went out of use."""
    for group in groups(reasons):
        yield from _held_to(group, at, subject, "material", upper=upper)


def of_part(
    dated: Dated, at: Instant, subject: Subject, but: frozenset[Reason] = NONE
) -> Iterator[Claim]:
    """What the reasons about one thing (the printing, the use ...) claim of its day, `but` for some."""
    every = list(groups(dated.reasons))
    for group in every:
        if but.isdisjoint(group.reasons):
            yield from _held_to(group, at, subject, "dating", of=f"{dated.what}:")
    yield from _all_together(dated, every, at, subject)


def _held_to(
    group: Group, at: Instant, subject: Subject, kind: str, *, of: str = "", upper: bool = True
) -> Iterator[Claim]:
    """To how far a reason may reach; a hard one, within that, to when its form was current."""
    own, reach = group.own, group.reach
    spans = [(kind, reach, group.firmness)]
    if group.is_hard:
        # at an end where it has no margin nothing is said twice
        nearer = Interval(
            own.earliest if own.earliest != reach.earliest else None,
            own.latest if own.latest != reach.latest else None,
        )
        spans.append((f"{kind}-current", nearer, Firmness.LIKELY))
    for each, span, firmness in spans:
        bounds = between(at, span.earliest, at, span.latest if upper else None)
        if bounds:
            yield claim(
                each, f"{subject.whose}:{of}{group.key}", bounds,
                (subject.whose, *firms_of(group.reasons)), firmness, group.reasons[0].source,
                what=subject.what, called=subject.called, written=group.written, why=group.why,
            )  # fmt: skip


def used_up(dated: Dated, fixed: Instant, subject: Subject) -> Iterator[Claim]:
    """That a printed label was stuck on before the last of its like had been used up."""
    for group in groups(dated.reasons):
        bounds = not_after(fixed, group.reach.latest)
        if bounds:
            yield claim(
                "used-up", f"{subject.whose}:{group.key}", bounds, (subject.whose,),
                what=subject.what, called=subject.called, written=group.written,
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Group:
    """One reason, or several that are alternatives; `key` tells it from the others of its subject."""

    key: str
    reasons: tuple[Reason, ...]

    @property
    def reach(self) -> Interval:
        """From the first to the last day that one of them may reach."""
        return hull(each.reach for each in self.reasons)

    @property
    def own(self) -> Interval:
        """From the first to the last day on which one of their forms was current."""
        return hull(each.own for each in self.reasons)

    @property
    def is_hard(self) -> bool:
        """Whether one of them must hold."""
        return any(each.strength == "hard" for each in self.reasons)

    @property
    def firmness(self) -> Firmness:
        """How hard it is to give up."""
        return Firmness.HARD if self.is_hard else Firmness.LIKELY

    @property
    def written(self) -> str:
        """What stands there."""
        return " / ".join(dict.fromkeys(each.written for each in self.reasons))

    @property
    def why(self) -> str:
        """Why it holds, as a part of a sentence."""
        return self.reasons[0].why.strip().removesuffix(".")


def groups(reasons: Iterable[Reason]) -> Iterator[Group]:
    """The reasons one by one, but for alternatives, which go together."""
    found: dict[str, list[Reason]] = {}
    for each in reasons:
        key = each.one_of or f"{each.rule}@{each.start}"
        found.setdefault(key, []).append(each)
    for key, held in found.items():
        yield Group(key, tuple(held))


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


def _all_together(
    dated: Dated, every: Iterable[Group], at: Instant, subject: Subject
) -> Iterator[Claim]:
    """What the firm reasons leave together, where that is less than each alone: alternatives."""
    firm = [group.own for group in every if group.is_hard]
    starts = [each.earliest for each in firm if each.earliest]
    ends = [each.latest for each in firm if each.latest]
    first, last = dated.earliest, dated.latest
    later = first if first and (not starts or first > max(starts)) else None
    sooner = last if last and (not ends or last < min(ends)) else None
    bounds = between(at, later, at, sooner)
    if bounds:
        yield claim(
            "dating-together", f"{subject.whose}:{dated.what}", bounds, (subject.whose,),
            what=subject.what, called=subject.called,
            written=" / ".join(dict.fromkeys(each.written for each in dated.reasons)),
        )  # fmt: skip
