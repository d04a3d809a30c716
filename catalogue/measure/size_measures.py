"""The figures of a row → millimetres, each the measure that it is; and whether two rows are one size."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from catalogue.measure.size_context import Around
from catalogue.measure.size_rows import Cell, Cursor, Row, take_row
from catalogue.measure.size_words import Piece, table
from catalogue.measure.words import plain

_ORDER: Final = ("height", "width", "depth")
_LENGTH: Final = ("width", "height", "depth")
"""What a length is: the first of these that no other figure of its size is."""
_LARGEST_MM: Final = 100_000
_YEAR_IN_INCHES_MM: Final = 25_400
_SAME: Final = Fraction(1, 30)
"""So much, of itself, a size may differ from the same in other units: inches are rounded to a half."""


class NoSize(Exception):
    """A row of figures with a unit that cannot be a size."""


def units_of(cells: tuple[Cell, ...], said: str | None) -> list[str] | None:
    """A unit for every figure: its own, that of the next, that of the one before; None without any."""
    units = [cell.unit for cell in cells]
    for place in range(len(units) - 2, -1, -1):
        units[place] = units[place] or units[place + 1]
    for place, unit in enumerate(units):
        units[place] = unit or (units[place - 1] if place else None) or said
    return [unit for unit in units if unit] if all(units) else None


def names_of(
    cells: tuple[Cell, ...], around: Around, before: list[str] | None
) -> list[str] | None:
    """The measure that each figure is, None where a lone figure does not say it.

    `before` are the names of the same size in other units. Raises `NoSize`.
    """
    named = [cell.measure for cell in cells]
    if not any(named) and before and len(before) == len(named):
        return before
    if len(cells) == 1 and not named[0]:
        alone = {"round": "diameter", "square": "height"}
        return next(([alone[each]] for each in around.remarks if each in alone), None)
    if len(cells) == 1 and _is_unclear(cells[0]):
        return None
    if len(cells) > len(_ORDER) and not all(named):
        raise NoSize("a size has at most a height, a width and a depth")
    free = [each for each in dict.fromkeys((*around.order, *_ORDER)) if each not in named]
    names = [name or (free.pop(0) if free else "") for name in named]
    names = [
        name if name != "length" else next((each for each in _LENGTH if each not in names), "")
        for name in names
    ]
    if len(set(names)) < len(names) or "" in names:
        raise NoSize("the same measure is given twice")
    return names


def _is_unclear(cell: Cell) -> bool:
    """Whether a lone figure does not say its measure: d. 30 cm; and T2 is the number of something."""
    is_code = len(cell.word) == 1 and cell.word.isascii() and cell.figure_at == cell.start + 1
    return is_code or plain(cell.word) in table()["unclear_alone"]


def measured(
    cells: tuple[Cell, ...], units: list[str], names: list[str]
) -> tuple[dict[str, float], float]:
    """Millimetres by measure, and how exactly the figures are written. Raises `NoSize`."""
    measures: dict[str, float] = {}
    steps: list[Fraction] = []
    for cell, unit, name in zip(cells, units, names, strict=True):
        found = cell.millimetres(unit)
        if found is None:
            written = f"{cell.number}-{cell.until}" if cell.until else cell.number
            raise NoSize(f"{written} is no number: write it again")
        mm, step = found
        if unit in ("in", "ft") and mm >= _YEAR_IN_INCHES_MM:
            raise NoSize("a thousand inches and more: is it a year?")
        if not 0 < mm <= _LARGEST_MM:
            raise NoSize("a size is more than nothing and at most 100 metres")
        measures[name] = round(float(mm), 2)
        steps.append(step)
    return measures, round(float(min(steps) / 2), 4)


def rows_again(cursor: Cursor, row: Row) -> Iterator[Row]:
    """The same size in other units behind a row: in brackets or behind a sign, or where it agrees."""
    while row.has_unit:
        start = cursor.at
        sign = cursor.take_text("(", "[", "=", "/", "|", ";", ",")
        again = take_row(cursor)
        if again is None or not again.has_unit or not _same_size(row, again, sign):
            cursor.at = start
            return
        if sign and sign.text in ("(", "[") and not cursor.take_text(")", "]"):
            cursor.at = start
            return
        yield again


def _same_size(row: Row, again: Row, sign: Piece | None) -> bool:
    """Whether a second row only says the first again: by its sign, or by its millimetres."""
    if sign and sign.text in ("(", "[", "=", "/", "|"):
        return True
    ours, theirs = _plain_mm(row), _plain_mm(again)
    return (
        len(ours) == len(theirs) > 0
        and _metric(row) is not _metric(again)
        and all(
            abs(one - other) <= _SAME * max(one, other)
            for one, other in zip(ours, theirs, strict=True)
        )
    )


def _plain_mm(row: Row) -> list[Fraction]:
    """The millimetres of a row in its order, [] where one of them has none."""
    units = units_of(row.cells, row.unit) or []
    found = [cell.millimetres(unit) for cell, unit in zip(row.cells, units, strict=False)]
    return [each[0] for each in found if each] if all(found) else []


def _metric(row: Row) -> bool | None:
    """Whether the last unit of a row is a metric one, None where it has none."""
    *_, last = (row.unit, *(cell.unit for cell in row.cells if cell.unit))
    return last in ("mm", "cm", "m") if last else None
