"""Commissions at the desk: what their page says, the form of each value, what is refused and how."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, full_job, full_work
from paper_forms import PaperForm

from catalogue.desk import create_app
from catalogue.desk.layout import APART
from catalogue.linked.approvals import approval_holds
from catalogue.measure import Day, read_date
from catalogue.record import (
    Hours,
    Item,
    Job,
    Movement,
    Option,
    PlannedStep,
    Proposal,
    Risk,
    Title,
    Work,
)
from catalogue.studio import Studio

FIELDS = APART["Job"]


class Counter:
    """A desk with one full work and its commission, and somebody who is working."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        for party in (ARTIST, CLIENT):
            studio.save(party, who="Nell")
        self.work = studio.save(full_work(), who="Nell").record
        fresh = [replace(each, digest=None) for each in full_job(self.work).approvals]
        job = replace(full_job(self.work), approvals=())
        fresh = [
            replace(each, proposal=job.proposals[0].id, option=job.proposals[0].options[1].id)
            for each in fresh
        ]
        self.document = studio.save(
            replace(job, approvals=tuple(fresh)), who="Nell"
        ).document_id
        member = studio.welcome("Nell Quince")
        app = create_app(studio)
        app.config["WTF_CSRF_ENABLED"] = False
        self.client = app.test_client()
        self.client.post("/who", data={"who": member.id})

    @property
    def job(self) -> Job:
        return self.studio.read(self.document).record

    def page(self, path: str = "") -> str:
        answer = self.client.get(f"/jobs/{self.job.id}{path}")
        assert answer.status_code == 200, (path, answer.status_code)
        return answer.text

    def enter(self, path: str, **typed):
        form = PaperForm.of(self.page(path))
        return self.client.post(form.action, data=form.sent(**typed))


@pytest.fixture
def counter():
    with Studio.open("memory:") as studio:
        yield Counter(studio)


def test_the_page_says_everything_about_a_commission(counter):
    said = counter.page()
    for words in (
        "Confidential", "private client", "Letter of the owner, 27 February", "Order of 9 March",
        "The dealer&#39;s label stays.", "The owner&#39;s own, until fetched", "2025-2",
        "We also offered to sell it.", "by hand", "blanket, two cords", "2 × bag or envelope (loose labels)",
        "live insects", "Frozen by a firm; no frass since.", "Mend and patch", "Half the label is covered.",
        "heat-set patching", "55 an hour", "✓ The proposal still says what was approved.",
        "Publication: no", "Comes back in its bag.", "Slower than thought.", "heat-seal film",
        "A larger patch.", "by telephone", "✓ agreed", "Dealer&#39;s label",
        "2 taken off: 1 kept, 1 returned, 0 thrown away", "Half in advance.",
    ):  # fmt: skip
        assert words in said, words


def test_the_sums_on_the_page_are_those_of_the_option(counter):
    costs = counter.job.proposals[0].options[1].costs()
    said = counter.page()
    for each in (costs.low, costs.likely, costs.high):
        assert f"{each.total:,.2f}" in said


@pytest.mark.parametrize("field", FIELDS)
def test_every_value_of_a_commission_has_a_form_that_changes_nothing_when_sent_back(
    counter, field
):
    before = counter.job
    for value in getattr(before, field):
        answer = counter.enter(f"/enter/{field}/{value.id}")
        assert answer.status_code == 302, answer.text
    assert counter.job == before
    counter.page(f"/enter/{field}")


def test_so_has_every_option(counter):
    before = counter.job
    for option in before.proposals[0].options:
        path = f"/enter/proposals/{before.proposals[0].id}/options/{option.id}"
        assert counter.enter(path).status_code == 302
    assert counter.job == before


def test_the_form_of_the_whole_leaves_them_alone(counter):
    before = counter.job
    assert counter.enter("/edit").status_code == 302
    assert counter.job == before
    assert counter.enter("/edit", basis="Her letter").status_code == 302
    assert counter.job == replace(before, basis="Her letter")


