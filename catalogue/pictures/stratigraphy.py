"""The stratigraphy of a back as a picture and as a list: what lies over what, the oldest at the bottom.

Each thing is a box on what bears it; a line goes from a box down to each that it lies over, and its
dashes say how. What the record has going round in a circle is drawn with a warning and told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from catalogue.argument.stratigraphy import Bed, Over, Stratigraphy
from catalogue.pictures.beds import Spot, laid_out
from catalogue.pictures.spans import short
from catalogue.pictures.strata_words import WhenOf, in_order, in_short, named, sentence
from catalogue.pictures.svg import Svg, element, together
from catalogue.pictures.words import table
from catalogue.terms import label, within

_LETTERS: Final = 23
_SMALL_LETTERS: Final = 25
_LEGEND: Final = 24.0
_LANES: Final = 5
_NARROW: Final = 400.0
"""A picture that is wider than this is not made as narrow as a telephone."""
_DASHES: Final[dict[str, str | None]] = {
    "over": None, "covers": "9 3", "across": "6 3 1.5 3", "removes": "1.5 4",
}  # fmt: skip

LeadsTo = Callable[[str], "str | None"]


def stratigraphy_picture(
    found: Stratigraphy, *, of: str, key: str, leads_to: LeadsTo, when_of: WhenOf
) -> Svg | None:
    """The picture; None where nothing stands on the painting or its parts."""
    if not found.beds:
        return None
    spots, wide, high = laid_out(found)
    title = table("strata")["title"].format(of=of)
    ringed = {bed for circle in found.circles for bed in circle}
    lines = [_line(each, found, spots, lane, key) for each, lane in _lanes(found, spots)]
    lines += _stubs(found, spots)
    boxes = [
        _box(bed, found, spots[bed.id], leads_to, when_of, ringed=bed.id in ringed)
        for bed in in_order(found)
    ]
    legend, height = _legend(found, wide, high, key)
    return element(
        "svg", element("title", title), _heads(key), *lines, *boxes, legend,
        xmlns="http://www.w3.org/2000/svg", role="group", aria_label=title,
        class_="strata wide" if wide > _NARROW else "strata",
        viewBox=f"0 0 {wide:g} {height:g}", width=wide, font_size=13,
        font_family="system-ui, sans-serif", fill="currentColor",
    )  # fmt: skip


# --- drawing ----------------------------------------------------------------------------------------


def _heads(key: str) -> Svg:
    """The head of a line, and the hatch of a bearer."""
    arrow = element("path", d="M0 0 L7 3.5 L0 7 Z", fill="currentColor")
    marker = element(
        "marker", arrow, id=f"{key}-head", viewBox="0 0 7 7", refX=7, refY=3.5, markerWidth=8,
        markerHeight=8, orient="auto", markerUnits="userSpaceOnUse",
    )  # fmt: skip
    line = element("path", d="M0 6 L6 0", stroke="currentColor", stroke_width=0.5, opacity=0.5)
    pattern = element(
        "pattern", line, id=f"{key}-ground", width=6, height=6, patternUnits="userSpaceOnUse"
    )
    return element("defs", marker, pattern)


def _lanes(found: Stratigraphy, spots: Mapping[str, Spot]) -> Iterator[tuple[Over, int]]:
    """What lies over what, each with a lane of its own among those that leave or reach one box."""
    taken: dict[str, int] = {}
    near = (each for each in found.overs if spots[each.upper].shelf == spots[each.lower].shelf)
    for each in sorted(near, key=lambda over: -spots[over.upper].top):
        lane = max(taken.get(each.upper, 0), taken.get(each.lower, 0))
        taken[each.upper] = taken[each.lower] = lane + 1
        yield each, lane % _LANES


def _line(
    over: Over, found: Stratigraphy, spots: Mapping[str, Spot], lane: int, key: str
) -> Svg:
    upper, lower = spots[over.upper], spots[over.lower]
    against = over in found.against
    drawn = [
        element(
            "path", d=_way(upper, lower, lane, against=against), fill="none", stroke="currentColor",
            stroke_width=1.4, stroke_dasharray="2 2" if against else _DASHES[over.how],
            marker_end=f"url(#{key}-head)",
        )
    ]  # fmt: skip
    return element("g", *drawn, class_="against" if against else "over", aria_hidden="true")


def _way(upper: Spot, lower: Spot, lane: int, *, against: bool) -> str:
    """Straight down to what lies next below; else down in the gap beside the boxes between."""
    if against or lower.top <= upper.bottom:
        right = max(upper.left + upper.wide, lower.left + lower.wide) + 12 + 3 * lane
        return (
            f"M{upper.left + upper.wide:g} {upper.top + 14 + 5 * lane:g} H{right:g} "
            f"V{lower.top + 34 + 4 * lane:g} H{lower.left + lower.wide:g}"
        )
    if lower.top - upper.bottom < upper.high:
        begin = upper.middle - 16 + 8 * lane
        return f"M{begin:g} {upper.bottom:g} L{_within(begin, lower):g} {lower.top:g}"
    beside = 1 if lower.middle >= upper.middle else -1
    down = upper.middle + beside * (upper.wide / 2 + 4 + 4 * lane)
    end = _within(down - beside * (16 + 8 * lane), lower)
    return (
        f"M{upper.middle + beside * (20 + 8 * lane):g} {upper.bottom:g} v{5 + 4 * lane:g} "
        f"H{down:g} V{lower.top - 9 - 4 * lane:g} H{end:g} V{lower.top:g}"
    )


def _within(x: float, spot: Spot) -> float:
    """The place on the upper edge of a box that is nearest to `x`, away from its corners."""
    return min(max(x, spot.left + 14), spot.left + spot.wide - 14)


def _stubs(found: Stratigraphy, spots: Mapping[str, Spot]) -> Iterator[Svg]:
    """Where something lies over what stands on another shelf: the beginning of a line, and its names."""
    for bed in found.beds:
        here = spots[bed.id]
        far = [
            each.lower for each in found.below(bed.id) if spots[each.lower].shelf != here.shelf
        ]
        if far:
            names = [found.bed(each).called or named(found.bed(each)) for each in far]
            yield _stub(here, short(f"→ {', '.join(names)}", _LETTERS))


def _stub(upper: Spot, said: str) -> Svg:
    return element(
        "g",
        element("path", d=f"M{upper.left + 14:g} {upper.bottom:g} v10", stroke="currentColor",
                stroke_width=1.4),
        element("text", said, x=upper.left + 20, y=upper.bottom + 13, font_size=11),
        class_="over", aria_hidden="true",
    )  # fmt: skip


def _box(
    bed: Bed,
    found: Stratigraphy,
    spot: Spot,
    leads_to: LeadsTo,
    when_of: WhenOf,
    *,
    ringed: bool,
) -> Svg:
    said = sentence(bed, found, when_of)
    told = [element("title", said), *_inside(bed, spot, when_of, ringed=ringed)]
    href = leads_to(bed.id)
    if href:
        return element("a", *told, href=href, aria_label=said, class_="bed")
    return element("g", *told, role="img", aria_label=said, class_="bed")


def _inside(bed: Bed, spot: Spot, when_of: WhenOf, *, ringed: bool) -> Iterator[Svg]:
    gone = _gone(bed)
    yield element(
        "rect", x=spot.left, y=spot.top, width=spot.wide, height=spot.high, rx=2, fill="white",
        stroke="currentColor", stroke_width=0.8 if gone else 1.6, class_="paper",
        stroke_dasharray="3 3" if gone else None,
    )  # fmt: skip
    if bed.bearer is None:
        most = int(spot.wide / 8)
        name = short(named(bed), most)
        yield element("text", name, x=spot.left + 8, y=spot.top + 17, font_weight=600)
        years = in_short(when_of(bed.id))
        yield element("text", years, x=spot.left + 8, y=spot.top + 32, font_size=11)
        return
    x = spot.left + 8
    if ringed:
        yield _warning(spot.left + spot.wide - 18, spot.top + 5)
    yield element("text", bed.called, x=x, y=spot.top + 18, font_weight=600, class_="words")
    yield element("text", short(bed.words, _LETTERS), x=x, y=spot.top + 34, font_size=12)
    below = " · ".join(filter(None, (in_short(when_of(bed.id)), _gone(bed))))
    yield element("text", short(below, _SMALL_LETTERS), x=x, y=spot.top + 50, font_size=11)


def _gone(bed: Bed) -> str:
    """That it is no longer there, in words; "" where it is."""
    if bed.state and within(bed.state, *table("map")["gone_states"]):
        return label(bed.state)
    return ""


def _warning(x: float, y: float) -> Svg:
    return element(
        "g",
        element("path", d=f"M{x + 6:g} {y:g} l6 11 h-12 Z", fill="none", stroke="currentColor",
                stroke_width=1.6, stroke_linejoin="round"),
        element("path", d=f"M{x + 6:g} {y + 4:g} v3.5 m0 1.2 v1", stroke="currentColor",
                stroke_width=1.4),
        class_="at-odds",
    )  # fmt: skip


def _legend(found: Stratigraphy, wide: float, top: float, key: str) -> tuple[Svg, float]:
    words: dict[str, Any] = table("strata")["legend"]
    used = {each.how for each in found.overs if each not in found.against}
    signs: list[str] = [name for name in _DASHES if name in used]
    if found.circles:
        signs.append("circle")
    in_a_row = max(1, int(wide // 180))
    drawn = []
    for number, name in enumerate(signs):
        x, y = 16 + number % in_a_row * 180.0, top + number // in_a_row * _LEGEND
        line = element(
            "path", d=f"M{x:g} {y + 8:g} h26", stroke="currentColor", stroke_width=1.4,
            stroke_dasharray=_DASHES.get(name, "2 2"), marker_end=f"url(#{key}-head)",
        )  # fmt: skip
        sign = together([line]) if name != "circle" else together([line, _warning(x + 30, y)])
        beside = x + (48 if name == "circle" else 34)
        drawn.append(element("g", sign, element("text", words[name], x=beside, y=y + 12)))
    bottom = top + -(-len(signs) // in_a_row) * _LEGEND + 4
    return element("g", *drawn, class_="legend", font_size=11.5), bottom
