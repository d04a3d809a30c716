"""What a phrase was found to mean: EDTF, first and last day, rule; and what words around it do to it.

About, probably, before, after, from - to, or, and: each takes what was found and gives the new span.
No bound is ever narrower than the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from catalogue.measure.days import DateSpan, Day, NotADate, days_in
from catalogue.measure.edtf import LONGEST
from catalogue.measure.edtf_days import FARTHEST

BEYOND = "beyond the years -9999 to 9999, where no bounds are kept"
_FINER_THAN_A_YEAR = 300


class Found(NamedTuple):
    """A span of days. `vague`: the day lies somewhere in a span that only a width made."""

    edtf: str
    earliest: Day | None
    latest: Day | None
    rule: str
    vague: bool = False


def date_span(found: Found, written: str) -> DateSpan:
    """What was found as a value that can be kept; bounds too far away are none, and the rule says so."""
    earliest, latest, rule = found.earliest, found.latest, found.rule
    if any(day and abs(day.year) > FARTHEST for day in (earliest, latest)):
        earliest = earliest if earliest and abs(earliest.year) <= FARTHEST else None
        latest = latest if latest and abs(latest.year) <= FARTHEST else None
        rule = f"{rule}, {BEYOND}"
    return DateSpan(
        written=written, edtf=found.edtf, earliest=earliest, latest=latest, rule=rule
    )


def year_text(year: int) -> str:
    """A year as EDTF writes it.

    >>> year_text(87), year_text(-43), year_text(-11999)
    ('0087', '-0043', 'Y-11999')
    """
    if abs(year) > FARTHEST:
        return f"Y{year}"
    return f"-{-year:04d}" if year < 0 else f"{year:04d}"


def years(first: int, last: int, rule: str, edtf: str = "") -> Found:
    """Whole years, both ends included; written as EDTF so, or as a span."""
    if first > last:
        raise NotADate(f"it would end in {last}, before it begins in {first}")
    if not edtf:
        edtf = year_text(first)
        if last != first:
            edtf += f"/{year_text(last)}"
    if first < -FARTHEST or last > FARTHEST:
        rule = f"{rule}, {BEYOND}"
    return Found(
        edtf,
        Day(first, 1, 1) if first >= -FARTHEST else None,
        Day(last, 12, 31) if last <= FARTHEST and last >= -FARTHEST else None,
        rule,
    )


def days(first: Day, last: Day, rule: str) -> Found:
    """From one day to another, both included."""
    if first > last:
        raise NotADate(f"it would end ({last.iso}) before it begins ({first.iso})")
    if first.year < -FARTHEST or last.year > FARTHEST:
        raise NotADate(f"its days lie {BEYOND}")
    if first == last:
        return Found(first.iso, first, last, rule)
    start, end = edges(first, last)
    return Found(start if start == end else f"{start}/{end}", first, last, rule)


def edges(first: Day | None, last: Day | None) -> tuple[str, str]:
    """Two bounds as EDTF, both as years, months or days; "" for an open one.

    >>> edges(Day(1883, 1, 1), Day(1883, 3, 31)), edges(None, Day(1903, 12, 31))
    (('1883-01', '1883-03'), ('', '1903'))
    """
    ends = (
        first.iso if first else "",
        last.iso if last else "",
    )
    if _on_month(first, last=False) and _on_month(last, last=True):
        ends = (ends[0][:-3], ends[1][:-3])
        if (first is None or first.month == 1) and (last is None or last.month == _DECEMBER):
            ends = (ends[0][:-3], ends[1][:-3])
    return ends


def _on_month(day: Day | None, *, last: bool) -> bool:
    return day is None or day.day == (days_in(day.year, day.month) if last else 1)


_DECEMBER = 12


def short(day: Day, *, last: bool) -> str:
    """A bound as EDTF: the year or month alone where the day is its first or last."""
    if (day.month, day.day) == ((12, 31) if last else (1, 1)):
        return year_text(day.year)
    if day.day == (days_in(day.year, day.month) if last else 1):
        return f"{year_text(day.year)}-{day.month:02d}"
    return day.iso


def about(found: Found, circa: int) -> Found:
    """Circa: so many years either way, a month where it is finer than a year."""
    if found.earliest is None or found.latest is None:
        return found
    if found.vague and found.edtf[-1] in "~%":
        return found
    edtf = _signed(found, "~")
    rule = "circa" if found.rule == "year" else f"circa {found.rule}"
    if not _finer_than_a_year(found):
        earliest = found.earliest.years_on(-circa)
        return Found(edtf, earliest, found.latest.years_on(circa), rule, vague=True)
    if not circa:
        return Found(edtf, found.earliest, found.latest, rule, vague=True)
    last = found.latest.first_of_month(1)
    return Found(
        edtf,
        found.earliest.first_of_month(-1),
        Day(last.year, last.month, days_in(last.year, last.month)),
        "circa, a month either way",
        vague=True,
    )


def so_many_years_either_way(found: Found, width: int) -> Found:
    """A width that is written: 1885 +- 3."""
    if found.earliest is None or found.latest is None:
        return found
    earliest, latest = found.earliest.years_on(-width), found.latest.years_on(width)
    return Found(_signed(found, "~"), earliest, latest, "width as written", vague=True)


def probable(found: Found) -> Found:
    """Doubted: the same days, with the doubt written."""
    rule = found.rule if found.rule.startswith("probable") else f"probable {found.rule}"
    return found._replace(edtf=_signed(found, "?"), rule=rule)


def _signed(found: Found, sign: str) -> str:
    """The EDTF of something with a sign; `188X~` is not portable, so spans carry it at both ends."""
    edtf = found.edtf
    if "X" in edtf and found.earliest and found.latest:
        edtf = f"{year_text(found.earliest.year)}/{year_text(found.latest.year)}"
    if edtf[0] in "[{":
        return edtf
    return "/".join(_one_signed(part, sign) for part in edtf.split("/"))


def _one_signed(edtf: str, sign: str) -> str:
    if edtf in ("", "..") or edtf[-1] in (sign, "%"):
        return edtf
    return f"{edtf[:-1]}%" if edtf[-1] in "?~" else edtf + sign


def before(found: Found) -> Found:
    """Earlier than it began; before about 1907 may be as late as before 1912."""
    start = _start_of_last_unit(found) if found.vague else found.earliest
    if start is None:
        raise NotADate("what has no beginning has nothing before it")
    latest = start.beside(-1)
    return Found(f"[..{short(latest, last=True)}]", None, latest, "before")


def after(found: Found) -> Found:
    """Later than it ended; after about 1907 may be as early as after 1902."""
    end = _end_of_first_unit(found) if found.vague else found.latest
    if end is None:
        raise NotADate("what has no end has nothing after it")
    earliest = end.beside(1)
    return Found(f"[{short(earliest, last=False)}..]", earliest, None, "after")


def until(found: Found) -> Found:
    """Then or earlier."""
    if found.latest is None:
        raise NotADate("what has no end gives no latest day")
    latest = found.latest
    return Found(f"[..{short(latest, last=True)}]", None, latest, "by then")


def since(found: Found) -> Found:
    """Then or later."""
    if found.earliest is None:
        raise NotADate("what has no beginning gives no earliest day")
    earliest = found.earliest
    return Found(f"[{short(earliest, last=False)}..]", earliest, None, "not before then")


def open_after(found: Found) -> Found:
    """A span that has begun and is open: 1907-."""
    if found.earliest is None:
        raise NotADate("what has no beginning gives no earliest day")
    start = found.edtf if _simple(found.edtf) else short(found.earliest, last=False)
    return Found(f"{start}/..", found.earliest, None, "open span")


def open_before(found: Found) -> Found:
    """A span of which only the end is known: -1907."""
    if found.latest is None:
        raise NotADate("what has no end gives no latest day")
    end = found.edtf if _simple(found.edtf) else short(found.latest, last=True)
    return Found(f"../{end}", None, found.latest, "open span")


def _finer_than_a_year(found: Found) -> bool:
    start, end = found.earliest, found.latest
    return bool(start and end and end.ordinal - start.ordinal < _FINER_THAN_A_YEAR)


def _start_of_last_unit(found: Found) -> Day | None:
    end = found.latest
    return end and (end if _finer_than_a_year(found) else Day(end.year, 1, 1))


def _end_of_first_unit(found: Found) -> Day | None:
    start = found.earliest
    return start and (start if _finer_than_a_year(found) else Day(start.year, 12, 31))


def from_to(start: Found, end: Found, rule: str) -> Found:
    """The whole span from one to the other; an end that is itself open stays open."""
    first, last = _in_order(start, end)
    if first is None and last is None:
        raise NotADate("it has neither a beginning nor an end")
    begins = ".." if first is None else _end_of(start, first, last=False)
    ends = ".." if last is None else _end_of(end, last, last=True)
    return Found(f"{begins}/{ends}", first, last, rule)


def one_between(start: Found, end: Found, rule: str) -> Found:
    """One date somewhere from one to the other."""
    first, last = _in_order(start, end)
    if first is None and last is None:
        raise NotADate("it has neither a beginning nor an end")
    begins, ends = edges(first, last)
    return Found(f"[{begins}..{ends}]", first, last, rule)


def _end_of(found: Found, day: Day, *, last: bool) -> str:
    if _simple(found.edtf):
        return found.edtf
    sign = found.edtf[-1] if found.edtf[-1] in "~?%" else ""
    return short(day, last=last) + sign


def _simple(edtf: str) -> bool:
    return not set(edtf) & set("/[]{}")


def _in_order(start: Found, end: Found) -> tuple[Day | None, Day | None]:
    if start.earliest and end.latest and start.earliest > end.latest:
        raise NotADate("it does not end after it begins")
    return start.earliest, end.latest


def one_of(several: Sequence[Found], rule: str) -> Found:
    """One of these."""
    return _set(several, "[]", rule)._replace(vague=True)


def all_of(several: Sequence[Found], rule: str) -> Found:
    """All of these."""
    return _set(several, "{}", rule)


def _set(several: Sequence[Found], signs: str, rule: str) -> Found:
    ordered = sorted(several, key=_place)
    earliest = None if any(each.earliest is None for each in several) else ordered[0].earliest
    ends = [each.latest for each in several if each.latest]
    latest = max(ends) if len(ends) == len(several) else None
    if earliest is None and latest is None:
        raise NotADate("together they have neither a beginning nor an end")
    written = ",".join(_member(each) for each in ordered)
    members = list(dict.fromkeys(written.split(",")))
    open_within = any(member.startswith("..") for member in members[1:]) or any(
        member.endswith("..") for member in members[:-1]
    )
    if open_within or sum(len(member) + 1 for member in members) >= LONGEST:
        # only the first may be open at its start, only the last at its end: the whole is one run
        members = ["..".join(edges(earliest, latest))]
    return Found(f"{signs[0]}{','.join(members)}{signs[1]}", earliest, latest, rule)


def _place(found: Found) -> tuple[Day, Day]:
    return found.earliest or Day(-FARTHEST, 1, 1), found.latest or Day(FARTHEST, 12, 31)


def _member(found: Found) -> str:
    """As a member of a set, where a run has two dots and an open side none."""
    if found.edtf[0] in "[{":
        return found.edtf[1:-1]
    start, slash, end = found.edtf.partition("/")
    if not slash:
        return start
    return f"{'' if start == '..' else start}..{'' if end == '..' else end}"


def lies_within(inner: Found, outer: Found) -> bool:
    """Whether all days of the one are days of the other."""
    begins = outer.earliest is None or (
        inner.earliest is not None and inner.earliest >= outer.earliest
    )
    ends = outer.latest is None or (inner.latest is not None and inner.latest <= outer.latest)
    return begins and ends
