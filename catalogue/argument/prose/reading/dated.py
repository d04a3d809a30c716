"""Dates in a step: when something was acquired or seen, and how long it was held.

What the small words before a date say of a holding ("by", "until at least") is ours to tell; the days
themselves are read by catalogue.measure. A year is looked for by its form, so that a step is read
fast and nothing but a date is handed on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final

from catalogue.argument.prose.reading.words import TOKEN, plain, table
from catalogue.measure import DateSpan, read_date
from catalogue.measure.words import table as dates_table

_YEAR: Final = r"(?:1[0-9]|20)\d\d(?![\w])(?!\.\d)"
_DAY: Final = r"(?:[12]\d|3[01]|0?[1-9])(?:st|nd|rd|th|er|\.)?(?!\d)"
_DASH: Final = r"\s*[-–—]\s*"


@dataclass(frozen=True, slots=True)
class Dated:
    """A date in a text, from `start` to `end`: `when`, `until`, or both; `doubt` is a "?" behind it."""

    start: int
    end: int
    when: DateSpan | None
    until: DateSpan | None
    doubt: bool


def _any(words: Iterable[str]) -> str:
    found = sorted({re.escape(each) for each in words}, key=len, reverse=True)
    return "|".join(each.replace("\\ ", r"\s+").replace("'", "['’]") for each in found)


def _phrases(words: Iterable[str]) -> str:
    """A pattern for any of these and the white space behind, which a full stop can do without."""
    return rf"(?:{_any(words)})(?:(?<=[.:-])\s*|\s+)"


def _names(key: str, *only: str) -> list[str]:
    """All the words of one table of vocab/dates.toml, or those of some of its rows."""
    rows = dates_table()[key]
    return [name for row in (only or rows) for name in rows[row]]


@cache
def _point() -> str:
    month = rf"(?:{_any(_names('months'))})\.?"
    season = rf"(?:{_any(_names('seasons', '21', '22', '23', '24'))})"
    ordinal = rf"(?:\d{{1,2}}(?:st|nd|rd|th)|{_any(_names('ordinals'))})"
    century = rf"(?:{_any(dates_table()['words']['century'])})(?!\w)"
    more = rf"(?:(?:\s*[-–/&,]\s*|\s+(?:and|to|et|und|e)\s+)(?:{month}\s+)?{_DAY})"
    return "|".join((
        rf"{_DAY}{more}{{0,4}}(?:\s+(?:of\s+)?|\s*-\s*|)(?:{month})(?:\s*[-–]\s*{_DAY}\s+{month})?,?(?:\s+of)?[\s-]*{_YEAR}",
        rf"{month}\s+{_DAY}{more}{{0,4}},?\s+{_YEAR}",
        rf"{month}(?:\s*(?:[-–/]|\s(?:and|or|to)\s)\s*{month})?,?\s+(?:of\s+)?{_YEAR}",
        rf"{season},?\s+(?:of\s+)?{_YEAR}(?:\s?[-–/]\s?\d\d(?!\d))?",
        *(rf"\d{{1,2}}{sign}\d{{1,2}}{sign}(?:{_YEAR}|\d\d(?!\w))" for sign in (r"\.", "/", "-")),
        r"(?:1[0-9]|20)\d\d-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])(?!\w)",
        rf"{ordinal}[\s-]+{century}",
        r"(?:1[0-9]|20)\d0['’]?s(?!\w)",
        rf"{_YEAR}(?:/\d{{2,4}}(?!\w))?",
    ))  # fmt: skip


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    words = table()["date"]
    leads = [each for key in _LEADS for each in words[key]]
    about = rf"(?:(?:{_phrases(words['around'])}){{0,2}}(?:{_phrases(words['part'])}){{0,2}})"
    point = _point()
    first = rf"(?P<lead>{_phrases(leads)})?(?P<point>{about}(?:{point}))"
    joint = rf"(?P<dash>{_DASH}|\s+(?:{_any(words['to'])})\s+)(?:(?:d|died)\.?\s*)?"
    behind = rf"{joint}(?P<last>{about}(?:{point})|\d{{1,2}}(?![\w])(?!\.\d))"
    tail = rf",?\s*(?:(?P<most>{_any(words['most'])})|(?P<least>{_any(words['least'])}))(?!\w)"
    doubt = r"\s?(?:\?|\(\?\)|\[\?\])"
    return tuple(re.compile(each, re.IGNORECASE) for each in (first, behind, tail, doubt))  # type: ignore[return-value]


_LEADS: Final = (
    "by", "before", "after", "on_after", "from", "at", "until", "until_least", "until_most",
)  # fmt: skip


@cache
def _lead_keys() -> dict[str, str]:
    words = table()["date"]
    return {_spaced(each): key for key in reversed(_LEADS) for each in words[key]}


def _spaced(text: str) -> str:
    return " ".join(plain(text).split())


@cache
def _first_words() -> frozenset[str]:
    words = table()["date"]
    said = [each for key in (*_LEADS, "around", "part") for each in words[key]]
    for key in ("months", "seasons", "ordinals"):
        said += [each for names in dates_table()[key].values() for each in names]
    return frozenset(plain(TOKEN.findall(each)[0]) for each in said)


def may_begin(low: str) -> bool:
    """Whether a date may begin with a word, given without capitals."""
    return low[0].isdigit() or low in _first_words()


@lru_cache(maxsize=8_192)
def _days(phrase: str) -> DateSpan | None:
    return read_date(phrase)


_SAID: Final = {
    "by": "by ", "before": "before ", "after": "after ", "on_after": "in or after ",
    "until_least": "in or after ", "until_most": "by ",
}  # fmt: skip


_MANY_DAYS: Final = re.compile(
    r"\b(\d{1,2})(?!\d)(?:\s*(?:,|&|and|et|und)\s*\d{1,2}(?!\d))*\s*(?:,|&|and|et|und)\s*(\d{1,2})(?!\d)"
)
"""A sale of several days is from the first to the last."""


def _span(key: str, point: str, written: str) -> DateSpan | None:
    said = " ".join(_MANY_DAYS.sub(r"\1-\2", point.replace("—", "-")).split())
    found = _days(_SAID.get(key, "") + said) or _days(said)
    return replace(found, written=written) if found else None


def date_at(text: str, start: int, end: int) -> Dated | None:
    """The date that begins at a place of a text, None where none does.

    >>> found = date_at("by 1928 until at least May 1931, Hull", 0, 30)
    >>> found.when.edtf, found.until
    ('[..1928]', None)
    >>> found = date_at("from 1920 to 1931", 0, 17)
    >>> found.when.edtf, found.until.edtf
    ('1920', '1931')
    """
    first, behind, tail, doubt = _patterns()
    found = first.match(text, start, end)
    if not found:
        return None
    key = _lead_keys().get(_spaced(found["lead"] or ""), "")
    between = bool(found["lead"]) and _spaced(found["lead"]) in _BETWEEN
    at = found.end()
    point = found["point"]
    asked = doubt.match(text, at, end)
    if asked:
        at = asked.end()
    last = behind.match(text, at, end)
    when = until = None
    joint = last["dash"].strip().casefold() if last else ""
    if last and (between or joint not in _AND):
        second = _completed(point, last["last"])
        if second and key.startswith("until"):
            until = _span("", text[found.start("point") : last.end()], text[start : last.end()])
            return Dated(start, last.end(), None, until, asked is not None) if until else None
        if second and between:
            when = _span("", text[found.start() : last.end()], text[start : last.end()])
            at = last.end() if when else at
        elif second:
            when, until, at = _held(text, found, last, key, second)
    if when is None:
        shown = tail.match(text, at, end)
        if shown:
            at = shown.end()
            key = _with_tail(key, bool(shown["most"]))
        span = _span(key, point, text[start:at])
        if span is None:
            return None
        if key.startswith("until"):
            until = span
        else:
            when = span
    return Dated(start, at, when, until, asked is not None)


_AND: Final = frozenset({"and", "et", "und", "e", "y", "al"})
_BETWEEN: Final = frozenset({"between", "entre", "zwischen", "tra il", "tussen"})


def _held(
    text: str, first: re.Match[str], last: re.Match[str], key: str, second: str
) -> tuple[DateSpan | None, DateSpan | None, int]:
    """The two ends of a span of dates and the place behind it; nothing where it runs backwards."""
    at = last.end()
    shown = _patterns()[2].match(text, at)
    bound = ""
    if shown:
        at = shown.end()
        bound = _with_tail("until", bool(shown["most"]))
    when = _span(key, first["point"], text[first.start() : first.end()])
    until = _span(bound, second, text[last.start("last") : at])
    if (
        not when
        or not until
        or (until.latest and when.earliest and until.latest < when.earliest)
    ):
        return None, None, first.end()
    return when, until, at


def _with_tail(key: str, most: bool) -> str:
    if key.startswith("until"):
        return "until_most" if most else "until_least"
    return "by" if most else "on_after"


def _completed(first: str, last: str) -> str | None:
    """The second point of a span; one of two figures takes its century from the first."""
    if not last.isdigit() or len(last) > 2:
        return last
    year = re.search(r"(?:1[0-9]|20)\d\d(?=\D*$)", first)
    if not year or (len(last) < 2 and int(year[0][-1]) >= int(last)):
        return None
    return year[0][: 4 - len(last)] + last
