"""Timings of the surface: a patch against 500 regions, as Markdown rows; run as test_bench.py says."""

from __future__ import annotations

import math
import random
import sys

import pytest
from test_bench import median_ms, process_ms, told

from catalogue.surface import Box, Shape, Sheet, covers, extent, mirror

pytestmark = pytest.mark.bench
SHEET = Sheet(2000, 1500)


def regions(count):
    """Boxes and outlines of 4 to 24 corners, strewn over one side."""
    chance = random.Random(count)
    for number in range(count):
        x, y = chance.uniform(50, 1900), chance.uniform(50, 1400)
        if number % 2:
            yield Box(x, y, chance.uniform(5, 150), chance.uniform(5, 60))
            continue
        corners = chance.randint(4, 24)
        turns = [2 * math.pi * step / corners for step in range(corners)]
        reaches = [chance.uniform(5, 40) for _ in turns]
        yield Shape(
            "area",
            tuple(
                (x + reach * math.sin(turn), y + reach * math.cos(turn))
                for turn, reach in zip(turns, reaches, strict=True)
            ),
        )


def test_a_patch_against_five_hundred_regions():
    items = [*regions(500)]
    for what, patch in (
        ("a patch of 90 x 75 mm", Box(400, 300, 90, 75)),
        ("a round patch of 72 corners", Shape.ellipse(Box(200, 200, 1200, 900))),
        ("a lining", SHEET.whole),
    ):
        hits = sum(found.level == "hit" for found in covers(patch, items))
        told(
            f"{what} against 500 regions",
            f"{median_ms(lambda patch=patch: covers(patch, items), 30):.1f} ms",
            f"{hits} of them hit",
        )
    told(
        "500 regions joined, as percent",
        f"{median_ms(lambda: extent(items, SHEET), 30):.1f} ms",
    )
    turned = median_ms(lambda: [mirror(item, SHEET) for item in items], 30)
    told("500 regions mirrored", f"{turned:.1f} ms")


def test_what_loading_costs():
    python = process_ms(sys.executable, "-c", "pass")
    for what, code in (
        ("the surface without shapely", "import catalogue.surface"),
        ("the surface with shapely", "from catalogue.surface import covers"),
    ):
        told(
            what, f"{process_ms(sys.executable, '-c', code):.0f} ms", f"python {python:.0f} ms"
        )
