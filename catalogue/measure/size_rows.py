"""Figures that stand together as one size: 24 x 20 in., H. 61 cm; B. 50 cm, 2 ft 3 in x 18 in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from catalogue.measure.figures import Figure, figure
from catalogue.measure.size_words import Piece, table

_NOTHING: Final = Piece("", 0, 0)
_CLOSING: Final = {"(": ")", "[": "]"}


@dataclass(slots=True)
class Cursor:
    """A place in the pieces of a text that moves on as they are taken."""

    pieces: Sequence[Piece]
    at: int = 0

    def peek(self, ahead: int = 0) -> Piece:
        """The piece so far ahead; an empty one behind the end or before the start."""
        place = self.at + ahead
        return self.pieces[place] if 0 <= place < len(self.pieces) else _NOTHING

    def take(self, wanted: Callable[[Piece], object]) -> Piece | None:
        """The next piece if it is wanted, and move behind it; else None, and stay."""
        found = self.peek()
        if found is _NOTHING or not wanted(found):
            return None
        self.at += 1
        return found

    def take_text(self, *texts: str) -> Piece | None:
        """The next piece if it is one of these signs or words."""
        return self.take(lambda piece: piece.text.lower() in texts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One measure as written: its figure, its unit, the word for it, and it again in another unit.

    `feet` is the figure before the inches in 2 ft 3 in, `until` the second figure of 30-31 cm, `what`
    what is said of it beside the word for its measure.
    """

    number: str
    figure_at: int
    start: int
    end: int
    unit: str | None = None
    measure: str | None = None
    word: str = ""
    feet: str | None = None
    until: str | None = None
    what: str | None = None
    again: Cell | None = None

    def millimetres(self, unit: str) -> tuple[Fraction, Fraction] | None:
        """How many, and the smallest step that the writing tells apart; None where it is absurd."""
        first = figure(self.number, thousands=unit == "mm")
        last = figure(self.until, thousands=unit == "mm") if self.until else first
        feet = (
            figure(self.feet, thousands=False)
            if self.feet
            else Figure(Fraction(0), Fraction(1))
        )
        if first is None or last is None or feet is None or last.value < first.value:
            return None
        mm = Fraction(table()["millimetres"][unit])
        middle = (first.value + last.value) / 2 + 12 * feet.value
        return middle * mm, (first.step + last.value - first.value) * mm


@dataclass(frozen=True, slots=True)
class Row:
    """The measures of one size in the order in which they stand, and a unit said before them all."""

    cells: tuple[Cell, ...]
    start: int
    unit: str | None = None

    @property
    def has_unit(self) -> bool:
        """Whether any unit is written."""
        return bool(self.unit or any(cell.unit for cell in self.cells))

    @property
    def what(self) -> str | None:
        """What was measured, where it stands beside the word for a measure: H with frame: 61 cm."""
        return self.cells[0].what

    @property
    def end(self) -> int:
        """Where its last letter ends."""
        last = self.cells[-1]
        return max(last.end, last.again.end if last.again else 0)

    @property
    def again(self) -> tuple[Cell, ...]:
        """The same measures in another unit, where it stands in brackets behind each of them."""
        found = tuple(cell.again for cell in self.cells if cell.again)
        return found if len(found) == len(self.cells) else ()


def take_row(cursor: Cursor) -> Row | None:
    """The row of figures that begins here, None (and the cursor unmoved) where none begins."""
    start = cursor.at
    unit = _header(cursor)
    begin = cursor.pieces[start].start if unit else None
    first = _cell(cursor)
    if first is None:
        cursor.at = start
        return None
    cells, ends = [first], [cursor.at]
    what = cursor.pieces[start - 1].what if start else None
    while following := _joined(cursor, cells[-1], what):
        cells.append(following)
        ends.append(cursor.at)
    if (
        len(cells) > 1
        and not cells[-1].unit
        and cells[-2].unit
        and _counts_something(cursor.peek())
    ):
        cells.pop()
        cursor.at = ends[-2]
    if _is_list_mark(cells):
        cells[0] = replace(first, measure=None, word="", start=first.figure_at)
    return Row(tuple(cells), cells[0].start if begin is None else begin, unit)


