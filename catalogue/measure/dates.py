"""Dates as people write them → a span of days, with the rule that made the bounds.

The words and widths are in vocab/dates.toml, single points in time in points.py; here stand the
phrases around them: about, before, between, from - to. A text that is not understood gives None,
and `why_not` says why; nothing is guessed in silence, and no bound is narrower than the words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

from catalogue.measure.days import DateSpan, Day, NotADate, days_in
from catalogue.measure.edtf import parse
from catalogue.measure.edtf_days import bounds
from catalogue.measure.points import YEAR, Found, Match, full_year, point, span, years
from catalogue.measure.words import any_of, entries, listed, plain, table

_LONGEST = 200
_TIDIED = str.maketrans("\u2010\u2011\u2012\u2013\u2014\u2212\u2019\u2018", "------''")
_DEPTH = 4


def read_date(text: str, circa: int = 5) -> DateSpan | None:
    """The span that a phrase means, None when it is not understood.

    >>> span = read_date("c. 1887")
    >>> span.edtf, span.earliest.iso, span.latest.iso, span.rule
    ('1887~', '1882-01-01', '1892-12-31', 'circa')
    >>> read_date("vor 1907").latest.iso
    '1906-12-31'
    """
    try:
        found = _understand(text, circa)
    except NotADate:
        return None
    return DateSpan(
        written=text,
        edtf=found.edtf,
        earliest=found.earliest,
        latest=found.latest,
        rule=found.rule,
    )


def why_not(text: str, circa: int = 5) -> str:
    """Why a phrase gives no date, "" when it does give one.

    >>> why_not("31 February 1900")
    'there is no day 1900-02-31'
    """
    try:
        _understand(text, circa)
    except NotADate as refused:
        return str(refused)
    return ""


def _understand(text: str, circa: int) -> Found:
    said = " ".join(text.translate(_TIDIED).split()).strip(" ,;")
    if not said:
        raise NotADate("nothing is written there")
    if len(said) > _LONGEST:
        raise NotADate("this is too long for a date")
    reading = _Phrases(circa)
    found = reading.read(said, 0)
    if found is None and said.endswith("."):
        found = reading.read(said.rstrip(". "), 0)
    if found is None:
        raise NotADate(f"no way of writing a date that is known here fits {said!r}")
    return found


_Reader = Callable[["_Phrases", Match, int], Found | None]


class _Phrases:
    """The reading of one text, with the studio's width for circa; `depth` keeps it finite."""

    def __init__(self, circa: int) -> None:
        self.circa = circa

    def read(self, said: str, depth: int) -> Found | None:
        """What a text means, None when no form fits. Raises `NotADate` with a better reason."""
        if depth > _DEPTH or not said:
            return None
        word = plain(said)
        if word in _undated():
            raise NotADate("it says that it has no date")
        if word in entries("refusal"):
            raise NotADate(entries("refusal")[word]["why"])
        if word in entries("period"):
            return _period(entries("period")[word])
        found = point(said)
        if found:
            return found
        for pattern, reader in _forms():
            m = pattern.fullmatch(said)
            found = reader(self, m, depth + 1) if m else None
            if found:
                return found
        return self._edtf(said) or self._range(said, depth + 1)

    def _edtf(self, said: str) -> Found | None:
        if not _LIKE_EDTF.fullmatch(said):
            return None
        try:
            return Found(
                said, *bounds(parse(said), self.circa)[:2], "edtf", vague=said[-1] in "~%?"
            )
        except NotADate:
            if _A_DAY.fullmatch(said) or _TWO_YEARS.fullmatch(said):
                raise
            return None

    def _range(self, said: str, depth: int) -> Found | None:
        """Two points with a hyphen or a word between them; the first may lean on the second."""
        for first, last in _halves(said):
            for start, end in self.pair(first, last, depth):
                return _from_to(start, end, "span")
        return None

    def pair(self, first: str, last: str, depth: int) -> Iterator[tuple[Found, Found]]:
        """The two as read, where they can be: "April" and "May 1903" is April 1903 and May 1903."""
        end = self.read(last, depth)
        if end is None:
            return
        words = last.split(" ")
        for borrowed in range(len(words)):
            whole = " ".join((first, *words[borrowed:])) if borrowed else first
            start = self.read(whole, depth)
            if start and start.earliest and end.latest:
                yield start, end
                return


