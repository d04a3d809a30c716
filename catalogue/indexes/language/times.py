"""Time as it is asked for: `1880..1890`, `since 2019`, `c. 1885`, `in the last 12 months` → days.

Days are ordinals, both ends included, None = open. What is counted back from today is counted from
a day that is handed in.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue.measure import DateSpan, Day, read_date
from catalogue.places import table

MOST_WORDS = 5
"""So many words make one date at most: 'the first half of 1912'."""

_DOTS = re.compile(r"\.\.+|…")
_LIKELY = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class When:
    """Days that were asked for, and how many words said so."""

    earliest: int | None
    latest: int | None
    words: int


def read_when(words: Sequence[str], today: Day, *, after_a_kind: bool = False) -> When | None:
    """The days that these words begin with; None when they begin with none.

    `after_a_kind` is stricter: a plain date behind the word "label" may be words on a label.

    >>> read_when(["since", "2019", "harbour"], Day(2026, 3, 1)).words
    2
    >>> read_when(["1917"], Day(2026, 3, 1), after_a_kind=True) is None
    True
    """
    if not words:
        return None
    for name, length in _leading(words):
        if after_a_kind and name not in table("finding.toml")["time"]["also_for_kinds"]:
            continue
        found = _led(name, words[length:], today)
        if found is not None:
            return When(found.earliest, found.latest, found.words + length)
    if found := _range(words):
        return found
    return None if after_a_kind else _span(words)


def reads_as_range(words: Sequence[str], today: Day) -> When | None:
    """Days that need no word before them: `1880..1890`, `older than 30 days`, `in the last year`."""
    for name, length in _leading(words):
        if name in ("last", "older"):
            found = _led(name, words[length:], today)
            if found is not None:
                return When(found.earliest, found.latest, found.words + length)
    return _range(words)


def days_typed(earliest: int | None, latest: int | None) -> str:
    """What to type for these days so that they are read again.

    >>> days_typed(Day(1880, 1, 1).ordinal, Day(1890, 12, 31).ordinal), days_typed(None, 700_000)
    ('1880..1890', '..1917-07-15')
    """
    if earliest is None and latest is None:
        return ".."
    first = None if earliest is None else Day.from_ordinal(earliest)
    last = None if latest is None else Day.from_ordinal(latest)
    begins = "" if first is None else _short(first, 1, 1)
    ends = "" if last is None else _short(last, 12, 31)
    return f"{begins}..{ends}"


def _short(day: Day, month: int, of_month: int) -> str:
    whole_year = (day.month, day.day) == (month, of_month) and 1000 <= day.year <= 9999
    return str(day.year) if whole_year else day.iso


def _leading(words: Sequence[str]) -> list[tuple[str, int]]:
    """The words of [time] that these begin with, the longest first."""
    said = [word.casefold() for word in words[:3]]
    found = [
        (name, len(phrase))
        for phrase, names in _phrases().get(said[0], ())
        if said
        for name in names
        if tuple(said[: len(phrase)]) == phrase
    ]
    return sorted(found, key=lambda each: -each[1])


@cache
def _phrases() -> dict[str, list[tuple[tuple[str, ...], list[str]]]]:
    """The words of [time] by the first of them."""
    held: dict[tuple[str, ...], list[str]] = {}
    for name, phrases in table("finding.toml")["time"].items():
        if isinstance(phrases, list) and name not in ("also_for_kinds", "and"):
            for phrase in phrases:
                held.setdefault(tuple(phrase.split()), []).append(name)
    found: dict[str, list[tuple[tuple[str, ...], list[str]]]] = {}
    for phrase, names in held.items():
        found.setdefault(phrase[0], []).append((phrase, names))
    return found


def _led(name: str, words: Sequence[str], today: Day) -> When | None:
    if name in ("last", "older"):
        return _counted_back(name, words, today)
    if name == "between":
        return _between(words, "and")
    if name == "since" and (both := _between(words, "and")):
        return both
    found = _span(words)
    if found is None:
        return None
    first, last = found.earliest, found.latest
    match name:
        case "since":
            return When(first, None, found.words) if first is not None else None
        case "after":
            return When(last + 1, None, found.words) if last is not None else None
        case "before":
            return When(None, first - 1, found.words) if first is not None else None
        case "until":
            return When(None, last, found.words) if last is not None else None
    return found


def _counted_back(name: str, words: Sequence[str], today: Day) -> When | None:
    time: dict[str, Any] = table("finding.toml")["time"]
    if not words:
        return None
    number, used = 1, 0
    if words[0].isdecimal() and len(words[0]) <= 5:
        number, used = int(words[0]), 1
    elif words[0].casefold() in time["numbers"]:
        number, used = time["numbers"][words[0].casefold()], 1
    if used >= len(words) or (name == "older" and not used):
        return None
    length = time["lengths"].get(words[used].casefold().strip(".,;"))
    if length is None:
        return None
    days, months = length
    if months:
        begun = today.first_of_month(-months * number)
        start = min(begun.ordinal + today.day - 1, begun.first_of_month(1).ordinal - 1)
    else:
        start = today.ordinal - days * number
    if name == "older":
        return When(None, start - 1, used + 1)
    return When(start, today.ordinal, used + 1)


def _between(words: Sequence[str], joined_by: str) -> When | None:
    """`1880 and 1890`: two dates with a word between them."""
    joining = table("finding.toml")["time"][joined_by]
    for at, word in enumerate(words[: MOST_WORDS + 1]):
        if at and word.casefold() in joining:
            first = _date(words[:at])
            last = _span(words[at + 1 :])
            if first and last:
                return _from_to(_ordinals(first), last, at + 1 + last.words)
    return None


def _range(words: Sequence[str]) -> When | None:
    """`1880..1890`, `1917..`, `..1925`, `12 May 1903..June 1904`."""
    for at, word in enumerate(words[:MOST_WORDS]):
        dots = _DOTS.search(word)
        if dots is None:
            continue
        before = [*words[:at], *filter(None, (word[: dots.start()],))]
        after = [*filter(None, (word[dots.end() :],)), *words[at + 1 :]]
        first = _date(before) if before else None
        if before and first is None:
            return None
        begins = _ordinals(first) if first else None
        # a blank behind the dots ends it: `1917.. harbour`
        last = _span(after) if word[dots.end() :] or not before else None
        if word[dots.end() :] and last is None:
            return None
        if last is None:
            return When(begins[0], None, at + 1) if begins else None
        joined = 1 if word[dots.end() :] else 0
        return _from_to(begins, last, at + 1 + last.words - joined)
    return None


def _from_to(first: tuple[int | None, int | None] | None, last: When, words: int) -> When:
    """From one date to another, whichever was typed first."""
    if first is None:
        return When(None, last.latest, words)
    if first[0] is not None and last.latest is not None and first[0] > last.latest:
        return When(last.earliest, first[1], words)
    return When(first[0], last.latest, words)


def _span(words: Sequence[str]) -> When | None:
    """The longest date that these words begin with."""
    for size in range(min(MOST_WORDS, len(words)), 0, -1):
        if (
            _LIKELY.search(words[size - 1]) is None
            and size > 1
            and not _is_word_of_a_date(words[size - 1])
        ):
            continue
        found = _date(words[:size])
        if found is not None:
            return When(*_ordinals(found), size)
    return None


def _is_word_of_a_date(word: str) -> bool:
    return word.isalpha() or word in ("?", "AD", "BC", "(?)")


def _date(words: Sequence[str]) -> DateSpan | None:
    said = " ".join(words).strip(" ,;")
    if not any(map(str.isdigit, said)) and len(words) == 1:
        return None
    found = read_date(said)
    if found is None or "not understood" in found.rule:
        return None
    return found if found.earliest or found.latest else None


def _ordinals(span: DateSpan) -> tuple[int | None, int | None]:
    return (
        span.earliest.ordinal if span.earliest else None,
        span.latest.ordinal if span.latest else None,
    )
