"""Spans of time as bars on one scale of years: what is firm, what may reach further, what is open.

A firm span is filled, what it may reach beyond is hatched, an open end is an arrow, one that lies
outside the scale is cut: no bar needs its colour to be understood.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from catalogue.measure import Day
from catalogue.pictures.spans import axis, begins_at, box, ends_at, hatch, short, tip
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.years import YearScale, scale_for

WIDTH: Final = 760.0
_MARGIN: Final = 16.0
_ROW: Final = 38.0
_HEADING: Final = 30.0
_AXIS: Final = 26.0
_THICK: Final = 10.0
_MOST_LETTERS: Final = 92


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


def bars(title: str, groups: Sequence[Group], *, key: str, width: float = WIDTH) -> Svg:
    """The picture, as wide as where it stands; `key` keeps its ids apart from others on a page.

    `width` is the measure of its drawing: a smaller one is for narrow places, with letters as large.
    """
    scale = _scale(groups, width)
    height = _AXIS + sum(_HEADING + _ROW * len(group.bars) for group in groups) + 8
    drawn: list[Svg] = [element("title", title), hatch(key), axis(scale, _AXIS, height)]
    top = _AXIS
    for group in groups:
        drawn.append(_heading(group.heading, top))
        top += _HEADING
        for bar in group.bars:
            drawn.append(_row(bar, scale, top, key, width))
            top += _ROW
    return element(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg", class_="bars", role="group",
        aria_label=title, viewBox=f"0 0 {width:g} {height:g}", font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


def _scale(groups: Sequence[Group], width: float) -> YearScale:
    every = [bar for group in groups for bar in group.bars]
    sums = [bar for bar in every if bar.sum and bar.earliest and bar.latest]
    around = None
    if sums:
        around = (
            min(bar.earliest for bar in sums if bar.earliest),
            max(bar.latest for bar in sums if bar.latest),
        )
    days = [day for bar in every for day in bar.days()]
    return scale_for(days, _MARGIN, width - _MARGIN, around)


def _heading(words: str, top: float) -> Svg:
    return element("text", words, x=_MARGIN, y=top + 21, font_weight=600)


def _row(bar: Bar, scale: YearScale, top: float, key: str, width: float) -> Svg:
    most = int(_MOST_LETTERS * width / WIDTH)
    told = [
        element("title", bar.said),
        element("rect", x=_MARGIN, y=top, width=width - 2 * _MARGIN, height=_ROW - 4,
                fill="transparent"),  # all of the row can be pressed
        element("text", short(bar.words, most), x=_MARGIN + 4, y=top + 13, class_="words",
                font_weight=600 if bar.sum else None),
        *(() if bar.empty else _drawn(bar, scale, top + 19, key)),
    ]  # fmt: skip
    if bar.href:
        return element("a", *told, href=bar.href, aria_label=bar.said)
    return element("g", *told, role="img", aria_label=bar.said)


def _drawn(bar: Bar, scale: YearScale, top: float, key: str) -> Iterator[Svg]:
    """The bar itself: what is firm, what may reach further on either side, and its ends."""
    begin, end = begins_at(bar.earliest, scale), ends_at(bar.latest, scale)
    farthest_back = begin if bar.soft_earliest is None else begins_at(bar.soft_earliest, scale)
    farthest_on = end if bar.soft_latest is None else ends_at(bar.soft_latest, scale)
    thick = _THICK + 3 if bar.sum else _THICK
    hatched = f"url(#{key}-hatch)"
    if farthest_back < begin:
        yield box(farthest_back, begin, top, thick, hatched, "4 2")
    if end < farthest_on:
        yield box(end, farthest_on, top, thick, hatched, "4 2")
    solid = "currentColor" if bar.firm else hatched
    yield box(begin, max(end, begin + 3), top, thick, solid, None)
    yield from tip(bar.earliest, begin, -1, scale, top + thick / 2)
    yield from tip(bar.latest, end, 1, scale, top + thick / 2)
