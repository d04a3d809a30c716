"""The timeline of a chronology: one row an event, what is certain of it, and how far it may reach.

Filled is certain, hatched with a soft edge is possible, an arrow is open; what happened on one day is
a lozenge, or a line between the days on one of which it happened. Between holdings stand the gaps,
behind everything the windows that matter. No sign needs its colour. The timeline comes as several
sheets of one scale, each no higher than a printed page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from catalogue.pictures.rows import (
    MARGIN,
    NAME,
    ROW,
    WIDTH,
    YEARS,
    Band,
    Draw,
    Gap,
    LeadsTo,
    event_row,
    gap_row,
    legend_of,
    name_lines,
    used_signs,
    window_band,
)
from catalogue.pictures.spans import axis, hatch
from catalogue.pictures.spells import Spell, grouped
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.words import table
from catalogue.pictures.years import YearScale, scale_for

_HEADING: Final = 30.0
_HIGHEST: Final = 940.0
"""What a printed page holds, with its heading."""
_AHEAD: Final = 5
"""So many years are shown after the last day of all: much of the future is of no use."""
_TIGHT_DAYS: Final = 36525
"""Events whose bounds are nearer than this decide what the scale shows; the rest may be cut."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One piece of the timeline: the headings on it, and the picture."""

    headings: tuple[str, ...]
    picture: Svg


@dataclass(frozen=True, slots=True)
class _Block:
    """A heading with the rows below it, or as many of them as there was room for."""

    heading: str
    rows: tuple[Draw, ...]

    @property
    def height(self) -> float:
        return _HEADING + ROW * len(self.rows)


def timeline_sheets(
    spells: Sequence[Spell],
    *,
    of: str,
    key: str,
    leads_to: LeadsTo,
    bands: Sequence[Band] = (),
    gaps: Sequence[Gap] = (),
) -> tuple[Sheet, ...]:
    """The pieces of the picture, in order; none where there are no events.

    `of` is whose chronology it is, in words; `key` keeps its ids apart from others on a page;
    `leads_to` gives the address of what an event rests on, by the id of the event.
    """
    if not spells:
        return ()
    scale = _scale(spells, gaps)
    shown = [each for each in bands if _on(each, scale)]
    lines = name_lines(shown, scale)
    top = YEARS + NAME * (1 + max(lines, default=-1))
    blocks = [
        _Block(heading, tuple(_rows(members, gaps, scale, leads_to)))
        for heading, members in grouped(spells)
    ]
    title = table("chronology")["title"].format(of=of)
    pages = list(_pages(blocks, _HIGHEST - top))
    found = []
    for number, page in enumerate(pages, 1):
        height = top + sum(block.height for block in page) + 8
        hatched = f"{key}-{number}"
        drawn: list[Svg] = [
            element("title", title),
            hatch(hatched),
            *(window_band(*each, scale, height) for each in zip(shown, lines, strict=True)),
            axis(scale, YEARS, height),
            *_blocks(page, top, f"url(#{hatched}-hatch)"),
        ]
        if number == len(pages):
            signs = used_signs(spells, gaps, scale)
            legend, height = legend_of(signs, height + 8, f"url(#{hatched}-hatch)")
            drawn.append(legend)
        headings = tuple(block.heading for block in page)
        found.append(Sheet(headings, _paper(title, drawn, height)))
    return tuple(found)


def _blocks(page: Iterable[_Block], top: float, hatched: str) -> Iterator[Svg]:
    for block in page:
        yield element("text", block.heading, x=MARGIN, y=top + 21, font_weight=600)
        top += _HEADING
        for draw in block.rows:
            yield draw(top, hatched)
            top += ROW


def _paper(title: str, drawn: Iterable[Svg], height: float) -> Svg:
    return element(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg", class_="bars chronology", role="group",
        aria_label=title, viewBox=f"0 0 {WIDTH:g} {height:g}", font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


# --- what the scale shows ----------------------------------------------------------------------------


def _scale(spells: Sequence[Spell], gaps: Sequence[Gap]) -> YearScale:
    days = [day for spell in spells for day in spell.days()]
    days += [day for gap in gaps for day in (gap.earliest, gap.latest)]
    tight = [day for spell in spells for day in spell.days() if _is_tight(spell)]
    around = (min(tight), max(tight)) if tight else None
    scale = scale_for(days, MARGIN, WIDTH - MARGIN, around)
    if not days:
        return scale
    ahead = max(days).year + _AHEAD
    return scale if scale.last <= ahead else replace(scale, last=ahead)


def _is_tight(spell: Spell) -> bool:
    first, last = spell.possible.earliest, spell.possible.latest
    return bool(first and last and last.ordinal - first.ordinal < _TIGHT_DAYS)


def _on(band: Band, scale: YearScale) -> bool:
    return not (
        (band.earliest and band.earliest.year > scale.last)
        or (band.latest and band.latest.year < scale.first)
    )


# --- sheets -----------------------------------------------------------------------------------------


def _pages(blocks: Iterable[_Block], room: float) -> Iterator[list[_Block]]:
    """The blocks dealt out over sheets; one that is higher than a sheet goes on upon the next."""
    page: list[_Block] = []
    left = room
    for block in blocks:
        rows, heading = list(block.rows), block.heading
        if block.height > left and page and block.height <= room:
            yield page
            page, left = [], room
        while rows:
            fit = int((left - _HEADING) // ROW)
            if fit < 1 and page:
                yield page
                page, left = [], room
                continue
            fit = max(fit, 1)
            page.append(_Block(heading, tuple(rows[:fit])))
            left -= page[-1].height
            rows = rows[fit:]
            heading = table("chronology")["carried_on"].format(heading=block.heading)
    if page:
        yield page


def _rows(
    spells: Iterable[Spell], gaps: Sequence[Gap], scale: YearScale, leads_to: LeadsTo
) -> Iterator[Draw]:
    for spell in spells:
        yield event_row(spell, scale, leads_to)
        for gap in gaps:
            if gap.after == spell.event.id:
                yield gap_row(gap, scale)
