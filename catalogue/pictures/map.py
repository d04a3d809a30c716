"""The condition map: front and back side by side in mm, with everything on a work that has a place.

What lies on the front is ghosted on the back, mirrored, because it is the same canvas. Marks are told
by letter and number, by their outline and by their hatch, never by a colour.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from catalogue.pictures.legend import legend, scale_bar
from catalogue.pictures.letters import LETTER, Field, Label, label
from catalogue.pictures.marks import SIDES, Mark, marks
from catalogue.pictures.signs import (
    SMALLEST,
    Kind,
    drawn,
    drawn_fine,
    extent_of,
    hatches,
    reach,
)
from catalogue.pictures.svg import Svg, element
from catalogue.pictures.words import table
from catalogue.record import ConditionCheck, Work
from catalogue.surface import Shape, Sheet, Stretcher, mirror

WIDTH: Final = 960.0
_EDGE: Final = 14.0
_GAP: Final = 32.0
_HEADING: Final = 26.0
_HIGHEST: Final = 560.0
_CLOSEST: Final = 5.0
"""Units of the paper for a millimetre, at most: a miniature is not blown up to fill the page."""

LeadsTo = Callable[[str], "str | None"]
KINDS: Final[tuple[Kind, ...]] = get_args(Kind)


@dataclass(frozen=True, slots=True)
class Panel:
    """One side of a work, with what lies on it under a heading; `twins` lie on the other side."""

    heading: str
    side: str
    marks: tuple[Mark, ...]
    twins: tuple[Mark, ...] = ()
    stretcher: Stretcher | None = None


def condition_map(
    work: Work,
    *,
    key: str,
    leads_to: LeadsTo,
    check: ConditionCheck | None = None,
    kinds: Sequence[Kind] = KINDS,
    more: Iterable[Mark] = (),
    stretcher: Stretcher | None = None,
) -> Svg | None:
    """The map of a work, as it is now or as it was seen at a check; None without its size.

    `key` keeps its ids apart from others on a page, `leads_to` gives the address of a value by its
    id, `more` are marks that are not on record, such as a planned patch.
    """
    if work.sheet is None:
        return None
    shown = [each for each in (*marks(work, check), *more) if each.kind in kinds]
    panels = [_panel(side, table("map")[side], shown, stretcher) for side in SIDES]
    title = table("map")["title"].format(work=work.number or work.title())
    if check:
        title = _at_check(title, check)
    return _picture(title, work.sheet, panels, key, leads_to)


def compared_maps(
    work: Work,
    earlier: ConditionCheck,
    later: ConditionCheck,
    *,
    key: str,
    leads_to: LeadsTo,
    kinds: Sequence[Kind] = ("finding", "repair"),
) -> Svg | None:
    """The maps of two checks side by side, the front above the back; None without the size."""
    if work.sheet is None:
        return None
    panels = [
        _panel(
            side,
            _at_check(table("map")[side], check),
            [each for each in marks(work, check) if each.kind in kinds],
            None,
        )
        for side in SIDES
        for check in (earlier, later)
    ]
    title = table("map")["title"].format(work=work.number or work.title())
    return _picture(title, work.sheet, panels, key, leads_to)


def _at_check(title: str, check: ConditionCheck) -> str:
    told: str = table("map")["of_check"]
    return told.format(title=title, check=" ".join((check.number or "", check.on.iso)).strip())


def _panel(
    side: str, heading: str, shown: Iterable[Mark], stretcher: Stretcher | None
) -> Panel:
    here = tuple(each for each in shown if each.shape and each.side == side)
    twins: tuple[Mark, ...] = ()
    if side == "back":
        # The canvas has two sides: what is damaged or mended in front is so behind.
        twins = tuple(each for each in shown if each.shape and each.side == "front")
    return Panel(heading, side, here, twins, stretcher)


# --- the paper --------------------------------------------------------------------------------------


def _picture(
    title: str, sheet: Sheet, panels: Sequence[Panel], key: str, leads_to: LeadsTo
) -> Svg:
    room = (WIDTH - 2 * _EDGE - _GAP) / 2
    scale = min(room / sheet.width_mm, _HIGHEST / sheet.height_mm, _CLOSEST)
    high = sheet.height_mm * scale
    used = [
        kind for kind in KINDS if any(kind == each.kind for it in panels for each in it.marks)
    ]
    found: list[Svg] = [element("title", title), hatches(used, key)]
    for number, panel in enumerate(panels):
        column, row = number % 2, number // 2
        left = _EDGE + column * (room + _GAP) + (room - sheet.width_mm * scale) / 2
        field = Field(left, _HEADING + row * (high + _HEADING + _EDGE), scale, sheet)
        found.append(_side(panel, field, key, leads_to))
    rows = (len(panels) + 1) // 2
    below = rows * (high + _HEADING + _EDGE)
    found.append(scale_bar(sheet.width_mm, scale, _EDGE, below + 8))
    fine = [
        *(["twin"] if any(each.twins for each in panels) else []),
        *(["gone"] if any(mark.faint for each in panels for mark in each.marks) else []),
        *(["bar"] if any(each.stretcher for each in panels) else []),
    ]
    signs, height = legend(used, fine, key, _EDGE, below + 34, WIDTH - 2 * _EDGE)
    found.append(signs)
    return element(
        "svg", *found, xmlns="http://www.w3.org/2000/svg", class_="map", role="group",
        aria_label=title, viewBox=f"0 0 {WIDTH:g} {height + 6:g}", font_size=LETTER,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


def _side(panel: Panel, field: Field, key: str, leads_to: LeadsTo) -> Svg:
    sheet = field.sheet
    edge = element(
        "rect", x=field.left, y=field.top, width=sheet.width_mm * field.scale,
        height=sheet.height_mm * field.scale, fill="none", stroke="currentColor", stroke_width=1.6,
        class_="edge",
    )  # fmt: skip
    heading = element(
        "text", panel.heading, x=field.left, y=field.top - 8, font_weight=600, class_="side-of"
    )
    taken = [*_rings(panel, field)]
    own = [*_marks(panel, field, key, leads_to, taken)]  # their letters choose first
    return element(
        "g", edge, heading, *_bars(panel, field), *_twins(panel, field, taken), *own,
        class_="side", data_side=panel.side,
        data_left=repr(field.left), data_top=repr(field.top), data_scale=repr(field.scale),
        data_width=repr(sheet.width_mm), data_height=repr(sheet.height_mm),
    )  # fmt: skip


def _rings(panel: Panel, field: Field) -> Iterator[Label]:
    """The room that the rings around tiny marks take, so that no letter stands in one."""
    shapes = [each.shape for each in panel.marks if each.shape]
    shapes += [mirror(each.shape, field.sheet) for each in panel.twins if each.shape]
    for shape in shapes:
        if max(extent_of(shape)) * field.scale < SMALLEST:
            across, down = field.at(shape.centre)
            yield Label(across - SMALLEST, down - SMALLEST, across + SMALLEST, down + SMALLEST)


def _bars(panel: Panel, field: Field) -> Iterator[Svg]:
    if panel.stretcher is None or panel.side != "back":
        return
    for strip in panel.stretcher.strips(field.sheet):
        title = element("title", table("map")["bar"].format(bar=strip.name))
        shape = drawn_fine(Shape.of_box(strip.box), field.at, twin=False)
        yield element("g", title, *shape, class_="bar", opacity=0.6)


def _twins(panel: Panel, field: Field, taken: list[Label]) -> Iterator[Svg]:
    for each in panel.twins:
        assert each.shape is not None, "only what has a place has a twin"
        shape = mirror(each.shape, field.sheet)
        title = element("title", table("map")["twin"].format(called=each.called))
        called = label(f"({each.called})", shape, field, taken, faint=True)
        outline = drawn_fine(shape, field.at, twin=True)
        yield element("g", title, *outline, called, class_="twin")


def _marks(
    panel: Panel, field: Field, key: str, leads_to: LeadsTo, taken: list[Label]
) -> Iterator[Svg]:
    """The largest first, so that what lies within it can be pressed."""
    laid = sorted(panel.marks, key=lambda mark: -_size(mark))
    for each in laid:
        href = leads_to(each.value)
        if href and each.shape:
            corners = [field.at(corner) for corner in each.shape.corners]
            yield reach(corners, each.kind, href, area=each.shape.kind == "area")
    for each in laid:
        assert each.shape is not None, "a panel holds what has a place"
        told = [
            element("title", each.said),
            *(
                drawn_fine(each.shape, field.at, twin=False)
                if each.faint
                else drawn(each.shape, field.at, each.kind, key)
            ),
            label(each.called, each.shape, field, taken, faint=each.faint),
        ]
        href = leads_to(each.value)
        group = f"mark {each.kind}"
        if href:
            yield element("a", *told, href=href, aria_label=each.said, class_=group)
        else:
            yield element("g", *told, role="img", aria_label=each.said, class_=group)


def _size(mark: Mark) -> float:
    return mark.shape.area_mm2 if mark.shape else 0
