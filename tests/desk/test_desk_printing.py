"""The desk offers every paper and gives it out as a file; what cannot be printed is said in words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from lxml import html
from made_records import ARTIST, CLIENT, WHO, full_job, full_work
from printed_papers import html_text, pdf_text

from catalogue.desk import create_app
from catalogue.documents.papers import PAPERS
from catalogue.record import Title, Work
from catalogue.studio import Studio

WORK = full_work()
JOB = full_job(WORK)


@pytest.fixture(scope="module")
def client():
    with Studio.open("memory:") as studio:
        for record in (ARTIST, CLIENT, WORK, JOB):
            studio.save(record, who=WHO)
        yield create_app(studio).test_client()


@pytest.mark.parametrize("page", [f"/work/{WORK.id}", f"/jobs/{JOB.id}"], ids=["work", "job"])
def test_the_folder_leads_to_print_and_print_to_every_paper(client, page):
    assert f'href="{page}/print"' in client.get(page).text
    form = html.fromstring(client.get(f"{page}/print").text).xpath("//form[@method='get']")[-1]
    offered = form.xpath(".//input[@name='paper']/@value")
    assert offered == list(PAPERS)
    usual = dict(form.form_values())
    answer = client.get(form.get("action"), query_string=usual)
    assert answer.mimetype == "application/pdf"
    assert answer.headers["Content-Disposition"].startswith("attachment;")
    assert "no-store" in answer.headers["Cache-Control"]
    assert "2026-041" in pdf_text(answer.data)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper_is_given_out_as_html_too(client, paper):
    answer = client.get(
        f"/jobs/{JOB.id}/print/paper", query_string={"paper": paper, "as": "html"}
    )
    assert answer.mimetype == "text/html"
    assert answer.headers["Content-Disposition"].startswith("attachment;")
    assert "2026-041" in html_text(answer.data)


def test_of_several_works_of_a_commission_one_is_chosen():
    with Studio.open("memory:") as studio:
        other = Work(titles=(Title(text="Ebb", kind="title/given"),))
        item = replace(JOB.items[0], id=other.id, work=other.document)
        for record in (ARTIST, CLIENT, WORK, other, replace(JOB, items=(*JOB.items, item))):
            studio.save(record, who=WHO)
        client = create_app(studio).test_client()
        form = html.fromstring(client.get(f"/jobs/{JOB.id}/print").text)
        assert set(form.xpath("//input[@name='work']/@value")) == {WORK.id, other.id}
        page = f"/jobs/{JOB.id}/print/paper?paper=treatment&as=html"
        assert client.get(page).status_code == 422
        told = html_text(client.get(f"{page}&work={WORK.id}").data)
        assert "T1.1 Heat-set patching" in told
        assert "A larger patch." in told


def test_ticked_checks_are_those_that_are_printed(client):
    page = f"/work/{WORK.id}/print/paper"
    one = client.get(f"{page}?paper=condition&as=html&check=K1")
    assert "2026-041, K1" in html_text(one.data)
    two = client.get(f"{page}?paper=comparison&as=html&check=K1&check=K2")
    assert "K1 – K2" in html_text(two.data)
    # Ticks that a paper knows nothing of are passed over.
    assert client.get(f"{page}?paper=slip&as=html&check=K1").status_code == 200


@pytest.mark.parametrize(
    ("asked", "code", "said"),
    [
        ("paper=passport", 422, "no paper"),
        ("paper=slip&as=docx", 422, "Choose one of: pdf, html"),
        ("paper=slip&page=a5", 422, "a4, letter"),
        ("paper=comparison&check=K1", 422, "A comparison is of two checks"),
        ("paper=condition&check=K9", 404, "no check K9"),
    ],
)
def test_what_cannot_be_printed_is_said_in_words(client, asked, code, said):
    answer = client.get(f"/work/{WORK.id}/print/paper?{asked}")
    assert answer.status_code == code
    assert said in " ".join(answer.text.split())
