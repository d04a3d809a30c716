"""What cannot hold together in the days of a work, once all that is on record is held against all else.

What two dates and the rule between them contradict is told by checks of its own (`dates`, `hands`), and is
left out here.
"""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.argument.timing.in_words import Clash, contradiction_in_words
from catalogue.argument.timing.solving import Chronology, Contradiction
from catalogue.checking.remark import Remark, check
from catalogue.checking.where import Places
from catalogue.record import Work

_DATES = frozenset({"date", "made-date", "until", "day", "born", "died", "lived"})
_TOLD_BY_DATES = frozenset(
    {
        "held-begun",
        "held-finished",
        "shown-begun",
        "shown-finished",
        "follows",
        "made-in-life",
        "handed-on",
        "direct",
    }
)


def contradictions(work: Work, chronology: Chronology, places: Places) -> Iterator[Remark]:
    """Each contradiction: what cannot hold, what was given up for the firmer, what would settle it."""
    for each in chronology.contradictions:
        if not _is_told_by_dates(each):
            clash = contradiction_in_words(each)
            row = check("chronology.firm" if clash.firm else "chronology.soft")
            where, value = _place(clash, places)
            told = row.remark(where, value, says=clash.says.removesuffix("."))
            remedy = "; or ".join(clash.resolve) or told.remedy
            yield Remark(told.kind, told.where, told.says, remedy, told.value)


def _is_told_by_dates(contradiction: Contradiction) -> bool:
    kinds = {each.key.partition(":")[0] for each in contradiction.claims}
    rules = kinds - _DATES
    return len(rules) == 1 and rules <= _TOLD_BY_DATES


def _place(clash: Clash, places: Places) -> tuple[str, str]:
    """The first value of the record that the contradiction is about, as people call it."""
    for value in clash.rests_on:
        if places.named(value):
            return places.named(value), value
    return "", ""
