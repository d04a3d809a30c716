"""Spans of days drawn on a scale of years: boxes, open ends, cuts, the years above them.

What several pictures draw alike. An open end is an arrow; two strokes say that a span goes on
outside the scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from catalogue.measure import Day
from catalogue.pictures.svg import Svg, element, together
from catalogue.pictures.years import YearScale

_CUT: Final = 12.0  # the room that the two strokes of a cut take


def begins_at(day: Day | None, scale: YearScale) -> float:
    """Where a span begins that begins on this day; at the end of the scale where that is open."""
    if day and not scale.holds(day):
        return scale.at(day) + (_CUT if day.year < scale.first else 0)
    return scale.left if day is None else scale.at(day)


def ends_at(day: Day | None, scale: YearScale) -> float:
    """Where a span ends that ends on this day; at the end of the scale where that is open."""
    if day and not scale.holds(day):
        return scale.at(day) - (_CUT if day.year > scale.last else 0)
    return scale.right if day is None else scale.at(day.beside(1))


def box(x: float, end: float, top: float, thick: float, fill: str, dashes: str | None) -> Svg:
    """A span from `x` to `end`."""
    return element(
        "rect", x=x, y=top, width=end - x, height=thick, fill=fill, stroke="currentColor",
        stroke_width=1, stroke_dasharray=dashes, class_="span",
    )  # fmt: skip


def tip(day: Day | None, x: float, way: int, scale: YearScale, middle: float) -> Iterator[Svg]:
    """An arrow at an open end; a cut through a span that goes on outside the scale."""
    if day is None:
        point = x + way * 10
        yield element(
            "path", d=f"M{x:g} {middle - 8:g} L{point:g} {middle:g} L{x:g} {middle + 8:g} Z"
        )
    elif not scale.holds(day):
        lines = [
            element("line", x1=x + way * (gap - 2), x2=x + way * (gap + 2), y1=middle + 8,
                    y2=middle - 8, stroke="currentColor", stroke_width=1.5)
            for gap in (4, 8)
        ]  # fmt: skip
        yield together(lines)


def hatch(key: str) -> Svg:
    """The hatch of what may be; `key` keeps its id apart from others on a page."""
    line = element("path", d="M0 5 L5 0", stroke="currentColor", stroke_width=1.1)
    pattern = element(
        "pattern", line, id=f"{key}-hatch", width=5, height=5, patternUnits="userSpaceOnUse"
    )
    return element("defs", pattern)


def axis(scale: YearScale, top: float, height: float) -> Svg:
    """The years, with a line down to `height` at each; `top` is where the lines begin."""
    parts = []
    for year in scale.ticks():
        x = scale.at(Day(year, 1, 1))
        parts.append(
            element("line", x1=x, x2=x, y1=top - 6, y2=height, stroke="currentColor",
                    stroke_width=0.6, stroke_dasharray="1 4", opacity=0.6)
        )  # fmt: skip
        parts.append(element("text", str(year), x=x, y=top - 11, text_anchor="middle"))
    return element("g", *parts, class_="years", aria_hidden="true", font_size=12)


def short(words: str, most: int) -> str:
    """Words that fit on a line, the rest left out with a sign that there is more.

    >>> short("dealer's label", 8)
    "dealer'…"
    """
    return words if len(words) <= most else f"{words[: most - 1].rstrip()}…"
