"""A parcel of 100 works with 300 photographs of 24 megapixels, made without any cache; then a large one without.

    pytest -m bench -s tests/bench/test_bench_exchange_parcel.py

DORSE_BENCH_PHOTOS says how many photographs (300), DORSE_BENCH_SIZES how many works without.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from seeded import records

from catalogue.record import Work
from catalogue.studio import Studio

pytestmark = pytest.mark.bench
WHO = "A. Conservator"
PHOTOS = int(os.environ.get("DORSE_BENCH_PHOTOS", "300"))
SIZES = [int(each) for each in os.environ.get("DORSE_BENCH_SIZES", "1000").split(",")]


def canvases(count):
    """JPEGs of 6000 × 4000 pixels with the grain of a canvas, about 9 MB each, every one a file of its own."""
    chance = np.random.default_rng(24)
    soft = Image.fromarray(chance.integers(60, 220, (200, 300, 3), dtype=np.uint8))
    ground = np.asarray(soft.resize((6000, 4000), Image.Resampling.BICUBIC)).astype(np.int16)
    grain = chance.normal(0, 6, (4000, 6000, 1)).astype(np.int16)
    drawn = []
    for number in range(6):
        seen = np.roll(grain, number * 17, axis=1) + ground + number
        with io.BytesIO() as file:
            Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)).save(
                file, "JPEG", quality=92
            )
            drawn.append(file.getvalue())
    for number in range(count):
        # a number after the end of the picture makes another file of it: no copy serves for two
        yield drawn[number % len(drawn)] + number.to_bytes(4, "big")


def test_a_hundred_works_with_photographs(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        works = []
        for record in records(100):
            kept = studio.save(record, who=WHO)
            if isinstance(record, Work):
                works.append(kept)
        for number, content in enumerate(canvases(PHOTOS)):
            place = number % len(works)
            works[place] = studio.add_photo(
                works[place], content, name=f"{number}.jpg", who=WHO, face="face/back"
            )
    took, worked, peak = alone(tmp_path / "studio", "public", tmp_path / "first")
    again, _, _ = alone(tmp_path / "studio", "public", tmp_path / "second")
    first, second = (next((tmp_path / each).iterdir()) for each in ("first", "second"))
    assert first.read_bytes() == second.read_bytes()
    print(f"\n| parcel, 100 works, {PHOTOS} photographs of 24 megapixels | {took:.1f} s |")
    print(f"| work of all its threads | {worked:.1f} s |")
    print(f"| the same again, copies made before | {again:.1f} s |")
    print(f"| most memory | {peak} MB, file {first.stat().st_size / 1e6:.0f} MB |")
    began = time.perf_counter()
    with Studio.init(tmp_path / "other") as other:
        told = list(other.import_([first], who=WHO))
    print(f"| taken in elsewhere, {len(told)} records | {time.perf_counter() - began:.1f} s |")
    # on two quiet processors the clock shows little more than half of the work
    assert worked <= 180


@pytest.mark.parametrize("size", SIZES)
def test_many_works_without_photographs(tmp_path, size):
    with Studio.init(tmp_path / "studio") as studio:
        for record in records(size):
            studio.save(record, who=WHO)
    took, worked, peak = alone(tmp_path / "studio", "public", tmp_path / "out")
    print(f"\n| parcel, {size} works | {took:.1f} s, {worked:.1f} s of work, {peak} MB |")


def alone(studio, profile, out):
    """A parcel in a process of its own: seconds on the clock, seconds of work, its most memory in MB."""
    began = time.perf_counter()
    program = (
        "import os, re, sys; from pathlib import Path; from catalogue.studio import Studio\n"
        "with Studio.open(sys.argv[1]) as studio:\n"
        "    studio.export('parcel', sys.argv[2], Path(sys.argv[3]), who='A. Conservator')\n"
        # the most that this process held; what getrusage says begins with its parent's
        "print(int(re.search(r'VmHWM:\\s+(\\d+)', Path('/proc/self/status').read_text())[1]) // 1024,"
        " sum(os.times()[:2]))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program, str(studio), profile, str(out)],
        check=True,
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
    )
    peak, worked = ran.stdout.split()
    return time.perf_counter() - began, float(worked), int(peak)
