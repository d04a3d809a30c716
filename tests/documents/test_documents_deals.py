"""Papers of loan and sale under bad conditions: long texts, many labels, nothing at all, either page size."""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise

import pypdf
import pypdfium2
import pytest
from lxml import html
from made_records import ARTIST, CLIENT, WHO, full_work
from printed_papers import html_text

from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Item,
    Job,
    Loan,
    Observation,
    Offer,
    Title,
    Transcript,
    Work,
)

PAPERS = ("loan-check", "object-id", "sale", "condition-statement")
LONG = "Unterbrechungsfreiheitsprüfungsanstalt " * 12
UNBROKEN = "x" * 300


def fifteen_labels():
    labels = tuple(
        Inscription(
            number=f"I{count}", kind="inscription/dealer-label", face="face/stretcher-bar",
            transcripts=(Transcript(markup=f"@p FIRM {count}\n@p No @h {count}_17\n@p {LONG[:70]}"),),
        )
        for count in range(1, 16)
    )  # fmt: skip
    return Work(titles=(Title(text="Fifteen", kind="title/given"),), inscriptions=labels)


def long_texts():
    check = ConditionCheck(
        number="K1", occasion="occasion/loan-out", on=Day(2026, 5, 1), by=ARTIST.document,
        limits=LONG + UNBROKEN,
    )  # fmt: skip
    return Work(
        titles=(Title(text=LONG + UNBROKEN, kind="title/given"),),
        medium=UNBROKEN,
        checks=(check,),
        findings=tuple(
            Finding(
                number=f"F{count}", layer="layer/paint", kind="damage/flaking",
                observations=(Observation(check=check.id, length_mm=count, stability="stability/active"),),
            )
            for count in range(1, 31)
        ),
        inscriptions=(
            Inscription(
                number="I1", kind="inscription/dedication", face="face/back",
                transcripts=(Transcript(markup=UNBROKEN + "\n" + LONG),),
            ),
        ),
    )  # fmt: skip


WORKS = {
    "nothing": Work, "full": full_work, "fifteen labels": fifteen_labels, "long texts": long_texts,
}  # fmt: skip


@pytest.fixture(scope="module")
def studios():
    """A studio with every work, each with a loan and an offer."""
    from catalogue.studio import Studio

    with Studio.open("memory:") as studio:
        member = replace(ARTIST, roles=(*ARTIST.roles, "role/studio-member"))
        for party in (member, CLIENT):
            studio.save(party, who=WHO)
        numbers = {}
        for name, made in WORKS.items():
            work = studio.save(made(), who=WHO).record
            numbers[name] = work.number
            job = Job(
                client=CLIENT.document, reason="reason/loan", items=(Item(work=work.document),),
                loans=(Loan(work=work.document, handling=LONG, fixing=UNBROKEN),),
                offers=(Offer(work=work.document, status="offer-status/on-request", terms=LONG),),
            )  # fmt: skip
            studio.save(job, who=WHO)
        yield studio, numbers


EACH = pytest.mark.parametrize("work", WORKS)
OF_ALL = pytest.mark.parametrize("paper", PAPERS)


@EACH
@OF_ALL
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_it_prints_within_its_margins(studios, work, paper, size):
    """Measured on the drawn pages: nothing reaches over the margins left and right."""
    studio, numbers = studios
    content = studio.print_(numbers[work], paper, page=size).content
    for page in pypdfium2.PdfDocument(content):
        for drawn in page.get_objects():
            left, bottom, right, top = drawn.get_bounds()
            assert left >= 50
            assert right <= page.get_width() - 50
            assert bottom >= 20
            assert top <= page.get_height() - 30


@EACH
@OF_ALL
def test_it_can_be_read_by_ear(studios, work, paper):
    """HTML: no heading leaves out a level, every table has heads. PDF: marked as PDF/UA-1."""
    studio, numbers = studios
    tree = html.fromstring(
        studio.print_(numbers[work], paper, written_as="html").content.decode()
    )
    levels = [int(node.tag[1]) for node in tree.iter("h1", "h2", "h3", "h4")]
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    for table in tree.iter("table"):
        assert all("".join(each.itertext()).strip() for each in table.iter("th"))
    read = pypdf.PdfReader(io.BytesIO(studio.print_(numbers[work], paper).content))
    assert b"pdfuaid:part" in read.trailer["/Root"]["/Metadata"].get_object().get_data()
    assert read.trailer["/Root"]["/Lang"] == "en-GB"


@EACH
@OF_ALL
def test_it_accuses_nobody_and_clears_nobody(studios, work, paper):
    studio, numbers = studios
    told = html_text(studio.print_(numbers[work], paper, written_as="html").content).lower()
    for word in ("stolen", "guarantee", "suspicious", "cleared", "clear title"):
        assert word not in told
    assert "the conservator decides" in told


def test_each_of_fifteen_labels_is_transcribed(studios):
    studio, numbers = studios
    for paper in ("sale", "object-id"):
        told = html_text(
            studio.print_(numbers["fifteen labels"], paper, written_as="html").content
        )
        assert all(f"FIRM {count} " in told for count in range(1, 16))


def test_loose_paint_is_warned_of_before_it_travels(studios):
    studio, numbers = studios
    told = html_text(
        studio.print_(numbers["long texts"], "loan-check", written_as="html").content
    )
    assert "Keep face up" in told
    told = html_text(studio.print_(numbers["nothing"], "loan-check", written_as="html").content)
    assert "Keep face up" not in told


@OF_ALL
def test_the_same_paper_is_the_same_bytes(studios, paper):
    studio, numbers = studios
    first, again = (studio.print_(numbers["full"], paper).content for _ in range(2))
    assert first == again
