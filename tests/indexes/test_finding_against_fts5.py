"""Outside check: SQLite's FTS5 over the same texts finds the same works for undamaged words.

Source: SQLite FTS5, tokenizer `unicode61 remove_diacritics 2` (https://www.sqlite.org/fts5.html), as it
comes with Python. Where the two differ the reason is one of those listed in `folded_further`, and each
is checked by itself.
"""

from __future__ import annotations

import random
import sqlite3

import pytest
from seeded_entries import catalogue

from catalogue.indexes import engines
from catalogue.indexes.engine import Page
from catalogue.indexes.spellings import spelt
from catalogue.indexes.tree import All, Hit, Row, Terms
from catalogue.indexes.whoosh_blocks import places_of

WORKS = dict(catalogue(200, seed=23))
WORDS = sorted(
    {word for entries in WORKS.values() for each in entries for word in places_of(each.text)}
)


@pytest.fixture(scope="module", params=["usual", "large"])
def index(request, tmp_path_factory):
    if request.param == "large":
        pytest.importorskip("tantivy", reason="the extra `large` is not installed")
    with engines.words_in(tmp_path_factory.mktemp("index"), request.param) as made:
        made.rebuild(WORKS.items(), 1)
        yield made


@pytest.fixture(scope="module")
def fts5():
    base = sqlite3.connect(":memory:")
    base.execute(
        'create virtual table said using fts5(work unindexed, text, tokenize = "unicode61 remove_diacritics 2")'
    )
    base.executemany(
        "insert into said values (?, ?)",
        [(work, each.text) for work, entries in WORKS.items() for each in entries],
    )
    yield base
    base.close()


def ours(index, tree) -> set[str]:
    return {work for work, _ in index.find(tree, Page(limit=10_000, statements=1)).works}


def theirs(fts5, asked: str) -> set[str]:
    rows = fts5.execute("select distinct work from said where said match ?", (asked,))
    return {work for (work,) in rows}


def sought(word: str) -> Terms:
    return Terms(word, (Hit("text", word, 1.0),))


def folded_further(word: str) -> bool:
    """Whether dorse has forms of a word that FTS5 has not: an umlaut written out (`muenchen`)."""
    return any(each in word for each in ("ae", "oe", "ue")) or not word.isascii()


def test_single_words_find_the_same_works(index, fts5):
    words = random.Random(5).sample([word for word in WORDS if not folded_further(word)], 600)
    for word in words:
        found, there = ours(index, sought(word)), theirs(fts5, f'"{word}"')
        # 12gns is also 12 and gns for us, Co. also Company
        several = spelt(word) or not word.isalpha() or word in ("gns", "gs")
        assert found >= there if several else found == there, word


def test_what_is_folded_further_finds_what_fts5_finds_and_more(index, fts5):
    words = [word for word in WORDS if folded_further(word)]
    assert {"muenchen", "munchen", "zuerich", "koeln"} & set(WORDS)
    for word in words:
        assert ours(index, sought(word)) >= theirs(fts5, f'"{word}"'), word
    assert ours(index, sought("muenchen")) == theirs(fts5, '"münchen"') != set()
    assert theirs(fts5, '"muenchen"') == set()


def test_words_in_a_row_find_the_same_works(index, fts5):
    chance = random.Random(6)
    asked = 0
    for entries in chance.sample(list(WORKS.values()), 150):
        words = [
            word
            for word in chance.choice(entries).text.casefold().split()
            if word.isascii() and word.isalnum()
        ]
        if len(words) > 3 and not any(map(folded_further, words)):
            at = chance.randrange(len(words) - 2)
            row = words[at : at + chance.choice([2, 3])]
            found = ours(index, Row(tuple(map(sought, row))))
            assert found == theirs(fts5, f'"{" ".join(row)}"'), row
            asked += bool(found)
    assert asked > 40


def test_words_near_each_other_find_the_same_works(index, fts5):
    """FTS5 counts the words between two, dorse how many places on the second stands: NEAR(a b, 4) is near/5."""
    chance = random.Random(7)
    common = ["the", "of", "street", "no", "to", "oil", "canvas", "painted", "london"]
    for _ in range(60):
        one, other = chance.sample(common, 2)
        found = ours(index, Row((sought(one), sought(other)), 5))
        assert found == theirs(fts5, f"NEAR({one} {other}, 4)"), (one, other)


def test_both_words_in_one_statement_find_the_same_works(index, fts5):
    chance = random.Random(8)
    for _ in range(100):
        one, other = chance.sample(
            ["the", "of", "street", "no", "gns", "oil", "blue", "frame"], 2
        )
        assert ours(index, All((sought(one), sought(other)))) == theirs(
            fts5, f"{one} AND {other}"
        )
