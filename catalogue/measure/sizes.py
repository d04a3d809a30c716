"""Sizes as people write them → millimetres: which measure each figure is, and of what.

Height comes first unless the words say otherwise; a third figure is the depth. A figure without a
unit takes the one that follows it, else the one before; where no unit is written nothing is guessed.
Words and signs are in vocab/sizes.toml. A size given twice, in inches and in centimetres, is two
sizes, as written. A French number ("12 F") is the size that the table has for it.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import accumulate
from typing import Final

from catalogue.measure import canvas_sizes
from catalogue.measure.figures import Refusal
from catalogue.measure.size_rows import Cell, Cursor, Row, take_order, take_row
from catalogue.measure.size_words import Piece, pieces, table
from catalogue.measure.words import any_of, plain

_ORDER: Final = ("height", "width", "depth")
_LENGTH: Final = ("width", "height", "depth")
"""What a length is: the first of these that no other figure of its size is."""
_LARGEST_MM: Final = 100_000
_YEAR_IN_INCHES_MM: Final = 25_400
_LARGEST_FEET_MM: Final = 10_000
_SAME: Final = Fraction(1, 30)
"""So much, of itself, a size may differ from the same in other units: inches are rounded to a half."""


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


class _Refused(Exception):
    """A row of figures with a unit that cannot be a size."""


@dataclass(frozen=True, slots=True)
class _Around:
    """What the words around a size say; what was understood of them reaches from `start` to `end`."""

    start: int
    end: int
    what: str | None = None
    order: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    unit: str | None = None


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
    before: list[Piece] = []
    order: tuple[str, ...] = ()
    while cursor.at < len(cursor.pieces):
        begin = cursor.at
        if given := take_order(cursor):
            order = given
            before += cursor.pieces[begin : cursor.at]
        elif cursor.peek().remark != "about" and (row := take_row(cursor)):
            rows = [row, *_rows_again(cursor, row)]
            around = _behind(cursor, _before(before, row.start, order))
            if before and before[-1].text in ("(", "[") and cursor.take_text(")", "]"):
                start = min(around.start, before[-1].start)
                around = replace(around, start=start, end=cursor.peek(-1).end)
            found += _sizes(text, rows, around)
            before, order = [], ()
        else:
            before.append(cursor.peek())
            if not before[-1].known or before[-1].text == ";":
                before, order = [], ()
            cursor.at += 1
    return _with_named(text, found)


def _with_named(text: str, found: list[WrittenSize | Refusal]) -> list[WrittenSize | Refusal]:
    """What was found and the sizes that are written by number where nothing was, in order."""
    taken = [
        each.said if isinstance(each, WrittenSize) else (each.start, each.end) for each in found
    ]
    ends = list(accumulate((end for _, end in taken), max))
    free = []
    for size in _named(text):
        place = bisect_right(ends, size.start)
        if place == len(taken) or size.end <= taken[place][0]:
            free.append(size)
    return sorted((*found, *free), key=lambda each: each.start)


def _rows_again(cursor: Cursor, row: Row) -> Iterator[Row]:
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
    units = _units(row.cells, row.unit) or []
    found = [cell.millimetres(unit) for cell, unit in zip(row.cells, units, strict=False)]
    return [each[0] for each in found if each] if all(found) else []


def _metric(row: Row) -> bool | None:
    """Whether the last unit of a row is a metric one, None where it has none."""
    *_, last = (row.unit, *(cell.unit for cell in row.cells if cell.unit))
    return last in ("mm", "cm", "m") if last else None


def _before(heard: list[Piece], start: int, order: tuple[str, ...]) -> _Around:
    """What the known words right before a size say of it; a word too far off ends them."""
    what: str | None = None
    remarks: list[str] = []
    signs = ""
    for piece in reversed(heard):
        if piece.what and not (what or _near_enough(piece, signs)):
            break
        if piece.what or piece.remark or (piece.measure and order):
            start = piece.start
        what = what or piece.what
        remarks = [piece.remark, *remarks] if piece.remark and not piece.what else remarks
        signs += piece.text
    return _Around(start, start, what, order, tuple(remarks))


def _near_enough(piece: Piece, signs: str) -> bool:
    """Whether a word for what was measured belongs to the figures behind these signs."""
    if piece.firmness == "loose":
        return True
    if piece.firmness == "near":
        return "," not in signs or ":" in signs
    return "," not in signs and any(sign in signs for sign in ":=()")


def _behind(cursor: Cursor, around: _Around) -> _Around:
    """The words behind a size that belong to it and not to the next; the cursor moves behind them."""
    while True:
        start = cursor.at
        sign = cursor.take_text("(", "[", ",", ";")
        bracket = sign if sign and sign.text in ("(", "[") else None
        order = take_order(cursor)
        unit = None if order else _unit_behind(cursor, bracket)
        word = None if order or unit else cursor.take(lambda piece: piece.what or piece.remark)
        if not (order or unit or word) or not _ends_here(cursor, sign):
            cursor.at = start
            return replace(around, end=cursor.peek(-1).end)
        around = replace(
            around,
            order=around.order or order,
            unit=around.unit or unit,
            what=around.what or (word.what if word else None),
            remarks=(*around.remarks, word.remark) if word and word.remark else around.remarks,
        )


def _unit_behind(cursor: Cursor, bracket: Piece | None) -> str | None:
    """The unit of "65 x 81 (cm)" and "H. 65 ; L. 81 ; en cm"."""
    start = cursor.at
    preposition = cursor.take_text("in", "en")
    found = cursor.take(lambda piece: piece.unit)
    if found and (bracket or preposition):
        return found.unit
    cursor.at = start
    return None


def _ends_here(cursor: Cursor, sign: Piece | None) -> bool:
    """Whether what was taken behind this sign closes, and does not lead on to the next size."""
    if sign and sign.text in ("(", "["):
        while cursor.take(lambda piece: piece.what or piece.remark or piece.is_join):
            pass
        return cursor.take_text(")", "]") is not None
    # "61 x 50 cm framed, 80 x 70 cm" is framed; "61 x 50 cm, framed, 80 x 70 cm" leads on.
    ahead = 1 if cursor.peek().text == "(" or (sign and cursor.peek().text == ",") else 0
    following, beyond = cursor.peek(), cursor.peek(ahead)
    leads_on = beyond.is_figure or beyond.measure or following.text in (":", "=")
    return not (leads_on or following.what or following.remark)


def _sizes(text: str, rows: list[Row], around: _Around) -> Iterator[WrittenSize | Refusal]:
    """The sizes of rows that give one size in several units; a repetition has the first's measures."""
    names: list[str] | None = None
    for row in rows:
        for cells in filter(None, (row.cells, row.again)):
            try:
                units = _units(cells, row.unit or around.unit)
                names = _names(cells, around, names) if units else None
                if units is None or names is None:
                    continue
                measures, within = _measured(cells, units, names)
                if "square" in around.remarks and list(measures) == ["height"]:
                    measures["width"] = measures["height"]
            except _Refused as refused:
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


