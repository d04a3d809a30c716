"""What the engine of dating has to know beside its rules: vocab/dating.toml, read once.

The words that name a country, the words that take back a closing date, what may have stood in a
gap, and the sentences in which the engine speaks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue import places
from catalogue.measure import fold
from catalogue.reading import GAP


def table() -> dict[str, Any]:
    """The whole table as it stands in the file. Raises `BadSetting`."""
    return places.table("dating.toml")


def sentence(which: str, /, **values: str) -> str:
    """One of the sentences, with its values put in."""
    said: str = table()["sentences"][which]
    return said.format(**values)


def fillers() -> tuple[str, ...]:
    """What may have stood in a gap, for trying whether a mark would still be one."""
    return tuple(table()["fillers"])


@cache
def regions() -> frozenset[str]:
    """Every code of a region, those of a group of regions too."""
    return frozenset(table()["regions"]) | frozenset(table()["groups"])


def countries(codes: Iterable[str]) -> frozenset[str]:
    """The codes with each group taken apart into its members.

    >>> sorted(countries(["Benelux", "GB"]))
    ['BE', 'GB', 'NL']
    """
    groups = table()["groups"]
    return frozenset(one for code in codes for one in groups.get(code, [code]))


def named_in(text: str, languages: Iterable[str] = ()) -> frozenset[str]:
    """The countries that a text names by a place, a language or a sign of money.

    >>> sorted(named_in("12 rue de Sèze, PARIS"))
    ['FR']
    >>> sorted(named_in("Lon… 1907"))
    []
    """
    singles, phrases = _places()
    # a name begins with a capital: "Nice", not "nice"
    names = {fold(word) for word in _WORDS.findall(text) if word[0].isupper()}
    found = {code for name in names for code in singles.get(name, ())}
    line = f" {' '.join(_WORDS.findall(fold(text)))} "
    found.update(code for phrase, codes in phrases if phrase in line for code in codes)
    found.update(
        code for sign, codes in table()["signs"].items() if sign in text for code in codes
    )
    for language in languages:
        found.update(table()["languages"].get(language.partition("-")[0], ()))
    return frozenset(found)


_WORDS = re.compile(rf"[\w{GAP}]+")


@cache
def _places() -> tuple[dict[str, tuple[str, ...]], tuple[tuple[str, tuple[str, ...]], ...]]:
    """Folded words that name countries, and phrases of several words between blanks."""
    held: dict[str, list[str]] = {}
    for code, names in table()["regions"].items():
        for name in names:
            held.setdefault(" ".join(_WORDS.findall(fold(name))), []).append(code)
    singles = {name: tuple(codes) for name, codes in held.items() if " " not in name}
    phrases = ((f" {name} ", tuple(codes)) for name, codes in held.items() if " " in name)
    return singles, tuple(phrases)


def taken_back(line: str) -> str:
    """The word beside a mark that says it is of the past: "formerly"; "" when there is none.

    `line` is what stands before the mark on its line.

    >>> taken_back("late of 14 King Street, "), taken_back("Established 1850, ")
    ('late of', '')
    """
    found = _past().search(line)
    return found[0].strip() if found else ""


@cache
def _past() -> re.Pattern[str]:
    words = "|".join(re.escape(word) for word in table()["past"])
    # as far as the mark itself stands from the word: a house, a street, a town
    return re.compile(rf"(?<!\w)(?:{words})(?!\w)(?=[^;]{{0,40}}$)", re.IGNORECASE)


def denied(before: str) -> bool:
    """Whether a description takes back the thing it goes on to name: "no", "without any".

    >>> denied("lined, no "), denied("no keys; held by ")
    (True, False)
    """
    return _denial().search(before) is not None


@cache
def _denial() -> re.Pattern[str]:
    words = "|".join(re.escape(word) for word in table()["denials"])
    return re.compile(rf"(?<!\w)(?:{words}) (?:\w{{1,20}} ){{0,2}}$", re.IGNORECASE)
