"""The words of attribution in vocab/names.toml: which stands at a place in a text, and what kind it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from catalogue.measure.name_words import either_apostrophe, listed, table, whole
from catalogue.measure.words import any_of, plain


class Word(NamedTuple):
    """A word of attribution in a text: as the list has it, its kind, and where it ends.

    `kind` is a name of the group "qualifier" in vocab/terms. `bare` is a word for a group ("workshop")
    without what ties it to a name ("of").
    """

    listed: str
    kind: str
    end: int
    bare: bool = False


def word_before(text: str, at: int, end: int) -> Word | None:
    """The longest word of attribution here that stands before a name, with what ties it to the name.

    >>> word_before("Werkstatt des Hans Trewin", 0, 25)
    Word(listed='werkstatt', kind='workshop-of', end=13, bare=False)
    """
    both = (pattern().match(text, at, end) for pattern in (_tied, _untied))
    found = max(filter(None, both), key=lambda each: each.end(), default=None)
    return _word(found) if found else None


def word_behind(text: str, at: int, end: int) -> Word | None:
    """The word of attribution here that stands behind a name: what stands before one does as well."""
    found = _behind().match(text, at, end)
    return word_before(text, at, end) or (_word(found) if found else None)


def amid(text: str, at: int, end: int) -> int | None:
    """Where a word ends that may stand before or between words of attribution: "unknown", "or"."""
    found = _amid().match(text, at, end)
    return found.end() if found else None


def is_listed(name: str, word: str) -> bool:
    """Whether a word is on one of the lists of the table; capitals do not matter."""
    return plain(word).replace("’", "'") in _folded(name)


def is_a_group_as_written(word: str) -> bool:
    """Whether a word for a group is written as the list has it, capitals and all."""
    return word in _all_groups()


@cache
def _all_groups() -> frozenset[str]:
    return frozenset(_groups())


@cache
def _folded(name: str) -> frozenset[str]:
    return frozenset(plain(word) for word in table()[name])


def _word(found: re.Match[str]) -> Word:
    said = plain(found[found.lastgroup or 0]).replace("’", "'")
    return Word(said, _kinds()[said], found.end(), found.lastgroup == "bare")


def _entries() -> list[dict[str, Any]]:
    entries: list[dict[str, Any]] = table()["qualifier"]
    return entries


def _groups(language: str | None = None) -> Iterator[str]:
    """Every word for a group, or those of one language."""
    for entry in _entries():
        for each, words in entry.get("group", {}).items():
            if language in (None, each):
                yield from words


@cache
def _kinds() -> dict[str, str]:
    """Word of attribution → name of its term; a word listed twice has the first."""
    kinds: dict[str, str] = {}
    for entry in _entries():
        groups = (word for words in entry.get("group", {}).values() for word in words)
        for word in (*entry["words"], *entry.get("behind", ()), *groups):
            kinds.setdefault(plain(word), entry["kind"])
    return kinds


@cache
def _untied() -> re.Pattern[str]:
    words = whole(word for entry in _entries() for word in entry["words"])
    return re.compile(rf"(?P<words>{words})", re.IGNORECASE)


@cache
def _tied() -> re.Pattern[str]:
    """A word for a group and what ties it to a name, both of one language."""
    joins: dict[str, list[str]] = table()["joins"]
    groups = (
        rf"{either_apostrophe(any_of(_groups(language)))}(?=\s+{whole(words)})"
        for language, words in joins.items()
    )
    every = whole({word for words in joins.values() for word in words})
    return re.compile(rf"(?P<group>{'|'.join(groups)})\s+{every}", re.IGNORECASE)


@cache
def _behind() -> re.Pattern[str]:
    """A word that stands only behind a name, or a word for a group without what ties it."""
    words = whole(word for entry in _entries() for word in entry.get("behind", ()))
    return re.compile(rf"(?P<behind>{words})|(?P<bare>{whole(_groups())})", re.IGNORECASE)


@cache
def _amid() -> re.Pattern[str]:
    century = r"\d{1,2}(?:st|nd|rd|th)?[ -](?:century|c\.)"
    lists = "|".join(listed(name) for name in ("nobody", "amid", "nations"))
    return re.compile(rf"(?:{lists}|{whole(_groups())}|{century})[,;:]?", re.IGNORECASE)
