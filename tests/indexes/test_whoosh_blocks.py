"""Whole blocks of postings against the engine's own way, an entry at a time; trees against a plain scan."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from invented_entries import WORDS, invented, plain_words

from catalogue.indexes import whoosh_blocks
from catalogue.indexes.engine import Page
from catalogue.indexes.stored import OPEN_BEFORE
from catalogue.indexes.tree import All, Fact, Hit, InTime, Measured, Not, Row, Terms
from catalogue.indexes.whoosh_blocks import column, postings
from catalogue.indexes.words import Words

CHANCE = random.Random(3)
WORKS = [
    (
        document,
        [
            replace(
                entry,
                facts=(("colour", CHANCE.choice(("red", "blue"))),),
                figures=(("width", CHANCE.randint(1, 9)),),
            )
            for entry in entries
        ],
    )
    for document, entries in invented(60)
]
ENTRIES = [entry for _, entries in WORKS for entry in entries]


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patched:
        # several blocks for a common word
        patched.setattr(whoosh_blocks, "BLOCK", 16)
        with Words(tmp_path_factory.mktemp("indexes")) as index:
            index.rebuild(WORKS[:40], 40)
            index.take_in(WORKS[30:], 60)
            yield index


@pytest.mark.parametrize("word", ["the", "harbour", "geneve", "14", "nowhere"])
def test_blocks_say_what_the_engine_says_entry_by_entry(index, word):
    index.snapshot()
    for leaf in index._open.leaves:
        held = postings(leaf, "text", word.encode())
        if held is None:
            assert ("text", word) not in leaf
            continue
        matcher = leaf._terms.matcher("text", word.encode(), leaf.schema["text"].format)
        read = []
        while matcher.is_active():
            read.append((matcher.id(), matcher.value_as("numbers")))
            matcher.next()
        said = np.split(held.said, np.cumsum(held.often)[:-1])
        assert read == [
            (at, list(each)) for at, each in zip(held.entries.tolist(), said, strict=True)
        ]


def test_a_column_says_what_the_engine_says_entry_by_entry(index):
    index.snapshot()
    for leaf in index._open.leaves:
        read = leaf.column_reader("earliest")
        assert column(leaf, "earliest", "i4", OPEN_BEFORE).tolist() == [
            read[at] for at in range(leaf.doc_count_all())
        ]


def found(index, tree):
    page = Page(limit=1000, statements=1000)
    return {entry.value for _, rows in index.find(tree, page).works for _, entry in rows}


def sought(word):
    return Terms(word, (Hit("text", plain_words(word)[0], 1.0),))


@pytest.mark.parametrize("seed", range(40))
def test_a_tree_finds_what_a_scan_finds(index, seed):
    chance = random.Random(seed)
    one, other = chance.sample(WORDS, 2)
    first, last = sorted(chance.choices(range(690_000, 695_000), k=2))
    apart = chance.randint(0, 4)

    def texts(entry):
        return plain_words(entry.text)

    def near(entry):
        held, (a,), (b,) = texts(entry), plain_words(one), plain_words(other)
        pairs = [
            (i, j) for i, x in enumerate(held) if x == a for j, y in enumerate(held) if y == b
        ]
        return any(j - i == 1 if apart == 0 else abs(j - i) <= apart for i, j in pairs)

    def in_time(entry):
        begins, ends = entry.earliest, entry.latest
        dated = begins is not None or ends is not None
        return dated and (begins or 0) <= last and first <= (ends or 10**9)

    cases = [
        (Row((sought(one), sought(other)), apart), near),
        (InTime("made", first, last), in_time),
        (Fact("colour", ("red",)), lambda entry: ("colour", "red") in entry.facts),
        (Measured("width", 3, 6), lambda entry: 3 <= entry.figures[0][1] <= 6),
        (Not(sought(one)), lambda entry: plain_words(one)[0] not in texts(entry)),
    ]
    for tree, test in cases:
        assert found(index, tree) == {entry.value for entry in ENTRIES if test(entry)}
    chosen = chance.sample(cases, 3)
    expected = {each.value for each in ENTRIES if all(test(each) for _, test in chosen)}
    assert found(index, All(tuple(tree for tree, _ in chosen))) == expected


def test_facets_count_works_of_which_a_found_statement_has_the_value(index):
    counted = index.find(sought("harbour"), Page(facets=("colour",))).facets["colour"]
    expected = {
        colour: sum(
            any(
                "harbour" in plain_words(e.text) and ("colour", colour) in e.facts
                for e in entries
            )
            for _, entries in WORKS
        )
        for colour in ("red", "blue")
    }
    assert dict(counted) == {colour: count for colour, count in expected.items() if count}