def _units(cells: tuple[Cell, ...], said: str | None) -> list[str] | None:
    """A unit for every figure: its own, that of the next, that of the one before; None without any."""
    units = [cell.unit for cell in cells]
    for place in range(len(units) - 2, -1, -1):
        units[place] = units[place] or units[place + 1]
    for place, unit in enumerate(units):
        units[place] = unit or (units[place - 1] if place else None) or said
    return [unit for unit in units if unit] if all(units) else None


def _names(
    cells: tuple[Cell, ...], around: _Around, before: list[str] | None
) -> list[str] | None:
    """The measure that each figure is, None where a lone figure does not say it."""
    named = [cell.measure for cell in cells]
    if not any(named) and before and len(before) == len(named):
        return before
    if len(cells) == 1 and not named[0]:
        alone = {"round": "diameter", "square": "height"}
        return next(([alone[each]] for each in around.remarks if each in alone), None)
    if len(cells) == 1 and _is_unclear(cells[0]):
        return None
    if len(cells) > len(_ORDER) and not all(named):
        raise _Refused("a size has at most a height, a width and a depth")
    free = [each for each in around.order or _ORDER if each not in named]
    names = [name or (free.pop(0) if free else "") for name in named]
    names = [
        name if name != "length" else next((each for each in _LENGTH if each not in names), "")
        for name in names
    ]
    if len(set(names)) < len(names) or "" in names:
        raise _Refused("the same measure is given twice")
    return names


