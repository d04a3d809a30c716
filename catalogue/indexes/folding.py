"""Words of a text as the index compares them, and where each one stands in the text.

Nobody who searches knows how a label was spelt: capitals and accents are folded away, an umlaut
is also written out (`Müller` is found by `muller` and by `mueller`), and a number with its
thousands set apart is also one number (`1.234` is found by `1234`). Words that are written in one or
apart (`H.M.S.`, `Fenwick-Dray`) are in `wholes.py`, words with several spellings in `spellings.py`.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from catalogue.places import table
from catalogue.reading import fold

LONGEST = 100
"""Letters of a word that are compared; what is longer is not a word."""

_GROUP = r"(?<![^\W_])[0-9]{1,3}(?:[.,'’\u00a0\u2009\u202f][0-9]{3})+(?![^\W_])"
_NUMBER = r"№|(?<![^\W_])[Nn]°"
_IN_ONE = re.compile(
    r"([A-Za-z]{1,2})([0-9]{1,2})|([0-9]{1,6})([A-Za-z]{1,7})|(Ma?c)([A-Z][^\W\d_]{2,})"
)
_WRITTEN_OUT = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa", "æ": "ae", "œ": "oe", "ł": "l",
     "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ꝛ": "r"}
)  # fmt: skip
_ONE_LETTER = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d",
                             "þ": "th", "ı": "i", "ꝛ": "r"})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Token:
    """One word: where it stands in the text, which one it is, and the forms it is found by.

    `parts` are the pieces of a number with its thousands set apart, of a district or a sum (`SW7`,
    `12gns`) and of a name (`MacBride`), () for any other word. A `whole` is made of the words that
    begin at its position.
    """

    start: int
    end: int
    position: int
    forms: tuple[str, ...]
    parts: tuple[str, ...] = ()
    whole: bool = False


@lru_cache(maxsize=20_000)
def forms(word: str) -> tuple[str, ...]:
    """Every form that one word is found by, the folded word first.

    >>> forms("Müller"), forms("Sørensen"), forms("Label")
    (('muller', 'mueller'), ('sørensen', 'sorensen', 'soerensen'), ('label',))
    """
    folded = fold(word)
    if word in ("N°", "n°"):
        return ("no",)
    if word.isascii():
        return (folded[:LONGEST],) if folded else ()
    composed = unicodedata.normalize("NFC", unicodedata.normalize("NFKC", word).casefold())
    found = (folded, folded.translate(_ONE_LETTER), fold(composed.translate(_WRITTEN_OUT)))
    return tuple(dict.fromkeys(form[:LONGEST] for form in found if form))


def tokens(text: str) -> Iterator[Token]:
    """The words of a text in order: runs of letters, figures and accents; none is too common.

    >>> [token.forms[0] for token in tokens("Property of A. J. — No. 1.234")]
    ['property', 'of', 'a', 'j', 'no', '1234']
    """
    position = 0
    for found in _words(text).finditer(text):
        word = found.group()
        parts: tuple[str, ...] = ()
        if found.lastgroup == "group":
            parts = tuple(re.findall("[0-9]+", word))
            known: tuple[str, ...] = ("".join(parts)[:LONGEST],)
        else:
            known = forms(word)
            parts = _parts(word)
        if known:
            yield Token(found.start(), found.end(), position, known, parts)
            position += 1


@lru_cache(maxsize=20_000)
def _parts(word: str) -> tuple[str, ...]:
    """The pieces of a word that is written in one and may be asked for apart.

    >>> _parts("SW7"), _parts("12gns"), _parts("MacBride"), _parts("A4")
    (('sw', '7'), ('12', 'gns'), ('mac', 'bride'), ())
    """
    found = _IN_ONE.fullmatch(word)
    if found is None:
        return ()
    first, second = (fold(each) for each in found.groups() if each)
    held = table("folding.toml")["joined"]
    known = first in held["districts"] or second in held["units"] or first in held["sons"]
    return (first, second) if known else ()


def _words(text: str) -> re.Pattern[str]:
    """A pattern for the words of this text, with the accents that are signs of their own."""
    if text.isascii():
        return _ASCII
    return _compiled(
        "".join(sorted({s for s in set(text) if unicodedata.category(s)[0] == "M"}))
    )


@lru_cache(maxsize=100)
def _compiled(marks: str) -> re.Pattern[str]:
    letter = rf"(?:[^\W_]|[{marks}])" if marks else r"[^\W_]"
    return re.compile(rf"(?P<group>{_GROUP})|(?P<number>{_NUMBER})|[^\W_]{letter}*")


_ASCII = re.compile(rf"(?P<group>{_GROUP})|[^\W_]+")
