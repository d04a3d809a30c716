"""The events of a chronology as they are shown: when each began and ended, in days and in words.

A spell is what an event is on a picture or in a table: the window of its beginning, that of its end,
and the numbers of the contradictions it is part of. The groups in which spells stand, and every
word, are in vocab/pictures.toml.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from catalogue import places
from catalogue.argument import Interval
from catalogue.argument.timing.claims import Event
from catalogue.argument.timing.solving import Chronology
from catalogue.measure import Day
from catalogue.pictures.words import first_day, last_day, month_in_words, table

NOBODY: Final[Mapping[str, str]] = {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spell:
    """One event: the first and last day on which it may have begun, and may have ended.

    `at_odds` are the numbers of the contradictions that it is part of, as they are counted on the
    page; `who` is whose hands it is about. A moment ends on the day on which it began.
    """

    event: Event
    began: Interval
    ended: Interval
    at_odds: tuple[int, ...] = ()
    who: str = ""

    @property
    def certain(self) -> tuple[Day, Day] | None:
        """From the last day on which it may have begun to the first on which it may have ended.

        On all these days it was there; None where there is no such day.
        """
        first, last = self.began.latest, self.ended.earliest
        if self.event.moment or first is None or last is None or first > last:
            return None
        return first, last

    @property
    def possible(self) -> Interval:
        """From the first day on which it may have begun to the last on which it may have ended."""
        first, last = self.began.earliest, self.ended.latest
        return Interval(first, last if first is None or last is None else max(first, last))

    @property
    def rank(self) -> tuple[int, int, str, str]:
        """What spells are ordered by: what is known of the beginning, else of the end."""
        known = (self.began.earliest, self.began.latest, self.ended.earliest, self.ended.latest)
        day = next((each for each in known if each), None)
        name = self.event.called
        return (day.ordinal if day else 1 << 30, len(name), name, self.event.id)

    def days(self) -> tuple[Day, ...]:
        """Every day that bounds it."""
        every = (self.began.earliest, self.began.latest, self.ended.earliest, self.ended.latest)
        return tuple(day for day in every if day)


def spells_of(chronology: Chronology, who: Mapping[str, str] = NOBODY) -> tuple[Spell, ...]:
    """Every event of a chronology; contradictions are counted from 1, in its own order.

    `who` are the names of those who had the painting, by the event that tells of it.
    """
    numbers: dict[str, list[int]] = {}
    for number, each in enumerate(chronology.contradictions, 1):
        named = (
            instant.event
            for claim in each.claims
            for bound in claim.bounds
            for instant in (bound.earlier, bound.later)
            if instant
        )
        for event in dict.fromkeys(named):
            numbers.setdefault(event, []).append(number)
    return tuple(
        Spell(
            event=event,
            began=chronology.window(event.began),
            ended=chronology.window(event.ended),
            at_odds=tuple(numbers.get(event.id, ())),
            who=who.get(event.id, ""),
        )
        for event in chronology.events
    )


def called(spell: Spell) -> str:
    """What it is, with what people call it: "I3 (dealer's label)", "the printing of I3"."""
    event = spell.event
    words = event.words if event.called in event.words else f"{event.called} {event.words}"
    return f"{words}: {spell.who}" if spell.who else words


def when(window: Interval) -> str:
    """On what day something happened, in words.

    >>> when(Interval(Day(1931, 1, 1), Day(1931, 12, 31))), when(Interval(Day(1917, 3, 1)))
    ('in 1931', 'on 1 March 1917 or later')
    >>> when(Interval(Day(1934, 1, 1), Day(1936, 12, 31))), when(Interval())
    ('between 1934 and 1936', 'on a day that is not known')
    """
    told = table("spells")
    first, last = window.earliest, window.latest
    if first and last:
        if first == last:
            return _said(told["on"], first_day(first, whole=False))
        if first_day(first) == last_day(last):
            return _said(told["in"], first_day(first))
        if _is_month(first, last):
            return _said(told["in"], month_in_words(first))
        return str(told["between"]).format(earliest=first_day(first), latest=last_day(last))
    if first:
        return _said(told["from" if _whole(first, 1, 1) else "from_day"], first_day(first))
    if last:
        return _said(told["until" if _whole(last, 12, 31) else "until_day"], last_day(last))
    return str(told["unknown"])


def in_words(spell: Spell) -> str:
    """When it was, in a few words for its row: "began 1931, ended between 1934 and 1936"."""
    if spell.event.moment or spell.began == spell.ended:
        return when(spell.began)
    told = table("spells")
    if spell.began == Interval():
        return str(told["only_ended"]).format(ended=when(spell.ended))
    if spell.ended == Interval():
        return str(told["only_began"]).format(began=when(spell.began))
    return str(told["lasted"]).format(began=when(spell.began), ended=when(spell.ended))


def sentence(spell: Spell) -> str:
    """All of it in one sentence, for whoever cannot see the picture."""
    told = table("spells")
    parts = [f"{called(spell)}: {in_words(spell)}"]
    if spell.certain:
        first, last = spell.certain
        parts.append(
            str(told["certain"]).format(
                earliest=first_day(first, whole=False), latest=last_day(last, whole=False)
            )
        )
    elif not spell.event.moment:
        parts.append(str(told["no_certain"]))
    if spell.at_odds:
        parts.append(at_odds(spell))
    return "; ".join(parts)


def at_odds(spell: Spell) -> str:
    """That it is part of contradictions, and of which."""
    which = ", ".join(map(str, spell.at_odds))
    return str(table("spells")["at_odds"]).format(which=which)


def grouped(spells: Iterable[Spell]) -> list[tuple[str, list[Spell]]]:
    """The spells under the headings of the vocabulary, each group in order of time.

    In which group a kind of event stands is said in vocab/chronology.toml; where it is not, it stands
    in the last.
    """
    headings = table("spells")["groups"]
    found: dict[str, list[Spell]] = {each: [] for each in headings}
    for spell in spells:
        found[group_of(spell)].append(spell)
    return [
        (headings[group], sorted(members, key=lambda each: each.rank))
        for group, members in found.items()
        if members
    ]


def group_of(spell: Spell) -> str:
    """The key of the group in which a spell stands, such as "hands"."""
    headings = table("spells")["groups"]
    last = list(headings)[-1]
    kinds = places.table("chronology.toml")["events"]
    group: str = kinds.get(spell.event.kind, {}).get("group", last)
    return group if group in headings else last


def _is_month(first: Day, last: Day) -> bool:
    """Whether these are the first and the last day of one month."""
    one = (first.year, first.month) == (last.year, last.month)
    return one and first.day == 1 and last.beside(1).month != last.month


def _whole(day: Day, month: int, of_month: int) -> bool:
    return (day.month, day.day) == (month, of_month)


def _said(words: str, day: str) -> str:
    return words.format(day=day)
