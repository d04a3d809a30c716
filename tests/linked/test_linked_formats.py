"""Documents of every format ever written can still be read, from files committed when it was new."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.linked.documents import FORMAT, STEPS, from_jsonld, to_jsonld
from catalogue.linked.merge import merge
from catalogue.linked.text import parse, write
from catalogue.record import Job, Party, Work, dangling

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


def test_what_was_added_since_the_first_format_is_read():
    work = read(2, "work")
    (tear,) = work.findings
    assert [each.change for each in work.course(tear)] == ["change/new", "change/treated"]
    (treatment,) = work.treatments
    assert [treatment.label(step) for step in treatment.steps] == ["T1.1", "T1.2"]
    assert work.provenance[0].price.written == "12 gns."
    assert not list(dangling(work))


@pytest.mark.parametrize("number", range(1, FORMAT + 1))
def test_a_contact_of_this_format_is_read_and_can_be_edited(number):
    """Of 1 the reaches stood as contact points; nothing of them is left twice after an edit."""
    document = parse((FORMATS / str(number) / "client.json").read_bytes())
    before = from_jsonld(document)
    (reach,) = before.contact.reaches
    contact = replace(before.contact, reaches=(replace(reach, text="new@post.example"),))
    after = replace(before, contact=contact)
    merged = merge(document, before, after)
    assert from_jsonld(merged) == after
    assert "quillan@post.example" not in write(merged).decode()