def _counts_something(following: Piece) -> bool:
    """Whether a figure without a unit is so many of another thing, as in 62 mm x 14 threads."""
    return following.text.isalpha() and not following.known


def _is_list_mark(cells: list[Cell]) -> bool:
    """Whether the only word is a letter before the first figure, as in (b) 24 x 20 in."""
    words = [cell.word.strip(".").lower() for cell in cells]
    return len(cells) > 1 and not any(words[1:]) and len(words[0]) == 1 and words[0] != "h"


def take_order(cursor: Cursor) -> tuple[str, ...]:
    """The order that words such as "H x W" or "B x H x T" give; () where none stands here."""
    start = cursor.at
    named: list[str] = []
    while (word := cursor.take(lambda piece: piece.measure)) and word.measure:
        named.append(word.measure)
        if not (cursor.peek().is_by and cursor.peek(1).measure):
            break
        cursor.at += 1
    if len(named) < 2:
        cursor.at = start
        return ()
    return tuple(named)


def _header(cursor: Cursor) -> str | None:
    """The unit before its figures: "cm 65 x 81", "in cm: 65 x 81", "(mm) 650"."""
    start = cursor.at
    if cursor.peek(1).unit or cursor.peek(1).text in _CLOSING:
        cursor.take_text("in", "en")
    bracket = cursor.take_text(*_CLOSING)
    found = cursor.take(lambda piece: piece.unit and not piece.is_figure)
    closed = not bracket or cursor.take_text(_CLOSING[bracket.text])
    cursor.take_text(":", "=", ".")
    # A unit before figures is a metric one, as in "cm 65 x 81"; behind figures it is theirs.
    if (
        found
        and closed
        and (bracket or found.unit not in ("in", "ft"))
        and cursor.peek().is_figure
    ):
        return found.unit
    cursor.at = start
    return None


def _joined(cursor: Cursor, last: Cell, what: str | None) -> Cell | None:
    """The cell behind a sign for "by", or behind a comma where both have their own word.

    `what` is said of the first, and may be said again: "support height 61 cm support width 50 cm".
    """
    start = cursor.at
    cursor.take(_is_about)
    if cursor.take(lambda piece: piece.is_by):
        found = _cell(cursor)
        if found is None:
            cursor.at = start
        return found
    cursor.take(lambda piece: piece.is_join)
    cursor.take(lambda piece: piece.what and piece.what == what)
    found = _cell(cursor)
    if found and last.measure and found.measure and last.measure != found.measure:
        return found
    cursor.at = start
    return None


def _cell(cursor: Cursor) -> Cell | None:
    """One measure, as far as it is written: word, figure, unit, word, and again in brackets."""
    start = cursor.at
    cursor.take(_is_about)
    lead = _lead(cursor)
    unit_before = _header(cursor) if lead else None
    cursor.take(_is_about)
    number = cursor.take(lambda piece: piece.is_figure)
    if number is None:
        cursor.at = start
        return None
    first = lead or number
    cell = _with_unit(cursor, _bare(number))
    cell = replace(cell, start=first.start)
    cell = replace(cell, unit=cell.unit or unit_before)
    if lead:
        what = next((each.what for each in cursor.pieces[start : cursor.at] if each.what), None)
        cell = replace(cell, measure=lead.measure, word=lead.text, what=what)
    cell = _with_word(cursor, cell)
    if not cell.unit and (unit := cursor.take(lambda piece: piece.unit)):
        cell = replace(cell, unit=unit.unit, end=unit.end)  # 760 (width) mm
    again = _again(cursor, cell)
    return _with_word(cursor, replace(cell, again=again)) if again else cell


def _bare(number: Piece) -> Cell:
    return Cell(number=number.text, figure_at=number.start, start=number.start, end=number.end)


def _is_about(piece: Piece) -> bool:
    return piece.remark == "about"


def _lead(cursor: Cursor) -> Piece | None:
    """The word for a measure before its figure: H. or (H) or Height:"""
    start = cursor.at
    bracket = cursor.take_text("(")
    word = cursor.take(lambda piece: piece.measure)
    if word is None or (bracket and not cursor.take_text(")")):
        cursor.at = start
        return None
    _take_remark(cursor)
    while cursor.take_text(".", ":", "=", ","):
        pass
    return word


