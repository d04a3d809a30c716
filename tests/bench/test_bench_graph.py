"""Timings of the graph: loading, replacing one work, the ten questions beside rdflib in memory.

Part of `make bench`; `DORSE_BENCH_SIZES=1000,10000` chooses how many works. rdflib gets no more than
`PATIENCE_SECONDS` for a question, since nothing stops it otherwise: what it took then counts as that.
"""

from __future__ import annotations

import multiprocessing
import os
import random
import resource
import statistics
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import rdflib
from pyoxigraph import Store
from seeded import records

from catalogue.asking import Asker
from catalogue.indexes import graph as index
from catalogue.linked.addresses import address_of
from catalogue.linked.documents import to_jsonld
from catalogue.linked.graph import graph
from catalogue.linked.quads import statements
from catalogue.linked.text import parse, write
from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    ConditionCheck,
    Evidence,
    Finding,
    Inscription,
    MaterialUse,
    Observation,
    Party,
    PartyName,
    ProvenanceEvent,
    Record,
    Sighting,
    Step,
    Transcript,
    Treatment,
    Work,
)
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]
QUERIES = sorted((Path(__file__).parents[2] / "sample_records" / "queries").glob("*.rq"))
PATIENCE_SECONDS = 30


def told(what: str, figure: str, beside: str = "") -> None:
    print(f"| {what} | {figure} | {beside} |", flush=True)


def treated(count: int) -> Iterator[Record]:
    """The seeded works; one in ten has been treated, so that each of the ten questions finds some."""
    chance = random.Random(11)
    painter = None
    for record in records(count):
        if isinstance(record, Party) and painter is None:
            painter = replace(
                record, names=(PartyName(text="Eliza Dunmarrow", preferred=True),)
            )
            yield painter
        elif isinstance(record, Work) and chance.random() < 0.1:
            yield _with_history(record, painter, chance)
        else:
            yield record


def _with_history(work: Work, painter: Party, chance: random.Random) -> Work:
    check = ConditionCheck(
        number="K1", occasion="occasion/incoming", on=Day(2026, 3, 2), by=painter.document
    )
    tear = Finding(
        number="F1", layer="layer/support", kind="damage/tear-straight",
        observations=(Observation(check=check.id, length_mm=chance.randint(5, 90),
                                  severity=chance.choice(["severity/visible", "severity/affecting"])),),
    )  # fmt: skip
    patch = Step(
        order=1, kind="step/patch-heat-set", began=Day(2026, 4, 2), set_temperature_c=70,
        materials=(MaterialUse(material="material/eva-adhesive", role="use/adhesive", lot="A-1"),),
        addresses=(tear.id,),
    )  # fmt: skip
    label, *others = work.inscriptions
    return replace(
        work,
        attributions=(
            Attribution(artist=painter.document, qualifier=chance.choice(["qualifier/by", "qualifier/circle-of"]),
                        preferred=True),
        ),
        inscriptions=(
            replace(label, kind="inscription/dealer-label",
                    transcripts=(Transcript(markup="AMBRY & FELL\n14, Sorrel Place, Garrowmouth"),),
                    sightings=(Sighting(state="state/covered", on=Day(2026, 3, 2)),)),
            *others,
            Inscription(number="I7", kind="inscription/wax-seal", face="face/back"),
        ),
        checks=(check,),
        findings=(tear,),
        treatments=(Treatment(number="T1", aim="aim/remedial", steps=(patch,)),),
        provenance=(
            ProvenanceEvent(number="E1", order=1, kind="provenance/sale", when=read_date("1911"),
                            evidence=(Evidence(kind="evidence/none-cited"),)),
        ),
    )  # fmt: skip


def test_one_document_as_statements():
    documents = [
        parse(write(to_jsonld(each))) for each in records(60) if isinstance(each, Work)
    ]
    lines = statistics.median(len(statements(each)) for each in documents)
    ours = _median_ms(statements, documents)
    other = _median_ms(graph, documents)
    told(
        "document to statements",
        f"{ours:.2f} ms, {lines:.0f} statements",
        f"rdflib {other:.1f} ms",
    )


def _median_ms(action, things) -> float:
    taken = []
    for each in things:
        start = time.perf_counter()
        action(each)
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken)


