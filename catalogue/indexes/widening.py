"""The words and the names of an open index, as a question is widened with them.

Each part of the index has a book of its words; what was taken out of the part since is counted off. The
names are gathered when somebody is first asked for by name.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import cast
from weakref import WeakKeyDictionary

from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens
from catalogue.indexes.holdings import Holdings
from catalogue.indexes.lexicon import Lexicon, Wordbook
from catalogue.indexes.lexicon.shapes import ANY
from catalogue.indexes.matches import Entries
from catalogue.indexes.names_known import Known, NamesKnown, known_in, widened_name
from catalogue.indexes.part import Part, Worded
from catalogue.indexes.stored import TEXTS, patterns
from catalogue.indexes.tree import Tree
from catalogue.indexes.whoosh_blocks import places_of
from catalogue.indexes.wish import Name

MOST_COUNTED_OFF = 20_000
"""Entries taken out of a part that are counted off its book; more are left in the counts."""

NEAREST = 2
"""Letters that may differ in a word that is suggested."""

BEGINNING = 3
"""Letters that a beginning has at the least, to be suggested as one."""


class Books:
    """The books of the parts that are open, each made once."""

    def __init__(self) -> None:
        self._books: WeakKeyDictionary[Part, tuple[Wordbook, Gone]] = WeakKeyDictionary()

    def lexicon(self, holdings: Holdings) -> Lexicon:
        """All words of the holdings."""
        found = []
        for (part, _), dead in zip(holdings.parts, holdings.dead, strict=True):
            if part not in self._books:
                counts = cast("Worded", part).counts()
                damaged = counts.pop("damaged", {})
                self._books[part] = Wordbook.of(counts, damaged, part.size), Gone()
            book, gone = self._books[part]
            gone.count_off(part, dead)
            found.append((book, gone.words))
        return Lexicon(found, int(holdings.alive.sum()))


class Gone:
    """How often each word stood in the entries that were taken out of a part."""

    def __init__(self) -> None:
        self.words: dict[str, Counter[str]] = {}
        self._counted: set[int] = set()

    def count_off(self, part: Part, dead: Entries) -> None:
        """Count these off as well; those that were are not counted twice."""
        out = set(dead.tolist())
        if self._counted - out:
            # what was only thought to be out (an answer with saves that were never held) is back
            self.words, self._counted = {}, set()
        for at in sorted(out):
            if at in self._counted or len(self._counted) >= MOST_COUNTED_OFF:
                continue
            self._counted.add(at)
            entry = part.entry(at)[1]
            for field in TEXTS:
                if text := getattr(entry, field):
                    self.words.setdefault(field, Counter()).update(places_of(text).keys())
            self.words.setdefault("damaged", Counter()).update(patterns(entry))


class NamesOnFile:
    """The names in the holdings, gathered when first wanted and kept up with what is held since."""

    def __init__(self) -> None:
        self._known: NamesKnown | None = None
        self._of: Holdings | None = None

    def forget(self) -> None:
        """Gather them anew when next wanted."""
        if self._known:
            self._known.close()
        self._known = None

    def take_in(self, documents: Iterable[tuple[str, Iterable[Entry]]]) -> None:
        """Know the names of these documents as they are now."""
        if self._known:
            self._known.take_in(documents)

    def look_in(self, holdings: Holdings) -> NamesOnFile:
        """The same, gathered from these holdings when that was not done yet."""
        self._of = holdings
        return self

    def widened(self, name: Name) -> Tree:
        """Whoever may be meant by a name."""
        if self._known is None:
            assert self._of is not None
            self._known = NamesKnown()
            self._known.know(_names_in(self._of))
        terms = widened_name(name, self._known)
        if self._of is None:
            return terms
        return replace(terms, rarity=_rarity(len(self._of.found(terms).entries), self._of.size))


def _rarity(often: int, entries: int) -> float:
    """How rare a name is, as of words: the log of all entries for each that holds it."""
    return math.log(1 + max(1, entries) / (min(often, entries) + 0.5))


def _names_in(holdings: Holdings) -> Iterator[tuple[str, list[Known]]]:
    """The names that each document holds; of what nobody is on file for, once each."""
    parties = holdings.holding("fact", "kind=party")
    for at in parties[holdings.alive[parties]].tolist():
        entry = holdings.entry(at)[1]
        yield entry.document, list(known_in([entry]))
    written = sorted(holdings.keys("named"))
    yield "", [Known(key, "") for key in written if key]


def near(word: str, lexicon: Lexicon) -> list[str]:
    """The words that are most like one that is nowhere, nearest first, then those that are often.

    What some words begin with comes before all of them, as a question for the beginning: "hartw*".
    """
    found: dict[str, tuple[int, int]] = {}
    asked = list(tokens(word))
    begun = len(asked) == 1 and len(asked[0].forms[0]) >= BEGINNING
    if begun and word.isalnum() and lexicon.matching(asked[0].forms[0] + ANY):
        found[f"{word}*"] = -1, 0
    for token in asked:
        for other, (distance, held) in lexicon.alike(token.forms[0], NEAREST).items():
            found[other] = distance, -sum(held.values())
    return sorted(found, key=lambda each: (*found[each], each))