def _take_remark(cursor: Cursor) -> None:
    """Move behind the words between a word for a measure and its colon: H (max): or H with frame:"""
    start = cursor.at
    bracket = cursor.take_text("(")
    said = cursor.take(lambda piece: piece.what or piece.remark)
    if not said or (bracket and not cursor.take_text(")")) or cursor.peek().text != ":":
        cursor.at = start


def _with_unit(cursor: Cursor, cell: Cell) -> Cell:
    """The cell with what belongs to its figure: the end of a range, a unit, inches after feet."""
    if cursor.peek().text in ("-", "–", "—") and cursor.peek(1).is_figure:
        cursor.at += 2
        last = cursor.peek(-1)
        cell = replace(cell, until=last.text, end=last.end)
    unit = cursor.take(lambda piece: piece.unit)
    if unit is None:
        return cell
    cell = replace(cell, unit=unit.unit, end=unit.end)
    if not cell.until and unit.unit == "ft":
        return _with_inches(cursor, cell)
    if not cell.until and unit.unit == "m":
        return _with_centimetres(cursor, cell)
    return cell


def _with_inches(cursor: Cursor, cell: Cell) -> Cell:
    """2 ft 3 in; and 2 ft 3 where nothing else can be meant."""
    start = cursor.at
    cursor.take_text(",", "-", "–", "and", "&")
    number = cursor.take(lambda piece: piece.is_figure)
    inches = cursor.take(lambda piece: piece.unit == "in")
    if number and (inches or _ends(cursor.peek())):
        end = (inches or number).end
        return replace(cell, feet=cell.number, number=number.text, unit="in", end=end)
    cursor.at = start
    return cell


def _with_centimetres(cursor: Cursor, cell: Cell) -> Cell:
    """1 m 20, 0m61: two figures behind the metres are centimetres."""
    start = cursor.at
    number = cursor.take(lambda piece: piece.is_figure and len(piece.text) == 2)
    behind = cursor.take(lambda piece: piece.unit == "cm")
    closed = behind or _ends(cursor.peek()) or cursor.peek().is_join
    if number and closed and number.text.isdecimal() and cell.number.isdecimal():
        end = (behind or number).end
        return replace(cell, number=f"{cell.number}.{number.text}", end=end)
    cursor.at = start
    return cell


def _ends(following: Piece) -> bool:
    """Whether a figure that stands before this piece can only belong to what is before it."""
    return following.is_by or following is _NOTHING


def _with_word(cursor: Cursor, cell: Cell) -> Cell:
    """The cell with the word for its measure behind it: 61 cm high, 61 (H), 24 h."""
    if cell.measure:
        return cell
    start = cursor.at
    bracket = cursor.take_text("(", "[")
    word = cursor.take(lambda piece: piece.measure)
    if word and not bracket and _leads_on(cursor):
        word = None
    if word is None or (bracket and not cursor.take_text(_CLOSING[bracket.text])):
        cursor.at = start
        return cell
    return replace(cell, measure=word.measure, word=word.text, end=cursor.peek(-1).end)


def _leads_on(cursor: Cursor) -> bool:
    """Whether the word just taken belongs to what follows: 61 W. 50, 61 x 50 cm B x H, b) 61 x 50."""
    if cursor.peek().text == ")" and cursor.peek(1).is_figure:
        return True
    ahead = 0
    while cursor.peek(ahead).text in (":", ".", "="):
        ahead += 1
    following = cursor.peek(ahead)
    return following.is_figure or (following.is_by and bool(cursor.peek(ahead + 1).measure))


def _again(cursor: Cursor, cell: Cell) -> Cell | None:
    """The same measure in brackets, in another unit: 24 in. (61 cm)."""
    start = cursor.at
    bracket = cursor.take_text("(", "[") if cell.unit else None
    number = cursor.take(lambda piece: piece.is_figure) if bracket else None
    if bracket and number:
        found = _with_unit(cursor, _bare(number))
        if found.unit and found.unit != cell.unit and cursor.take_text(_CLOSING[bracket.text]):
            return replace(found, end=cursor.peek(-1).end)
    cursor.at = start
    return None
