"""The words of vocab/names.toml, read once and made ready for looking up."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue import places
from catalogue.measure.words import any_of


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("names.toml")


def whole(words: Iterable[str]) -> str:
    """A pattern for any of these words where it ends: at no letter or figure, or behind a sign.

    >>> re.match(whole(["attr.", "d'"]), "d'Ada").group(), re.match(whole(["van"]), "vanity")
    ("d'", None)
    """
    return rf"{either_apostrophe(any_of(words))}(?:(?<=['’?\])./*†])|(?!\w))"


def either_apostrophe(pattern: str) -> str:
    """The pattern with a straight or a curly apostrophe where it has a straight one."""
    return pattern.replace("'", "['’]")


@cache
def listed(name: str) -> str:
    """A pattern for any whole word of one list of the table."""
    return whole(table()[name])


@cache
def given_names() -> frozenset[str]:
    """Given names that are written in several languages, without capitals."""
    return frozenset(name for names in table()["twins"] for name in names)


def is_named(word: str) -> bool:
    """Whether a word may be part of a name: it has a capital in front, or a letter without case."""
    letter = next((c for c in word if c.isalpha()), "")
    capital = letter.isupper() or letter.istitle() or bool(letter and not letter.islower())
    return (capital or bool(elided().match(word))) and not any(c.isdigit() for c in word)


@cache
def _particles() -> frozenset[str]:
    listed_words = (*table()["family_particles"], *table()["capital_particles"])
    return frozenset(part for words in listed_words for part in words.split())


def is_particle(word: str) -> bool:
    """Whether a word is one of those that a family name begins with, as "van"."""
    return word in _particles()


@cache
def word_of_a_name() -> re.Pattern[str]:
    """A pattern for a word, or the initials that stand close before one: "A.Penhale" is two."""
    return re.compile(r"(?:[^\W\d_]\.)+(?=[^\W\d_][^\W\d_.])|\S+")


@cache
def elided() -> re.Pattern[str]:
    """A pattern for the beginning of a word with an elided particle: "d'Orme"."""
    return re.compile(r"(?:d|dell|l|all)['’][^\W\d_]")


@cache
def initials() -> re.Pattern[str]:
    """A pattern for initials, or names shortened to two letters: "A. B.", "Wm."."""
    return re.compile(r"(?:[^\W\d_]{1,2}\.[-\s]?){1,5}|[^\W\d_]\.?")