@pytest.mark.parametrize("count", SIZES)
def test_the_graph(count, tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        documents = [to_jsonld(each) for each in treated(count)]
        for start in range(0, len(documents), 500):
            with studio.ledger.change(who="bench", why="bench") as change:
                for each in documents[start : start + 500]:
                    change.save(each["id"], write(each), expected=None)
        asker = Asker(studio.ledger, tmp_path / "graph")
        start = time.perf_counter()
        held = asker.rebuild()
        taken = time.perf_counter() - start
        size = sum(
            file.stat().st_size for file in tmp_path.glob("graph/**/*") if file.is_file()
        )
        told(
            f"graph made anew, {count} works",
            f"{held / taken:.0f} documents/s",
            f"{taken:.0f} s, {size >> 20} MB on disk",
        )
        _replacing(tmp_path / "graph", documents, count)
        _caught_up(studio, asker, count)
    _questions(tmp_path / "graph", documents, count)


def _replacing(folder: Path, documents: list, count: int) -> None:
    """The work of taking in one save, in an index that is open: read, turned into statements, replaced."""
    texts = [write(each) for each in documents if each["id"].startswith("work/")][-60:]
    taken = _replaced(Store(str(folder / "graph-1" / "store")), texts)
    told(f"one work's graph replaced on disk, {count} works", f"median {taken:.1f} ms")


def _replaced(store: Store, texts: list[bytes]) -> float:
    def replaced(text: bytes) -> None:
        document = parse(text)
        address = address_of(document["id"], document["id"], None)
        index.replace(store, address, statements(document))

    taken = _median_ms(replaced, texts)
    store.flush()
    return taken


def _caught_up(studio: Studio, asker: Asker, count: int) -> None:
    """The whole way after one save: opened, taken in, flushed, closed; and then asked."""
    kept = next(iter(studio.all(Work)))
    taking, asking = [], []
    for number in range(15):
        kept = studio.save(replace(kept.record, medium=f"Oil {number}"), who="bench", read=kept)
        start = time.perf_counter()
        assert asker.catch_up() == 1
        taking.append((time.perf_counter() - start) * 1000)
        start = time.perf_counter()
        asker.ask("ASK { ?s ?p ?o }")
        asking.append((time.perf_counter() - start) * 1000)
    told(
        f"one save caught up, {count} works",
        f"median {statistics.median(taking):.0f} ms",
        f"the least question asked, in its own process: {statistics.median(asking):.0f} ms",
    )


def _questions(folder: Path, documents: list, count: int) -> None:
    store = Store.read_only(str(folder / "graph-1" / "store"))
    ours = {path: _ours(store, path.read_text("utf-8")) for path in QUERIES}
    del store
    memory = rdflib.Graph()
    start = time.perf_counter()
    for document in documents:
        memory.parse(data="\n".join(statements(document)), format="nt")
    vocab = Path(__file__).parents[2] / "vocab"
    for file in [*(vocab / "terms").glob("*.ttl"), vocab / "dorse.ttl"]:
        memory.parse(file, format="turtle")
    told(
        f"rdflib in memory, {count} works",
        f"{len(documents) / (time.perf_counter() - start):.0f} documents/s",
        f"{len(memory)} statements, {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss >> 10} MB",
    )
    theirs = {path: _theirs(memory, path.read_text("utf-8")) for path in QUERIES}
    for path in QUERIES:
        (rows, ms), (other_rows, other_ms) = ours[path], theirs[path]
        assert other_rows in (rows, None), path
        assert rows, path
        told(
            f"{path.stem}, {count} works",
            f"{ms:.1f} ms, {rows} rows",
            f"rdflib {other_ms:.0f} ms{'' if other_rows else ' (stopped)'}: {other_ms / ms:.0f} times",
        )
    both = [sum(ms for _, ms in each.values()) for each in (ours, theirs)]
    told(
        f"the ten questions, {count} works",
        f"{both[0]:.0f} ms",
        f"rdflib {both[1]:.0f} ms: {both[1] / both[0]:.0f} times",
    )


def _ours(store: Store, question: str) -> tuple[int, float]:
    taken = []
    for _ in range(5):
        start = time.perf_counter()
        rows = sum(1 for _ in store.query(question, use_default_graph_as_union=True))
        taken.append((time.perf_counter() - start) * 1000)
    return rows, statistics.median(taken)


def _theirs(memory: rdflib.Graph, question: str) -> tuple[int | None, float]:
    """How many rows, and how long; None rows when it had to be stopped."""
    apart = multiprocessing.get_context("fork")
    receiving, sending = apart.Pipe(duplex=False)

    def run() -> None:
        start = time.perf_counter()
        rows = sum(1 for _ in memory.query(question))
        sending.send((rows, (time.perf_counter() - start) * 1000))

    child = apart.Process(target=run)
    child.start()
    if receiving.poll(PATIENCE_SECONDS):
        found = receiving.recv()
        child.join()
        return found
    child.kill()
    child.join()
    return None, PATIENCE_SECONDS * 1000.0
