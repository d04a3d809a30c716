"""Papers in and out untouched; commissions, people and firms in their forms."""

from __future__ import annotations

import hashlib
import io

import pytest
from made_records import ARTIST, full_job, full_work
from paper_forms import PaperForm
from test_desk_values import laid_out

from catalogue.record import Job, Party, Work

LETTER = b"%PDF-1.4 a letter\r\n\x00\xff"
HOSTILE = b"<html><script>alert('ink')</script>"


@pytest.fixture
def easel():
    studio, easel = laid_out(full_work())
    with studio:
        yield easel


def take_in(easel, path, content=LETTER, name="letter of 1963.pdf", **typed):
    form = easel.form(path)
    sent = form.sent(**typed)
    if name is not None:
        sent["file"] = (io.BytesIO(content), name)
    return easel.client.post(form.action, data=sent, content_type="multipart/form-data")


def test_a_paper_is_kept_byte_for_byte_with_what_it_proves(easel):
    tear = easel.work.findings[0]
    answer = take_in(
        easel, f"/work/{easel.work.id}/papers?about={tear.id}", kind="paper/letter", on="1 May 1963",
        proves="the sale", sender="Mrs Quillan",
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    paper = easel.kept.record.papers[-1]
    assert (paper.number, paper.title, paper.about) == ("D2", "letter of 1963", (tear.id,))
    assert paper.sha256 == hashlib.sha256(LETTER).hexdigest()
    assert paper.visibility == "visibility/studio"
    got = easel.client.get(f"/work/{easel.work.id}/papers/{paper.id}/file")
    assert got.data == LETTER
    assert got.headers["Content-Disposition"].startswith("attachment;")
    assert "letter of 1963.pdf" in got.headers["Content-Disposition"]
    assert got.headers["X-Content-Type-Options"] == "nosniff"
    got.close()
    assert "D2 letter of 1963" in easel.page(f"/work/{easel.work.id}/check")


def test_a_file_that_carries_a_program_is_given_out_as_bytes_and_never_opened(easel):
    answer = take_in(
        easel, f"/work/{easel.work.id}/papers", HOSTILE, "page.html", kind="paper/other"
    )
    assert answer.status_code == 302, answer.text
    paper = easel.kept.record.papers[-1]
    got = easel.client.get(f"/work/{easel.work.id}/papers/{paper.id}/file")
    assert got.mimetype == "application/octet-stream"
    assert got.headers["Content-Disposition"].startswith("attachment;")
    assert "sandbox" in got.headers["Content-Security-Policy"]
    got.close()


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"", "empty.pdf", "the file is empty"),
        (LETTER, None, "choose the file"),
        (LETTER, "ab?.pdf", "which some machines cannot store"),
    ],
)
def test_a_paper_that_cannot_be_kept_is_refused_at_its_blank(easel, content, name, said):
    before = easel.kept.revision
    answer = take_in(
        easel,
        f"/work/{easel.work.id}/papers",
        content,
        name,
        kind="paper/letter",
        title="A letter",
    )
    assert answer.status_code == 422
    assert said in answer.text
    assert PaperForm.of(answer.text).sent()["title"] == ["A letter"]
    assert easel.kept.revision == before


def test_a_paper_without_its_file_has_none_to_give_out(easel):
    studio, bare = laid_out(Work())
    with studio:
        assert (
            bare.client.get(f"/work/{bare.work.id}/papers/{bare.work.id}/file").status_code
            == 404
        )


def test_what_somebody_changed_meanwhile_stays_when_a_paper_comes(easel):
    form = easel.form(f"/work/{easel.work.id}/papers")
    easel.enter(easel.address("exhibitions", easel.work.exhibitions[0].id), title="Summer")
    sent = {**form.sent(kind="paper/letter"), "file": (io.BytesIO(LETTER), "letter.pdf")}
    answer = easel.client.post(form.action, data=sent, content_type="multipart/form-data")
    assert answer.status_code == 302
    now = easel.kept.record
    assert (len(now.papers), now.exhibitions[0].title) == (2, "Summer")


# --- commissions, people and firms ---------------------------------------------------------------


