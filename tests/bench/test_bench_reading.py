"""Timings of reading a label, as Markdown rows; how they are run is said in test_bench.py."""

from __future__ import annotations

import pytest
from test_bench import median_ms, told

from catalogue.parsing import answers, label
from catalogue.reading import compare, read
from catalogue.reading.habits import suggest

pytestmark = pytest.mark.bench
LABEL = (
    "@p Kunsthandlung Ber_ger & Sohn|@p Title: @h(pencil) Low Ti[de ?medium] at the Ferry Steps\n"
    "@p No. @h2(ball-point) [[412]]<<421>> @s ZOLL[...]MT, Room 4|Gal.(erie) Ho[ffma]nn, Wat[c.6]lour "
    "\\margin:sold/ 1903|@p Price: (blank) ~fr:huile sur toile~ M^rs^ Trew[---] <Gallery=Galery> of Art, "
    "the 3rd of May, *Spring Show* Bath (vac.3) word(?)"
)
OTHER = LABEL.replace("Sohn", "Sohm").replace("421", "427").replace("Bath", "Bach")


def test_a_label_of_forty_words():
    reading = read(LABEL)
    count = len(reading.seen().split())
    assert 38 <= count <= 46
    for what, action in (
        ("read", lambda: read(LABEL)),
        ("read and rendered for the eye", lambda: read(LABEL).diplomatic()),
        ("read and rendered in HTML", lambda: read(LABEL).html()),
        (
            "read, diplomatic, plain, seen and HTML",
            lambda: (
                (one := read(LABEL)).diplomatic(),
                one.plain(),
                one.seen(),
                one.html(),
            ),
        ),
        ("its words for the index", reading.words),
        ("its TEI", reading.tei),
        ("what could be typed as signs", lambda: suggest(LABEL)),
        ("beside another reading", lambda: compare(reading, read(OTHER))),
    ):
        told(f"a label of {count} words: {what}", f"{median_ms(action, 200):.2f} ms")


def test_a_long_text_takes_its_length():
    for name, piece in (
        ("labels", LABEL + "\n"),
        ("brackets", "["),
        ("signs one by one", "[a]"),
    ):
        short, long = (piece * (size // len(piece) + 1) for size in (10_000, 100_000))
        ten, hundred = (best_ms(lambda text=text: read(text), 7) for text in (short, long))
        told(
            f"100 kB of {name}",
            f"{hundred:.0f} ms",
            f"10 kB {ten:.1f} ms: {hundred / ten:.1f} times",
        )


def best_ms(action, times: int) -> float:
    """The quickest of some runs: for a ratio, what the neighbours on the machine take is no matter."""
    return min(median_ms(action, 1) for _ in range(times))


def test_a_job_book_goes_through_the_filter():
    lines = [LABEL.replace("\n", "|").encode() + b"\n"] * 500
    taken = median_ms(lambda: list(answers(lines, label, jsonl=False)), 1)
    told("dorse parse labels, 500 lines of forty words", f"{500 / taken * 1000:.0f} lines/s")
