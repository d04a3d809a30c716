"""Timings of finding, beside honest peers that answer the same question over the same texts in the same run.

The question is always: which works, the first twenty, best first where it can be said. A question and the
peer's way to it are asked turn by turn, so both have the same machine. `DORSE_BENCH_FINDING=10000,100000`
chooses how many works; `DORSE_BENCH_CACHE=/folder` keeps the catalogues, which take minutes to make.
"""

from __future__ import annotations

import os
import random
import re
import sqlite3
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from finding_catalogues import cache, engine, names, one_process_rate, peers
from rapidfuzz import fuzz, process
from seeded_entries import COMMON, artists, catalogue, damaged, how_many_artists, vocabulary

from catalogue.indexes.engine import Page
from catalogue.indexes.question import Query
from catalogue.indexes.tree import All, Fact, Hit, InTime, Terms
from catalogue.indexes.words import Words
from catalogue.measure import Day

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_FINDING", "2000").split(",")]
TIMES = int(os.environ.get("DORSE_BENCH_TIMES", "50"))
TODAY = Day(2026, 11, 29)

Asked = tuple[str, Callable[[], object] | None]
"""What is typed, and the peer's way to the same."""


def told(*cells: str) -> None:
    print(f"| {' | '.join(cells)} |", flush=True)


@pytest.mark.parametrize("works", SIZES)
@pytest.mark.parametrize("kind", ["usual", "large"])
def test_finding(works, kind, tmp_path_factory):
    folder = cache(tmp_path_factory.mktemp("catalogues"))
    base, peers_rate = peers(folder, works)
    index, rate = engine(folder, works, kind)
    told(f"{works:,} works, {kind} engine", "whole answer p50 / p95 ms", "which works", "peer", "ratio of p50", "found (median)")  # fmt: skip
    told("---", "---", "---", "---", "---", "---")
    with index:
        index.search(Query(words="street"), today=TODAY)
        for shape, questions in shapes(base, works).items():
            _compared(shape, index, questions)
        _engine_alone(index, works)
        _saves(index, works)
    told("made anew, 2 processes", f"{rate:.0f} works/s", f"FTS5, 1 process: {peers_rate:.0f}", "", "")  # fmt: skip
    if works <= 10_000:
        alone = one_process_rate(tmp_path_factory.mktemp("alone"), kind, min(works, 2000))
        told("made anew, 1 process", f"{alone:.0f} works/s", "", "", "")
    told("resident with the index open and all shapes asked", f"{_resident(folder, works, kind)} MB", "", "", "")  # fmt: skip
    base.close()


def _compared(shape: str, index: Words, questions: Sequence[Asked]) -> None:
    ours, works, theirs, found = [], [], [], []
    for typed, peer in questions:
        start = time.perf_counter()
        answer = index.search(Query(words=typed), today=TODAY)
        ours.append((time.perf_counter() - start) * 1000)
        found.append(answer.total)
        start = time.perf_counter()
        index.which(Query(words=typed), today=TODAY)
        works.append((time.perf_counter() - start) * 1000)
        if peer:
            start = time.perf_counter()
            peer()
            theirs.append((time.perf_counter() - start) * 1000)
    beside, ratio = "", ""
    if theirs:
        beside = f"{statistics.median(theirs):.1f} / {_p95(theirs):.1f}"
        ratio = (
            f"{statistics.median(_like(shape, ours, works)) / statistics.median(theirs):.2f}"
        )
    told(shape, _both(ours), _both(works), beside, ratio, f"{statistics.median(found):.0f}")


def _like(shape: str, whole: Sequence[float], works: Sequence[float]) -> Sequence[float]:
    """What the peer is held against: whoever marks words or counts facets is held to the whole answer."""
    return whole if "highlights" in shape or "facets" in shape else works


def _both(figures: Sequence[float]) -> str:
    return f"{statistics.median(figures):.1f} / {_p95(figures):.1f}"


def _p95(figures: Sequence[float]) -> float:
    return sorted(figures)[int(len(figures) * 0.95)]


