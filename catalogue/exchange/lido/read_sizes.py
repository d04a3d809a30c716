"""The measures of a LIDO record in millimetres: from figures and units, else from the words shown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from catalogue.exchange.lido.source import Piece
from catalogue.exchange.lido.taken import Taking, day_of
from catalogue.measure import read_sizes
from catalogue.places import table
from catalogue.record import Size

_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


def sizes(taking: Taking, wrap: Piece) -> tuple[Size, ...]:
    """The sets of measures; what stands in several sets of one thing belongs together."""
    found: list[Size] = []
    for each in wrap.each("objectMeasurementsWrap", "objectMeasurementsSet"):
        shown = next(each.each("displayObjectMeasurements"), None)
        text = shown.text() if shown else ""
        measured = dict(_measured(each))
        what = _what(each, text)
        if measured:
            if shown and not taking.ours and not _same_figures(text, each):
                shown.read.discard(shown.element)
            own = shown.analog()[1] if shown and taking.ours else None
            size = Size(
                id=own
                or taking.ids.of("size", what or "", *map(str, sorted(measured.items()))),
                what=what or "size/support",
                on=day_of(text) if own else None,
                **measured,
            )
            if not own and found and _belong_together(found[-1], size):
                found[-1] = _joined(found[-1], size)
            else:
                found.append(size)
        else:
            found += _as_written(taking, text, what)
        if what is None and (measured or text):
            taking.remarks.append(str(table("lido.toml")["arriving"]["size_of_what"]))
    return tuple(found)


def _measured(piece: Piece) -> Iterator[tuple[str, Any]]:
    """Each measure that can be told, in millimetres."""
    words = table("lido.toml")
    measures = {word: name for name, listed in words["measures"].items() for word in listed}
    for each in piece.each("objectMeasurements", "measurementsSet"):
        kind, unit = each.one("measurementType"), each.one("measurementUnit")
        value = each.one("measurementValue")
        if kind is None or unit is None or value is None:
            continue
        dimension = kind.concept("dimension")
        name = (
            f"{dimension.partition('/')[2]}_mm"
            if dimension
            else measures.get(kind.words().casefold())
        )
        known_unit = unit.concept("unit")
        per_unit = words["units"].get(
            known_unit.partition("/")[2] if known_unit else unit.words().casefold()
        )
        figure = _NUMBER.fullmatch(str(value.element.text or "").strip())
        if name not in Size.__dataclass_fields__ or not per_unit or not figure:
            for untold in (kind, unit, value):
                untold.read.discard(untold.element)
            continue
        for told in (kind, unit, value):
            told.whole()
        mm = round(float(figure[0].replace(",", ".")) * per_unit, 4)
        yield name, int(mm) if mm == int(mm) else mm


def _same_figures(text: str, piece: Piece) -> bool:
    """Whether the words shown have no other figures than the measures beside them."""
    values = set(piece.every("objectMeasurements", "measurementsSet", "measurementValue"))
    figures = set(_NUMBER.findall(text))
    return bool(figures) and figures <= {each.replace(".", ",") for each in values} | values


def _what(piece: Piece, text: str) -> str | None:
    """What was measured: by the extent, else by the words shown."""
    listed = table("lido.toml")["extents"]
    for each in piece.each("objectMeasurements", "extentMeasurements"):
        key: str | None = each.concept("size") or listed.get(each.words().casefold())
        if key:
            return key
        each.read.discard(each.element)
    written = next((size.what for size in read_sizes(text) if size.what), None)
    return f"size/{written}" if written else None


def _as_written(taking: Taking, text: str, what: str | None) -> list[Size]:
    return [
        Size(
            id=taking.ids.of("size", each.written),
            what=f"size/{each.what}" if each.what else what or "size/support",
            height_mm=each.height_mm,
            width_mm=each.width_mm,
            depth_mm=each.depth_mm,
            diameter_mm=each.diameter_mm,
        )
        for each in read_sizes(text)
        if not each.doubt
    ]


_MEASURES = ("height_mm", "width_mm", "depth_mm", "diameter_mm")


def _belong_together(one: Size, other: Size) -> bool:
    both = (
        (getattr(one, name) is None) or (getattr(other, name) is None) for name in _MEASURES
    )
    return one.what == other.what and all(both)


def _joined(one: Size, other: Size) -> Size:
    more = {
        name: getattr(other, name) for name in _MEASURES if getattr(other, name) is not None
    }
    return replace(one, **more)
