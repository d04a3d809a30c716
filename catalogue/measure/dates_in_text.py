"""Dates within longer text, such as a label: where each stands, and the days it means.

More careful than reading a phrase that is said to be a date: a number of four figures is a year only
where nothing around it says otherwise, words that mean much else besides ("by", "to", "d.") open no
date, and nothing is read across a lost part of the text ("…") or from a figure that is glued to one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from catalogue.measure.days import DateSpan, NotADate
from catalogue.measure.found import Found, date_span
from catalogue.measure.other_numbers import counted
from catalogue.measure.phrases import Phrases
from catalogue.measure.texts import everyday
from catalogue.measure.words import Piece, pieces, table
from catalogue.measure.worlds import ANY_TIME, Window, World, read_in_every_world

_OPENING = frozenset({
    "number", "nth", "roman", "ordinal", "month", "division", "weekdays", "tens", "hidden", "part", "circa",
    "probably", "before", "after", "until", "since", "between", "ad", "hijri", "named_century",
    "decade_lead", "century", "revolutionary_year", "revolutionary_month",
})  # fmt: skip
"""Senses with which a date may begin."""
_ALWAYS_OPENING = frozenset({"number", "month", "division", "circa"})
_SAYING_A_DATE = frozenset({
    "month", "division", "tens", "hidden", "century", "named_century", "millennium", "bc", "ad", "hijri",
    "revolutionary_month", "revolutionary_year",
})  # fmt: skip
"""Senses that a number has no need of, or takes its meaning from, to be one of a date."""
_NUMBERS = frozenset({"number", "nth", "roman"})
_JOINING = (".", ",", "-", "/")


@dataclass(frozen=True, slots=True)
class FoundDate:
    """A date in a text, from `start` to before `end`; `span.written` is its letters."""

    start: int
    end: int
    span: DateSpan


def find_dates(text: str, circa: int = 5, within: Window = ANY_TIME) -> tuple[FoundDate, ...]:
    """The dates in a text, in its order; those that are not to be sure of are left out.

    >>> found = find_dates("Spring Exhibition, 12 April 1903. No. 1887, 1234 Elm Street")
    >>> [(each.span.written, each.span.edtf) for each in found]
    [('12 April 1903', '1903-04-12')]
    >>> find_dates("exhibited 18… and …87")
    ()
    """
    cut = pieces(text)
    found: list[FoundDate] = []
    at = 0
    while cut[at].key:
        read = _date_at(cut, at, circa, within) if _may_open(cut[at]) else None
        if read is None:
            at += 1
        elif isinstance(read, int):
            at = read
        else:
            date, behind = read
            start, end = cut[at].start, cut[behind - 1].end
            found.append(FoundDate(start, end, date_span(date, text[start:end])))
            at = behind
    return tuple(found)


def _may_open(piece: Piece) -> bool:
    senses = piece.senses
    if piece.key == "'":
        return True
    if piece.key in everyday():
        return any(sense in senses for sense in _ALWAYS_OPENING)
    return "lead" not in senses and any(sense in senses for sense in _OPENING)


def _date_at(
    cut: Sequence[Piece], at: int, circa: int, within: Window
) -> tuple[Found, int] | int | None:
    """The date there and the place behind it; only a place behind what looks like one and is none."""
    ends: list[int] = []

    def read(world: World) -> Found:
        date = Phrases(cut, circa, world).date(at)
        if date is None:
            raise _Nothing
        ends.append(date[1])
        return date[0]

    try:
        found = read_in_every_world(read, within)
    except _Nothing:
        return None
    except NotADate:
        return _behind_figures(cut, at)
    behind = ends[-1]
    return (found, behind) if _beyond_doubt(cut, at, behind) else _behind_figures(cut, at)


class _Nothing(Exception):
    """No date begins there."""


def _behind_figures(cut: Sequence[Piece], at: int) -> int:
    """Behind all on its line that belongs to a figure: none of 31 February 1900 is a date."""
    at += 1
    while not cut[at].new_line and (
        any(sense in cut[at].senses for sense in ("number", "nth", "month"))
        or (cut[at].key in _JOINING and cut[at].glued)
    ):
        at += 1
    return at


def _beyond_doubt(cut: Sequence[Piece], first: int, behind: int) -> bool:
    numbers = [at for at in range(first, behind) if _NUMBERS & cut[at].senses.keys()]
    says_so = any(_SAYING_A_DATE & cut[at].senses.keys() for at in range(first, behind))
    if any(cut[at].key == "x" for at in numbers):
        return False  # 24 x 1887
    if any(_counts_money(cut, at) for at in range(first, behind)):
        return False
    if _is_part_of_a_number(cut, first, behind) or "sovereign" in cut[behind - 1].senses:
        return False
    says_so = says_so or any("sovereign" in cut[at].senses for at in range(first, behind))
    if not numbers:
        return says_so
    if counted(cut, numbers[0]) or counted(cut, numbers[-1]):
        return False
    return says_so or _years_alone(cut, numbers)


def _counts_money(cut: Sequence[Piece], at: int) -> bool:
    """15 c. may be cents as well as a century."""
    return (
        len(cut[at].key) == 1 and "century" in cut[at].senses and "number" in cut[at - 1].senses
    )


def _is_part_of_a_number(cut: Sequence[Piece], first: int, behind: int) -> bool:
    """Whether a figure or letter is joined to it: 1,887; 1887.50; W1887; A-1887; 1887-2345."""
    before, next_one, after = cut[first - 1] if first else None, cut[behind], cut[behind + 1]
    if before and cut[first].glued:
        earlier = cut[first - 2] if first > 1 else None
        if before.key[-1:].isalnum():
            return True
        if before.key in _JOINING and before.glued and earlier and earlier.key.isalnum():
            return True
    return (
        next_one.key in _JOINING and next_one.glued and after.glued and after.key[:1].isdigit()
    )


def _years_alone(cut: Sequence[Piece], numbers: Sequence[int]) -> bool:
    """Whether numbers alone are years: 1887, 1887-90, 12.4.1903, 3/4/07; not 800-900, 12-10-45."""
    named = table()["bare_year"]
    figures = [str(cut[at].senses.get("number", "")) for at in numbers]
    if len(figures) >= 3 or any("roman" in cut[at].senses for at in numbers):
        before = cut[numbers[-1] - 1]
        joined = before.key in _JOINING or "roman" in before.senses  # 12 iv 1903
        of_four = len(figures[-1]) == 4 and (len(figures) != 3 or joined)
        return of_four or before.key in (".", "/", "'")
    if numbers[0] and cut[numbers[0] - 1].key == "'":
        return True
    long = [each for each in figures if len(each) == 4]
    return figures[0] in long and all(
        named["earliest"] <= int(each) <= named["latest"] for each in long
    )
