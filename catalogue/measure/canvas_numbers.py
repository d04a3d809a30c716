"""French numbers in a text: "12 F", "No. 12 figure", "toile de 30" → the sizes that they name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from catalogue.measure.canvas_sizes import CanvasSize, french_size, table
from catalogue.measure.words import any_of, plain


@dataclass(frozen=True, slots=True)
class CanvasNumber:
    """A French number in a text, and the sizes that it may name, the likeliest first.

    `doubt` is "format" where none is written, and "number" where it may be no size at all.
    """

    written: str
    start: int
    end: int
    sizes: tuple[CanvasSize, ...]
    doubt: Literal["", "format", "number"] = ""


def find_canvas_numbers(text: str) -> Iterator[CanvasNumber]:
    """The French numbers in a text, in its order.

    >>> [(each.written, each.sizes[0].name, each.doubt) for each in find_canvas_numbers("toile de 30, 12 F")]
    [('toile de 30', '30F', 'format'), ('12 F', '12F', 'number')]
    """
    for m in _french_number().finditer(text):
        if not (m["sure"] or m["word"] or m["letter"]):
            continue
        found = (french_size(int(m["number"]), letter) for letter in _letters(m))
        sizes = tuple(size for size in found if size)
        sure = m["sure"] or (m["lead"] and m["word"])
        if sizes:
            doubt: Literal["", "format", "number"] = "" if sure else "number"
            yield CanvasNumber(
                m[0], m.start(), m.end(), sizes, "format" if len(sizes) > 1 else doubt
            )


def _letters(m: re.Match[str]) -> list[str]:
    """The letters of the formats that are written; all where none is."""
    formats = table()["french"]["format"]
    if m["letter"]:
        return [m["letter"]]
    if not m["word"]:
        return list(formats)
    word = plain(m["word"])
    return [key for key, row in formats.items() if word in map(plain, row["words"])]


@cache
def _french_number() -> re.Pattern[str]:
    """A French number with its format ("12 F", "No. 12 figure"), or with the word canvas before it."""
    french = table()["french"]
    words = any_of(word for row in french["format"].values() for word in row["words"])
    sure, lead = any_of(french["sure"]), any_of(french["lead"])
    return re.compile(
        rf"(?:(?<!\w)(?:(?P<sure>(?i:{sure}))|(?P<lead>(?i:{lead})))\s?|(?<![\w.,:/£$€…-]))"
        rf"(?P<number>[0-9]{{1,3}})(?![0-9])"
        rf"(?:\s?(?:(?P<word>(?i:{words}))|(?P<letter>[{''.join(french['format'])}])(?!\.\s?\w)))?"
        r"(?![\w…]|[.,/:-][0-9]|\s?[x×]\s?[0-9]|\s[0-9])"
    )
