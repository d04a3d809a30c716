"""Text as it is looked for: without capitals, marks and the accidents of typing."""

from __future__ import annotations

import unicodedata

_LETTERS = str.maketrans(
    {
        "æ": "ae",
        "œ": "oe",
        "ø": "o",
        "đ": "d",
        "ð": "d",
        "ł": "l",
        "þ": "th",
        "ı": "i",
        "ſ": "s",
    }
)
_UMLAUTS = {"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"}
_SPELT = (("ae", "a"), ("oe", "o"), ("ue", "u"))


def fold(text: str) -> str:
    """A text without capitals, accents and ligatures; what is typed so finds it.

    >>> fold("Müller & Söhne, Straße № 3")
    'muller & sohne, strasse no 3'
    """
    if text.isascii():
        return text.lower()
    lowered = unicodedata.normalize("NFKC", text).casefold().translate(_LETTERS)
    apart = unicodedata.normalize("NFKD", lowered)
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return unicodedata.normalize("NFC", bare)


def spellings(text: str) -> tuple[str, ...]:
    """The folded forms under which a text may be looked for, the plain one first.

    An umlaut may be typed as two letters, and two letters may stand for an umlaut.

    >>> spellings("Müller"), spellings("Mueller")
    (('muller', 'mueller'), ('mueller', 'muller'))
    """
    composed = unicodedata.normalize("NFKC", text).casefold()
    for umlaut, spelt in _UMLAUTS.items():
        composed = composed.replace(umlaut, spelt)
    short = fold(text)
    for spelt, letter in _SPELT:
        short = short.replace(spelt, letter)
    return tuple(dict.fromkeys((fold(text), fold(composed), short)))
