"""How fast works leave as TEI, IIIF and web annotations, and texts in TEI come in.

Beside each figure, from the same run: writing the stored text of the same works as files, which is the
least that any export does. The whole of an export is measured, redaction and reading the ledger too.
"""

from __future__ import annotations

import itertools
import os
import resource
import shutil
import time

import pytest
from seeded import records

from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.record import Photo, Region, Work
from catalogue.record.rules import new_id
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]
ONES = ("tei", "iiif", "web-annotation")


def told(what: str, figure: str, beside: str = "") -> None:
    print(f"| {what} | {figure} | {beside} |")


def photographed(work: Work) -> Work:
    """The work with one photograph on which each of its inscriptions has its place."""
    from dataclasses import replace

    photo = Photo(
        id=new_id(), sha256="ab" * 32, media_type="image/jpeg", width=6000, height=4000,
        face="face/back",
    )  # fmt: skip
    inscriptions = tuple(
        replace(
            each,
            regions=(
                Region(
                    id=new_id(),
                    photo=photo.id,
                    corners=((n, 1), (n + 99, 1), (n + 99, 50), (n, 50)),
                ),
            ),
        )
        for n, each in enumerate(work.inscriptions)
    )
    return replace(work, photos=(photo,), inscriptions=inscriptions)


@pytest.fixture(params=SIZES)
def large(request, tmp_path):
    """A studio of that many photographed works."""
    made = records(request.param)
    with Studio.init(tmp_path / "studio") as studio:
        made = (photographed(each) if isinstance(each, Work) else each for each in made)
        for batch in iter(lambda: list(itertools.islice(made, 500)), []):
            with studio.ledger.change(who="Nell", written_in=1, why="bench") as change:
                for record in batch:
                    change.save(record.document, write(to_jsonld(record)), expected=None)
        yield studio, request.param


@pytest.mark.parametrize("profile", ["public", "full"])
def test_rates(large, tmp_path, profile):
    studio, count = large
    out = tmp_path / "plain"
    out.mkdir()
    start = time.perf_counter()
    for each in studio.ledger.bodies("work"):
        (out / f"{each.document.replace('/', '-')}.json").write_bytes(each.body)
    floor = time.perf_counter() - start
    shutil.rmtree(out)
    for name in ONES:
        start = time.perf_counter()
        done = studio.export(name, profile, tmp_path / name)
        taken = time.perf_counter() - start
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        told(
            f"{name}, {profile}, {count:,} works, {done.files:,} files",
            f"{count / taken:,.0f} works/s",
            f"stored text as files {count / floor:,.0f} works/s; at most {peak} MB",
        )
        if name != "tei" or profile == "public":
            shutil.rmtree(tmp_path / name)
    if profile == "full":
        with Studio.open("memory:") as empty:
            start = time.perf_counter()
            texts = sum(1 for _ in empty.import_([tmp_path / "tei"], who="Nell"))
            told("TEI taken in", f"{texts / (time.perf_counter() - start):,.0f} texts/s", "")
        shutil.rmtree(tmp_path / "tei")
