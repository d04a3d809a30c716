"""Timings of names and addresses, as Markdown rows; how they are run is said in test_bench.py."""

from __future__ import annotations

import pytest
from test_bench import median_ms, told

from catalogue.measure import find_addresses, find_names, read_attribution, read_name

pytestmark = pytest.mark.bench
NAMES = (
    "Ada Penhale", "Attributed to Mrs. Ada van der Quill, R.A. (1840-1926)", "Penhale, Ada (follower of)",
    "J. Trewin & Sons Ltd, Bath", "probably a follower of Hans Trewin d. Ä.", "private collection, London",
)  # fmt: skip
LABEL = (
    "J. TREWIN & SONS\n48 Hart Lane, London, W.1. Tel.: MAYfair 1234\n"
    "Mrs. A. Penhale, Lindenstraße 12, 80333 München"
)


@pytest.mark.parametrize("reader", [read_attribution, read_name])
def test_names_one_by_one(reader):
    many = NAMES * 100
    took = median_ms(lambda: [reader(name) for name in many], 7)
    told(f"{reader.__name__}, {len(NAMES)} names", f"{len(many) / took * 1000:,.0f} a second")


@pytest.mark.parametrize("reader", [find_names, find_addresses])
def test_a_label_and_a_long_text(reader):
    told(f"{reader.__name__}, a label of three lines", f"{median_ms(lambda: reader(LABEL), 99):.2f} ms")  # fmt: skip
    for name, piece in (("labels", LABEL + "\n"), ("initials", "A. "), ("figures", "12-")):
        short, long = (piece * (size // len(piece)) for size in (10_000, 100_000))
        ten, hundred = (
            median_ms(lambda text=text: reader(text), count)
            for text, count in ((short, 7), (long, 3))
        )
        told(
            f"{reader.__name__}, 100 kB of {name}",
            f"{hundred:.0f} ms",
            f"10 kB {ten:.0f} ms: {hundred / ten:.1f} times",
        )
