"""The words of vocab/provenance_prose.toml, made ready for finding them in a text word by word."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any, Final

from catalogue import places
from catalogue.measure.name_words import table as names_table

TOKEN: Final = re.compile(
    r"\s+|[¹²³⁰⁴-⁹]+|\d+(?:[.,/]\d+)*(?:[^\W\d_]+(?![^\W\d_]))?|(?:['’][st]-)?[^\W\d_]+(?:['’‑-][^\W\d_]+)*|\.{2,}|.",
    re.DOTALL,
)
"""White space, a raised number, a number ("12a", "1931.12"), a word with its joints, another sign."""


@dataclass(frozen=True, slots=True)
class Word:
    """What a wording says: `group` is its table in the vocabulary, `key` its row there.

    Of a way of passing, `next` is what the next somebody was, `then` the one behind a later "to",
    `rank` its weight among several and `sale` whether a sale follows.
    """

    group: str
    key: str
    next: str = ""
    then: str = ""
    rank: int = 0
    sale: bool = False


Wordings = dict[str, list[tuple[tuple[str, ...], list[Word]]]]


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("provenance_prose.toml")


def plain(text: str) -> str:
    """A word as wordings are compared: without capitals, with straight apostrophes."""
    return text.casefold().replace("’", "'").replace("‑", "-")


def cut(wording: str) -> tuple[str, ...]:
    """The words and signs of a wording, as a text is cut."""
    return tuple(plain(each) for each in TOKEN.findall(wording) if not each.isspace())


@cache
def wordings() -> Wordings:
    """First word → the wordings that begin with it, the longest first, with all that each may say."""
    said: dict[tuple[str, ...], list[Word]] = {}
    for wording, word in _listed():
        meanings = said.setdefault(cut(wording), [])
        if word not in meanings:
            meanings.append(word)
    tree: Wordings = {}
    for words, meanings in sorted(said.items(), key=lambda each: -len(each[0])):
        tree.setdefault(words[0], []).append((words[1:], meanings))
    return tree


_PLAIN_GROUPS: Final = ("leading", "sure", "role", "unknown", "number", "beside")


def _listed() -> Iterator[tuple[str, Word]]:
    words = table()
    for row in words["passing"]:
        passing = Word(
            "passing", row["kind"], row["next"], row.get("then", "holder"),
            row.get("rank", 2 if row["kind"] else 0), row.get("sale", False),
        )  # fmt: skip
        yield from ((each, passing) for each in row["words"])
    for group in _PLAIN_GROUPS:
        for key, listed in words[group].items():
            yield from ((each, Word(group, key)) for each in listed)
    for key, listed in words["nobody"].items():
        group = {"behalf": "behalf", "closing": "closing"}.get(key, "nobody")
        yield from ((each, Word(group, key)) for each in listed)
    yield from ((each, Word("filler", "")) for each in words["filler"]["words"])


def listed(lows: Sequence[str], at: int, behind: int) -> Iterator[tuple[int, list[Word]]]:
    """The wordings that begin at a word: the place behind each and what it says, the longest first."""
    for rest, meanings in wordings().get(lows[at], ()):
        end = at + 1 + len(rest)
        if end <= behind and (not rest or tuple(lows[at + 1 : end]) == rest):
            yield end, meanings


def longest(lows: Sequence[str], at: int, behind: int, *groups: str) -> tuple[int, Word] | None:
    """The longest wording of some groups that begins at a word, and the place behind it."""
    for end, meanings in listed(lows, at, behind):
        for word in meanings:
            if word.group in groups:
                return end, word
    return None


@cache
def kin(key: str) -> frozenset[str]:
    """The words of one list of [kin]."""
    return frozenset(plain(each) for each in table()["kin"][key])


@cache
def first_fillers() -> frozenset[str]:
    """Small words that no name begins with, though they have a capital in front of a step."""
    words = {
        plain(each) for each in table()["filler"]["words"] if " " not in each and len(each) > 1
    }
    return frozenset(each for each in words if not is_particle(each)) - {"the", "a", "il", "el"}


@cache
def beside_words() -> frozenset[str]:
    """Words that make a bracket a remark."""
    return frozenset(plain(each) for each in table()["beside"]["bracket"])


@cache
def stops(key: str) -> frozenset[str]:
    """Words whose full stop "never" ends a sentence, or "perhaps"."""
    return frozenset(plain(each) for each in table()["stops"][key])


@cache
def _of_names(*keys: str) -> frozenset[str]:
    listed_names = names_table()
    found = (each for key in keys for each in listed_names[key])
    return frozenset(plain(each).rstrip(".") for each in found)


def is_title(word: str) -> bool:
    """Whether a word is a title before a name ("Mrs"), given without capitals and stop."""
    return word in _of_names("titles", "titles_before_a_particle", "titles_within")


def is_particle(word: str) -> bool:
    """Whether a small word belongs to the name behind it ("van", "de la")."""
    return word in _particles()


@cache
def _particles() -> frozenset[str]:
    words = {
        part for each in _of_names("family_particles", "particles") for part in each.split()
    }
    return frozenset(words - {"the", "and", "in", "to", "by", "a", "e"}) | {
        "d'",
        "l'",
        "'t",
        "of",
    }


def firm_mark(words: Sequence[str]) -> bool:
    """Whether the words of a name show a firm's ("galerie", "& sons"), given without capitals."""
    marks = _of_names("firm_marks")
    if any(each in marks or each.endswith(_endings("firm_endings")) for each in words):
        return True
    joined = _of_names("joined_firm_marks")
    signs = _of_names("and_signs")
    return any(one in signs and two in joined for one, two in pairwise(words))


def institution_mark(words: Sequence[str]) -> bool:
    """Whether the words of a name show an institution's ("museum")."""
    marks = _of_names("institution_marks")
    if any(each in marks or each.endswith(_endings("institution_endings")) for each in words):
        return True
    said = " ".join(words)
    return any(f" {each} " in f" {said} " for each in _long_institution_marks())


@cache
def _long_institution_marks() -> tuple[str, ...]:
    return tuple(each for each in _of_names("institution_marks") if " " in each)


@cache
def _endings(key: str) -> tuple[str, ...]:
    return tuple(plain(each) for each in names_table()[key])
