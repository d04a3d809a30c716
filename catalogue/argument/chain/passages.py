"""From one link of the chain to the next: gaps and overlaps, certain and possible, in days.

With the first and last possible day of each beginning and each end (trade sheet C10): a gap is certain
where the next one's first beginning lies behind the last end, possible where its last beginning
lies behind the first end; an overlap is certain where the first end lies behind the next one's last
beginning, possible where the last end lies behind its first. A gap is not an accusation.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from catalogue.argument.chain import words
from catalogue.argument.chain.grades import DIRECT, GAP
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.spans import Interval
from catalogue.measure import Day


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """How one link of the chain leads to the next; `beside` are those who acted between them.

    `gap` are the days on which nobody is known for certain, `overlap` those on which both are
    recorded for certain. `most_gap` and `most_overlap` are the longest that the dates allow, in days:
    0 is that they allow none, None that it is open. Where it `stands` direct the dates are not
    asked for what is merely possible.
    """

    before: tuple[Tenure, ...]
    after: tuple[Tenure, ...]
    beside: tuple[Tenure, ...] = ()
    recorded: str | None = None
    stands: bool = False
    gap: Interval | None = None
    overlap: Interval | None = None
    most_gap: int | None = 0
    most_overlap: int | None = 0

    @property
    def gap_days(self) -> int:
        """The days of the certain gap; 0 where there is none."""
        return length(self.gap)

    @property
    def overlap_days(self) -> int:
        """The days of the certain overlap; 0 where there is none."""
        return length(self.overlap)

    @property
    def downgraded(self) -> bool:
        """Whether it is recorded as direct, and no evidence bears that (trade sheet V4)."""
        return self.recorded == DIRECT and not self.stands

    def says(self) -> tuple[str, ...]:
        """The passage in words, the firmest first."""
        return tuple(_says(self))


def length(days: Interval | None) -> int:
    """How many days an interval with two ends has; 0 for none.

    >>> length(Interval(Day(1939, 1, 1), Day(1947, 12, 31)))
    3287
    """
    if days is None or days.earliest is None or days.latest is None:
        return 0
    return days.latest.ordinal - days.earliest.ordinal + 1


def passages(tenures: Iterable[Tenure]) -> tuple[Passage, ...]:
    """Every pair of neighbours in the chain; agents and keepers are shown, and are no neighbours."""
    found: list[Passage] = []
    link: tuple[Tenure, ...] = ()
    aside: list[Tenure] = []
    for _, group in groupby(tenures, key=lambda each: (each.event, each.named)):
        held = tuple(group)
        here = tuple(each for each in held if not each.beside)
        aside += (each for each in held if each.beside)
        if not here:
            continue
        if link:
            found.append(_between(link, here, tuple(aside)))
            aside = []
        link = here
    return tuple(found)


def _between(
    before: tuple[Tenure, ...], after: tuple[Tenure, ...], beside: tuple[Tenure, ...]
) -> Passage:
    left, came = before[0], after[0]
    s1, s2 = came.began.earliest, came.began.latest
    e1, e2 = left.ended.earliest, left.ended.latest
    gap = _days_between(e2, s1)
    overlap = Interval(s2, e1) if s2 and e1 and e1 > s2 else None
    stands = left.direct
    return Passage(
        before=before,
        after=after,
        beside=beside,
        recorded=left.passage,
        stands=stands,
        gap=gap,
        overlap=overlap,
        most_gap=length(gap) if stands else _most(e1, s2, less=1),
        most_overlap=length(overlap) if stands else _most(s1, e2, more=1),
    )


def _days_between(last: Day | None, first: Day | None) -> Interval | None:
    """The days behind one and before another."""
    if last is None or first is None or first.ordinal - last.ordinal < 2:
        return None
    return Interval(last.beside(1), first.beside(-1))


def _most(one: Day | None, other: Day | None, *, less: int = 0, more: int = 0) -> int | None:
    """The days from one to the other where it lies behind it; None where one of them is open."""
    if one is None or other is None:
        return None
    apart = other.ordinal - one.ordinal
    return max(apart - less + more, 0) if apart > 0 else 0


def _says(each: Passage) -> Iterator[str]:
    if each.stands:
        which = "direct_with_gap" if each.gap else "direct"
        yield words.say("passage", which, days=words.days(each.gap_days))
    elif each.downgraded:
        first, second = each.before[0].number, each.after[0].number
        yield words.say("passage", "not_borne", first=first, second=second)
    if each.recorded == GAP:
        yield words.say("passage", "stated_gap")
    if not each.stands:
        yield from _gap(each)
    yield from _overlap(each)


def _gap(each: Passage) -> Iterator[str]:
    if each.gap:
        days, span = words.days(each.gap_days), words.span(each.gap)
        yield words.say("passage", "gap", days=days, span=span)
    elif each.most_gap is None:
        yield words.say("passage", "gap_open")
    elif each.most_gap:
        yield words.say("passage", "gap_possible", days=words.days(each.most_gap))
    elif not each.overlap and not each.most_overlap:
        yield words.say("passage", "joins")


def _overlap(each: Passage) -> Iterator[str]:
    if each.overlap:
        days, span = words.days(each.overlap_days), words.span(each.overlap)
        yield words.say("passage", "overlap", days=days, span=span)
    elif each.most_overlap and not each.stands:
        yield words.say("passage", "overlap_possible", days=words.days(each.most_overlap))