def shapes(base: sqlite3.Connection, works: int) -> dict[str, list[Asked]]:
    """Fifty seeded questions of every shape."""
    chance = random.Random(31)
    known = names(works)
    texts = [
        row[0]
        for row in base.execute(
            "select text from entry where kind like 'inscription%' limit 4000"
        )
    ]

    def word() -> str:
        words, sums = vocabulary()
        while True:
            [found] = chance.choices(words, cum_weights=sums)
            if len(found) > 3 and found not in COMMON:
                return found

    def run() -> str:
        while True:
            found = re.findall(r"[^\W_]+", chance.choice(texts))
            if len(found) > 2:
                at = chance.randrange(len(found) - 1)
                return " ".join(found[at : at + 2])

    def wild() -> str:
        found = word()
        at = chance.randrange(1, len(found))
        return f"{found[:at]}{chance.choice('?*')}{found[at + 1 :]}"

    def misspelt() -> tuple[str, str]:
        name = chance.choice(known)[0].replace(",", "")
        at = chance.randrange(len(name) - 1)
        wrong = name[:at] + name[at + 1] + name[at] + name[at + 2 :]
        return wrong, wrong

    fts, grams = _fts(base), _grams(base)
    made: dict[str, list[Asked]] = {
        name: []
        for name in (
            "word", "common word", "two words", "phrase", "prefix", "wildcard",
            "damaged words found by a whole one", "damaged word asked", "fuzzy name",
            "artist, dates, facets", "word, artist, dates, facets", "top 20 with highlights", "sorted by date", "near",
        )
    }  # fmt: skip
    parties = artists(how_many_artists(works))
    for _ in range(TIMES):
        one, two = word(), word()
        made["word"].append((one, fts(one)))
        often = chance.choice(COMMON)
        made["common word"].append((often, fts(often)))
        pair = run()
        made["two words"].append((pair, fts(pair)))
        made["phrase"].append((f'"{pair}"', fts(f'"{pair}"')))
        begins = two[: chance.choice([2, 3, 3, 4])]
        made["prefix"].append((f"{begins}*", fts(f"{begins}*")))
        pattern = wild()
        made["wildcard"].append((pattern, grams(pattern)))
        whole = word()
        made["damaged words found by a whole one"].append((whole, grams(_cut(chance, whole))))
        marked = damaged(chance, word())
        open_ = re.sub(r"[\[\].+]+", "*", marked).replace(chr(0x323), "")
        made["damaged word asked"].append((marked, grams(open_)))
        typed, wrong = misspelt()
        made["fuzzy name"].append((f'artist:"{typed}"', _names_like(base, known, wrong)))
        party, variants = chance.choice(parties)
        first = chance.randint(1780, 1950)
        asked = f'artist:"{variants[0]}" painted {first}..{first + 40}'
        made["artist, dates, facets"].append((asked, _filtered(base, party, first)))
        made["word, artist, dates, facets"].append(
            (f"{often} {asked}", _filtered_words(base, often, party, first))
        )
        made["top 20 with highlights"].append(
            (f"{one} {often}", _highlighted(base, one, often))
        )
        made["sorted by date"].append((f"{often} sort:newest", _sorted(base, often)))
        made["near"].append((pair.replace(" ", " near/5 "), fts(f"NEAR({pair}, 5)")))
    return made


GROUPED = """with hit as materialized (select rowid at, -rank score from said where said match ?)
  select work, max(score) from hit cross join entry on id = at group by work order by 2 desc limit 20"""
"""The works of a word: every entry that holds it, grouped by its work, the best first."""


def _fts(base: sqlite3.Connection) -> Callable[[str], Callable[[], object]]:
    return lambda words: lambda: base.execute(GROUPED, (words,)).fetchall()


def _grams(base: sqlite3.Connection) -> Callable[[str], Callable[[], object]]:
    """The trigram index asked by GLOB, which it uses itself, then each hit held against the pattern."""

    def of(pattern: str) -> Callable[[], object]:
        as_regex = re.compile(
            r"\b" + re.escape(pattern).replace(r"\*", r"\w*").replace(r"\?", r"\w") + r"\b",
            re.I,
        )

        def ask() -> object:
            rows = base.execute(
                "select e.work, g.text from grams g cross join entry e on e.id = g.rowid where g.text glob ?",
                (f"*{pattern}*",),
            )
            return list(dict.fromkeys(work for work, text in rows if as_regex.search(text)))[
                :20
            ]

        return ask

    return of


def _cut(chance: random.Random, word: str) -> str:
    at = chance.randrange(len(word))
    return f"{word[:at]}?{word[at + 1 :]}"


def _names_like(
    base: sqlite3.Connection, known: Sequence[tuple[str, str]], wrong: str
) -> Callable[[], object]:
    """One pass over the table of names, then the works of whoever is like enough."""
    table = [name for name, _ in known]

    def ask() -> object:
        near = process.extract(wrong, table, scorer=fuzz.token_sort_ratio, limit=10, score_cutoff=80)  # fmt: skip
        parties = list({known[at][1] for _, _, at in near})
        marks = ",".join("?" * len(parties))
        sql = f"select distinct work from entry where artist in ({marks}) limit 20"
        return base.execute(sql, parties).fetchall()

    return ask


