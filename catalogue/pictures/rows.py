"""The rows of a chronology: how an event, a gap between holdings and a window that matters are drawn.

Filled is certain, hatched with a soft edge is possible, an arrow is open; what happened on one day is
a lozenge, or a line between the days on one of which it happened; a gap is hollow, its edge dotted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from catalogue.measure import Day
from catalogue.pictures.spans import begins_at, box, ends_at, short, tip
from catalogue.pictures.spells import Spell, called, in_words, sentence
from catalogue.pictures.svg import Svg, element, together
from catalogue.pictures.words import table
from catalogue.pictures.years import YearScale

WIDTH: Final = 760.0
MARGIN: Final = 16.0
ROW: Final = 38.0
YEARS: Final = 26.0
"""At the top, for the figures of the years."""
NAME: Final = 16.0
"""One line of names of windows, below the years."""
_THICK: Final = 10.0
_LETTER: Final = 6.6
"""How wide a letter of a window's name is taken to be."""
_MOST_LETTERS: Final = 88
_LEGEND: Final = 24.0
_IN_A_ROW: Final = 3

LeadsTo = Callable[[str], "str | None"]


@dataclass(frozen=True, slots=True)
class Band:
    """A window of time that matters, with its name; an end that is None is open."""

    name: str
    earliest: Day | None
    latest: Day | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Days between two holdings on which nobody is known to have held it.

    It stands below the row of the event `after`; `words` are short, `said` is all of it.
    """

    after: str
    words: str
    said: str
    earliest: Day
    latest: Day
    href: str | None = None


# --- one row ----------------------------------------------------------------------------------------


Draw = Callable[[float, str], Svg]
"""Draws a row whose top lies there, with the hatch of the sheet on which it stands."""


def event_row(spell: Spell, scale: YearScale, leads_to: LeadsTo) -> Draw:
    """How an event is drawn: its words, and below them its days."""

    def draw(top: float, hatched: str) -> Svg:
        words = short(f"{called(spell)} · {in_words(spell)}", _MOST_LETTERS)
        which = ",".join(map(str, spell.at_odds[:3]))
        aside = 20 + 7 * len(which) if which else 0
        drawn = [element("text", words, x=MARGIN + 4 + aside, y=top + 13, class_="words")]
        if which:
            drawn.append(_warning(MARGIN + 4, top + 3, which))
        drawn += (_moment if spell.event.moment else _lasting)(spell, scale, top + 19, hatched)
        return _row(sentence(spell), drawn, leads_to(spell.event.id), top)

    return draw


def _row(said: str, drawn: Iterable[Svg], href: str | None, top: float) -> Svg:
    told = [
        element("title", said),
        element("rect", x=MARGIN, y=top, width=WIDTH - 2 * MARGIN, height=ROW - 4,
                fill="transparent"),  # all of the row can be pressed
        *drawn,
    ]  # fmt: skip
    if href:
        return element("a", *told, href=href, aria_label=said)
    return element("g", *told, role="img", aria_label=said)


def _lasting(spell: Spell, scale: YearScale, top: float, hatched: str) -> Iterator[Svg]:
    """What is certain filled, what may be hatched on either side, and the ends."""
    possible = spell.possible
    begin, end = begins_at(possible.earliest, scale), ends_at(possible.latest, scale)
    end = max(end, begin + 3)
    if spell.certain:
        first, last = spell.certain
        start = min(max(begins_at(first, scale), begin), end)
        stop = min(max(ends_at(last, scale), start + 2), max(end, start + 2))
        if begin < start:
            yield box(begin, start, top, _THICK, hatched, "4 2")
        if stop < end:
            yield box(stop, end, top, _THICK, hatched, "4 2")
        yield box(start, stop, top, _THICK, "currentColor", None)
    else:
        yield box(begin, end, top, _THICK, hatched, "4 2")
    yield from tip(possible.earliest, begin, -1, scale, top + _THICK / 2)
    yield from tip(possible.latest, end, 1, scale, top + _THICK / 2)


def _moment(spell: Spell, scale: YearScale, top: float, hatched: str) -> Iterator[Svg]:
    """A lozenge on a day that is known; else a line between the days on one of which it was."""
    middle = top + _THICK / 2
    first, last = spell.began.earliest, spell.began.latest
    if first and first == last and scale.holds(first):
        yield _lozenge(scale.at(first), middle)
        return
    begin, end = begins_at(first, scale), ends_at(last, scale)
    yield _whisker(begin, max(end, begin + 3), middle, first is not None, last is not None)
    yield from tip(first, begin, -1, scale, middle)
    yield from tip(last, max(end, begin + 3), 1, scale, middle)


def _lozenge(x: float, y: float) -> Svg:
    return element("path", d=f"M{x:.2f} {y - 7:g} l6 7 l-6 7 l-6 -7 Z")


def _whisker(begin: float, end: float, middle: float, first: bool, last: bool) -> Svg:
    stops = [x for x, known in ((begin, first), (end, last)) if known]
    upright = "".join(f" M{x:.2f} {middle - 5:g} v10" for x in stops)
    return element(
        "path", d=f"M{begin:.2f} {middle:g} H{end:.2f}{upright}", stroke="currentColor",
        stroke_width=1.8, fill="none",
    )  # fmt: skip


def _warning(x: float, y: float, which: str) -> Svg:
    """A triangle with its number: part of a contradiction."""
    return element(
        "g",
        element("path", d=f"M{x + 6:g} {y:g} l6 11 h-12 Z", fill="none", stroke="currentColor",
                stroke_width=1.6, stroke_linejoin="round"),
        element("text", which, x=x + 14, y=y + 11, font_size=11, font_weight=600),
        class_="at-odds",
    )  # fmt: skip


def gap_row(gap: Gap, scale: YearScale) -> Draw:
    """How a gap is drawn: set in a little, its words slanting, the box hollow."""

    def draw(top: float, hatched: str) -> Svg:
        begin, end = begins_at(gap.earliest, scale), ends_at(gap.latest, scale)
        drawn = [
            element("text", short(gap.words, _MOST_LETTERS), x=MARGIN + 20, y=top + 13,
                    class_="words", font_style="italic"),
            _hollow(begin, max(end, begin + 3), top + 19),
        ]  # fmt: skip
        return _row(gap.said, drawn, gap.href, top)

    return draw


def _hollow(begin: float, end: float, top: float) -> Svg:
    return element(
        "rect", x=begin, y=top + 1, width=end - begin, height=_THICK - 2, fill="none",
        stroke="currentColor", stroke_width=1.6, stroke_dasharray="1 3", class_="gap",
    )  # fmt: skip


# --- windows that matter ------------------------------------------------------------------------------


def name_lines(bands: Sequence[Band], scale: YearScale) -> list[int]:
    """On which line the name of each window stands, so that none runs into another."""
    ends: list[float] = []
    found = []
    for band in bands:
        left = _name_at(band, scale)
        line = next((number for number, end in enumerate(ends) if end < left), len(ends))
        ends[line : line + 1] = [left + _LETTER * len(band.name) + 8]
        found.append(line)
    return found


def _name_at(band: Band, scale: YearScale) -> float:
    left = begins_at(band.earliest, scale) + 3
    return max(scale.left, min(left, scale.right - _LETTER * len(band.name)))


def window_band(band: Band, line: int, scale: YearScale, height: float) -> Svg:
    """A window behind the rows, down to `height`, its name on its `line` below the years."""
    begin, end = begins_at(band.earliest, scale), ends_at(band.latest, scale)
    top = YEARS + NAME * line
    edges = [
        element("line", x1=x, x2=x, y1=top, y2=height, stroke="currentColor", stroke_width=1,
                stroke_dasharray="6 3", opacity=0.7)
        for x, day in ((begin, band.earliest), (end, band.latest))
        if day and scale.holds(day)
    ]  # fmt: skip
    name = element(
        "text",
        band.name,
        x=_name_at(band, scale),
        y=top + 12,
        font_size=12,
        font_style="italic",
    )
    ground = element(
        "rect", x=begin, y=top, width=max(end - begin, 1), height=height - top, opacity=0.07
    )
    return element("g", ground, *edges, name, class_="window")


# --- the legend -------------------------------------------------------------------------------------


def used_signs(spells: Sequence[Spell], gaps: Sequence[Gap], scale: YearScale) -> list[str]:
    """The signs that the legend has to explain, in its order."""
    lasting = [each for each in spells if not each.event.moment]
    moments = [each for each in spells if each.event.moment]
    exact = [each for each in moments if each.began.earliest == each.began.latest is not None]
    ends = [end for each in spells for end in (each.possible.earliest, each.possible.latest)]
    there = {
        "certain": any(each.certain for each in lasting),
        "possible": any(
            each.certain is None or each.began.earliest != each.began.latest
            or each.ended.earliest != each.ended.latest for each in lasting
        ),
        "day": bool(exact),
        "some_day": len(exact) < len(moments),
        "open": None in ends,
        "cut": any(end and not scale.holds(end) for end in ends),
        "gap": bool(gaps),
        "at_odds": any(each.at_odds for each in spells),
    }  # fmt: skip
    return [name for name in table("chronology")["legend"] if there[name]]


def legend_of(signs: Sequence[str], top: float, hatched: str) -> tuple[Svg, float]:
    """What the signs mean, and where the legend ends."""
    words = table("chronology")["legend"]
    wide = (WIDTH - 2 * MARGIN) / _IN_A_ROW
    found = []
    for number, name in enumerate(signs):
        x = MARGIN + number % _IN_A_ROW * wide
        y = top + number // _IN_A_ROW * _LEGEND
        sign = together(_swatch(name, x, y + 2, hatched))
        found.append(element("g", sign, element("text", words[name], x=x + 34, y=y + 11)))
    bottom = top + -(-len(signs) // _IN_A_ROW) * _LEGEND + 4
    return element("g", *found, class_="legend", font_size=11.5), bottom


def _swatch(name: str, x: float, y: float, hatched: str) -> Iterator[Svg]:
    far = YearScale(0, 1, x, x + 26)
    match name:
        case "certain":
            yield box(x, x + 26, y, _THICK, "currentColor", None)
        case "possible":
            yield box(x, x + 26, y, _THICK, hatched, "4 2")
        case "day":
            yield _lozenge(x + 13, y + 5)
        case "some_day":
            yield _whisker(x + 1, x + 25, y + 5, first=True, last=True)
        case "open":
            yield from tip(None, x + 8, 1, far, y + 5)
        case "cut":
            yield from tip(Day(9, 1, 1), x + 6, 1, far, y + 5)
        case "gap":
            yield _hollow(x, x + 26, y)
        case "at_odds":
            yield _warning(x, y, "1")
