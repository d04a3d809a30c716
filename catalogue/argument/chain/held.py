"""Who had a painting on a day, or over some days: certainly or possibly, and in what capacity."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from catalogue.argument.chain import words
from catalogue.argument.chain.tenures import HOLDS, Hold, Tenure
from catalogue.argument.spans import Interval
from catalogue.measure import DateSpan, Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Who had it from `first` to `last`. `certain` had it on every one of these days.

    `possible` may have had it on one of them. Only an owner owned it: an agent, an auctioneer and a
    keeper had it for somebody else, and of a presence nobody knows in what capacity.
    """

    first: Day
    last: Day
    certain: tuple[Tenure, ...]
    possible: tuple[Tenure, ...]

    def of(self, hold: Hold) -> tuple[tuple[Tenure, ...], tuple[Tenure, ...]]:
        """Those in one capacity: certain, possible."""
        certain = tuple(each for each in self.certain if each.hold == hold)
        return certain, tuple(each for each in self.possible if each.hold == hold)

    @property
    def owners(self) -> tuple[tuple[Tenure, ...], tuple[Tenure, ...]]:
        """Who owned it: certain, possible. Of an owner by a mark or label alone it is possible only."""
        certain, possible = self.of("owner")
        by_mark = tuple(each for each in certain if not each.owns)
        return tuple(each for each in certain if each.owns), (*by_mark, *possible)

    def question(self) -> str:
        """What was asked, in words."""
        first, last = words.day(self.first), words.day(self.last)
        which = "asked_day" if first == last else "asked_span"
        return words.say("held", which, day=first, first=first, last=last)

    def says(self) -> tuple[str, ...]:
        """The answer in words."""
        return tuple(_says(self))


def held(tenures: Iterable[Tenure], when: Day | Interval | DateSpan) -> Held:
    """Who had it on a day, or over days with two ends. Raises `ValueError` for open ones.

    >>> agent = Tenure(event="", number="E2", name="H. Keeler", hold="agent", beside=True,
    ...     began=Interval(Day(1929, 1, 1), Day(1929, 12, 31)),
    ...     ended=Interval(Day(1929, 1, 1), Day(1929, 12, 31)))
    >>> found = held([agent], Day(1929, 5, 1))
    >>> found.owners, [each.name for each in found.possible]
    (((), ()), ['H. Keeler'])
    """
    first, last = (when, when) if isinstance(when, Day) else (when.earliest, when.latest)
    if first is None or last is None:
        raise ValueError("say from which day to which")
    certain: list[Tenure] = []
    possible: list[Tenure] = []
    for each in tenures:
        sure, perhaps = each.proven, each.perhaps
        if sure and _reaches(sure, last, first):
            certain.append(each)
        elif perhaps and _reaches(perhaps, first, last):
            possible.append(each)
    return Held(first=first, last=last, certain=tuple(certain), possible=tuple(possible))


def _reaches(span: Interval, ends: Day, begins: Day) -> bool:
    """Whether it ends on or behind one day and begins on or before the other."""
    starts = span.earliest is None or span.earliest <= begins
    return starts and (span.latest is None or ends <= span.latest)


def _says(found: Held) -> Iterator[str]:
    if not found.certain and not found.possible:
        yield words.say("held", "nobody")
        return
    if not any(found.owners):
        yield words.say("held", "no_owner")
    for hold in HOLDS:
        for how, tenures in zip(("certain", "possible"), _group(found, hold), strict=True):
            for each in tenures:
                said = f"{words.table('holds')[hold]}: {each.name}"
                number = f" ({each.number})" if each.number else ""
                yield f"{words.table('held')[how]} {said}{number}"
                if hold == "owner" and each.by_mark:
                    yield words.say("held", "owner_by_mark")


def _group(found: Held, hold: Hold) -> tuple[tuple[Tenure, ...], tuple[Tenure, ...]]:
    return found.owners if hold == "owner" else found.of(hold)