def _filtered(base: sqlite3.Connection, party: str, first: int) -> Callable[[], object]:
    """The good plan: one index has the artist and both days; facets of what is found."""
    from_, to = (Day(year, 1, 1).ordinal for year in (first, first + 41))

    def ask() -> object:
        where = "from entry where artist = ? and +earliest <= ? and +latest >= ?"
        page = base.execute(f"select distinct work {where} limit 20", (party, to, from_))
        kinds = base.execute(
            f"select kind, count(distinct work) {where} group by kind", (party, to, from_)
        )
        return page.fetchall(), kinds.fetchall()

    return ask


def _filtered_words(
    base: sqlite3.Connection, word: str, party: str, first: int
) -> Callable[[], object]:
    """The good plan of a word with conditions: the word first (cross join), then each hit held to them."""
    from_, to = (Day(year, 1, 1).ordinal for year in (first, first + 41))

    def ask() -> object:
        where = """from said cross join entry e on e.id = said.rowid
          where said match ? and +e.artist = ? and +e.earliest <= ? and +e.latest >= ?"""
        given = (word, party, to, from_)
        page = base.execute(f"select distinct e.work {where} limit 20", given)
        kinds = base.execute(
            f"select e.kind, count(distinct e.work) {where} group by e.kind", given
        )
        return page.fetchall(), kinds.fetchall()

    return ask


def _highlighted(base: sqlite3.Connection, *words: str) -> Callable[[], object]:
    sql = """select highlight(said, 0, '<mark>', '</mark>') from said where said match ?
      order by rank limit 20"""
    return lambda: base.execute(sql, (" ".join(words),)).fetchall()


def _sorted(base: sqlite3.Connection, word: str) -> Callable[[], object]:
    sql = """select e.work, max(e.own) from said cross join entry e on e.id = said.rowid
      where said match ? group by e.work order by 2 desc limit 20"""
    return lambda: base.execute(sql, (word,)).fetchall()


def _engine_alone(index: Words, works: int) -> None:
    """The widest words without marks, reasons and language: what the engine itself takes."""

    def sought(word: str) -> Terms:
        return Terms(word, tuple(Hit(field, word, 0.5) for field in ("seen", "text", "words", "title")))  # fmt: skip

    trees = {
        "engine alone: common word": [sought(word) for word in COMMON],
        "engine alone: common word, dates, kind": [
            All(
                (sought(word), Fact("kind", ("inscription",)), InTime("made", 690_000, 694_000))
            )
            for word in COMMON
        ],
    }
    for name, each in trees.items():
        taken = []
        for tree in each:
            start = time.perf_counter()
            index.find(tree, Page(facets=("kind", "technique")))
            taken.append((time.perf_counter() - start) * 1000)
        told(name, f"{statistics.median(taken):.1f} / {_p95(taken):.1f}", "", "", "")


def _saves(index: Words, works: int) -> None:
    """A work held in memory and found by a word that only it has."""
    taken = []
    for number, (document, entries) in enumerate(catalogue(40)):
        word = f"quizzle{number:03}"
        changed = tuple(replace(each, text=f"{each.text} {word}") for each in entries)
        start = time.perf_counter()
        index.hold([(document, changed)], works + number + 2)
        answer = index.search(Query(words=word), today=TODAY)
        taken.append((time.perf_counter() - start) * 1000)
        assert answer.total == 1
    told("a save, held and found by its word", f"{statistics.median(taken):.1f} / {_p95(taken):.1f}", "", "", "")  # fmt: skip


def _resident(folder: Path, works: int, kind: str) -> int:
    """Memory of a process of its own that asks a question of every shape."""
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from finding_catalogues import engine, peers\n"
        "from test_bench_finding import shapes\n"
        "from catalogue.indexes.question import Query\n"
        "folder, works, kind = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3]\n"
        "typed = [each for all_ in shapes(peers(folder, works)[0], works).values() for each, _ in all_[:10]]\n"
        "told = dict(line.split(':', 1) for line in open('/proc/self/status'))\n"
        "before = int(told['VmRSS'].split()[0])\n"
        "with engine(folder, works, kind)[0] as index:\n"
        "    for each in typed:\n"
        "        index.search(Query(words=each))\n"
        "    told = dict(line.split(':', 1) for line in open('/proc/self/status'))\n"
        "    print(int(told['VmRSS'].split()[0]) // 1024)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(folder), str(works), kind],
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
    )
    return int(ran.stdout.strip())
