"""Timings, run with `make bench`; every figure stands beside a floor measured in the same run.

`DORSE_BENCH_SIZES=1000,10000` chooses how many works. Results are printed as Markdown rows, to be
copied into RESULTS.md with the date and what changed.
"""

from __future__ import annotations

import json
import os
import resource
import statistics
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from seeded import records

from catalogue.finding import Finder
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import parse, write
from catalogue.record import Work
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]


def told(what: str, figure: str, beside: str = "") -> None:
    print(f"| {what} | {figure} | {beside} |")


def median_ms(action, times: int) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken)


def process_ms(*words: str, times: int = 7) -> float:
    return median_ms(lambda: subprocess.run(words, check=True, capture_output=True), times)


def test_start_up():
    python = process_ms(sys.executable, "-c", "pass")
    help_ms = process_ms(sys.executable, "-m", "catalogue.command", "--help")
    told("dorse --help", f"{help_ms:.0f} ms", f"python alone {python:.0f} ms")


def test_one_record():
    work = next(record for record in records(1) if isinstance(record, Work))
    text = write(to_jsonld(work))
    there = median_ms(lambda: from_jsonld(parse(text)), 200)
    back = median_ms(lambda: write(to_jsonld(work)), 200)
    floor = median_ms(lambda: json.dumps(json.loads(text)), 200)
    told("document to record and back", f"{there + back:.2f} ms", f"json alone {floor:.2f} ms")


@pytest.mark.parametrize("count", SIZES)
def test_a_studio(count, tmp_path):
    folder = tmp_path / "json"
    folder.mkdir()
    for record in records(count):
        (folder / f"{record.document.replace('/', '-')}.json").write_bytes(
            write(to_jsonld(record))
        )
    with Studio.init(tmp_path / "studio") as studio:
        start = time.perf_counter()
        outcomes = [told_.outcome for told_ in studio.import_([folder], who="bench")]
        taken = time.perf_counter() - start
        assert set(outcomes) == {"new"}
        told(
            f"import, {count} works",
            f"{len(outcomes) / taken:.0f} documents/s",
            f"{taken:.1f} s",
        )

        _ledger_alone(folder, tmp_path / "bare", count)
        _saves(studio, count)
        _index_and_search(studio, count)
        _saves_beside_another(studio, count)
        _exports(studio, tmp_path, count)
        start = time.perf_counter()
        assert not studio.verify().faults
        told(f"verify, {count} works", f"{time.perf_counter() - start:.1f} s")
    _desk(tmp_path / "studio", count)


def _ledger_alone(folder: Path, bare: Path, count: int) -> None:
    texts = {
        path.stem.replace("-", "/", 1): path.read_bytes() for path in folder.glob("*.json")
    }
    with Studio.init(bare) as studio:
        start = time.perf_counter()
        names = list(texts)
        for first in range(0, len(names), 200):
            with studio.ledger.change(who="bench", why="bench") as change:
                for name in names[first : first + 200]:
                    change.save(name, texts[name], expected=None)
        taken = time.perf_counter() - start
    told(f"ledger alone, {count} works", f"{len(texts) / taken:.0f} documents/s")


def _saves(studio: Studio, count: int) -> None:
    kept = next(iter(studio.all(Work)))
    taken = []
    for number in range(60):
        start = time.perf_counter()
        kept = studio.save(replace(kept.record, medium=f"Oil {number}"), who="bench", read=kept)
        taken.append((time.perf_counter() - start) * 1000)
    floor = studio.folder / "floor"
    with floor.open("ab") as file:

        def append() -> None:
            file.write(b"x" * 8000)
            file.flush()
            os.fdatasync(file.fileno())

        floor_ms = median_ms(append, 60)
    told(
        f"save acknowledged, {count} works",
        f"median {statistics.median(taken):.1f} ms, worst {max(taken):.1f} ms",
        f"append + fdatasync {floor_ms:.2f} ms",
    )


def _saves_beside_another(studio: Studio, count: int) -> None:
    """The same while a second process searches without a pause."""
    code = (
        "import sys\n"
        "from catalogue.studio import Studio\n"
        "with Studio.open(sys.argv[1]) as studio:\n"
        "    print('ready', flush=True)\n"
        "    while True:\n"
        "        studio.search(studio.query('mor'))\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code, str(studio.folder)], stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "ready\n"
        kept = next(iter(studio.all(Work)))
        taken = []
        for number in range(60):
            start = time.perf_counter()
            changed = replace(kept.record, medium=f"Oil, again {number}")
            kept = studio.save(changed, who="bench", read=kept)
            taken.append((time.perf_counter() - start) * 1000)
        other.kill()
    told(
        f"save acknowledged beside a searching process, {count} works",
        f"median {statistics.median(taken):.1f} ms, worst {max(taken):.1f} ms",
    )


def _index_and_search(studio: Studio, count: int) -> None:
    with closing(Finder(studio.ledger, studio.folder / "indexes")) as finder:
        start = time.perf_counter()
        held = finder.rebuild()
        taken = time.perf_counter() - start
    told(f"words made anew, {count} works", f"{held / taken:.0f} documents/s", f"{taken:.0f} s")
    for words in ("mor", "harco fen", "bac*", '"co dre"'):
        taken_ms = median_ms(lambda words=words: studio.search(studio.query(words)), 7)
        told(f"search {words}, {count} works", f"{taken_ms:.1f} ms")


def _exports(studio: Studio, tmp_path: Path, count: int) -> None:
    rates = {}
    for name, profile in (
        ("full-graph", "full"),
        ("full-graph", "public"),
        ("linked-art", "public"),
    ):
        start = time.perf_counter()
        sent = studio.export(name, profile, tmp_path / f"{name}-{profile}")
        rates[name, profile] = sent.documents / (time.perf_counter() - start)
    bodies = [parse(revision.body) for revision in studio.ledger.bodies()]
    floor = tmp_path / "floor"
    floor.mkdir()
    start = time.perf_counter()
    for number, body in enumerate(bodies):
        (floor / f"{number}.json").write_text(json.dumps(body))
    floor_rate = len(bodies) / (time.perf_counter() - start)
    for (name, profile), rate in rates.items():
        told(
            f"export {name} under {profile}, {count} works",
            f"{rate:.0f} documents/s",
            f"json.dumps + write {floor_rate:.0f}/s: {rate / floor_rate:.2f} of it",
        )


def _desk(folder: Path, count: int) -> None:
    code = (
        "import sys\n"
        "from catalogue.desk import create_app\n"
        "from catalogue.studio import Studio\n"
        "with Studio.open(sys.argv[1]) as studio:\n"
        "    client = create_app(studio).test_client()\n"
        "    for path in ('/', '/find?q=mor', '/find?q=bac*', '/people'):\n"
        "        assert client.get(path, base_url='http://127.0.0.1').status_code == 200\n"
        # Not ru_maxrss: a child begins with what its parent had.
        "    told = dict(line.split(':', 1) for line in open('/proc/self/status'))\n"
        "    print(int(told['VmHWM'].split()[0]) // 1024)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(folder)], check=True, capture_output=True, text=True
    )
    told(f"desk resident, {count} works", f"{ran.stdout.strip()} MB")


def test_this_process_stayed_small():
    told(
        "peak of the bench itself",
        f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB",
    )
