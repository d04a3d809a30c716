"""Words with open letters, as short strings that can be laid against a word or against each other.

A shape is the letters of a word with signs for what is open: one letter, one letter or none, any
letters. It is made of the patterns that `reading/words.py` writes for damaged words and the
language of questions for wildcards.
"""

from __future__ import annotations

import re
from functools import lru_cache

ONE, MAYBE, ANY = "\x01", "\x02", "\x03"
"""Signs for one open letter, one or none, and any number of them."""

_OPEN = frozenset((ONE, MAYBE, ANY))
_LONGEST = 400
_PIECE = re.compile(
    r"\\(?P<escaped>.)|(?P<star>\(\?>\.\*\?|\.\*)|(?P<maybe>\.\?)"
    r"|\.\{(?P<least>\d+)(?P<most>,\d*)?\}|(?P<one>\.)|(?P<end>\))|(?P<letter>[^\\()\[\]{}*+?|^$.])",
    re.DOTALL,
)


@lru_cache(maxsize=100_000)
def shape_of(pattern: str) -> str | None:
    r"""The shape that a pattern describes; None when it is none of ours.

    A hyphen or another sign inside a word is left out, as in the words it is compared with.

    >>> shape_of("c.{2}itt") == "c" + ONE * 2 + "itt", shape_of(r"har\-b.*") == "harb" + ANY
    (True, True)
    >>> shape_of("[a-z]+") is None
    True
    """
    found: list[str] = []
    at = size = 0
    while at < len(pattern):
        piece = _PIECE.match(pattern, at)
        if piece is None:
            return None
        at = piece.end()
        signs = _signs(piece)
        if signs is None or (size := size + len(signs)) > _LONGEST:
            return None
        found.append(signs)
    return re.sub(f"[{MAYBE}{ANY}]*{ANY}[{MAYBE}{ANY}]*", ANY, "".join(found))


def _signs(piece: re.Match[str]) -> str | None:
    match piece.lastgroup:
        case "star":
            return ANY
        case "maybe":
            return MAYBE
        case "one":
            return ONE
        case "end":
            return ""
        case "least" | "most":
            least, most = int(piece["least"]), piece["most"]
            if least > _LONGEST:
                return None
            if most is None:
                return ONE * least
            if most == ",":
                return ONE * least + ANY
            return ONE * least + MAYBE * max(0, min(int(most[1:]), _LONGEST) - least)
        case _:
            letter = piece["escaped"] or piece["letter"]
            if piece["escaped"] and letter.isalnum():
                return None  # a class of letters, \w, which no reading writes
            return letter if letter.isalnum() else ""


def is_fixed(shape: str) -> bool:
    """Whether it says how many letters the word has."""
    return MAYBE not in shape and ANY not in shape


def letters(shape: str) -> int:
    """How many letters are known."""
    return sum(sign not in _OPEN for sign in shape)


def head(shape: str) -> str:
    """The letters it begins with."""
    for at, sign in enumerate(shape):
        if sign in _OPEN:
            return shape[:at]
    return shape


def tail(shape: str) -> str:
    """The letters it ends with."""
    return head(shape[::-1])[::-1]


def runs(shape: str) -> list[str]:
    """The letters that stand together, run by run."""
    return [run for run in re.split(f"[{ONE}{MAYBE}{ANY}]+", shape) if run]


def as_regex(shape: str) -> str:
    """A regular expression for the words that it may be."""
    signs = {ONE: ".", MAYBE: ".?", ANY: ".*"}
    first, *others = shape.split(ANY)

    def said(part: str) -> str:
        return "".join(signs.get(sign) or re.escape(sign) for sign in part)

    if not others:
        return said(first)
    if MAYBE in shape:
        return said(shape)
    # each run but the last is taken where it first follows, and never tried again
    middle = "".join(f"(?>.*?{said(part)})" for part in others[:-1] if part)
    return f"{said(first)}{middle}.*{said(others[-1])}"


def agreement(one: str, other: str) -> int:
    """How many letters two shapes have in common, laid so that both may be one word; -1 if never.

    >>> agreement("cubitt", shape_of("c.{2}itt")), agreement("cabot", shape_of("c.{2}itt"))
    (4, -1)
    >>> agreement(shape_of("c.{2}itt"), shape_of("cub.{3}")), agreement(shape_of("cu.*"), "cubitt")
    (1, 2)
    """
    below = [-1] * (len(other) + 1)
    for i in range(len(one), -1, -1):
        here = [-1] * (len(other) + 1)
        mine = one[i] if i < len(one) else ""
        for j in range(len(other), -1, -1):
            theirs = other[j] if j < len(other) else ""
            if not mine and not theirs:
                here[j] = 0
                continue
            best = -1
            if mine in (MAYBE, ANY):
                best = below[j]
            if theirs in (MAYBE, ANY):
                best = max(best, here[j + 1])
            if mine and theirs:
                best = max(best, _both(mine, theirs, below, here, j))
            here[j] = best
        below = here
    return below[0]


def _both(mine: str, theirs: str, below: list[int], here: list[int], j: int) -> int:
    """The best when both take a letter here."""
    if mine not in _OPEN and theirs not in _OPEN:
        return below[j + 1] + 1 if mine == theirs and below[j + 1] >= 0 else -1
    if mine == ANY and theirs == ANY:
        return -1  # either may be left instead
    if mine == ANY:
        return here[j + 1]
    if theirs == ANY:
        return below[j]
    return below[j + 1]
