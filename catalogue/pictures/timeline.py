"""The life of a work in the studio's eyes: checks, treatments, each finding from check to check.

One row a thing, days from left to right. What became of a finding is told by the shape of its sign;
the legend explains those that are there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from catalogue.measure import Day
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.words import day_in_words, table
from catalogue.pictures.years import YearScale
from catalogue.record import Finding, Treatment, Work
from catalogue.terms import label

_WIDTH: Final = 760.0
_MARGIN: Final = 16.0
_END: Final = 44.0
"""At the right end, for the letters of the last sign."""
_ROW: Final = 40.0
_NUMBERS: Final = 12.0
"""Below the first row, for the numbers of the checks."""
_AXIS: Final = 28.0
_LEGEND_COLUMN: Final = 150.0
_MOST_LETTERS: Final = 90

_SIGNS: Final[dict[str, tuple[str, bool]]] = {
    "new": ("M-5 0 A5 5 0 1 1 5 0 A5 5 0 1 1 -5 0 Z", True),
    "unchanged": ("M-5 0 A5 5 0 1 1 5 0 A5 5 0 1 1 -5 0 Z", False),
    "grown": ("M-6 5 L0 -6 L6 5 Z", True),
    "shrunk": ("M-6 -5 L0 6 L6 -5 Z", False),
    "changed": ("M0 -6 L6 0 L0 6 L-6 0 Z", True),
    "treated": ("M-5 -5 H5 V5 H-5 Z M-5 -5 L5 5 M-5 5 L5 -5", False),
    "not-found": ("M-5 -5 L5 5 M-5 5 L5 -5", False),
    "noted": ("M-2 0 A2 2 0 1 1 2 0 A2 2 0 1 1 -2 0 Z", True),
}
"""Outline and whether it is filled, for what became of a finding."""
_CHECK: Final = "M0 -6 L4 0 L0 6 L-4 0 Z"

LeadsTo = Callable[[str], "str | None"]


@dataclass(frozen=True, slots=True)
class Moment:
    """One sign in a row: the day, the outline, what stands beside it, what it says and leads to."""

    on: Day
    sign: tuple[str, bool]
    letters: str
    said: str
    href: str | None


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its words and its signs by day; a line may join them, a `thick` one from end to end."""

    words: str
    moments: tuple[Moment, ...]
    joined: bool = False
    thick: bool = False