def _halves(said: str) -> Iterator[tuple[str, str]]:
    m = _to_words().fullmatch(said)
    if m:
        yield m[1], m[2]
    places = [at for at, letter in enumerate(said) if letter == "-"][:4]
    for at in sorted(places, key=lambda at: said[max(at - 1, 0)] != " "):
        yield said[:at].strip(), said[at + 1 :].strip()


_LIKE_EDTF = re.compile(r"[-0-9XYEST:Z/.,~?%\[\]{}+ ]*[0-9X][-0-9XYEST:Z/.,~?%\[\]{}+ ]*")
_A_DAY = re.compile(r"[0-9]{4}-[0-9]{2}(?:-[0-9]{2})?")
_TWO_YEARS = re.compile(r"[0-9]{4}/[0-9]{4}")


@cache
def _undated() -> frozenset[str]:
    return frozenset(plain(word) for word in table()["undated"])


@cache
def _to_words() -> re.Pattern[str]:
    return re.compile(rf"(.+?) {listed('to')} (.+)", re.IGNORECASE)


@cache
def _forms() -> tuple[tuple[re.Pattern[str], _Reader], ...]:
    """Every form of a phrase with what reads it, the more particular first."""
    circa, to = listed("circa"), listed("to")
    short = "([0-9]{4}|[0-9]{1,2})"
    many: list[tuple[str, _Reader]] = [
        (rf"{YEAR} ?- ?{short}", _two_years),
        (rf"{YEAR}/([0-9]{{1,2}})", _slashed_years),
        (rf"([0-9]{{3}}0)'?s ?(?:-|{to}) ?'?([0-9]0)'?s", _decades),
        (rf"{YEAR} ?-|{YEAR}/?\.\.", _still_open),
        (rf"{circa} ?{YEAR} ?(?:-|/| {to} ) ?{short}", _circa_years),
        (rf"{YEAR} ?(?:±|\+/-) ?([0-9]{{1,2}})(?: years?)?", _plus_minus),
        (rf"{circa} ?(.+)|(.+?),? ?{any_of(['ca.', 'ca', 'circa'])}", _circa),
        (rf"{listed('probably')} (.+)|(.+?) ?(?:\(\?\)|\?)", _probably),
        (r"\[([^\[\],]+)\]|\(([^()]+)\)", _in_brackets),
        (rf"{listed('from')} (.+?) {to} (.+)", _named_ends),
        (rf"{listed('since')} (.+)|(.+?) {listed('or_later')}", _since),
        (rf"{listed('between')} (.+?) {listed('and')} (.+)", _between),
        (rf"{listed('until')} (.+)|(.+?) {listed('or_earlier')}", _until),
        (rf"{listed('before')} ?(.+)", _before),
        (rf"{listed('after')} ?(.+)", _after),
        (rf"(.+?) {listed('either')} (.+)", _either),
        (rf"(.+?) {listed('and')} (.+)", _both),
        (rf"{listed('weekdays')},? (.+)", _without),
        (rf"{listed('lead')} (.+)", _without),
    ]
    return tuple((re.compile(form, re.IGNORECASE), reader) for form, reader in many)


def _period(entry: dict[str, list[str]]) -> Found:
    if "years" in entry:
        return span(int(entry["years"][0]), int(entry["years"][1]), "period")
    start, end = (Day.from_iso(each) for each in entry["days"])
    return Found(f"{start.iso}/{end.iso}", start, end, "period")


