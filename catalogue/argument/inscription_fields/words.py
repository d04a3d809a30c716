"""The words of vocab/inscription_fields.toml, made ready for finding them in a field."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Final

from catalogue import places

TOKEN: Final = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*|\d+|\s+|.", re.DOTALL)
"""A word with its apostrophes, a number, white space, or one other sign."""
ENGLISH: Final = "en"


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a wording says: `group` is its table in the vocabulary, `key` its row there.

    Of a kind, `rank` is its weight among several, `opens` whether a mark may begin with it
    anywhere, `thing` whether it is an object (a label). `language` is that of a short form.
    """

    group: str
    key: str
    rank: int = 0
    opens: bool = False
    thing: bool = False
    language: str = ""


@dataclass(slots=True)
class Wordings:
    """A tree of wordings, word by word."""

    words: dict[str, Wordings] = field(default_factory=dict)
    meanings: list[Meaning] = field(default_factory=list)

    def add(self, wording: str, meaning: Meaning) -> None:
        """Put a wording in the tree."""
        node = self
        for word in _words(wording):
            node = node.words.setdefault(word, Wordings())
        if meaning not in node.meanings:
            node.meanings.append(meaning)


def _words(wording: str) -> Iterator[str]:
    """The words of a wording as the tree has them: without hyphens, with the stops they are written with."""
    found: list[str] = []
    for token in TOKEN.findall(wording):
        if token == "." and found:
            found[-1] += "."
        elif token != "-" and not token.isspace():
            found.append(token.casefold())
    return iter(found)


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("inscription_fields.toml")


@cache
def wordings() -> Wordings:
    """Every wording that a head can be made of, and what it says."""
    tree = Wordings()
    for wording, meaning in _listed():
        tree.add(wording, meaning)
    return tree


def _listed() -> Iterator[tuple[str, Meaning]]:
    words = table()
    for kind in words["kind"]:
        thing = kind.get("thing", False)
        for opens, wording in [(True, each) for each in kind["said"]] + [
            (False, each) for each in kind["named"]
        ]:
            yield wording, Meaning("kind", kind["key"], kind["rank"], opens, thing)
    for short, listed in words["signed_short"].items():
        kind, _, place = short.partition("|")
        rank = next(each["rank"] for each in words["kind"] if each["key"] == kind)
        for wording in listed:
            yield wording, Meaning("kind", kind, rank, opens=True)
            yield wording, Meaning("whole", place)
    for language, short_places in words["short"].items():
        for place, listed in short_places.items():
            for wording in listed:
                yield wording, Meaning("short", place, language=language)
    for name, rows in _tables(words):
        for key, listed in rows.items():
            for wording in listed:
                yield wording, Meaning(name, key)
    for name in ("remark", "nothing", "neutral", "translation"):
        for wording in words[name]["words"]:
            yield wording, Meaning(name, "")


def _tables(words: dict[str, Any]) -> Iterator[tuple[str, dict[str, list[str]]]]:
    yield from words["place"].items()
    yield from words["technique"].items()
    for name in ("face", "part", "between"):
        yield name, words[name]


@cache
def listed(section: str, name: str) -> frozenset[str]:
    """The words of one list, without capitals."""
    return frozenset(word.casefold() for word in table()[section][name])


@cache
def languages() -> dict[str, frozenset[str]]:
    """The words that tell a language."""
    return {name: frozenset(words) for name, words in table()["language"].items()}


@dataclass(frozen=True, slots=True)
class Guess:
    """What kind a text is by its own words, where the cataloguer names none."""

    kind: str
    pattern: re.Pattern[str]
    why: str


@cache
def guesses() -> tuple[Guess, ...]:
    """The rows, in the order in which they are tried."""
    return tuple(
        Guess(row["kind"], re.compile(row["pattern"], re.IGNORECASE | re.DOTALL), row["why"])
        for row in table()["guess"]
    )
