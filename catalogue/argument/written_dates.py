"""The dates that are written on a label, as reasons for its own.

A date in print says that the print is not older. One filled in is of the filling, and one beside the
name of an exhibition is of that exhibition. All are soft: a year may be part of a title, and a day
may be announced ahead. None is read where what is lost beside it could make it something else.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from catalogue.argument.combining import combine
from catalogue.argument.dating_rules import What
from catalogue.argument.dating_words import sentence, table
from catalogue.argument.evidence import Reason
from catalogue.argument.label_text import LabelText, Layers
from catalogue.measure import DateSpan, Day, FoundDate, find_dates
from catalogue.reading import GAP

_NO_DATES: Final = frozenset({"post", "tel", "money", "tax", "co", "reg"})
"""Kinds of rules whose figures are no years: MAYfair 1934."""
_OF_AN_EVENT: Final = frozenset({"inst", "export", "customs"})
"""Kinds of rules that name a moment when the picture was there."""
_LOST: Final = ("No. ", "1", " 1 ", "A")
"""What may have stood in a gap and would make a date something else."""
_NEAR: Final = 16
"""So many letters from a gap, on its line, figures alone are no date: they may go on in it."""
_A_MONTH, _A_CENTURY = 31, 36_500  # days


def by_dates(text: LabelText, layers: Layers, others: Sequence[Reason]) -> Iterator[Reason]:
    """The dates on a label; `others` is what it says besides, from which a century may follow.

    >>> from catalogue.reading import read
    >>> text = LabelText.of(read("@p Received @h 12 iv 1903"))
    >>> [(each.dates, each.earliest.iso, each.latest.iso) for each in by_dates(text, Layers(text), [])]
    [('use', '1903-04-12', '1903-04-12')]
    """
    taken = {
        place
        for each in others
        if _kind(each) in _NO_DATES
        for place in range(each.start, each.end)
    }
    events = sorted(
        each.start
        for each in others
        if each.dates == "presence" and _kind(each) in _OF_AN_EVENT
    )
    printed: list[Reason] = []
    for found in _surely_there(text, combine(others).main.soft_earliest):
        place = range(*text.place(found.start, found.end))
        if not taken.isdisjoint(place) or _says_nothing(found.span):
            continue
        if layers.dates(found.start, found.end) == "use":
            yield _reason(text, found, "use")
        else:
            printed.append(_reason(text, found, "printing"))
        if _is_beside(text, found, events):
            yield _reason(text, found, "presence")
    # the print is not older than the latest of its dates, which says all that the others say
    yield from sorted(printed, key=_first_day)[-1:]


def _first_day(reason: Reason) -> Day:
    return reason.earliest or Day(1, 1, 1)


def _kind(reason: Reason) -> str:
    """The kind of the rule: "post" of gb.post.london_numbered."""
    return "".join(reason.rule.split(".")[1:2])


def _surely_there(text: LabelText, begun: Day | None) -> Iterator[FoundDate]:
    """The dates, line by line, that are one whatever stood in the gaps.

    `begun` is the first day they can be of.
    """
    start = 0
    for line in text.text.split("\n"):
        for found in _in_line(line, (begun, None)):
            yield replace(found, start=start + found.start, end=start + found.end)
        start += len(line) + 1


def _in_line(line: str, window: tuple[Day | None, None]) -> list[FoundDate]:
    found = list(find_dates(line, within=window))
    if not found or GAP not in line:
        return found
    found = [each for each in found if not _may_go_on(line, each)]
    for filler in _LOST:
        filled = find_dates(line.replace(GAP, filler), within=window)
        there = {(each.start, each.end) for each in filled}
        longer = len(filler) - len(GAP)
        found = [each for each in found if _moved(line, each, longer) in there]
    return found


def _may_go_on(line: str, date: FoundDate) -> bool:
    """Whether it is figures alone, near a gap."""
    around = line[max(0, date.start - _NEAR) : date.end + _NEAR]
    return GAP in around and not any(map(str.isalpha, date.span.written))


def _moved(line: str, date: FoundDate, longer: int) -> tuple[int, int]:
    """Where a date stands when each gap before it is so much longer."""
    by = longer * line.count(GAP, 0, date.start)
    return date.start + by, date.end + by


def _says_nothing(span: DateSpan) -> bool:
    """Whether a date leaves its beginning or its century open."""
    if span.earliest is None:
        return True
    return span.latest is not None and span.latest.ordinal - span.earliest.ordinal >= _A_CENTURY


def _is_beside(text: LabelText, date: FoundDate, events: Sequence[int]) -> bool:
    """Whether an event is named on the line of a date."""
    start = text.text.rfind("\n", 0, date.start) + 1
    end = text.text.find("\n", date.end)
    first, last = text.place(start, end if end >= 0 else len(text.text))
    at = bisect_left(events, first)
    return at < len(events) and events[at] < last


def _reason(text: LabelText, date: FoundDate, dates: What) -> Reason:
    settings = table()["written_date"]
    earliest, latest = date.span.earliest, date.span.latest
    a_day = bool(earliest and latest and latest.ordinal - earliest.ordinal <= _A_MONTH)
    if dates == "printing" or (dates == "use" and not a_day):
        latest = None
    years = settings["margin"]
    first, last = text.place(date.start, date.end)
    said = [sentence(f"date_of_{dates}")]
    said += [sentence("doubtful")] if text.is_doubtful(date.start, date.end) else []
    said += [sentence("struck")] if text.is_struck(date.start, date.end) else []
    return Reason(
        rule="date",
        written=text.written(date.start, date.end),
        start=first,
        end=last,
        earliest=earliest,
        latest=latest,
        soft_earliest=earliest.years_on(-years) if earliest else None,
        soft_latest=latest.years_on(years) if latest else None,
        strength="soft",
        dates=dates,
        why=" ".join(said),
        source=settings["source"],
        verified=settings["verified"],
        one_of=None if dates == "printing" else f"date of {dates}",
    )
