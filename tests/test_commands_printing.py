"""dorse print: which papers there are, and a file of each."""

from __future__ import annotations

import sys

import pytest
from click.testing import CliRunner
from made_records import ARTIST, CLIENT, WHO, full_job, full_work
from printed_papers import html_text, pdf_text

from catalogue.command import main
from catalogue.documents.papers import PAPERS
from catalogue.studio import Studio


@pytest.fixture
def said(tmp_path):
    """What a command says in a studio with one full work and its commission; its exit code."""
    where = str(tmp_path / "studio")
    with Studio.init(where) as studio:
        work = full_work()
        for record in (ARTIST, CLIENT, work, full_job(work)):
            studio.save(record, who=WHO)

    def run(*words):
        done = CliRunner().invoke(main, ["--studio", where, *map(str, words)])
        return done.output, done.exit_code

    return run


def test_without_a_name_the_papers_are_listed(said):
    told, code = said("print")
    assert code == 0
    assert [line.split()[0] for line in told.splitlines()] == list(PAPERS)


def test_the_name_of_the_file_says_the_format(said, tmp_path):
    told, code = said(
        "print", "J2026-007", "--paper", "entry-receipt", "--out", tmp_path / "r.pdf"
    )
    assert (code, told) == (0, f"Receipt for works received, J2026-007: {tmp_path / 'r.pdf'}\n")
    assert "Mrs Quillan" in pdf_text((tmp_path / "r.pdf").read_bytes())
    said("print", "J2026-007", "--paper", "entry-receipt", "--out", tmp_path / "r.html")
    assert "Mrs Quillan" in html_text((tmp_path / "r.html").read_bytes())
    said(
        "print", "2026-041", "--paper", "slip", "--format", "html", "--out", tmp_path / "s.txt"
    )
    assert (tmp_path / "s.txt").read_bytes().startswith(b"<!DOCTYPE html>")


def test_checks_are_named_by_number(said, tmp_path):
    out = tmp_path / "c.html"
    said("print", "2026-041", "--paper", "condition", "--check", "K1", "--out", out)
    assert "2026-041, K1" in html_text(out.read_bytes())
    said("print", "2026-041", "--paper", "comparison", "--checks", "K1, K2", "--out", out)
    assert "K1 – K2" in html_text(out.read_bytes())


def test_what_stays_in_the_house_is_said_when_asked_for(said, tmp_path):
    words = ("print", "2026-041", "--paper", "condition", "--out", tmp_path / "c.html")
    assert len(said(*words)[0].splitlines()) == 1
    told, code = said(*words, "--left-out")
    assert code == 0
    assert " × Note: nobody has released this text" in told
    assert "1 × Note: it is marked studio" in told


def test_letter_is_another_page(said, tmp_path):
    out = tmp_path / "c.html"
    said("print", "2026-041", "--paper", "slip", "--size", "letter", "--out", out)
    assert b"size: Letter;" in out.read_bytes()


@pytest.mark.parametrize(
    ("words", "code", "why"),
    [
        (
            ("2026-041", "--paper", "passport", "--out", "x.pdf"),
            1,
            "there is no paper 'passport'",
        ),
        (("2026-999", "--paper", "slip", "--out", "x.pdf"), 1, "nothing on file is called"),
        (("2026-041", "--paper", "slip"), 2, "say where to: --out FILE"),
        (
            ("2026-041", "--paper", "slip", "--out", "no/such/folder/x.html"),
            1,
            "name another file",
        ),
        (("2026-041", "--paper", "slip", "--size", "a5", "--out", "x.pdf"), 2, "letter"),
    ],
)
def test_what_cannot_be_printed_is_said_in_words(said, words, code, why):
    told, ended = said("print", *words)
    assert ended == code
    assert why in told


def test_without_typst_it_says_how_to_get_it_and_nothing_is_written(
    said, tmp_path, monkeypatch
):
    monkeypatch.setitem(sys.modules, "typst", None)
    out = tmp_path / "x.pdf"
    told, code = said("print", "2026-041", "--paper", "slip", "--out", out)
    assert code == 1
    assert "pip install 'dorse[pdf]'" in told
    assert "any browser prints" in told
    assert not out.exists()


def test_the_letterhead_is_set_with_the_studio_and_changed_later(said, tmp_path):
    out = tmp_path / "x.html"
    told, code = said("init", "--letterhead", "Example Studio", "--letterhead", "4 Oakum Yard")
    assert (code, told) == (0, "papers begin with: Example Studio / 4 Oakum Yard\n")
    said("print", "2026-041", "--paper", "slip", "--out", out)
    assert "Example Studio 4 Oakum Yard" in html_text(out.read_bytes())
    new = str(tmp_path / "new")
    assert (
        CliRunner().invoke(main, ["--studio", new, "init", "--letterhead", "Other"]).exit_code
        == 0
    )
    with Studio.open(new) as studio:
        assert studio.letterhead == ("Other",)
