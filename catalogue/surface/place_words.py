"""A text about a place as numbers, known wordings and unknown words, each with where it stands."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Final, NamedTuple

from catalogue.places import table

# A dash joins words ("left-hand", "cross-bar") or stands between them; before a number it is minus.
_TOKEN: Final = re.compile(r"(?<!\w)-?\d+(?:[.,]\d+)?|\d+(?:[.,]\d+)?|[^\W\d_]+|[^\s\-–—]")
_OWN: Final = "places_words.toml"
_SHARED: Final = "inscription_fields.toml"
_SIGNS: Final = frozenset(",;:()[]/.")
_FIELDS: Final = {
    "top": ("row", "upper"),
    "bottom": ("row", "lower"),
    "left": ("column", "left"),
    "right": ("column", "right"),
    "centre": ("centre", "centre"),
}


class Piece(NamedTuple):
    """One number, known wording, sign or unknown word of a text.

    `senses` are its meanings, each by its kind: row upper, edge top, face back, unit 25.4 ...
    """

    text: str
    number: float | None = None
    senses: Mapping[str, str] = MappingProxyType({})
    unsure: bool = False
    """Whether it is a short form that another language reads otherwise."""

    def means(self, kind: str) -> str | None:
        """Its meaning of that kind, None when it has none."""
        return self.senses.get(kind)


class _Meaning(NamedTuple):
    kind: str
    value: str
    language: str = ""


END: Final = Piece("")
_Phrases = Mapping[str, Sequence[tuple[tuple[str, ...], tuple[_Meaning, ...]]]]


def pieces(text: str) -> list[Piece]:
    """The pieces of a text, in its order, and `END` behind them."""
    tokens = [*_TOKEN.finditer(text)]
    folded = [token.group().casefold() for token in tokens]
    language = _language(folded)
    found: list[Piece] = []
    at = 0
    while at < len(tokens):
        if folded[at][-1].isdecimal():
            number = float(folded[at].replace(",", "."))
            found.append(Piece(tokens[at].group(), number=number))
            at += 1
            continue
        length, meanings = _longest(folded, at)
        said = text[tokens[at].start() : tokens[at + length - 1].end()]
        found.append(_piece(said, meanings, language))
        at += length
    return [*found, END]


def _longest(folded: Sequence[str], at: int) -> tuple[int, tuple[_Meaning, ...]]:
    for words, meanings in _phrases().get(folded[at], ()):
        if tuple(folded[at : at + len(words)]) == words:
            return len(words), meanings
    if folded[at] in _SIGNS:
        return 1, (_Meaning("sign", folded[at]),)
    return 1, ()


def _piece(said: str, meanings: tuple[_Meaning, ...], language: str) -> Piece:
    senses = {each.kind: each.value for each in meanings if each.kind != "short"}
    shorts = {each.language: each.value for each in meanings if each.kind == "short"}
    if not shorts:
        return Piece(said, senses=senses)
    chosen = shorts.get(language) or shorts.get("en") or next(iter(shorts.values()))
    sure = language in shorts or len(set(shorts.values())) == 1
    return Piece(said, senses=senses | dict(_corner(chosen)), unsure=not sure)


def _corner(field: str) -> Iterator[tuple[str, str]]:
    """Row and column of a field's name."""
    for word in field.split():
        yield _FIELDS.get(word, ("row", word))


def _language(folded: Sequence[str]) -> str:
    for language, words in _told().items():
        if words.intersection(folded):
            return language
    return ""


@cache
def _told() -> Mapping[str, frozenset[str]]:
    return {
        language: frozenset(word.casefold() for word in words)
        for language, words in table(_OWN)["language"].items()
    }


def _rows() -> Iterator[tuple[str, _Meaning]]:
    """Every wording with what it means."""
    own, shared = table(_OWN), table(_SHARED)
    for unit, millimetres in own["millimetres"].items():
        yield unit, _Meaning("unit", millimetres)
    for kind in ("edge", "seen"):
        for value, words in own[kind].items():
            for word in words:
                yield word, _Meaning(kind, value)
    for word in own["seen_through"]["front"]:
        yield word, _Meaning("seen", "front")
    for kind, words in own["joint"].items():
        for word in words:
            yield word, _Meaning(kind, word)
    for word in own["understood"]["words"]:
        yield word, _Meaning("understood", word)
    for kind in ("row", "column", "centre"):
        for value, words in shared["place"][kind].items():
            for word in words:
                yield word, _Meaning(kind, value)
    for field, words in shared["place"]["whole"].items():
        for word in words:
            for kind, value in _corner(field):
                yield word, _Meaning(kind, value)
    for language, fields in shared["short"].items():
        for field, words in fields.items():
            for word in words:
                yield word, _Meaning("short", field, language)
    for kind in ("face", "part"):
        for value, words in shared[kind].items():
            for word in words if value else ():
                yield word, _Meaning(kind, value)


@cache
def _phrases() -> _Phrases:
    """Every wording by its first word, the longest first; a short form also without its last stop."""
    meanings: dict[tuple[str, ...], list[_Meaning]] = defaultdict(list)
    for said, meaning in _rows():
        words = tuple(each.group().casefold() for each in _TOKEN.finditer(said))
        meanings[words].append(meaning)
        if len(words) > 2 and words[-1] == ".":
            meanings[words[:-1]].append(meaning)
    by_first: dict[str, list[tuple[tuple[str, ...], tuple[_Meaning, ...]]]] = defaultdict(list)
    for words, held in meanings.items():
        by_first[words[0]].append((words, tuple(held)))
    return {
        first: sorted(held, key=lambda each: -len(each[0])) for first, held in by_first.items()
    }


def doubt(kind: str, *about: object) -> str:
    """A sentence about what is not plain, from the table's [doubt]."""
    said: str = table(_OWN)["doubt"][kind]
    return said.format(*about)


def face_of(part: str, face: str | None) -> str | None:
    """The face that a part stands for, None where it stands for none: a canvas is on either side."""
    faces = table(_SHARED)["face_of_part"].get(part)
    return (faces.get(face) or faces["alone"]) if faces else None


def in_millimetres(number: float, unit: str) -> float:
    """A number of units in mm, without what floating point would add."""
    return float(Decimal(repr(number)) * Decimal(unit))
