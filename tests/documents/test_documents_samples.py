"""Every paper of every sample work and commission: it prints, and what is planted there stays home."""

from __future__ import annotations

import pytest
from printed_papers import html_text

from catalogue.documents.papers import PAPERS
from catalogue.places import folder
from catalogue.record import Job, Work
from catalogue.studio import Studio

PLANTED = (
    "35 gns, she thought", "9 000 euro", "EUR 4 200", "an heir in Ghent", "a dealer in Genoa",
    "Rack 2, upper", "The sum she was told", "for Bea, with love", "Hers to pay or not",
    "Written on a slip", "Payment in two parts", "not written down here",
)  # fmt: skip
"""Words that stand in the samples and are nobody's business: sums, sellers, places, private remarks."""


LEAVING = [name for name, paper in PAPERS.items() if paper.profile != "full"]


@pytest.fixture(scope="module")
def samples():
    with Studio.open("memory:") as studio:
        home = folder("sample_records")
        list(studio.import_([home / each for each in ("parties", "works", "jobs")], who="x"))
        yield studio


@pytest.fixture(scope="module")
def numbers(samples):
    return {
        "work": [kept.record.number for kept in samples.all(Work)],
        "job": [kept.record.number for kept in samples.all(Job)],
    }


@pytest.mark.parametrize("paper", LEAVING)
def test_every_sample_prints_and_tells_nothing_planted(samples, numbers, paper):
    for wanted in numbers["job" if PAPERS[paper].of == "job" else "work"]:
        content = samples.print_(wanted, paper, written_as="html").content
        told = html_text(content)
        assert len(told) > 60
        for secret in PLANTED:
            assert secret not in told
        # No key of a term, no id of a record, no name of a field stands for a word.
        for jargon in ("party/", "work/", "step/", "damage/", "None", "_mm", "urn:"):
            assert jargon not in told


def test_the_planted_words_are_in_the_samples(samples):
    kept = "".join(
        body.body.decode()
        for kind in ("work", "job", "party")
        for body in samples.ledger.bodies(kind)
    )
    assert all(secret in kept for secret in PLANTED)
