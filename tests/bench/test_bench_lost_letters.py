"""Words that lost three letters in ten: is the right inscription among the first five works of a whole search?

Surnames of six to twelve letters that stand on one label each, in the middle of a seeded catalogue with its own
damaged words. In one half of the questions the label lost the letters and the word is asked whole; in the other
the question lost them and the label is whole. `DORSE_BENCH_FINDING`, `DORSE_BENCH_CACHE` as in the timings.
"""

from __future__ import annotations

import os
import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

import pytest
from finding_catalogues import cache, engine
from seeded_entries import _invented, catalogue

from catalogue.indexes.entry import Entry
from catalogue.indexes.question import Query
from catalogue.measure import Day
from catalogue.reading import read

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_FINDING", "2000").split(",")]
SEED = int(os.environ.get("DORSE_BENCH_SEED", "20261129"))
TODAY = Day(2026, 11, 29)
WORDS = 1000

ON_THE_LABEL = {
    "counted": lambda lost: f"[{'.' * len(lost)}]",
    "illegible": lambda lost: "+" * len(lost),
    "doubtful": lambda lost: "".join(f"{letter}\N{COMBINING DOT BELOW}" for letter in lost),
    "restored": lambda lost: f"[{lost}]",
    "unknown": lambda lost: "[---]",
}
IN_THE_QUESTION = {
    "counted": ON_THE_LABEL["counted"],
    "one sign a letter": lambda lost: "?" * len(lost),
    "any letters": lambda lost: "*",
}


def lost(chance: random.Random, word: str, sign) -> str:  # type: ignore[no-untyped-def]
    """The word with three letters in ten lost at random, those that follow each other in one."""
    gone = set(chance.sample(range(len(word)), max(1, round(0.3 * len(word)))))
    made, at = "", 0
    while at < len(word):
        upto = at
        while upto < len(word) and (upto in gone) == (at in gone):
            upto += 1
        made += sign(word[at:upto]) if at in gone else word[at:upto]
        at = upto
    return made


def saying(document: Sequence[Entry], markup: str, number: int) -> tuple[str, Sequence[Entry]]:
    """A document with this label in the place of what its last entry said."""
    reading = read(f"from {markup} & Sons, carvers")
    words = reading.words()
    label = replace(
        document[-1],
        text=reading.plain(),
        seen=reading.seen(),
        words=" ".join(word.text for word in words),
        patterns=tuple(word.pattern for word in words if word.pattern),
    )
    name = f"work/lost-{number:04}"
    return name, [replace(each, document=name) for each in (*document[:-1], label)]


@pytest.mark.parametrize("works", SIZES)
@pytest.mark.parametrize("where", ["on the label", "in the question"])
def test_the_right_label_is_among_the_first_five(works, where, tmp_path_factory):
    chance = random.Random(SEED)
    signs = ON_THE_LABEL if where == "on the label" else IN_THE_QUESTION
    made = [entries for _, entries in catalogue(WORDS)]
    asked: list[tuple[str, str, str]] = []
    held = []
    for number, word in enumerate(dict.fromkeys(_invented(chance) for _ in range(4 * WORDS))):
        if not 6 <= len(word) <= 12 or len(asked) == WORDS:
            continue
        kind = chance.choice(sorted(signs))
        damaged = lost(chance, word, signs[kind])
        on_label, typed = (damaged, word) if where == "on the label" else (word, damaged)
        document = saying(made[len(asked)], on_label, number)
        held.append(document)
        asked.append((kind, typed, document[0]))
    index, _ = engine(cache(tmp_path_factory.mktemp("catalogues")), works, "usual")
    right: Counter[str] = Counter()
    with index:
        index.hold(held, works + 10)
        for kind, typed, document in asked:
            found = index.which(Query(words=typed, limit=5), today=TODAY)
            right[kind] += document in [each for each, _ in found.works]
    every = Counter(kind for kind, _, _ in asked)
    each = ", ".join(f"{kind} {right[kind]}/{every[kind]}" for kind in sorted(every))
    share = 100 * right.total() / len(asked)
    print(
        f"| {works:,} works, letters lost {where} | {share:.1f} % among the first five | {each} |"
    )
    assert share > 80