def _two_years(_: _Phrases, m: Match, depth: int) -> Found | None:
    """1880-85, 1903-4, 1907-1909. A month where it cannot be a later year: 1907-04."""
    first, last = int(m[1]), full_year(m[1], m[2])
    if len(m[2]) < 4 and last <= first:
        return None
    return span(first, last, "span of years")


def _slashed_years(_: _Phrases, m: Match, depth: int) -> Found | None:
    """1880/81: one of two years; 1880/90: some year between."""
    first, last = int(m[1]), full_year(m[1], m[2])
    if last <= first:
        return None
    comma = "," if last == first + 1 else ".."
    return years(f"[{first:04d}{comma}{last:04d}]", first, last, "either year")._replace(
        vague=True
    )


def _decades(_: _Phrases, m: Match, depth: int) -> Found:
    """The 1870s to 80s."""
    first, last = int(m[1]), full_year(m[1], m[2])
    return years(f"{m[1][:3]}X/{last // 10:03d}X", first, last + 9, "span")


def _still_open(_: _Phrases, m: Match, depth: int) -> Found:
    year = m[1] or m[2]
    return Found(f"{year}/..", Day(int(year), 1, 1), None, "open span")


def _circa_years(_: _Phrases, m: Match, depth: int) -> Found:
    first, last = int(m[1]), full_year(m[1], m[2])
    return years(f"{first:04d}~/{last:04d}~", first, last, "circa span, its own ends")


def _plus_minus(_: _Phrases, m: Match, depth: int) -> Found:
    year, width = int(m[1]), int(m[2])
    return years(f"{m[1]}~", year - width, year + width, "width as written")._replace(
        vague=True
    )


def _circa(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1] or m[2], depth)
    if inner is None or inner.earliest is None or inner.latest is None:
        return None
    if inner.vague and inner.edtf[-1] in "~%":
        return inner
    edtf = _signed(inner.edtf, "~", inner)
    rule = "circa" if inner.rule == "year" else f"circa {inner.rule}"
    if _finer_than_a_year(inner):
        if not reading.circa:
            return Found(edtf, inner.earliest, inner.latest, rule, vague=True)
        last = inner.latest.first_of_month(1)
        return Found(
            edtf,
            inner.earliest.first_of_month(-1),
            Day(last.year, last.month, days_in(last.year, last.month)),
            "circa, a month either way",
            vague=True,
        )
    earliest = inner.earliest.years_on(-reading.circa)
    return Found(edtf, earliest, inner.latest.years_on(reading.circa), rule, vague=True)


def _finer_than_a_year(found: Found) -> bool:
    start, end = found.earliest, found.latest
    return bool(start and end and end.ordinal - start.ordinal < 300)


def _signed(edtf: str, sign: str, found: Found) -> str:
    """An EDTF string with a sign; `188X~` is not portable, so spans carry it at both ends."""
    if "X" in edtf and found.earliest and found.latest:
        edtf = f"{found.earliest.year:04d}/{found.latest.year:04d}"
    if edtf[0] in "[{":
        return edtf
    parts = [
        each if each in ("", "..") else f"{each[:-1]}%" if each[-1] in "?~%" and each[-1] != sign
        else each if each[-1] == sign else each + sign
        for each in edtf.split("/")
    ]  # fmt: skip
    return "/".join(parts)


def _probably(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1] or m[2], depth)
    if inner is None:
        return None
    rule = inner.rule if inner.rule.startswith("probable") else f"probable {inner.rule}"
    return inner._replace(edtf=_signed(inner.edtf, "?", inner), rule=rule)


def _in_brackets(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = m[1] or m[2]
    return None if ".." in inner else reading.read(inner, depth)


def _without(reading: _Phrases, m: Match, depth: int) -> Found | None:
    return reading.read(m[1], depth)


def _before(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1], depth)
    if inner is None:
        return None
    # Before about 1907 may be as late as before 1912.
    start = _start_of_last_unit(inner) if inner.vague else inner.earliest
    if start is None:
        raise NotADate(f"{m[1]!r} has no beginning to be before")
    latest = start.beside(-1)
    return Found(f"[..{_short(latest, last=True)}]", None, latest, "before")


