"""Timings of dating a label, as Markdown rows; how they are run is said in test_bench.py."""

from __future__ import annotations

from functools import partial

import pytest
from test_bench import median_ms, told

from catalogue.argument import date_label, date_repair, rules
from catalogue.argument.dating_rules import rules_on, searchable
from catalogue.reading import read

pytestmark = pytest.mark.bench
LABEL = (
    "@p Hollis & Trew Ltd., Fine Art Dealers|14 Tanner Street, London, W.1|Telephone: MAYfair 3021|"
    "Telegrams: Pictorial, London|@p Title: @h(pencil) Low Tide at the Ferry Steps|@p Artist: @h A. Wynne|"
    "@p Price: @h 30 gns.|@p Exhibited: Arts Council of Great Britain, Spring Show, Room 4, number 27"
)


def test_dating_a_label_of_forty_words():
    reading = read(LABEL)
    count = len(reading.seen().split())
    assert 38 <= count <= 46
    text = reading.seen()
    searched = searchable(text)
    near = [each for each in rules_on("label") if each.may_be_in(searched)]
    told(
        "rules in vocab/dating",
        f"{len(rules())}",
        f"{len(near)} of them searched for in this label",
    )
    for what, action in (
        ("read", lambda: read(LABEL)),
        ("dated", lambda: date_label(reading)),
        (
            "dated, every rule's pattern alone",
            lambda: [list(each.found_in(text)) for each in near],
        ),
    ):
        told(f"a label of {count} words: {what}", f"{median_ms(action, 200):.2f} ms")
    repair = ["material/wax-resin", "lined with EVA heat-seal adhesive", "stapled"]
    told(
        "a repair of three materials dated",
        f"{median_ms(lambda: date_repair(repair), 200):.2f} ms",
    )


def test_dating_takes_its_length():
    for what, piece in (
        ("labels", LABEL + "\n"),
        ("figures", "1.1"),
        ("marks beside gaps", "W.1[...] "),
    ):
        short, long = (read(piece * (size // len(piece))) for size in (10_000, 100_000))
        ten, hundred = (median_ms(partial(date_label, text), 5) for text in (short, long))
        told(
            f"100 kB of {what} dated",
            f"{hundred:.0f} ms",
            f"10 kB {ten:.0f} ms: {hundred / ten:.1f} times",
        )
