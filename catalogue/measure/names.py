"""Names of people and firms: attribution words taken off, and how alike two names are."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rapidfuzz.distance import JaroWinkler
from rapidfuzz.fuzz import token_sort_ratio

from catalogue.terms import group

_HONORIFICS = frozenset(
    [
        "mr",
        "mrs",
        "miss",
        "ms",
        "dr",
        "prof",
        "sir",
        "lady",
        "herr",
        "frau",
        "mme",
        "m",
        "mlle",
        "monsieur",
        "madame",
        "sig",
    ]
)


def read_attribution(text: str) -> tuple[str | None, str]:
    """The attribution term that opens a maker's line, None for none, and the name that is left.

    >>> read_attribution("Circle of Ada Penhale")
    ('qualifier/circle-of', 'Ada Penhale')
    >>> read_attribution("Ada Penhale")
    (None, 'Ada Penhale')
    """
    said = " ".join(text.split())
    for each in sorted(group("qualifier"), key=lambda found: -len(found.label)):
        if each.name in ("by", "unknown"):
            continue
        found = re.match(rf"{re.escape(each.label)}\s+(?=\S)", said, re.IGNORECASE)
        if found:
            return each.key, said[found.end() :]
    return None, said


def key(name: str) -> str:
    """A name as it is compared: no case, accents, points or honorifics; "Last, First" turned round.

    >>> key("Vöss, Dr. A.")
    'a voss'
    """
    last, comma, first = name.partition(",")
    turned = f"{first} {last}" if comma and first.strip() else name
    bare = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", turned.casefold())
        if not unicodedata.combining(letter)
    )
    words = re.findall(r"\w+", bare)
    return " ".join(word for word in words if word not in _HONORIFICS) or " ".join(words)


def likeness(a: str, b: str) -> float:
    """How alike two names are, from 0 to 1: by their letters in order, or by their words in any."""
    first, second = key(a), key(b)
    if not first or not second:
        return 0.0
    by_letters = JaroWinkler.similarity(first, second)
    by_words = token_sort_ratio(first, second) / 100
    return float(max(by_letters, by_words))


def rank(query: str, candidates: Iterable[str]) -> list[tuple[str, float]]:
    """The candidates with their likeness to a query, the most alike first."""
    found = [(candidate, likeness(query, candidate)) for candidate in candidates]
    return sorted(found, key=lambda each: (-each[1], each[0]))