def test_a_commission_is_opened_for_a_work_that_is_on_file(easel):
    form = easel.form(f"/jobs/new?work={easel.work.number}")
    answer = easel.client.post(
        form.action,
        data=form.sent(
            client="Mrs Quillan", reason="reason/treatment", items__0__came="2 March 2026",
            items__0__due="2026-05-01", items__0__kept_at="rack 3", items__0__next_step="lift the tape",
            notes__0__text="Half in advance.",
        ),
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    (job,) = (kept.record for kept in easel.studio.all(Job))
    assert job.number.startswith("J")
    assert job.items[0].work == easel.work.document
    assert (job.items[0].came.iso, job.items[0].kept_at) == ("2026-03-02", "rack 3")
    shown = easel.page(f"/jobs/{job.id}")
    assert "lift the tape" in shown
    assert "never leaves" in shown


@pytest.mark.parametrize("kind", ["job", "party"])
def test_a_whole_record_sent_back_untouched_changes_nothing(easel, kind):
    records = (
        [easel.studio.save(full_job(easel.work), who="Nell").record]
        if kind == "job"
        else [kept.record for kept in easel.studio.all(Party)]
    )
    for record in records:
        before = easel.studio.read(record.document)
        address = f"/{'jobs' if kind == 'job' else 'people'}/{record.id}/edit"
        form = easel.form(address)
        answer = easel.client.post(form.action, data=form.sent())
        assert answer.status_code == 302, answer.text
        assert easel.studio.read(record.document).revision == before.revision


def test_a_firm_gets_names_addresses_and_a_way_to_reach_it(easel):
    form = easel.form("/people/new")
    answer = easel.client.post(
        form.action,
        data=form.sent(
            kind="group", names__0__text="Hollis & Trewin", names__0__preferred="yes", roles=["dealer"],
            began="1880s", addresses__0__text="3 Gannet Steps", addresses__0__when="1880-1891",
            contact__reaches__0__medium="reach/telephone", contact__reaches__0__text="555 0101",
        ),
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    firm = easel.studio.find_party("Hollis & Trewin").record
    assert (firm.kind, firm.roles, firm.began.written) == ("group", ("role/dealer",), "1880s")
    assert firm.addresses[0].when.earliest.year == 1880
    assert firm.contact.reaches[0].text == "555 0101"


def test_the_years_of_an_address_are_entered_changed_and_shown_as_they_were_taken(easel):
    form = easel.form(f"/people/{ARTIST.id}/edit")
    at = "addresses__1__"
    added = {
        f"{at}text": "9 Quay Row",
        f"{at}when": "from c. 1905",
        f"{at}notes__0__text": "Rate book.",
    }
    assert easel.client.post(form.action, data=form.sent(**added)).status_code == 302
    party = easel.studio.read(ARTIST.document).record
    assert [each.text for each in party.addresses] == [
        "3 Gannet Steps, Porthmellow",
        "9 Quay Row",
    ]
    assert party.addresses[1].when.earliest.year == 1900
    assert party.addresses[1].notes[0].text == "Rate book."
    page = easel.client.get(f"/people/{ARTIST.id}").text
    assert "taken as from 1900" in page
    assert "Rate book." in page
    assert "1880-1891" in page
    assert "taken as 1880" not in page
    form = easel.form(f"/people/{ARTIST.id}/edit")
    refused = easel.client.post(
        form.action, data=form.sent(**{f"{at}when": "31 February 1900"})
    )
    assert refused.status_code == 422
    assert "there is no day 1900-02-31" in refused.text
    assert "31 February 1900" in refused.text


def test_a_person_without_a_name_is_refused_at_the_blank(easel):
    form = easel.form("/people/new")
    answer = easel.client.post(form.action, data=form.sent(kind="person"))
    assert answer.status_code == 422
    assert 'id="e-names.0.text"' in answer.text


def test_two_people_change_one_commission(easel):
    job = easel.studio.save(full_job(easel.work), who="Nell").record
    first, second = (easel.form(f"/jobs/{job.id}/edit") for _ in range(2))
    easel.client.post(first.action, data=first.sent(approved="2026-03-10"))
    answer = easel.client.post(second.action, data=second.sent(items__0__kept_at="safe"))
    assert answer.status_code == 302
    now = easel.studio.read(job.document).record
    assert (now.approved.iso, now.items[0].kept_at) == ("2026-03-10", "safe")
    answer = easel.client.post(second.action, data=second.sent(items__0__kept_at="shelf"))
    assert answer.status_code == 409
    assert f'href="/jobs/{job.id}"' in answer.text


def test_a_paper_of_a_commission_never_stands_on_the_work(easel):
    job = easel.studio.save(full_job(easel.work), who="Nell").record
    answer = take_in(easel, f"/jobs/{job.id}/papers", kind="paper/receipt", title="Deposit")
    assert answer.status_code == 302, answer.text
    now = easel.studio.read(job.document).record
    paper = next(each for each in now.papers if each.title == "Deposit")
    got = easel.client.get(f"/jobs/{job.id}/papers/{paper.id}/file")
    assert got.data == LETTER
    got.close()
    assert "Deposit" in easel.page(f"/jobs/{job.id}")
    assert "Deposit" not in easel.page(f"/work/{easel.work.id}")
    missing = easel.client.get(f"/work/{easel.work.id}/papers/{paper.id}/file")
    assert missing.status_code == 404
