"""What stands around a figure: the unit of its money, or a word that it is a price, or none."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from catalogue.measure.tariff import Unit, lengths, units_of, words
from catalogue.measure.words import LOST

_BLANKS: Final = (" ", "\t", "\u00a0")
_REACH: Final = 20
"""So many letters before a figure a word may begin that says what it is."""


def unit_before(text: str, start: int, after: int) -> tuple[int | None, tuple[Unit, ...]]:
    """Where the unit before a figure begins (not before `after`) and what it may be; None and ()."""
    stop = start - 1 if text[start - 1 : start] in _BLANKS else start
    for length in lengths(text[stop - 1 : stop], last=True):
        if length > stop - after:
            continue
        word, left = text[stop - length : stop], text[max(stop - length - 1, 0) : stop - length]
        if left.isalpha() or (word[0].isalnum() and (left.isdigit() or left == LOST)):
            continue  # a letter makes it another money: NZ$, E£
        if len(word) == 1 and word.isascii() and word.isalpha() and stop == start:
            continue  # F12 is the number of something
        found = tuple(unit for unit in units_of(word) if unit.before)
        if found and word.lower() not in words("behind_only"):
            return stop - length, found
    return None, ()


def unit_behind(text: str, end: int) -> tuple[int, tuple[Unit, ...]]:
    """Where the unit behind a figure ends and what it may be; `end` and () without one."""
    begin = end + 1 if text[end : end + 1] in _BLANKS else end
    for length in lengths(text[begin : begin + 1]):
        word, right = text[begin : begin + length], text[begin + length : begin + length + 1]
        if word[-1].isalnum() and (right.isalnum() or right == LOST):
            continue
        found = tuple(
            unit
            for unit in units_of(word)
            if unit.behind
            and not (unit.glued and begin > end)
            and not (unit.before and right.isdigit())  # in "12 £20" it belongs to the 20
        )
        if found:
            return begin + len(word), found  # at the end of a text it is shorter
    return end, ()


def is_priced(text: str, start: int, end: int) -> bool:
    """Whether a word beside a figure says that it is a price: "price 7/6", "7/6 each"."""
    behind = re.match(r"\s?([^\W\d_]+\.?)", text[end : end + _REACH])
    known = words("price_words")
    return any(word in known for word in _words_before(text, start)) or bool(
        behind and behind[1].lower() in known
    )


def is_numbered(text: str, start: int) -> bool:
    """Whether a word before a figure says that it is the number of something: "lot 12"."""
    known = words("number_words")
    return any(word in known for word in _words_before(text, start))


def _words_before(text: str, start: int) -> Iterator[str]:
    """What may be the word before a figure: its last letters, as far as a word may begin there."""
    tail = text[max(start - _REACH, 0) : start].rstrip(" \t\u00a0:").lower()
    for begin in range(len(tail)):
        if not tail[begin - 1 : begin].isalnum():
            yield tail[begin:]
