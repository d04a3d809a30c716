"""What leaves the house, file by file: read a difference here as if a museum will.

`pytest --rewrite-golden` accepts today's exports. Digests of pictures are masked, since pictures are
drawn anew on every machine.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from catalogue.linked.documents import from_jsonld
from catalogue.linked.text import parse
from catalogue.places import folder
from catalogue.studio import Studio

GOLDEN = Path(__file__).parent / "golden"
DIGEST = re.compile(r'"[0-9a-f]{64}"')
WORKS = sorted((folder("sample_records") / "works").glob("*.json"))
NUMBERS = sorted(from_jsonld(parse(path.read_bytes())).number for path in WORKS)
FORMATS = ("linked-art", "full-graph")
# What anybody may see is read for every work. What only an owner sees is twice as much of the same,
# so it is read for the two that have left the studio.
CHOSEN = [
    *((number, name, "public") for number in NUMBERS for name in FORMATS),
    *((number, name, "owner") for number in NUMBERS[:2] for name in FORMATS),
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


@pytest.mark.parametrize(("number", "name", "profile"), CHOSEN)
def test_exports_are_as_they_were(samples, tmp_path, pytestconfig, number, name, profile):
    found = exported(samples, number, name, profile, tmp_path)
    text = DIGEST.sub(
        '"(digest)"', json.dumps(found, ensure_ascii=False, indent=1, sort_keys=True)
    )
    golden = GOLDEN / f"{number}-{name}-{profile}.json"
    if pytestconfig.getoption("--rewrite-golden"):
        golden.write_text(text + "\n", encoding="utf-8")
    assert golden.read_text("utf-8") == text + "\n"


def test_every_golden_file_is_of_an_export_that_is_tested():
    chosen = {"-".join(each) + ".json" for each in CHOSEN}
    assert {path.name for path in GOLDEN.iterdir()} == chosen
