"""How far a window of years is known, as one bar: proven is filled, possible hatched, the rest hollow."""

from __future__ import annotations

from typing import Final

from catalogue.argument.chain.coverage import Coverage, Stretch
from catalogue.argument.chain.words import span, together
from catalogue.measure import Day
from catalogue.pictures.spans import hatch
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.words import day_in_words, table

_WIDTH: Final = 760.0
_MARGIN: Final = 4.0
_TOP: Final = 6.0
_HIGH: Final = 22.0
_FIGURES: Final = 48.0
_LEAST: Final = 2.0
"""A single day must still be seen."""


def coverage_bar(found: Coverage, *, key: str) -> Svg | None:
    """The picture; None where the window does not concern the painting."""
    if found.counted is None or found.counted.earliest is None or found.counted.latest is None:
        return None
    first, last = found.counted.earliest, found.counted.latest
    title = table("coverage")["title"].format(window=found.window.name)
    return element(
        "svg",
        element("title", title),
        hatch(key),
        *(_stretch(each, first, found.days, key) for each in found.stretches),
        _figure(first, _MARGIN, "start"),
        *([_figure(last, _WIDTH - _MARGIN, "end")] if last > first else []),
        xmlns="http://www.w3.org/2000/svg", class_="bars coverage", role="group",
        aria_label=title, viewBox=f"0 0 {_WIDTH:g} 56", font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


def _stretch(each: Stretch, first: Day, days: int, key: str) -> Svg:
    begin, end = each.days.earliest, each.days.latest
    if begin is None or end is None:
        return Svg("")
    share = (_WIDTH - 2 * _MARGIN) / days
    left = _MARGIN + share * (begin.ordinal - first.ordinal)
    wide = max(share * (end.ordinal - begin.ordinal + 1), _LEAST)
    left = min(left, _WIDTH - _MARGIN - wide)
    fill = {"proven": "currentColor", "possible": f"url(#{key}-hatch)", "nobody": "none"}
    said = in_words(each)
    bar = element(
        "rect", x=left, y=_TOP, width=wide, height=_HIGH, fill=fill[each.known],
        stroke="currentColor", stroke_width=1, class_=each.known,
        stroke_dasharray="1 3" if each.known == "nobody" else None,
    )  # fmt: skip
    return element("g", element("title", said), bar, role="img", aria_label=said)


def in_words(each: Stretch) -> str:
    """A stretch of days, and who had it, or may have had it."""
    told = table("coverage")
    who = together(it.name for it in each.tenures)
    said: str = told[each.known].format(span=span(each.days), who=who)
    return said


def _figure(day: Day, x: float, anchor: str) -> Svg:
    return element(
        "text", day_in_words(day), x=x, y=_FIGURES, text_anchor=anchor, font_size=12,
        aria_hidden="true",
    )  # fmt: skip
