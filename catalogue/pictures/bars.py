"""Spans of time as bars on one scale of years: what is firm, what may reach further, what is open.

A firm span is filled, what it may reach beyond is hatched, an open end is an arrow, one that lies
outside the scale is cut: no bar needs its colour to be understood.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from catalogue.measure import Day
from catalogue.pictures.svg import Svg, element, together
from catalogue.pictures.years import YearScale, scale_for

_WIDTH: Final = 760.0
_MARGIN: Final = 16.0
_ROW: Final = 38.0
_HEADING: Final = 30.0
_AXIS: Final = 26.0
_THICK: Final = 10.0
_MOST_LETTERS: Final = 92
_CUT: Final = 12.0  # the room that the two strokes of a cut take


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One span: its words, its bounds (None: open), and as far as it may reach.

    `firm` bars are filled between `earliest` and `latest`, others hatched. `said` is the whole of it
    in words, `href` what it leads to. `sum` marks the span that others come down to; `empty` that
    there is none, only the words.
    """

    words: str
    said: str
    earliest: Day | None
    latest: Day | None
    soft_earliest: Day | None = None
    soft_latest: Day | None = None
    firm: bool = True
    href: str | None = None
    sum: bool = False
    empty: bool = False

    def days(self) -> Iterator[Day]:
        """Every bound that is known."""
        for day in (self.earliest, self.latest, self.soft_earliest, self.soft_latest):
            if day:
                yield day


@dataclass(frozen=True, slots=True)
class Group:
    """Bars that belong together, under a heading."""

    heading: str
    bars: tuple[Bar, ...]


def bars(title: str, groups: Sequence[Group], *, key: str) -> Svg:
    """The picture, as wide as where it stands; `key` keeps its ids apart from others on a page."""
    scale = _scale(groups)
    height = _AXIS + sum(_HEADING + _ROW * len(group.bars) for group in groups) + 8
    drawn: list[Svg] = [element("title", title), _hatch(key), _axis(scale, height)]
    top = _AXIS
    for group in groups:
        drawn.append(_heading(group.heading, top))
        top += _HEADING
        for bar in group.bars:
            drawn.append(_row(bar, scale, top, key))
            top += _ROW
    return element(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg", class_="bars", role="group",
        aria_label=title, viewBox=f"0 0 {_WIDTH:g} {height:g}", font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


def _scale(groups: Sequence[Group]) -> YearScale:
    every = [bar for group in groups for bar in group.bars]
    sums = [bar for bar in every if bar.sum and bar.earliest and bar.latest]
    around = None
    if sums:
        around = (
            min(bar.earliest for bar in sums if bar.earliest),
            max(bar.latest for bar in sums if bar.latest),
        )
    days = [day for bar in every for day in bar.days()]
    return scale_for(days, _MARGIN, _WIDTH - _MARGIN, around)


def _hatch(key: str) -> Svg:
    line = element("path", d="M0 5 L5 0", stroke="currentColor", stroke_width=1.1)
    pattern = element(
        "pattern", line, id=f"{key}-hatch", width=5, height=5, patternUnits="userSpaceOnUse"
    )
    return element("defs", pattern)


def _axis(scale: YearScale, height: float) -> Svg:
    parts = []
    for year in scale.ticks():
        x = scale.at(Day(year, 1, 1))
        parts.append(
            element("line", x1=x, x2=x, y1=_AXIS - 6, y2=height, stroke="currentColor",
                    stroke_width=0.6, stroke_dasharray="1 4", opacity=0.6)
        )  # fmt: skip
        parts.append(element("text", str(year), x=x, y=_AXIS - 11, text_anchor="middle"))
    return element("g", *parts, class_="years", aria_hidden="true", font_size=12)


def _heading(words: str, top: float) -> Svg:
    return element("text", words, x=_MARGIN, y=top + 21, font_weight=600)


def _row(bar: Bar, scale: YearScale, top: float, key: str) -> Svg:
    told = [
        element("title", bar.said),
        element("rect", x=_MARGIN, y=top, width=_WIDTH - 2 * _MARGIN, height=_ROW - 4,
                fill="transparent"),  # all of the row can be pressed
        element("text", _short(bar.words), x=_MARGIN + 4, y=top + 13, class_="words",
                font_weight=600 if bar.sum else None),
        *(() if bar.empty else _drawn(bar, scale, top + 19, key)),
    ]  # fmt: skip
    if bar.href:
        return element("a", *told, href=bar.href, aria_label=bar.said)
    return element("g", *told, role="img", aria_label=bar.said)


def _short(words: str) -> str:
    return words if len(words) <= _MOST_LETTERS else f"{words[: _MOST_LETTERS - 1].rstrip()}…"


def _drawn(bar: Bar, scale: YearScale, top: float, key: str) -> Iterator[Svg]:
    """The bar itself: what is firm, what may reach further on either side, and its ends."""
    begin, end = _from(bar.earliest, scale), _to(bar.latest, scale)
    farthest_back = begin if bar.soft_earliest is None else _from(bar.soft_earliest, scale)
    farthest_on = end if bar.soft_latest is None else _to(bar.soft_latest, scale)
    thick = _THICK + 3 if bar.sum else _THICK
    hatched = f"url(#{key}-hatch)"
    if farthest_back < begin:
        yield _box(farthest_back, begin, top, thick, hatched, "4 2")
    if end < farthest_on:
        yield _box(end, farthest_on, top, thick, hatched, "4 2")
    solid = "currentColor" if bar.firm else hatched
    yield _box(begin, max(end, begin + 3), top, thick, solid, None)
    yield from _end(bar.earliest, begin, -1, scale, top + thick / 2)
    yield from _end(bar.latest, end, 1, scale, top + thick / 2)


def _from(day: Day | None, scale: YearScale) -> float:
    if day and not scale.holds(day):
        return scale.at(day) + (_CUT if day.year < scale.first else 0)
    return scale.left if day is None else scale.at(day)


def _to(day: Day | None, scale: YearScale) -> float:
    if day and not scale.holds(day):
        return scale.at(day) - (_CUT if day.year > scale.last else 0)
    return scale.right if day is None else scale.at(day.beside(1))


def _box(x: float, end: float, top: float, thick: float, fill: str, dashes: str | None) -> Svg:
    return element(
        "rect", x=x, y=top, width=end - x, height=thick, fill=fill, stroke="currentColor",
        stroke_width=1, stroke_dasharray=dashes, class_="span",
    )  # fmt: skip


def _end(day: Day | None, x: float, way: int, scale: YearScale, middle: float) -> Iterator[Svg]:
    """An arrow at an open end; a cut through a bar that goes on outside the scale."""
    if day is None:
        tip = x + way * 10
        yield element(
            "path", d=f"M{x:g} {middle - 8:g} L{tip:g} {middle:g} L{x:g} {middle + 8:g} Z"
        )
    elif not scale.holds(day):
        lines = [
            element("line", x1=x + way * (gap - 2), x2=x + way * (gap + 2), y1=middle + 8,
                    y2=middle - 8, stroke="currentColor", stroke_width=1.5)
            for gap in (4, 8)
        ]  # fmt: skip
        yield together(lines)