def test_a_proposal_is_made_option_by_option_and_approved(counter):
    assert counter.enter("/enter/proposals", on="2026-04-01").status_code == 302
    made = next(each for each in counter.job.proposals if each.number == "Q2")
    path = f"/enter/proposals/{made.id}/options"
    assert counter.enter(path, order="1", title="Leave it", nothing="yes").status_code == 302
    more = {"steps.0.order": "1", "steps.0.kind": "tear mending", "steps.0.hours_likely": "4,5"}
    said = {"rate": "60", "currency": "euro", "order": "2", "title": "Mend"}
    answer = counter.enter(path, **said, **more)
    assert answer.status_code == 302, answer.text
    made = next(each for each in counter.job.proposals if each.number == "Q2")
    assert [option.title for option in made.options] == ["Leave it", "Mend"]
    assert made.options[1].costs().likely.total == 270
    answer = counter.enter(
        "/enter/approvals", proposal=made.id, option=made.options[1].id, on="2026-04-02", cap="300",
    )  # fmt: skip
    assert answer.status_code == 302, answer.text
    given = counter.job.approvals[-1]
    assert (given.option, given.cap) == (made.options[1].id, 300)
    assert approval_holds(counter.job, given)


def test_the_page_says_that_an_approval_holds_no_more(counter):
    proposal = counter.job.proposals[0]
    path = f"/enter/proposals/{proposal.id}/options/{proposal.options[1].id}"
    assert counter.enter(path, rate="70").status_code == 302
    assert "The proposal was changed since" in counter.page()


def test_what_is_refused_is_said_beside_what_was_typed(counter):
    answer = counter.enter("/enter/hours", on="2026-04-01", hours="many")
    assert answer.status_code == 422
    assert "is not a number" in answer.text
    answer = counter.enter("/enter/pieces", what="Nails", kind="nails", work="2026-999")
    assert answer.status_code == 422
    assert "no work on file is called" in answer.text


def test_a_proposal_that_was_approved_is_not_taken_out_from_under_it(counter):
    proposal = counter.job.proposals[0]
    answer = counter.enter(f"/enter/proposals/{proposal.id}", remove="yes", why="by mistake")
    assert answer.status_code == 422
    assert "would hang in the air" in answer.text


def test_hours_begin_with_who_is_at_work_and_today(counter):
    form = PaperForm.of(counter.page("/enter/hours"))
    begun = dict(form.fields)
    assert (begun["by"], begun["on"]) == ("Nell Quince", counter.studio.today().iso)


def test_from_five_on_the_steps_of_an_option_are_shut_and_none_is_lost(counter):
    proposal = counter.job.proposals[0]
    option = proposal.options[0]
    kept = counter.studio.read(counter.document)
    for many, shut in ((4, False), (5, True)):
        steps = tuple(PlannedStep(order=each, kind="step/other") for each in range(1, many + 1))
        options = (replace(option, steps=steps), *proposal.options[1:])
        changed = replace(kept.record, proposals=(replace(proposal, options=options),))
        kept = counter.studio.save(changed, who="Nell", read=kept)
        path = f"/enter/proposals/{proposal.id}/options/{option.id}"
        said = counter.page(path)
        heads = [f"{step.order} other step" for step in steps]
        assert all(each in said for each in heads)
        assert [f"<summary>{each}</summary>" in said for each in heads] == [shut] * many
        assert counter.enter(path).status_code == 302
        assert counter.job == kept.record


def test_hours_are_taken_out_with_a_reason(counter):
    gone = counter.job.hours[0]
    answer = counter.enter(f"/enter/hours/{gone.id}", remove="yes", why="counted twice")
    assert answer.status_code == 302
    assert gone not in counter.job.hours


@pytest.mark.parametrize("path", ["nothing", "items/1/x", "client", "hours/x"])
def test_there_is_no_other_page(counter, path):
    assert counter.client.get(f"/jobs/{counter.job.id}/enter/{path}").status_code == 404


def test_what_was_spent_is_said_before_anything_else(counter):
    kept = counter.studio.read(counter.document)
    much = Hours(on=Day(2026, 5, 1), hours=80)
    counter.studio.save(
        replace(kept.record, hours=(*kept.record.hours, much)), who="Nell", read=kept
    )
    assert "no new step begins before the client is asked" in counter.page()


def test_two_parts_in_one_work_are_said(counter):
    item = Item(work=counter.work.document)
    other = counter.studio.save(
        Job(reason="reason/consignment", items=(item,)), who="Nell"
    ).record
    assert other.number in counter.page()
    assert "Two parts in one work, and disclosed" in counter.page()


INSECTS = Risk(kind="risk/live-insects", answer="answer/yes")