def _is_unclear(cell: Cell) -> bool:
    """Whether a lone figure does not say its measure: d. 30 cm; and T2 is the number of something."""
    is_code = len(cell.word) == 1 and cell.word.isascii() and cell.figure_at == cell.start + 1
    return is_code or plain(cell.word) in table()["unclear_alone"]


def _measured(
    cells: tuple[Cell, ...], units: list[str], names: list[str]
) -> tuple[dict[str, float], float]:
    """Millimetres by measure, and how exactly the figures are written."""
    measures: dict[str, float] = {}
    steps: list[Fraction] = []
    for cell, unit, name in zip(cells, units, names, strict=True):
        found = cell.millimetres(unit)
        if found is None:
            written = f"{cell.number}-{cell.until}" if cell.until else cell.number
            raise _Refused(f"{written} is no number: write it again")
        mm, step = found
        if unit in ("in", "ft") and mm >= _YEAR_IN_INCHES_MM:
            raise _Refused("a thousand inches and more: is it a year?")
        if not 0 < mm <= _LARGEST_MM:
            raise _Refused("a size is more than nothing and at most 100 metres")
        measures[name] = round(float(mm), 2)
        steps.append(step)
    return measures, round(float(min(steps) / 2), 4)


def _doubt(units: list[str], measures: dict[str, float]) -> str:
    huge = "ft" in units and max(measures.values()) > _LARGEST_FEET_MM
    return table()["doubt"]["feet"] if huge else ""


@cache
def _french_number() -> re.Pattern[str]:
    """A French number with its format ("12 F", "No. 12 figure"), or with the word canvas before it."""
    french = canvas_sizes.table()["french"]
    words = any_of(word for row in french["format"].values() for word in row["words"])
    sure, lead = any_of(french["sure"]), any_of(french["lead"])
    return re.compile(
        rf"(?:(?<!\w)(?:(?P<sure>(?i:{sure}))|(?P<lead>(?i:{lead})))\s?|(?<![\w.,:/£$€…-]))"
        rf"(?P<number>[0-9]{{1,3}})(?![0-9])"
        rf"(?:\s?(?:(?P<word>(?i:{words}))|(?P<letter>[{''.join(french['format'])}])(?!\.\s?\w)))?"
        r"(?![\w…]|[.,/:-][0-9]|\s?[x×]\s?[0-9]|\s[0-9])"
    )


def _named(text: str) -> Iterator[WrittenSize]:
    """The sizes that are written by their French number."""
    formats = canvas_sizes.table()["french"]["format"]
    doubts = table()["doubt"]
    for m in _french_number().finditer(text):
        if not (m["sure"] or m["word"] or m["letter"]):
            continue
        letters = [m["letter"]] if m["letter"] else list(formats)
        if m["word"]:
            word = plain(m["word"])
            letters = [key for key, row in formats.items() if word in map(plain, row["words"])]
        sizes = [canvas_sizes.french_size(int(m["number"]), letter) for letter in letters]
        size = sizes[0]
        if size is None:
            continue
        height, width = (
            (size.long_mm, size.short_mm) if size.upright else (size.short_mm, size.long_mm)
        )
        doubt = doubts["number"] if not (m["sure"] or (m["lead"] and m["word"])) else ""
        yield WrittenSize(
            what=None,
            height_mm=height,
            width_mm=width,
            within_mm=float(canvas_sizes.table()["tolerance"]["modern_mm"]),
            written=m[0],
            start=m.start(),
            end=m.end(),
            said=m.span(),
            canvas=tuple(each.name for each in sizes if each),
            doubt=doubts["format"] if len(sizes) > 1 else doubt,
        )
