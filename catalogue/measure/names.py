"""Names of people and firms: how alike two of them are, and why.

A likeness is a hint for a person, never a finding: van der Meulen and Vermeulen are very alike and
two families. `compare` therefore says why two names are called alike. The words that count little
in a comparison are in vocab/names.toml.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from rapidfuzz.distance import JaroWinkler
from rapidfuzz.fuzz import token_sort_ratio

from catalogue.measure.attributions import read_attribution
from catalogue.measure.folding import fold, spellings
from catalogue.measure.name_words import table

__all__ = ["ALIKE", "Likeness", "compare", "key", "likeness", "rank", "read_attribution"]

ALIKE = 0.87
"""From here on two names are worth a look (Jaro-Winkler; common practice, no source)."""

# What is taken off for a reason that is weaker than the letters themselves: common practice, no source.
_UMLAUT, _TWIN, _INITIAL, _WITHOUT, _LEFT_OUT = 0.98, 0.95, 0.92, 0.97, 0.03


@dataclass(frozen=True, slots=True)
class Likeness:
    """How alike two names are, from 0 to 1, and in which way."""

    score: float
    why: str


def key(name: str) -> str:
    """A name as it is compared: no case, accents, points or honorifics; "Last, First" turned round.

    >>> key("Vöss, Dr. A.")
    'a voss'
    """
    return " ".join(_words(fold(name)))


def likeness(a: str, b: str) -> float:
    """How alike two names are, from 0 to 1.

    >>> likeness("Vöss, Anna", "A. Voss") > 0.9, likeness("Anna Vöss", "Ada Penhale") < 0.6
    (True, True)
    """
    return compare(a, b).score


def compare(a: str, b: str) -> Likeness:
    """How alike two names are and why: letters, order of words, spelling, initials, particles.

    >>> compare("A. Voss", "Voss, Anna").why
    'initials'
    """
    first, second = _words(fold(a)), _words(fold(b))
    if not first or not second:
        return Likeness(0.0, "nothing to compare")
    if first == second:
        return Likeness(1.0, "the same but for capitals, accents, titles and order")
    if _spelt_alike(a, b):
        return Likeness(_UMLAUT, "the same but for how an umlaut is spelt")
    found = [_by_letters(first, second, "letters"), _by_words(first, second)]
    for what, why in (("particles", "particles"), ("firm", "words for a firm")):
        bare = [_without(words, what) for words in (first, second)]
        if bare != [first, second]:
            alike = _by_letters(bare[0], bare[1], f"letters without {why}")
            found.append(Likeness(alike.score * _WITHOUT, alike.why))
    return max(found, key=lambda each: each.score)


def rank(query: str, candidates: Iterable[str]) -> list[tuple[str, float]]:
    """The candidates with their likeness to a query, the most alike first."""
    found = [(candidate, likeness(query, candidate)) for candidate in candidates]
    return sorted(found, key=lambda each: (-each[1], each[0]))


@cache
def _set(name: str) -> frozenset[str]:
    return frozenset(fold(word) for word in table()[name])


@cache
def _twins() -> dict[str, int]:
    return {fold(name): place for place, names in enumerate(table()["twins"]) for name in names}


def _words(folded: str) -> list[str]:
    """The words of a folded name in the order of speaking, without honorifics."""
    last, comma, first = folded.partition(",")
    turned = f"{first} {last}" if comma and first.strip() else last
    words = re.findall(r"\w+", turned.replace("'", "").replace("’", ""))
    return [word for word in words if word not in _set("honorifics")] or words


def _without(words: list[str], what: str) -> list[str]:
    return [word for word in words if word not in _set(what)] or words


def _spelt_alike(a: str, b: str) -> bool:
    ours = [_words(each) for each in spellings(a)]
    return any(_words(each) in ours for each in spellings(b))


def _by_letters(a: list[str], b: list[str], why: str) -> Likeness:
    first, second = " ".join(a), " ".join(b)
    straight = float(JaroWinkler.similarity(first, second))
    any_order = float(token_sort_ratio(first, second)) / 100
    if any_order > straight:
        return Likeness(any_order, f"{why}, words in another order")
    return Likeness(straight, why)


def _by_words(a: list[str], b: list[str]) -> Likeness:
    """Word by word: initials stand for names, a name for its twin in another language."""
    short, long = sorted((a, b), key=lambda words: (len(words), words))
    left = list(long)
    total, weight = 0.0, 0
    reasons: set[str] = set()
    for word in sorted(short, key=lambda each: (-len(each), each)):
        score, why, match = max((*_word(word, other), other) for other in left)
        left.remove(match)
        reasons.add(why)
        total += score * max(len(word), 2)
        weight += max(len(word), 2)
    if "name" not in reasons:
        return Likeness(0.0, "initials only")
    said: list[str] = [why for why in ("initials", "twin names") if why in reasons]
    if left:
        said.append("a word left out")
    score = total / weight - min(_LEFT_OUT * len(left), 0.15)
    return Likeness(max(score, 0.0), ", ".join(said) or "word by word")


def _word(a: str, b: str) -> tuple[float, str]:
    if a == b:
        return 1.0, "name" if len(a) > 1 else "initials"
    if a[0] == b[0] and 1 in (len(a), len(b)):
        return _INITIAL, "initials"
    if a in _twins() and _twins()[a] == _twins().get(b):
        return _TWIN, "twin names"
    return float(JaroWinkler.similarity(a, b)) if min(len(a), len(b)) > 1 else 0.0, "name"