def test_the_bench_says_where_a_work_is_and_that_it_is_kept_apart(counter):
    work = counter.studio.save(
        Work(
            titles=(Title(text="Nets", kind="title/given"),),
            movements=(
                Movement(to="cold room", when=read_date("2 April 2026"), by=ARTIST.document),
            ),
        ),
        who="Nell",
    ).record
    item = Item(work=work.document, came=Day(2026, 4, 1), risks=(INSECTS,))
    job = counter.studio.save(Job(reason="reason/treatment", items=(item,)), who="Nell").record
    said = counter.client.get("/").text
    assert "Now: cold room" in said
    assert 'since <time datetime="2026-04-02">2 April 2026</time>, moved by Ada Penhale' in said
    assert "<strong>Keep apart:</strong> live insects" in said
    page = counter.client.get(f"/jobs/{job.id}").text
    assert "Keep apart: live insects" in page
    assert "For a receipt it still wants: who the client is" in page
    form = PaperForm.of(counter.client.get(f"/work/{work.id}/enter/movements").text)
    answer = counter.client.post(
        form.action, data=form.sent(to="Bench 1", reason="movement/bench")
    )
    assert answer.status_code == 422
    assert "is to be kept apart (live insects) and cannot go to the bench" in answer.text


def test_a_choice_that_leaves_none_is_said_on_the_page(counter):
    pushed = Proposal(options=(Option(order=1, title="Line it"),))
    job = counter.studio.save(
        Job(reason="reason/treatment", proposals=(pushed,)), who="Nell"
    ).record
    said = counter.client.get(f"/jobs/{job.id}").text
    assert "nobody can approve before it is" in said
    form = PaperForm.of(counter.client.get(f"/jobs/{job.id}/enter/approvals").text)
    sent = form.sent(proposal=pushed.id, option=pushed.options[0].id, on="2026-04-02")
    answer = counter.client.post(form.action, data=sent)
    assert answer.status_code == 422
    assert "doing nothing is among the options" in answer.text


def test_the_studios_own_data_sheets_come_before_our_reminders(counter):
    """Issue of the map, point 6: codes as typed, with the day of the sheet, first."""
    form = f"/work/{counter.work.id}/enter/treatments/{counter.work.treatments[0].id}/steps"
    first = counter.work.treatments[0].steps[0]
    said = counter.client.get(f"{form}/{first.id}").text
    sheet, reminders = said.index("From our data sheets"), said.index("<h2>Mind</h2>")
    assert sheet < reminders
    assert "heat-seal film" in said[sheet:reminders]
    assert "<b>EUH066</b> may dry and crack the skin" in said[sheet:reminders]
    assert "<b>P301+P330+P331</b> if swallowed: rinse the mouth" in said[sheet:reminders]
    assert "5 May 2025" in said[sheet:reminders]
    assert "From our data sheets" not in counter.client.get(form).text


def test_a_loan_stands_on_the_page_of_its_commission_and_its_check_prints(counter):
    page = counter.page()
    assert "Harbours in Fog" in page
    assert "Insured nail to nail" in page
    link = re.search(r'href="([^"]*loan-check[^"]*)"', page)
    answer = counter.client.get(html.unescape(link[1]) + "&as=html")
    assert answer.status_code == 200
    assert "Condition check for a loan" in answer.text


def test_a_loan_is_written_down_at_the_desk(counter):
    number = counter.work.number
    answer = counter.enter(
        "/enter/loans", work=number, title="Sails", began="2027-02-01", ended="2027-01-01"
    )
    assert answer.status_code == 422
    assert "a loan cannot end before it begins" in answer.text
    answer = counter.enter("/enter/loans", work=number, title="Sails", began="2027-02-01",
                           humidity_least_percent="40", packing="crate")  # fmt: skip
    assert answer.status_code == 302
    made = next(each for each in counter.job.loans if each.title == "Sails")
    assert made.humidity_least_percent == 40
    assert made.packing == ("packing/crate",)
    assert made.work == counter.work.document


def test_the_page_of_a_commission_leads_to_every_value_that_has_a_form_of_its_own(counter):
    page = counter.page()
    for field in FIELDS:
        if field != "approvals" or counter.job.proposals:
            assert f"/enter/{field}" in page, field
    for field in ("offers", "loans", "valuations", "covers"):
        for value in getattr(counter.job, field):
            assert f'id="{value.id}"' in page, field


def test_an_offer_and_a_loan_lead_to_their_paper_and_to_sending(counter):
    page = html.unescape(counter.page())
    work = counter.work.id
    assert f"/print/paper?paper=sale&work=work/{work}" in page
    assert f"/print/paper?paper=loan-check&work=work/{work}" in page
    for profile in ("sale", "loan"):
        assert f"/work/{work}/send?profile={profile}&format=parcel" in page
    assert "1,800.00</span>: told to nobody" in page
