"""Papers that come along with records are kept byte for byte, beside the work or the job they prove."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import WHO, full_job, full_work

from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.record import Job, Work


@pytest.fixture
def folder(tmp_path):
    works = tmp_path / "records" / "works"
    works.mkdir(parents=True)
    work = full_work()
    (letter,) = work.papers
    work = replace(work, papers=(replace(letter, sha256=None, file_name="letter.txt"),))
    (works / "work.json").write_bytes(write(to_jsonld(work)))
    (works / "job.json").write_bytes(write(to_jsonld(full_job(work))))
    papers = tmp_path / "records" / "papers"
    papers.mkdir()
    (papers / "letter.txt").write_bytes(b"Sold to you\r\nthis day")
    return tmp_path / "records"


def test_a_paper_beside_the_records_is_kept_as_it_is(empty_studio, folder):
    told = list(empty_studio.import_([folder], who=WHO))
    assert {each.outcome for each in told} == {"new"}
    work = next(kept.record for kept in empty_studio.all(Work))
    (paper,) = work.papers
    assert empty_studio.original(paper).read_bytes() == b"Sold to you\r\nthis day"
    assert paper.visibility == "visibility/open"
    assert empty_studio.verify().faults == ()


def test_one_that_did_not_come_along_is_said_and_its_statement_kept(empty_studio, folder):
    told = list(empty_studio.import_([folder], who=WHO))
    said = [each for one in told for each in one.said]
    assert "the paper receipt.pdf did not come along" in said
    job = next(kept.record for kept in empty_studio.all(Job))
    assert job.papers[0].file_name == "receipt.pdf"
    assert job.papers[0].sha256 is None
    assert job.papers[0].number == "D1"
