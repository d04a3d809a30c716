"""The words round a size: what was measured, in which order, and what belongs to the next size."""

from __future__ import annotations

from dataclasses import dataclass, replace

from catalogue.measure.size_rows import Cursor, take_order
from catalogue.measure.size_words import Piece


@dataclass(frozen=True, slots=True)
class Around:
    """What the words around a size say; what was understood of them reaches from `start` to `end`."""

    start: int
    end: int
    what: str | None = None
    order: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    unit: str | None = None


def before(heard: list[Piece], start: int, order: tuple[str, ...]) -> Around:
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
    return Around(start, start, what, order, tuple(remarks))


def _near_enough(piece: Piece, signs: str) -> bool:
    """Whether a word for what was measured belongs to the figures behind these signs."""
    if piece.firmness == "loose":
        return True
    if piece.firmness == "near":
        return "," not in signs or ":" in signs
    return "," not in signs and any(sign in signs for sign in ":=()")


def behind(cursor: Cursor, around: Around) -> Around:
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
