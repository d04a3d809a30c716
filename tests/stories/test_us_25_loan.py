"""US-25, loan out and in: one paper for every stage, one map, both sign; what was agreed stands on it.

The story and its acceptance facts are those of the trade sheet, section 1.7. Of EN 15946 (packing) and
EN 16648 (transport) the sheet has the titles alone: the measures are its own, common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from lxml import html
from made_records import ARTIST, CLIENT, WHO
from painting_0_1 import EXAMINER, check, painting, seen, tear
from printed_papers import both, html_text

from catalogue.measure import Day
from catalogue.record import Facility, Item, Job, Loan, Party, PartyName
from catalogue.terms import group

HOUSE = Party(
    id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2b01", kind="group",
    names=(PartyName(text="Town museum, Ghent"),), visibility="visibility/studio",
)  # fmt: skip
OUT = replace(
    check(Day(2026, 4, 20), "loan-out", "K2"), temperature_c=20, humidity_percent=52,
    condition="condition/minor", limits="The back of the frame.",
)  # fmt: skip
BACK = check(Day(2026, 9, 2), "loan-return", "K4")
ARRIVED = replace(
    check(Day(2026, 5, 3), "loan-arrival", "K3"), temperature_c=21, humidity_percent=66
)


def agreed(work, **more):
    """A loan with every term that the story names."""
    told = {
        "lender": CLIENT.document, "borrower": HOUSE.document, "title": "Harbours in Fog",
        "venue": "Ghent", "began": Day(2026, 5, 1), "ended": Day(2026, 8, 30),
        "facilities": (
            Facility(kind="facility/intruder-alarm", answer="answer/yes"),
            Facility(kind="facility/climate-recorded", answer="answer/no", note="From June on."),
        ),
        "humidity_least_percent": 40, "humidity_most_percent": 60, "humidity_swing_percent": 10,
        "temperature_least_c": 16, "temperature_most_c": 25, "lux_most": 150,
        "climate": "Green protocol",
        "packing": ("packing/crate", "packing/upright", "packing/face-free", "packing/glass-taped",
                    "packing/rest-before-opening", "packing/tilt-indicator",
                    "packing/shock-logger", "packing/two-handlers"),
        "transport": "By road, no stop.", "courier": EXAMINER.document,
        "handling": "By the sides.", "fixing": "Two mirror plates.",
        "covered_from": Day(2026, 4, 25), "covered_until": Day(2026, 9, 6),
        "insured_value": 85200, "currency": "currency/euro", "value_basis": "value-basis/agreed",
    }  # fmt: skip
    return Loan(work=work.document, **{**told, **more})


@pytest.fixture
def lend(empty_studio):
    """The paper of the painting of the trade sheet, on loan on terms as given."""
    for party in (EXAMINER, HOUSE, CLIENT, ARTIST):
        empty_studio.save(party, who=WHO)

    def paper(checks=(OUT, ARRIVED), loans=agreed, **chosen):
        findings = (
            ()
            if not checks
            else (
                tear(
                    *(
                        seen(
                            each,
                            length_mm=62,
                            severity="severity/visible",
                            change="change/unchanged",
                        )
                        for each in checks
                    )
                ),
            )
        )
        work = painting(checks=checks, findings=findings)
        kept = empty_studio.save(work, who=WHO).record
        if loans:
            job = Job(
                client=CLIENT.document, reason="reason/loan", items=(Item(work=kept.document),),
                loans=(loans(kept),),
            )  # fmt: skip
            empty_studio.save(job, who=WHO)
        return (
            empty_studio,
            kept.number,
            both(empty_studio, kept.number, "loan-check", **chosen),
        )

    return paper


def test_every_stage_has_its_column_and_its_check_where_there_is_one(lend):
    _, _, told = lend()
    for each in (
        "A Outgoing, before packing, K2", "B In its crate", "C On arrival, K3", "D Mid-term", "E On return",
    ):  # fmt: skip
        assert each in told
    assert "20 April 2026" in told
    assert "F1 Tear, support front, upper left" in told
    assert "Unchanged length 62 mm severity: visible" in told


def test_both_parties_sign_at_every_stage(lend):
    _, _, told = lend()
    assert told.count("For the lender Mrs Quillan") == 5
    assert told.count("For the borrower Town museum, Ghent") == 5


def test_all_stages_share_one_map_of_both_sides(lend):
    studio, number, told = lend()
    tree = html.fromstring(studio.print_(number, "loan-check", written_as="html").content)
    assert [each.get("alt") for each in tree.iter("img")] == [
        f"Condition map of {number}, as seen at K3 2026-05-03"
    ]
    assert "Mark what is new with the letter of its stage" in told


def test_facility_answers_stand_on_it_and_so_does_what_was_not_asked(lend):
    _, _, told = lend()
    assert "Intruder alarm yes" in told
    assert "Climate is recorded no From June on." in told
    missing = told.partition("Not answered yet: ")[2].partition(".")[0]
    asked = {"facility/intruder-alarm", "facility/climate-recorded", "facility/other"}
    assert set(missing.split(", ")) == {
        each.label for each in group("facility") if each.key not in asked
    }


def test_agreed_climate_and_light_and_what_was_read_at_the_checks(lend):
    _, _, told = lend()
    assert (
        "Relative humidity 40 to 60 %, no more than 10 % either side of its mean in a day"
        in told
    )
    assert "Temperature 16 to 25 °C" in told
    assert "Light on the picture 150 lux" in told
    assert (
        "outgoing, before packing, 20 April 2026: what was read at the check lies within"
        in told
    )
    assert "on arrival, 3 May 2026: outside these limits: relative humidity." in told


def test_packing_transport_courier_and_handling(lend):
    _, _, told = lend()
    for each in (
        "crate", "carried upright", "nothing touches the face", "glass taped", "rests before it is opened",
        "tilt indicator", "shock indicator", "two handlers", "Way By road, no stop.",
        "Courier Nell Quince", "Handling By the sides.", "Fixing Two mirror plates.",
        "24 hours or more in the room before it is opened",
    ):  # fmt: skip
        assert each in told.replace("Crate", "crate")


def test_insurance_nail_to_nail_and_the_basis_but_never_the_sum(lend):
    studio, number, told = lend()
    assert "Insured, nail to nail 25 April 2026 to 6 September 2026" in told
    assert "Kind of value agreed Agreed value" in told
    content = studio.print_(number, "loan-check", written_as="html").content
    for secret in (b"85200", b"85 200", b"85,200", "85\N{NARROW NO-BREAK SPACE}200".encode()):
        assert secret not in content


def test_a_client_who_is_not_named_as_lender_is_not_named(lend):
    _, _, told = lend(loans=lambda work: agreed(work, lender=None))
    assert "Quillan" not in told
    assert told.count("For the lender Day") == 5


def test_a_stage_without_a_check_leaves_room_for_a_hand(lend):
    studio, number, _ = lend()
    tree = html.fromstring(studio.print_(number, "loan-check", written_as="html").content)
    tables = tree.xpath("//table[@class='ruled']")
    for table in tables:
        heads = ["".join(each.itertext()) for each in table.xpath(".//th")]
        column = heads.index("D Mid-term") + 1
        cells = table.xpath(f".//tbody/tr/td[{column}]")
        assert cells
        assert all(not "".join(each.itertext()).strip() for each in cells)
    # and rows for what is found on the way
    blank = [
        row for row in tables[-1].xpath(".//tbody/tr") if not "".join(row.itertext()).strip()
    ]
    assert len(blank) == 3


def test_without_a_loan_on_file_it_says_so_and_can_still_be_filled_in(lend):
    _, _, told = lend(loans=None)
    assert "No loan is on file for this work" in told
    assert told.count("For the borrower") == 5


def test_before_anybody_has_looked_every_stage_is_empty(lend):
    _, _, told = lend(checks=())
    assert "A Outgoing, before packing" in told
    assert "No reading was taken at a check yet." in told


def test_checks_that_are_named_stand_side_by_side_whatever_they_were_for(lend):
    studio, number, _ = lend()
    told = both(studio, number, "loan-check", checks=("K3", "K2"))
    assert "A Outgoing, before packing, K2" in told
    assert "B On arrival, K3" in told
    assert "Mid-term" not in told


def test_it_says_so_where_the_support_was_never_measured(empty_studio):
    number = empty_studio.save(
        painting(sizes=(), findings=(), checks=()), who=WHO
    ).record.number
    assert "there is no map: draw one by hand" in both(empty_studio, number, "loan-check")


def test_the_latest_loan_counts_and_the_commission_can_be_asked_as_well(lend):
    studio, number, _ = lend(checks=(OUT, ARRIVED, BACK))
    work = studio.work(number).record
    later = agreed(work, title="A second show", began=Day(2028, 1, 1), ended=None, covered_from=None,
                   covered_until=None)  # fmt: skip
    job = studio.jobs_of(work.document)[0]
    kept = studio.named(job.number)
    studio.save(replace(kept.record, loans=(*kept.record.loans, later)), who=WHO, read=kept)
    told = both(studio, job.number, "loan-check")
    assert "A second show" in told
    assert "Harbours in Fog" not in told
    assert "Lent 1 January 2028 to …" in told
    # its checks were those of the loan before
    assert (
        "K2"
        not in html_text(
            studio.print_(number, "loan-check", written_as="html").content
        ).partition("Findings")[0]
    )


@pytest.mark.parametrize(
    ("limits", "below"), [("The back.", False), ("Behind the glass. " * 9, True)]
)
def test_what_a_check_could_not_see_is_told_in_its_column_or_below_the_table(
    lend, limits, below
):
    _, _, told = lend(checks=(replace(OUT, limits=limits.strip()),))
    assert limits.strip() in told
    assert ("see below" in told) is below
