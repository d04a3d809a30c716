"""A text about sizes as figures, signs and the words of vocab/sizes.toml, each with its place."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any, Final

from catalogue import places
from catalogue.measure.figures import FRACTION, GROUPED_ONLY, LETTER
from catalogue.measure.words import plain

_SIGNS: Final = "()[]:;,.=/|&-–—"


@dataclass(frozen=True, slots=True)
class Piece:
    """One figure, known word, sign or unknown word. A word may have several meanings at once.

    `unit`, `measure`, `remark` and `what` are keys of vocab/sizes.toml; `firmness` is how near a word
    for what was measured must stand to the figures ("loose", "near", "marked").
    """

    text: str
    start: int
    end: int
    is_figure: bool = False
    is_by: bool = False
    is_join: bool = False
    unit: str | None = None
    measure: str | None = None
    remark: str | None = None
    what: str | None = None
    firmness: str | None = None

    @property
    def known(self) -> bool:
        """Whether it is more than an unknown word."""
        return bool(
            self.is_figure
            or self.is_by
            or self.is_join
            or self.unit
            or self.measure
            or self.remark
            or self.what
            or self.text in _SIGNS
        )


@cache
def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return tomllib.loads((places.folder("vocab") / "sizes.toml").read_text("utf-8"))


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
    found: dict[str, dict[str, Any]] = {}
    for words, meaning in _rows():
        for word in words:
            found.setdefault(plain(word), {}).update(meaning)
    return MappingProxyType(found)


@cache
def _pattern() -> re.Pattern[str]:
    """Figures, then the known words, longest first, then any other word or sign."""
    known = {word for words, _ in _rows() for word in words}
    words = "|".join(
        _closed(word) for word in sorted(known, key=lambda word: (-len(word), word))
    )
    letter = rf"[{''.join(word for word in known if len(word) == 1 and word.isalpha())}]"
    return re.compile(
        rf"(?P<figure>{_number()})"
        rf"|(?P<order>(?<!{LETTER}){letter}(?:[x×]{letter}){{1,2}}(?!{LETTER}))"
        rf"|(?P<word>{words})|{LETTER}(?:[\w.-]*\w)?|\S",
        re.IGNORECASE,
    )


def _closed(word: str) -> str:
    """A word that begins and ends where its letters do: "cm" is not the beginning of a name."""
    begins = f"(?<!{LETTER})" if word[0].isalpha() else ""
    ends = f"(?!{LETTER})" if word[-1].isalpha() else ""
    return begins + re.escape(word).replace(r"\ ", r"\s+") + ends


def _number() -> str:
    # "24 3 / 4": blanks round the slash only where the parts are those of a rule.
    blank = r"[ \t\u00a0]"
    loose = rf"[0-9]{{1,2}}{blank}?/{blank}?(?:2|4|8|16|32|64)(?![0-9])"
    mixed = rf"[0-9]{{1,5}}(?:{blank}?-{blank}?|{blank}{{1,2}})(?:{FRACTION}|{loose})|[0-9]{{1,5}}{FRACTION}"
    decimal = r"[0-9]+(?:[.,][0-9]+)*|(?<![0-9.,])[.,][0-9]{1,3}"
    return rf"(?:{mixed}|{FRACTION}|{GROUPED_ONLY}|{decimal})"


def pieces(text: str) -> Iterator[Piece]:
    """The text in pieces; white space stands between them.

    >>> [(each.text, each.unit or each.measure) for each in pieces("H. 24 1/2 in.")]
    [('H.', 'height'), ('24 1/2', None), ('in.', 'in')]
    """
    for m in _pattern().finditer(text):
        if m["figure"]:
            yield Piece(m[0], m.start(), m.end(), is_figure=True)
        elif m["order"]:  # HxB
            for at, letter in enumerate(m[0], m.start()):
                yield Piece(letter, at, at + 1, **_meanings()[plain(letter)])
        else:
            meaning = _meanings()[plain(m[0])] if m["word"] else {}
            yield Piece(m[0], m.start(), m.end(), **meaning)