def _after(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1], depth)
    if inner is None:
        return None
    end = _end_of_first_unit(inner) if inner.vague else inner.latest
    if end is None:
        raise NotADate(f"{m[1]!r} has no end to be after")
    earliest = end.beside(1)
    return Found(f"[{_short(earliest, last=False)}..]", earliest, None, "after")


def _start_of_last_unit(found: Found) -> Day | None:
    end = found.latest
    return end and (end if _finer_than_a_year(found) else Day(end.year, 1, 1))


def _end_of_first_unit(found: Found) -> Day | None:
    start = found.earliest
    return start and (start if _finer_than_a_year(found) else Day(start.year, 12, 31))


def _until(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1] or m[2], depth)
    if inner is None:
        return None
    if inner.latest is None:
        raise NotADate(f"{m[1] or m[2]!r} has no end")
    return Found(f"[..{_short(inner.latest, last=True)}]", None, inner.latest, "by then")


def _since(reading: _Phrases, m: Match, depth: int) -> Found | None:
    inner = reading.read(m[1] or m[2], depth)
    if inner is None:
        return None
    if inner.earliest is None:
        raise NotADate(f"{m[1] or m[2]!r} has no beginning")
    edtf = f"[{_short(inner.earliest, last=False)}..]"
    return Found(edtf, inner.earliest, None, "not before then")


def _between(reading: _Phrases, m: Match, depth: int) -> Found | None:
    for start, end in reading.pair(m[1], m[2], depth):
        first, last = _in_order(start, end)
        edtf = f"[{_short(first, last=False)}..{_short(last, last=True)}]"
        return Found(edtf, first, last, "between")
    return None


def _named_ends(reading: _Phrases, m: Match, depth: int) -> Found | None:
    for start, end in reading.pair(m[1], m[2], depth):
        return _from_to(start, end, "from - to")
    return None


def _from_to(start: Found, end: Found, rule: str) -> Found:
    first, last = _in_order(start, end)
    begins = start.edtf if _simple(start.edtf) else _short(first, last=False)
    ends = end.edtf if _simple(end.edtf) else _short(last, last=True)
    return Found(f"{begins}/{ends}", first, last, rule)


def _simple(edtf: str) -> bool:
    return not set(edtf) & set("/[]{}")


def _in_order(start: Found, end: Found) -> tuple[Day, Day]:
    if not start.earliest or not end.latest or start.earliest > end.latest:
        raise NotADate("it does not end after it begins")
    return start.earliest, end.latest


def _either(reading: _Phrases, m: Match, depth: int) -> Found | None:
    return _several(reading, m, depth, "[]", "either")


def _both(reading: _Phrases, m: Match, depth: int) -> Found | None:
    return _several(reading, m, depth, "{}", "both")


def _several(reading: _Phrases, m: Match, depth: int, signs: str, rule: str) -> Found | None:
    for start, end in reading.pair(m[1], m[2], depth):
        if end.earliest is None or start.latest is None:
            return None
        low, high = sorted((start, end), key=lambda each: each.earliest or Day(0, 1, 1))
        members = ",".join(each.edtf.strip("[]{}").replace("/", "..") for each in (low, high))
        latest = max(start.latest, end.latest or start.latest)
        edtf = f"{signs[0]}{members}{signs[1]}"
        return Found(edtf, low.earliest, latest, rule, vague=rule == "either")
    return None


def _short(day: Day, *, last: bool) -> str:
    """A bound as EDTF: the year or month alone where the day is its first or last."""
    if (day.month, day.day) == ((12, 31) if last else (1, 1)):
        return day.iso[:-6]
    if day.day == (days_in(day.year, day.month) if last else 1):
        return day.iso[:-3]
    return day.iso
