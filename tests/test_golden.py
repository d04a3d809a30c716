"""What leaves the house, file by file: read a difference here as if a museum will.

`pytest --rewrite-golden` accepts today's exports. Digests of pictures are masked, since pictures are
drawn anew on every machine.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from catalogue.places import folder
from catalogue.record import Work
from catalogue.studio import Studio

GOLDEN = Path(__file__).parent / "golden"
DIGEST = re.compile(r'"[0-9a-f]{64}"')
CHOSEN = [
    (name, profile) for name in ("linked-art", "full-graph") for profile in ("public", "owner")
]


@pytest.fixture(scope="module")
def samples():
    with Studio.open("memory:") as studio:
        records = folder("sample_records")
        told = list(
            studio.import_([records / "parties", records / "works", records / "jobs"], who="x")
        )
        assert {each.outcome for each in told} == {"new"}
        yield studio


def exported(studio, number, name, profile, out):
    studio.export(name, profile, out, [number])
    return {
        path.name: json.loads(path.read_text("utf-8")) for path in sorted(out.glob("*.json"))
    }


@pytest.mark.parametrize(("name", "profile"), CHOSEN)
@pytest.mark.parametrize("place", [0, 1])
def test_exports_are_as_they_were(samples, tmp_path, pytestconfig, name, profile, place):
    numbers = sorted(kept.record.number for kept in samples.all(Work))
    number = numbers[place]
    found = exported(samples, number, name, profile, tmp_path)
    text = DIGEST.sub(
        '"(digest)"', json.dumps(found, ensure_ascii=False, indent=1, sort_keys=True)
    )
    golden = GOLDEN / f"{number}-{name}-{profile}.json"
    if pytestconfig.getoption("--rewrite-golden"):
        golden.write_text(text + "\n", encoding="utf-8")
    assert golden.read_text("utf-8") == text + "\n"
