"""A text about sizes as figures, signs and the words of vocab/sizes.toml, each with its place."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from types import MappingProxyType
from typing import Any, Final, NamedTuple

from catalogue import places
from catalogue.measure.figures import FRACTION, GROUPED_ONLY, LETTER
from catalogue.measure.words import LOST

_SIGNS: Final = frozenset("()[]:;,.=/|&-–—")

_FIGURE: Final = rf"\s?(?:[.,]?[0-9]|{FRACTION})"
_X_BEFORE_A_FIGURE: Final = re.compile(rf"[xX]{_FIGURE}")
_BEFORE_A_FIGURE: Final = re.compile(rf"{LETTER}[.:=]?{_FIGURE}")


class Piece(NamedTuple):
    """One figure, known word, sign or unknown word. A word may have several meanings at once.

    `unit`, `measure`, `remark` and `what` are keys of vocab/sizes.toml; `firmness` is how near a word
    for what was measured must stand to the figures ("loose", "near", "marked").
    """

    text: str
    start: int
    end: int
    known: bool = False
    is_figure: bool = False
    is_by: bool = False
    is_join: bool = False
    unit: str | None = None
    measure: str | None = None
    remark: str | None = None
    what: str | None = None
    firmness: str | None = None


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("sizes.toml")


def _rows() -> Iterator[tuple[list[str], dict[str, Any]]]:
    """The lists of words, each with what its words mean, as the fields of a `Piece`."""
    yield table()["join"], {"is_join": True}
    yield table()["by"], {"is_by": True}
    for kind in ("unit", "measure", "remark"):
        for key, words in table()[kind].items():
            yield words, {kind: key}
    for key, by_firmness in table()["what"].items():
        for firmness, words in by_firmness.items():
            yield words, {"what": key, "firmness": firmness}


@cache
def _meanings() -> Mapping[str, Mapping[str, Any]]:
    """Word → all that it may mean."""
    found: dict[str, dict[str, Any]] = {sign: {"known": True} for sign in _SIGNS}
    for words, meaning in _rows():
        for word in words:
            found.setdefault(word.lower(), {"known": True}).update(meaning)
    return MappingProxyType(found)


@cache
def _lengths() -> Mapping[str, tuple[int, ...]]:
    """First letter → how long the words are that begin with it, the longest first."""
    found = defaultdict[str, set[int]](set)
    for word in _meanings():
        found[word[0]].add(len(word))
    return MappingProxyType({first: tuple(sorted(each)[::-1]) for first, each in found.items()})


@cache
def _token() -> re.Pattern[str]:
    """A figure, or the first sign or letter of anything else."""
    return re.compile(rf"(?P<figure>{_number()})|\S")


@cache
def _unknown() -> re.Pattern[str]:
    """A word that is not known, figures in it included; or one sign."""
    return re.compile(rf"{LETTER}(?:[\w.-]*\w)?|\S")


def _number() -> str:
    # "24 3 / 4": blanks round the slash only where the parts are those of a rule.
    blank = r"[ \t\u00a0]"
    loose = rf"[0-9]{{1,2}}{blank}?/{blank}?(?:2|4|8|16|32|64)(?![0-9])"
    part = rf"(?:{FRACTION}|{loose})"
    mixed = rf"[0-9]{{1,5}}(?:{blank}?-{blank}?|{blank}{{1,2}}){part}|[0-9]{{1,5}}{FRACTION}"
    decimal = r"[0-9]+(?:[.,][0-9]+)*|(?<![0-9.,])[.,][0-9]{1,3}"
    return rf"(?:{mixed}|{FRACTION}|{GROUPED_ONLY}|{decimal})"


def pieces(text: str) -> Iterator[Piece]:
    """The text in pieces; white space stands between them.

    >>> [(each.text, each.unit or each.measure) for each in pieces("H. 24 1/2 in.")]
    [('H.', 'height'), ('24 1/2', None), ('in.', 'in')]
    """
    end = 0
    while m := _token().search(text, end):
        start, end = m.span()
        if m["figure"]:
            whole = not _at_a_loss(text, start, end)
            yield Piece(m[0], start, end, known=whole, is_figure=whole)
        elif word := _word_at(text, start):
            end = start + len(word)
            yield Piece(word, start, end, **_meanings()[_key(word)])
        elif other := _unknown().match(text, start):
            end = other.end()
            yield from _order(other[0], start) or [Piece(other[0], start, end)]


def _at_a_loss(text: str, start: int, end: int) -> bool:
    """Whether a figure touches "…": others of it may be lost."""
    before, behind = text[max(start - 2, 0) : start], text[end : end + 2]
    return LOST in (before.rstrip(".,/-")[-1:], behind.lstrip(".,/-")[:1])


def _key(word: str) -> str:
    """A word as it is looked up: no capitals, and any one blank for a blank."""
    return re.sub(r"\s", " ", word.lower())


def _word_at(text: str, at: int) -> str:
    """The longest known word that begins here and ends where its letters do, "" without one."""
    for length in _lengths().get(text[at].lower(), ()):
        word = text[at : at + length]
        if _key(word) in _meanings() and not (
            word[-1].isalpha() and _runs_on(text, at + length, word)
        ):
            return word
    return ""


def _runs_on(text: str, end: int, word: str) -> bool:
    """Whether a word goes on in the letters behind it, which 61cmx50cm and 61xW.50 do not."""
    if not text[end : end + 1].isalpha():
        return False
    following = _BEFORE_A_FIGURE if word.lower() == "x" else _X_BEFORE_A_FIGURE
    return following.match(text, end) is None


def _order(word: str, start: int) -> list[Piece]:
    """The pieces of an order in single letters (HxB, H×W×D), [] where the word is none."""
    letters = re.split("[x×]", word.lower())
    if not 2 <= len(letters) <= 3 or not all(
        len(each) == 1 and each in _meanings() for each in letters
    ):
        return []
    return [
        Piece(letter, at, at + 1, **_meanings()[_key(letter)])
        for at, letter in enumerate(word, start)
    ]
