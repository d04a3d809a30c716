"""Timings of the chronology of one painting, as Markdown rows; how they are run is said in test_bench.py.

It is far richer than any: 150 marks, 100 repairs, 100 owners, 40 exhibitions, 40 checks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from test_bench import median_ms, told

from catalogue.argument.timing.from_work import datings_of, events_and_claims
from catalogue.argument.timing.in_words import reasons
from catalogue.argument.timing.solving import Chronology, solve
from catalogue.measure import Day, read_date
from catalogue.record import (
    ConditionCheck,
    Evidence,
    Exhibition,
    Inscription,
    Part,
    PartyRole,
    PriorRepair,
    ProvenanceEvent,
    Sighting,
    Transcript,
    Work,
)

pytestmark = pytest.mark.bench
LOOKER = "party/5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2a01"


def rich_work() -> Work:
    """A painting on which everything was done many times, truly one after the other."""
    stretcher = Part(kind="part/stretcher", fitted=read_date("1870"))
    seen = (Sighting(state="state/present", on=Day(2019, 5, 1)),)
    marks: list[Inscription] = []
    for number in range(1, 151):
        marks.append(
            Inscription(
                number=f"I{number}", face="face/stretcher-bar", part=stretcher.id, sightings=seen,
                kind=("inscription/dealer-label", "inscription/title", "inscription/lot-number")[number % 3],
                lies_over=(marks[-1].id,) if marks and number % 5 else (),
                transcripts=(Transcript(markup=f"No. {number}\\n14 Tanner Street, London, W.1"),),
            )
        )  # fmt: skip
    repairs = tuple(
        PriorRepair(
            number=f"R{number}", kind="repair/tape", materials=("material/cellophane-tape",),
            covers=(marks[number].id,), sightings=seen,
        )
        for number in range(1, 101)
    )  # fmt: skip
    owners = tuple(
        ProvenanceEvent(
            number=f"E{number}", order=number, kind="provenance/sale",
            when=read_date(f"{1880 + number}"), passage="passage/direct",
            parties=(PartyRole(written=f"owner {number}", role="capacity/owner", life="1850-2000"),),
            evidence=(Evidence(kind="evidence/oral", text="a list"),),
        )
        for number in range(1, 101)
    )  # fmt: skip
    owners = (*owners[:-1], replace(owners[-1], passage=None))
    return Work(
        made=read_date("1860-1869"), parts=(stretcher,), inscriptions=tuple(marks), repairs=repairs,
        provenance=owners,
        exhibitions=tuple(Exhibition(title=f"show {y}", when=read_date(f"{y}")) for y in range(1900, 1940)),
        checks=tuple(
            ConditionCheck(number=f"K{n}", occasion="occasion/incoming", on=Day(2020, 1, 1 + n % 28), by=LOOKER)
            for n in range(1, 41)
        ),
    )  # fmt: skip


def every_reason(chronology: Chronology) -> int:
    """Every reason of every bound in words; how many links these have."""
    return sum(
        len(reasons(chronology, instant, bound))
        for each in chronology.events
        for instant in (each.began, each.ended)
        for bound in ("earliest", "latest")
    )


def test_a_rich_painting():
    work = rich_work()
    datings = datings_of(work)
    events, claims = events_and_claims(work, datings=datings)
    solved = solve(events, claims)
    assert len(events) > 500
    assert not solved.contradictions
    assert solved.window(events[0].began).earliest == Day(1860, 1, 1)
    name = f"{len(events)} events, {len(claims)} claims of one painting"
    told(f"{name}: dated", f"{median_ms(lambda: datings_of(work), 5):.0f} ms")
    found = median_ms(lambda: events_and_claims(work, datings=datings), 5)
    told(f"{name}: found in the record", f"{found:.0f} ms")
    told(f"{name}: solved", f"{median_ms(lambda: solve(events, claims), 5):.0f} ms")
    words = median_ms(lambda: every_reason(solve(events, claims)), 5)
    told(f"{name}: solved, every reason in words", f"{words:.0f} ms")
