"""Documents of every format ever written can still be read, from files committed when it was new."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.linked.documents import FORMAT, STEPS, from_jsonld, to_jsonld
from catalogue.linked.text import parse
from catalogue.record import Job, Party, Work

FORMATS = Path(__file__).parent / "formats"
KINDS = {"work": Work, "party": Party, "client": Party, "job": Job}


def read(number, name):
    return from_jsonld(
        parse((FORMATS / str(number) / f"{name}.json").read_bytes()), written_in=number
    )


@pytest.mark.parametrize("number", range(1, FORMAT + 1))
@pytest.mark.parametrize("name", KINDS)
def test_a_document_of_this_format_is_read(number, name):
    record = read(number, name)
    assert isinstance(record, KINDS[name])
    assert from_jsonld(to_jsonld(record)) == record


@pytest.mark.parametrize("number", range(1, FORMAT + 1))
def test_nothing_of_a_work_got_lost_on_the_way(number):
    work = read(number, "work")
    assert (work.number, work.title(), work.made.edtf) == ("2026-041", "Low Water", "1887~")
    label, chalk = work.inscriptions
    assert [each.markup for each in label.transcripts][-1].startswith("Hollis & Tr_ewin")
    assert label.latest().covered_by == "paper tape R1"
    assert chalk.lies_over == (label.id,)
    assert {len(region.corners) for region in label.regions} == {4}
    assert work.photos[0].mm_per_pixel == 0.2033


def test_there_is_a_step_from_each_format_to_the_next():
    assert len(STEPS) == FORMAT - 1
    assert {path.name for path in FORMATS.iterdir()} == {str(n) for n in range(1, FORMAT + 1)}
