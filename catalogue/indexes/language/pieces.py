"""A question cut into pieces: words, what stands in quotation marks, brackets, `-`, and `field:`.

Nothing is refused here. A quotation mark or a bracket counts only where a word may begin, so that
`24" x 36"`, `Coll.(ection)`, `S.W.7` and `http://…` stay words.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

QUOTES = '"“”„«»'
"""Signs that open and close what is sought word for word."""

MOST_LETTERS = 4_000
"""So much of a question is read: a pasted book must not stop the desk."""

What = Literal["word", "quoted", "unclosed", "open", "close", "minus", "field"]

_FIELD = re.compile(r"([^\W\d_][^\W_]*(?:[-_][^\W_]+)*):(?!//)")
_LOOKED_AHEAD = 60


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: `text` is the word, what stands in quotation marks, or the name before a colon.

    "unclosed" is quoted up to the end of the question. `alone` is whether a blank or the end follows.
    """

    what: What
    text: str
    start: int
    end: int
    alone: bool = True


def cleaned(typed: str) -> str:
    """What can be read of a text: composed, without control signs and halves of signs.

    >>> cleaned("Mu\\u0308ller\\x00 \\ud800")
    'Müller  '
    """
    kept = "".join(
        " " if unicodedata.category(sign) in ("Cc", "Cs") else sign
        for sign in typed[:MOST_LETTERS]
    )
    return unicodedata.normalize("NFC", kept)


def without_quotes(text: str) -> str:
    """A text on one line without quotation marks, which could not be typed within others."""
    return " ".join("".join(" " if sign in QUOTES else sign for sign in text).split())


def pieces(text: str) -> tuple[Piece, ...]:
    """The pieces of a question, in order.

    >>> [(each.what, each.text) for each in pieces('kind:label -"two words" (S.W.7)')]
    ... # doctest: +NORMALIZE_WHITESPACE
    [('field', 'kind'), ('word', 'label'), ('minus', '-'), ('quoted', 'two words'), ('open', '('),
     ('word', 'S.W.7'), ('close', ')')]
    """
    return tuple(_pieces(text))


def _pieces(text: str) -> Iterator[Piece]:
    at, size = 0, len(text)
    while at < size:
        sign = text[at]
        if sign.isspace():
            at += 1
        elif sign in "()":
            yield Piece("open" if sign == "(" else "close", sign, at, at + 1)
            at += 1
        elif sign in QUOTES:
            end = next((i for i in range(at + 1, size) if text[i] in QUOTES), size)
            what: What = "quoted" if end < size else "unclosed"
            yield Piece(what, text[at + 1 : end], at, min(end + 1, size))
            at = end + 1
        elif sign in "-−" and at + 1 < size and _may_be_left_out(text[at + 1]):
            yield Piece("minus", sign, at, at + 1)
            at += 1
        elif found := _FIELD.match(text, at):
            end = found.end()
            yield Piece("field", found[1], at, end, end == size or text[end].isspace())
            at = end
        else:
            end = _word_end(text, at)
            yield Piece("word", text[at:end], at, end)
            at = end


def _may_be_left_out(sign: str) -> bool:
    """Whether a `-` before it means "not": `-frame`, `-"on loan"`, but not `--` or a dash alone."""
    return sign.isalnum() or sign in QUOTES or sign in "([*?<"


def _word_end(text: str, start: int) -> int:
    """Where a word ends: at a blank, or at a bracket that it does not hold both ends of."""
    at, size = start, len(text)
    while at < size and not text[at].isspace():
        if text[at] == "(":
            closed = _closed(text, at) if at > start else None
            if closed is None:
                return max(at, start + 1)
            at = closed
        elif text[at] == ")":
            return max(at, start + 1)
        at += 1
    return at


def _closed(text: str, start: int) -> int | None:
    """Where the bracket of a word is closed within it: `Coll.(ection)`, `+(2-3)`."""
    depth = 0
    for at in range(start, min(len(text), start + _LOOKED_AHEAD)):
        if text[at].isspace():
            return None
        depth += (text[at] == "(") - (text[at] == ")")
        if depth == 0:
            return at
    return None
