"""Timings of photographs at 24 and 50 megapixels, as Markdown rows; run as test_bench.py says.

Beside each: Pillow alone, one whole decode and as many JPEG saves as there are tiles. Memory is that of a
process of its own that makes every tile of one photograph.
"""

from __future__ import annotations

import hashlib
import io
import shutil
import sys
import time
from functools import cache
from pathlib import Path
from subprocess import run

import cv2
import numpy as np
import pytest
from PIL import Image
from test_bench import told

from catalogue.photos import laid_over as laying
from catalogue.photos.tiles import prepare, tile, tiles
from catalogue.photos.ways import ways

pytestmark = pytest.mark.bench
SIZES = {24: (6000, 4000), 50: (8660, 5774)}


@cache
def back(megapixels: int, seed: int = 1) -> Image.Image:
    """Canvas, wood and labels, with the grain that makes a JPEG as large as a camera's."""
    width, height = SIZES[megapixels]
    chance = np.random.default_rng(seed)
    rough = chance.integers(70, 190, (height // 24 + 1, width // 24 + 1, 3), dtype=np.uint8)
    picture = cv2.resize(rough, (width, height), interpolation=cv2.INTER_CUBIC)
    grain = chance.integers(-8, 8, (512, 512, 3)).astype(np.int16)
    for top in range(0, height, 512):
        for left in range(0, width, 512):
            part = picture[top : top + 512, left : left + 512]
            part[:] = np.clip(part + grain[: part.shape[0], : part.shape[1]], 0, 255)
    for _ in range(30):
        place = int(chance.integers(0, width - 1500)), int(chance.integers(200, height - 50))
        cv2.putText(
            picture, "Lot 38 Harbour", place, cv2.FONT_HERSHEY_SIMPLEX, 5, (60, 40, 30), 14
        )
    return Image.fromarray(picture)


@pytest.fixture
def kept(tmp_path):
    def keep(picture: Image.Image, **how: object):
        file = io.BytesIO()
        picture.save(file, "JPEG", quality=92, **how)
        digest = hashlib.sha256(file.getvalue()).hexdigest()
        (tmp_path / digest).write_bytes(file.getvalue())
        return tmp_path / digest, digest, tmp_path / "cache"

    return keep


def seconds(action) -> float:
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def pillow_alone(original: Path, count: int, quality: int = 85) -> float:
    def plain() -> None:
        with Image.open(original) as picture:
            picture.load()
            for number in range(count):
                left = 512 * number % (picture.width - 512)
                top = 512 * (number % (picture.height // 512))
                picture.crop((left, top, left + 512, top + 512)).save(
                    io.BytesIO(), "JPEG", quality=quality, subsampling=0
                )

    return seconds(plain)


@pytest.mark.parametrize("megapixels", SIZES)
def test_tiles(megapixels, kept):
    photo = kept(back(megapixels))
    there = tiles(*photo[:2])
    count = sum(len(there.boxes(level)) for level in range(there.levels))
    small = next(level for level in range(there.levels) if max(there.size(level)) <= 2600)
    few = sum(len(there.boxes(level)) for level in range(small, there.levels))
    first = seconds(lambda: tile(*photo, "plain", (small, 0, 0)))
    floor = pillow_alone(photo[0], few)
    told(f"{megapixels} MP: first look", f"{first:.2f} s", f"{few} tiles; Pillow {floor:.2f} s")
    shutil.rmtree(photo[2])
    whole = seconds(lambda: prepare(*photo))
    floor = pillow_alone(photo[0], count)
    told(
        f"{megapixels} MP: every tile", f"{whole:.2f} s", f"{count} tiles; Pillow {floor:.2f} s"
    )
    again = seconds(lambda: tile(*photo, "plain", (0, 3, 3)))
    told(f"{megapixels} MP: a tile that is there", f"{again * 1000:.2f} ms")


def test_ways_of_looking(kept):
    photo = kept(back(50))
    prepare(*photo)
    for way in ways()[1:]:
        first = seconds(lambda way=way: tile(*photo, way.key, (2, 0, 0)))
        large = seconds(lambda way=way: tile(*photo, way.key, (0, 0, 0)))
        told(
            f"50 MP, {way.key}: first look", f"{first:.2f} s", f"every tile {large:.2f} s more"
        )


@pytest.mark.parametrize("orientation", [1, 6])
def test_memory(kept, orientation):
    written = Image.Exif()
    written[274] = orientation
    original, digest, cache_folder = kept(back(50), exif=written)
    code = """
import sys
from pathlib import Path
from catalogue.photos.tiles import prepare, tile
photo = Path(sys.argv[1]), sys.argv[2], Path(sys.argv[3])
if sys.argv[4] == "plain":
    prepare(*photo)
else:
    tile(*photo, sys.argv[4], (0, 0, 0))
status = Path('/proc/self/status').read_text()  # getrusage would tell of the process that began it
print(int(status.partition('VmHWM:')[2].split()[0]) // 1024)
"""
    for way in ("plain", "local-contrast", "decorrelated", "flattened", "faint"):
        asked = [sys.executable, "-c", code, str(original), digest, str(cache_folder), way]
        most = run(asked, check=True, capture_output=True, text=True).stdout.strip()
        told(f"50 MP, {way}, turned as EXIF {orientation}: most memory", f"{most} MB")


def test_laid_over(kept, tmp_path):
    one, width, height = back(24), *SIZES[24]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    there = corners + np.array([[60, 40], [-90, 20], [-30, -70], [20, -50]], np.float32)
    plane = cv2.getPerspectiveTransform(corners, there)
    moved = cv2.warpPerspective(np.asarray(one), plane, (width, height))
    photo, other = kept(one), kept(Image.fromarray(cv2.convertScaleAbs(moved, alpha=0.8)))
    taken = seconds(lambda: laying.laid_over(photo[:2], other[:2], tmp_path / "cache"))
    again = seconds(lambda: laying.laid_over(photo[:2], other[:2], tmp_path / "cache"))
    told("24 MP laid over 24 MP", f"{taken:.2f} s", f"looked up again {again * 1000:.2f} ms")