def timeline(work: Work, *, leads_to: LeadsTo) -> Svg | None:
    """The picture; None where nothing on it has a day. `leads_to` gives a value's address by its id."""
    rows = [
        row
        for row in (
            _checks(work, leads_to),
            *(_treatment(each, leads_to) for each in work.treatments),
            *(_finding(work, each, leads_to) for each in work.findings),
        )
        if row.moments
    ]
    days = [moment.on for row in rows for moment in row.moments]
    if not days:
        return None
    scale = YearScale(min(days).year, max(days).year, _MARGIN + 22, _WIDTH - _END)
    tops = [_AXIS + _ROW * number + (_NUMBERS if number else 0) for number in range(len(rows))]
    below = tops[-1] + _ROW
    signs = [name for name in _SIGNS if name in _used(work)]
    legend_rows = -(-len(signs) // 5)
    height = below + 24 * legend_rows + 12
    title = table("timeline")["title"].format(work=work.number or work.title())
    drawn = [element("title", title), _axis(scale, below)]
    drawn += [_row(row, scale, top) for row, top in zip(rows, tops, strict=True)]
    drawn.append(_legend(signs, below + 18))
    return element(
        "svg", *drawn, xmlns="http://www.w3.org/2000/svg", class_="bars life", role="group",
        aria_label=title, viewBox=f"0 0 {_WIDTH:g} {height:g}", font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


def _checks(work: Work, leads_to: LeadsTo) -> Row:
    told = table("timeline")
    moments = tuple(
        Moment(
            check.on,
            (_CHECK, True),
            check.number or "",
            told["check"].format(
                called=check.number or "",
                occasion=label(check.occasion),
                day=day_in_words(check.on),
            ),
            leads_to(check.id),
        )
        for check in sorted(work.checks, key=lambda each: each.rank)
    )
    return Row(told["checks"], moments)


def _treatment(treatment: Treatment, leads_to: LeadsTo) -> Row:
    told = table("timeline")
    moments = tuple(
        Moment(
            step.began,
            ("M0 -6 V6", False),
            "",
            told["step"].format(
                called=treatment.label(step),
                kind=label(step.kind),
                day=day_in_words(step.began),
            ),
            leads_to(step.id),
        )
        for step in treatment.steps
        if step.began
    )
    words = told["treatment"].format(
        called=treatment.number or "T", title=treatment.title or told["untitled"]
    )
    return Row(words, tuple(sorted(moments, key=lambda each: each.on)), thick=True)


def _finding(work: Work, finding: Finding, leads_to: LeadsTo) -> Row:
    told = table("timeline")
    called = finding.number or "F"
    moments = []
    for seen in work.course(finding):
        check = work.check_of(seen)
        name = _sign(seen.change)
        what = ", ".join(label(each) for each in (seen.change, seen.severity) if each)
        said = told["seen"].format(
            called=called,
            check=check.number or "",
            day=day_in_words(check.on),
            what=what or told["noted"],
        )
        moments.append(Moment(check.on, _SIGNS[name], "", said, leads_to(seen.id)))
    words = told["finding"].format(called=called, kind=label(finding.kind))
    return Row(words, tuple(moments), joined=True)


def _sign(change: str | None) -> str:
    name = (change or "").partition("/")[2]
    return name if name in _SIGNS else "noted"


def _used(work: Work) -> set[str]:
    return {_sign(seen.change) for finding in work.findings for seen in finding.observations}


# --- drawing ----------------------------------------------------------------------------------------


def _axis(scale: YearScale, height: float) -> Svg:
    parts = []
    for day, words in _ticks(scale):
        x = scale.at(day)
        parts += [
            element(
                "line", x1=x, x2=x, y1=_AXIS - 8, y2=height, stroke="currentColor",
                stroke_width=0.6, stroke_dasharray="1 4", opacity=0.6,
            ),
            element("text", words, x=x, y=_AXIS - 13, text_anchor="middle"),
        ]  # fmt: skip
    return element("g", *parts, class_="years", aria_hidden="true", font_size=12)


def _ticks(scale: YearScale) -> Iterator[tuple[Day, str]]:
    """Years; the quarters of it where there is only one."""
    if scale.first == scale.last:
        months = table("months")["names"]
        for month in (1, 4, 7, 10):
            yield Day(scale.first, month, 1), f"{months[month - 1][:3]} {scale.first}"
        return
    for year in scale.ticks():
        yield Day(year, 1, 1), str(year)


def _row(row: Row, scale: YearScale, top: float) -> Svg:
    middle = top + 25
    short = row.words[:_MOST_LETTERS] + ("…" if len(row.words) > _MOST_LETTERS else "")
    drawn = [element("text", short, x=_MARGIN, y=top + 12, class_="words")]
    places = [scale.at(moment.on) for moment in row.moments]
    if row.joined:
        drawn += [
            element(
                "line", x1=x + 6, x2=on - 6, y1=middle, y2=middle, stroke="currentColor",
                stroke_width=1,
            )
            for x, on in pairwise(places)
            if on - x > 12
        ]  # fmt: skip
    if row.thick:
        drawn.append(
            element(
                "line", x1=places[0], x2=places[-1], y1=middle, y2=middle, stroke="currentColor",
                stroke_width=5, stroke_opacity=0.45,
            )
        )  # fmt: skip
    free = 0.0
    for moment, x in zip(row.moments, places, strict=True):
        free = max(free, x - 7)
        drawn.append(_moment(moment, x, free, middle))
        free += 8 * len(moment.letters) + 4
    return element("g", *drawn, class_="row")


def _moment(moment: Moment, x: float, letters_at: float, middle: float) -> Svg:
    path, filled = moment.sign
    told = [
        element("title", moment.said),
        element("rect", x=x - 8, y=middle - 9, width=16, height=18, fill="transparent"),
        element(
            "g", _outline(path, filled=filled), transform=f"translate({x:.2f} {middle:.2f})"
        ),
    ]
    if moment.letters:
        told.append(element("text", moment.letters, x=letters_at, y=middle + 18, font_size=11))
    if moment.href:
        return element("a", *told, href=moment.href, aria_label=moment.said)
    return element("g", *told, role="img", aria_label=moment.said)


def _outline(path: str, *, filled: bool) -> Svg:
    return element(
        "path", d=path, stroke="currentColor", stroke_width=1.6,
        fill="currentColor" if filled else "none",
    )  # fmt: skip


def _legend(signs: list[str], top: float) -> Svg:
    words = table("timeline")["signs"]
    found = []
    for number, name in enumerate(signs):
        x, y = _MARGIN + number % 5 * _LEGEND_COLUMN, top + number // 5 * 24
        path, filled = _SIGNS[name]
        sign = element(
            "g", _outline(path, filled=filled), transform=f"translate({x + 6:.2f} {y:.2f})"
        )
        found.append(element("g", sign, element("text", words[name], x=x + 20, y=y + 4.5)))
    return element("g", *found, class_="legend", font_size=12)
