"""Timings of the chain of hands, as Markdown rows; how they are run is said in test_bench.py."""

from __future__ import annotations

import random

import pytest
from chain_events import event, party, work_of
from test_bench import median_ms, told

from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.diligence import diligence
from catalogue.argument.chain.held import held
from catalogue.argument.chain.holders import tenures
from catalogue.argument.chain.passages import passages
from catalogue.argument.chain.windows import window
from catalogue.measure import Day

pytestmark = pytest.mark.bench


def test_a_chain_of_many_hands():
    rng = random.Random(7)
    for count in (50, 500):
        work = work_of(
            *(
                event(
                    n, rng.choice(("sale", "gift", "presence", "loan", "auction")),
                    party(f"Giver {n}", "seller"), party(f"Holder {n}", "owner"),
                    when=str(1700 + n * 300 // count), grade="primary",
                    passage=rng.choice(("direct", "not-known", "gap")),
                )
                for n in range(1, count + 1)
            )
        )  # fmt: skip
        chain = tenures(work)
        for what, action in (
            ("holdings from events", lambda work=work: tenures(work)),
            ("gaps and overlaps", lambda chain=chain: passages(chain)),
            ("a window covered", lambda chain=chain: coverage(chain, window("europe-1933"))),
            ("who had it on a day", lambda chain=chain: held(chain, Day(1936, 3, 3))),
            (
                "questions of due diligence",
                lambda work=work, chain=chain: diligence(work, chain),
            ),
        ):
            told(f"{count} events: {what}", f"{median_ms(action, 5):.1f} ms")
