"""How fast linked data leaves: beside `json.dumps` and a write of the same documents, and how much memory.

`DORSE_BENCH_SIZES=1000,10000 pytest -m bench -s tests/bench/test_bench_exchange_linked.py`. Each export runs
in a process of its own, which tells its own peak: a child begins with what its parent had. The last scan
is part of an export; how much of it that is stands in the rows of the profiles.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from seeded import records

from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import parse, write
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]

EXPORTS = [
    *(("full-graph", profile) for profile in ("full", "owner", "public")),
    *(("linked-art", profile) for profile in ("full", "owner", "public")),
    ("linked-art-whole", "full"),
    ("turtle", "full"),
    ("nquads", "full"),
    ("nquads", "public"),
]

CHILD = """
import sys, time
from pathlib import Path
from catalogue.studio import Studio
folder, name, profile, out = sys.argv[1:]
with Studio.open(folder) as studio:
    start = time.perf_counter()
    sent = studio.export(name, profile, Path(out))
    taken = time.perf_counter() - start
told = dict(line.split(":", 1) for line in open("/proc/self/status"))
print(sent.documents, sent.files, taken, int(told["VmHWM"].split()[0]) // 1024)
"""


def told(what: str, figure: str, beside: str = "") -> None:
    print(f"| {what} | {figure} | {beside} |", flush=True)


@pytest.fixture(scope="module", params=SIZES)
def studio(request, tmp_path_factory):
    """A studio of so many works, put straight into its ledger."""
    folder = tmp_path_factory.mktemp(f"works{request.param}") / "studio"
    with Studio.init(folder) as made:
        documents = [(each.document, write(to_jsonld(each))) for each in records(request.param)]
        for first in range(0, len(documents), 500):
            with made.ledger.change(who="bench", why="bench") as change:
                for document_id, body in documents[first : first + 500]:
                    change.save(document_id, body, expected=None)
    return folder, request.param


def written(folder: Path, out: Path) -> float:
    """Documents a second when the same are only dumped by json and written."""
    with Studio.open(folder) as studio:
        bodies = [parse(revision.body) for revision in studio.ledger.bodies()]
    out.mkdir()
    start = time.perf_counter()
    for number, body in enumerate(bodies):
        (out / f"{number}.json").write_text(json.dumps(body))
    return len(bodies) / (time.perf_counter() - start)


@pytest.mark.parametrize(("name", "profile"), EXPORTS)
def test_exports(studio, tmp_path, name, profile):
    folder, count = studio
    floor = written(folder, tmp_path / "floor")
    ran = subprocess.run(
        [sys.executable, "-c", CHILD, str(folder), name, profile, str(tmp_path / "out")],
        check=True, capture_output=True, text=True,
    )  # fmt: skip
    documents, files, taken, peak = ran.stdout.split()
    rate = int(documents) / float(taken)
    told(
        f"export {name} under {profile}, {count} works",
        f"{rate:.0f} documents/s, {files} files, {float(taken):.1f} s, peak {peak} MB",
        f"json.dumps + write {floor:.0f}/s: {rate / floor:.2f} of it",
    )
