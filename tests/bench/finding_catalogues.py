"""Catalogues for the timing of finding: each engine's index, and the peers' tables over the same texts.

All of it is made once in the folder that `DORSE_BENCH_CACHE` names, else anew in a passing one.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path

from seeded_entries import artists, catalogue, how_many_artists, parties

from catalogue.indexes import engines
from catalogue.indexes.large.fields import FORMAT as LARGE_FORMAT
from catalogue.indexes.stored import FORMAT
from catalogue.indexes.words import Words

KINDS = {"usual": f"usual-{FORMAT}", "large": f"large-{LARGE_FORMAT}"}


def cache(passing: Path) -> Path:
    """Where catalogues are kept."""
    folder = Path(os.environ.get("DORSE_BENCH_CACHE") or passing)
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def engine(folder: Path, works: int, kind: str) -> tuple[Words, float]:
    """An engine with so many works, and how many works a second it took in (two processes)."""
    where = folder / f"{works}-{KINDS[kind]}"
    index = engines.words_in(where, None if kind == "usual" else kind)
    told = where / "rate.json"
    if not told.exists():
        start = time.perf_counter()
        with index.making_anew(works) as target:
            _in_processes(target, works, 2)
        told.write_text(json.dumps(works / (time.perf_counter() - start)), "utf-8")
    if index.cursor == works:
        # without them on file nobody could be found by name
        index.take_in(parties(works), works + 1)
    return index, json.loads(told.read_text("utf-8"))


def _in_processes(target: Path, works: int, count: int) -> None:
    context = multiprocessing.get_context("spawn")
    workers = [
        context.Process(target=_share, args=(target / f"share-{at}", works, at, count))
        for at in range(count)
    ]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
        assert worker.exitcode == 0


def _share(folder: Path, works: int, at: int, count: int) -> None:
    engines.write_part(
        folder, (each for number, each in enumerate(catalogue(works)) if number % count == at)
    )


def one_process_rate(folder: Path, kind: str, works: int) -> float:
    """Works a second when one process does it alone."""
    index = engines.words_in(folder / f"alone-{kind}", None if kind == "usual" else kind)
    documents = list(catalogue(works))
    start = time.perf_counter()
    index.rebuild(documents, 1)
    return works / (time.perf_counter() - start)


def peers(folder: Path, works: int) -> tuple[sqlite3.Connection, float]:
    """FTS5 over the same texts, plain and with the trigram tokenizer, and how many works a second."""
    file = folder / f"{works}-peers.sqlite"
    told = file.with_suffix(".json")
    if not told.exists():
        file.unlink(missing_ok=True)
        base = sqlite3.connect(file)
        base.executescript(
            """
            pragma journal_mode = off; pragma synchronous = off;
            create virtual table said using fts5(text, tokenize = "unicode61 remove_diacritics 2");
            create virtual table grams using fts5(text, tokenize = "trigram");
            create table entry (id integer primary key, work integer, artist text, kind text,
              earliest integer, latest integer, own integer, text text);
            create table work (id integer primary key, number text);
            """
        )
        start = time.perf_counter()
        for table in ("entry", "said", "work", "grams"):
            marks = {"entry": 8, "work": 2}.get(table)
            if table == "grams":
                taken = time.perf_counter() - start
            into = f"insert into {table} values ({','.join('?' * (marks or 0))})"
            if marks is None:
                into = f"insert into {table} (rowid, text) values (?, ?)"
            base.executemany(into, _rows(works, table))
            base.commit()
        base.executescript(
            """
            create index entry_work on entry (work);
            create index entry_artist on entry (artist, earliest, latest);
            insert into said (said) values ('optimize'); insert into grams (grams) values ('optimize');
            analyze;
            """
        )
        base.close()
        told.write_text(json.dumps(works / taken), "utf-8")
    base = sqlite3.connect(file)
    base.execute("pragma cache_size = -64000")
    base.execute("pragma mmap_size = 4000000000")
    return base, json.loads(told.read_text("utf-8"))


def _rows(works: int, table: str) -> Iterator[tuple[object, ...]]:
    at = 0
    for work, (_, entries) in enumerate(catalogue(works)):
        if table == "work":
            yield work, entries[0].number
            continue
        for entry in entries:
            at += 1
            text = f"{entry.text} {entry.words}".strip() if table != "entry" else entry.text
            if table == "entry":
                artist = dict(entry.facts)["artist"]
                yield (
                    at,
                    work,
                    artist,
                    entry.kind,
                    entry.earliest,
                    entry.latest,
                    entry.own_earliest,
                    text,
                )
            else:
                yield at, text


def names(works: int) -> list[tuple[str, str]]:
    """Every variant of every artist's name, with the party."""
    known = artists(how_many_artists(works))
    return [(name, party) for party, variants in known for name in variants]
