"""Sizes as people write them → millimetres: which measure each figure is, and of what.

Height comes first unless the words say otherwise; a third figure is the depth. A figure without a
unit takes the one that follows it, else the one before; where no unit is written nothing is guessed.
Words and signs are in vocab/sizes.toml. A size given twice, in inches and in centimetres, is two
sizes, as written. A French number ("12 F") is the size that the table has for it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Final

from catalogue.measure import canvas_sizes
from catalogue.measure.canvas_numbers import CanvasNumber, find_canvas_numbers
from catalogue.measure.figures import Refusal
from catalogue.measure.size_context import Around, before, behind
from catalogue.measure.size_measures import NoSize, measured, names_of, rows_again, units_of
from catalogue.measure.size_rows import Cursor, Row, take_order, take_row
from catalogue.measure.size_words import Piece, pieces, table

_LARGEST_FEET_MM: Final = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenSize:
    """One size found in a text: its measures in mm, what was measured, and where it stands.

    `what` is a name of the group "size" in vocab/terms, None where the text doesn't say.
    `within_mm` is the precision that the writing implies: half of the smallest step that its figures
    can tell apart. `written` is the text from `start` to `end`; `said` spans the words around it that
    were understood too. `canvas` are the named sizes that were written instead of figures, the
    likeliest first; `remarks` are words such as "oval"; `doubt` says why it may be no size.
    """

    what: str | None
    height_mm: float | None = None
    width_mm: float | None = None
    depth_mm: float | None = None
    diameter_mm: float | None = None
    within_mm: float
    written: str
    start: int
    end: int
    said: tuple[int, int]
    canvas: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    doubt: str = ""


def read_sizes(text: str) -> tuple[WrittenSize, ...]:
    """The sizes in a text, in its order; an empty tuple when there is none to be sure of.

    >>> [(size.height_mm, size.width_mm) for size in read_sizes("63,5 × 76,2 cm")]
    [(635.0, 762.0)]
    >>> [size.what for size in read_sizes("24 x 20 in.; framed 30 1/4 x 26 in.")]
    [None, 'framed']
    >>> read_sizes("25 1/8 x 30 in.")[0].within_mm
    1.5875
    """
    return tuple(found for found in _read(text) if isinstance(found, WrittenSize))


def sizes_refused(text: str) -> tuple[Refusal, ...]:
    """What looks like a size in a text and cannot be one, with the reason.

    >>> sizes_refused("25 17/0 x 30 in.")[0].why
    '25 17/0 is no number: write it again'
    """
    return tuple(found for found in _read(text) if isinstance(found, Refusal))


def _read(text: str) -> list[WrittenSize | Refusal]:
    """Rows of figures, each with the known words that stand right before it and behind it."""
    found: list[WrittenSize | Refusal] = []
    cursor = Cursor(tuple(pieces(text)))
    heard: list[Piece] = []
    order: tuple[str, ...] = ()
    while cursor.at < len(cursor.pieces):
        begin = cursor.at
        if given := take_order(cursor):
            order = given
            heard += cursor.pieces[begin : cursor.at]
        elif cursor.peek().remark != "about" and (row := take_row(cursor)):
            rows = [row, *rows_again(cursor, row)]
            around = behind(cursor, before(heard, row.start, order))
            found += _sizes(text, rows, _with_brackets(cursor, heard, around))
            heard, order = [], ()
        else:
            heard.append(cursor.peek())
            if not heard[-1].known or heard[-1].text == ";":
                heard, order = [], ()
            cursor.at += 1
    return _with_named(text, found)


def _with_brackets(cursor: Cursor, heard: list[Piece], around: Around) -> Around:
    """What is around a size that stands in brackets, with these."""
    if heard and heard[-1].text in ("(", "[") and cursor.take_text(")", "]"):
        return replace(
            around, start=min(around.start, heard[-1].start), end=cursor.peek(-1).end
        )
    return around


def _with_named(text: str, found: list[WrittenSize | Refusal]) -> list[WrittenSize | Refusal]:
    """What was found and the sizes that are written by number where nothing was, in order."""
    taken = [
        each.said if isinstance(each, WrittenSize) else (each.start, each.end) for each in found
    ]
    ends = list(accumulate((end for _, end in taken), max))
    named: list[WrittenSize] = []
    for number in find_canvas_numbers(text):
        place = bisect_right(ends, number.start)
        if place == len(taken) or number.end <= taken[place][0]:
            named.append(_by_number(number))
    return sorted((*found, *named), key=lambda each: each.start)


def _by_number(number: CanvasNumber) -> WrittenSize:
    """The size that a French number names, with its long side as it usually stands."""
    size = number.sizes[0]
    long, short = size.long_mm, size.short_mm
    return WrittenSize(
        what=None,
        height_mm=long if size.upright else short,
        width_mm=short if size.upright else long,
        within_mm=float(canvas_sizes.table()["tolerance"]["modern_mm"]),
        written=number.written,
        start=number.start,
        end=number.end,
        said=(number.start, number.end),
        canvas=tuple(each.name for each in number.sizes),
        doubt=table()["doubt"][number.doubt] if number.doubt else "",
    )


def _sizes(text: str, rows: list[Row], around: Around) -> Iterator[WrittenSize | Refusal]:
    """The sizes of rows that give one size in several units; a repetition has the first's measures."""
    names: list[str] | None = None
    for row in rows:
        for cells in filter(None, (row.cells, row.again)):
            try:
                units = units_of(cells, row.unit or around.unit)
                names = names_of(cells, around, names) if units else None
                if units is None or names is None:
                    continue
                measures, within = measured(cells, units, names)
                if "square" in around.remarks and list(measures) == ["height"]:
                    measures["width"] = measures["height"]
            except NoSize as refused:
                yield Refusal(text[row.start : row.end], row.start, row.end, str(refused))
                continue
            yield WrittenSize(
                what=around.what or row.what,
                height_mm=measures.get("height"),
                width_mm=measures.get("width"),
                depth_mm=measures.get("depth"),
                diameter_mm=measures.get("diameter"),
                within_mm=within,
                written=text[row.start : row.end],
                start=row.start,
                end=row.end,
                said=(around.start, max(around.end, row.end)),
                remarks=around.remarks,
                doubt=_doubt(units, measures),
            )


def _doubt(units: list[str], measures: dict[str, float]) -> str:
    """What is asked where a sign for feet makes a picture of more than ten metres."""
    huge = "ft" in units and max(measures.values()) > _LARGEST_FEET_MM
    return table()["doubt"]["feet"] if huge else ""
