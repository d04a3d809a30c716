"""The words of vocab/dates.toml, read once and made ready: a text cut into pieces with their senses.

A piece is a word or several words that the vocabulary knows as one, a number, a sign, or a word that
nothing is known of. What it may mean are its senses: "c." is about and century, "may" a month.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple, TypeAlias

from catalogue import places
from catalogue.measure.folding import fold
from catalogue.measure.roman import roman_number

Senses: TypeAlias = Mapping[str, Any]
"""What a piece may mean, each sense with its value: {"month": 5}, {"number": "1887"}."""

LOST = "…"
"""Stands for a part of the text that is lost: nothing is read across it."""
_UNKNOWN: Senses = {}
_FIGURES = re.compile(
    rf"""
      (?P<broken>\w*{LOST}[\w{LOST}]*)
    | (?P<tens>[0-9]{{1,3}}0(?:'?s|er[ns]?(?:[ -]?[Jj]ahren?)?)(?!\w))
    | (?P<nth>[0-9]{{1,3}}(?:st|nd|rd|th|ste|ter|er|re|ère|ème|eme|e|de|º|ª|°|o|a)(?:(?!\w)|(?=c(?!\w))))
    | (?P<hidden>(?:1[0-9]|20)(?:[0-9](?:-\?|[?_xX]|-(?![0-9A-Za-z]))|(?:--|\?\?|__|xx|XX)\??)(?!\w))
    | (?P<restored>(?:[0-9]\[[0-9]{{3}}|[0-9]{{2}}\[[0-9]{{2}}|[0-9]{{3}}\[[0-9])\??\]
        |\[[0-9]{{2}}\][0-9]{{2}}(?!\w)|\[[0-9]{{3}}\][0-9](?!\w)|[0-9]\[[0-9]\][0-9]{{2}}(?!\w)
        |[0-9]{{2}}\[[0-9]\][0-9](?!\w))
    | (?P<number>[0-9]+)
    | (?P<word>(?:[^\W\d_]|[\u0300-\u036f])+)
    | (?P<sign>[^\s\u00ad\u200b\ufeff])
    """,
    re.VERBOSE,
)
_SIGNS = str.maketrans(
    "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\u2019\u2018\u00b4\u02bcᵉʳᵗʰˢᵈⁿᵃᵒ",
    "-------''''erthsdnao",
)
_SHORT = 6
"""A known word of so many letters may be an abbreviation, whose point belongs to it."""


class Piece(NamedTuple):
    """A known wording, number, sign or unknown word, from `start` to `end` of the text.

    `glued`: no white space stands before it; `new_line`: a line end does.
    """

    key: str
    senses: Senses
    start: int
    end: int
    glued: bool
    new_line: bool = False


_END = Piece("", _UNKNOWN, 0, 0, False)


class Node:
    """One step of the vocabulary: where the next word leads, and what the words so far mean."""

    __slots__ = ("senses", "steps")

    def __init__(self) -> None:
        self.steps: dict[str, Node] = {}
        self.senses: dict[str, Any] | None = None


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("dates.toml")


def plain(text: str) -> str:
    """A wording as it is looked up: no capitals, single blanks."""
    return " ".join(text.casefold().split())


def any_of(words: Iterable[str]) -> str:
    """A pattern for any of these words, the longest first; blanks may be any white space.

    >>> any_of(["n.d.", "undated"])
    '(?:undated|n\\\\.d\\\\.)'
    """
    longest_first = sorted(words, key=len, reverse=True)
    return (
        "(?:" + "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first) + ")"
    )


@cache
def division(number: int) -> tuple[int, int] | None:
    """First and last month of one of EDTF's divisions of a year, None where there is none."""
    months = table()["divisions"].get(str(number))
    return (months[0], months[1]) if months else None


def pieces(text: str) -> list[Piece]:
    """A text cut into pieces, the longest known wording first, with empty ones behind the last.

    >>> [piece.key for piece in pieces("2nd half of 1887") if piece.key]
    ['2nd', 'half', 'of', '1887']
    >>> pieces("c. May")[0].senses["circa"], pieces("c. May")[1].senses["month"]
    (True, 5)
    """
    cut = list(_cut(text.translate(_SIGNS)))
    found: list[Piece] = []
    at = 0
    while at < len(cut):
        key, senses, start, end, glued, new_line = cut[at]
        known, length = _longest(cut, at)
        if known:
            end = cut[at + length - 1].end
            key = text[start:end] if length > 1 else key
            senses = {**senses, **known} if length == 1 and senses else known
            at += length
            if at < len(cut) and cut[at].key == "." and cut[at].glued and _abbreviated(cut, at):
                end = cut[at].end
                at += 1
        else:
            at += 1
        found.append(Piece(key, senses, start, end, glued, new_line))
    return [*found, _END, _END, _END, _END]


def _longest(cut: list[Piece], at: int) -> tuple[Senses | None, int]:
    node: Node | None = _lexicon().steps.get(cut[at].key)
    known, length, count = None, 0, 0
    while node:
        count += 1
        if node.senses:
            known, length = node.senses, count
        node = node.steps.get(cut[at + count].key) if at + count < len(cut) else None
    return known, length


def _abbreviated(cut: list[Piece], at: int) -> bool:
    """Whether the point at this place closes a short word, and is not one of several points."""
    before = cut[at - 1]
    several = at + 1 < len(cut) and cut[at + 1].key == "."
    return before.key[-1:].isalpha() and len(before.key) <= _SHORT and not several


def _cut(text: str) -> Iterator[Piece]:
    end = 0
    for found in _FIGURES.finditer(text):
        written, kind = found[0], found.lastgroup
        glued = bool(end) and found.start() == end
        new_line = "\n" in text[end : found.start()]
        start, end = found.span()
        key = written.lower()
        if kind != "sign" and not key.isascii() and key not in _accented():
            key = fold(written) or written
        yield Piece(key, _own_senses(kind, key), start, end, glued, new_line)


def _own_senses(kind: str | None, key: str) -> Senses:
    """What a piece means by its figures alone."""
    match kind:
        case "number":
            return {"number": key}
        case "word":
            return _of_roman(key) if key[0] in "ivxlcdm" else _UNKNOWN
        case "nth":
            return {"nth": int(re.sub(r"[^0-9]", "", key))}
        case "tens":
            return {"tens": re.sub(r"[^0-9]", "", key)}
        case "hidden":
            figures = re.sub(r"[^0-9]", "", key)
            doubted = key.endswith("?") and key != f"{figures}??" and key != f"{figures}?"
            return {"hidden": figures, "doubted": doubted}
        case "restored":
            return {"number": re.sub(r"[^0-9]", "", key), "doubted": True}
        case "broken":
            return {"broken": True}
    return _UNKNOWN


def _of_roman(key: str) -> Senses:
    number = roman_number(key)
    if number is None:
        ordinal = roman_number(re.sub(r"(?:e|eme|th|st|nd|rd|er|re|o|a)$", "", key))
        return {"nth": ordinal} if ordinal and ordinal <= _LAST_CENTURY else _UNKNOWN
    if number >= 1000 and len(key) > 3:
        return {"number": str(number)}
    return {"roman": number} if number <= _LAST_CENTURY else _UNKNOWN


_LAST_CENTURY = 21


@cache
def _accented() -> frozenset[str]:
    """Words that are others without their accents."""
    return frozenset(table()["accented"]["words"])


@cache
def _lexicon() -> Node:
    root = Node()
    for wording, sense, value in _entries():
        node = root
        for piece in _cut(wording.translate(_SIGNS).rstrip(".")):
            node = node.steps.setdefault(piece.key, Node())
        node.senses = {**(node.senses or {}), sense: value}
    return root


def _entries() -> Iterator[tuple[str, str, Any]]:
    """Every wording of the table with its sense and value."""
    held = table()
    for sense, wordings in held["words"].items():
        yield from ((wording, sense, True) for wording in wordings)
    for act, wordings in held["acts"].items():
        yield from ((wording, "act", act) for wording in wordings)
    yield from ((wording, "denied", True) for wording in held["doubt"]["words"])
    yield from ((wording, "style", True) for wording in held["styles"]["words"])
    for name, sense in (
        ("months", "month"), ("seasons", "division"), ("fractions", "fraction"),
        ("ordinals", "ordinal"), ("tens_words", "tens_word"),
        ("named_centuries", "named_century"), ("revolutionary_months", "revolutionary_month"),
    ):  # fmt: skip
        for number, wordings in held[name].items():
            yield from ((wording, sense, int(number)) for wording in wordings)
    for sense in ("part", "period", "refusal", "sovereign"):
        for entry in held[sense]:
            yield from ((wording, sense, entry) for wording in entry["names"])
