"""Words that lost three letters in ten, on the label or in the question, and what comes before the right one.

The text model: three hundred works of the seeded catalogue with their own damaged words, and beside them
surnames of six to twelve letters that stand on one label each. Who looks for one knows it whole. A
shorter word with as much lost is honestly ambiguous, and is not asked for here.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import cache

import pytest

from catalogue.indexes import tree, wish
from catalogue.indexes.language.patterns import word as asked
from catalogue.indexes.lexicon import Lexicon, book_of, widened
from catalogue.indexes.stored import TEXTS, patterns
from catalogue.indexes.whoosh_blocks import places_of
from catalogue.reading import read
from tests.bench.seeded_entries import _invented, catalogue

HOW_MANY = 150
SIGNS = {
    "counted": lambda lost: f"[{'.' * len(lost)}]",
    "illegible": lambda lost: "+" * len(lost),
    "doubtful": lambda lost: "".join(f"{letter}\N{COMBINING DOT BELOW}" for letter in lost),
    "restored": lambda lost: f"[{lost}]",
    "open": lambda lost: "?" * len(lost),
}


class Nobody:
    def widened(self, name: wish.Name) -> tree.Tree:
        return tree.Either(())


@cache
def background() -> tuple[dict[str, Counter[str]], int]:
    counted: dict[str, Counter[str]] = {field: Counter() for field in (*TEXTS, "damaged")}
    entries = [entry for _, held in catalogue(300) for entry in held]
    for entry in entries:
        for field in TEXTS:
            counted[field].update(places_of(getattr(entry, field)).keys())
        counted["damaged"].update(patterns(entry))
    return counted, len(entries)


def surnames(chance: random.Random) -> list[str]:
    found: dict[str, None] = {}
    while len(found) < HOW_MANY:
        made = _invented(chance)
        if 6 <= len(made) <= 12 and made not in background()[0]["text"]:
            found[made] = None
    return list(found)


def damaged(chance: random.Random, word: str, sign: str) -> str:
    """The word with three letters in ten lost at random, those that follow each other in one."""
    lost = set(chance.sample(range(len(word)), round(0.3 * len(word))))
    said, at = "", 0
    while at < len(word):
        end = at + 1
        while end < len(word) and (end in lost) == (at in lost):
            end += 1
        said += SIGNS[sign](word[at:end]) if at in lost else word[at:end]
        at = end
    return said


def before(wished: wish.Wish, lexicon: Lexicon, mine: set[tuple[str, str]]) -> int | None:
    """How many entries may stand before the right one; None when it is not found."""
    found = widened(wished, lexicon, Nobody())
    assert isinstance(found, tree.Terms)
    best = max((hit.strength for hit in found.hits if (hit.field, hit.term) in mine), default=0)
    others = {
        hit.term: hit
        for hit in found.hits
        if hit.strength >= best and (hit.field, hit.term) not in mine
    }
    return len(others) if best else None


@pytest.mark.parametrize("sign", ["counted", "illegible", "doubtful", "restored"])
def test_a_word_damaged_on_the_label_is_among_the_first_five(sign):
    chance = random.Random(sign)
    counted = {field: Counter(held) for field, held in background()[0].items()}
    told = {}
    for word in surnames(chance):
        reading = read(damaged(chance, word, sign))
        mine = {("damaged", each.pattern) for each in reading.words() if each.pattern}
        mine |= {("text", each) for each in places_of(reading.plain())}
        mine |= {("seen", each) for each in places_of(reading.seen())}
        for field, term in mine:
            counted[field][term] += 1
        told[word] = mine
    lexicon = Lexicon([(book_of(counted, 4000), {})], 4000)
    places = [before(wish.Word(word), lexicon, mine) for word, mine in told.items()]
    assert sum(place is not None and place < 5 for place in places) >= 0.95 * len(places)


@pytest.mark.parametrize("sign", ["counted", "open"])
def test_a_word_damaged_in_the_question_is_among_the_first_five(sign):
    chance = random.Random(sign)
    counted = {field: Counter(held) for field, held in background()[0].items()}
    words = surnames(chance)
    counted["text"].update(words)
    lexicon = Lexicon([(book_of(counted, 4000), {})], 4000)
    places = [
        before(asked(damaged(chance, word, sign)), lexicon, {("text", word)}) for word in words
    ]
    assert sum(place is not None and place < 5 for place in places) >= 0.95 * len(places)
