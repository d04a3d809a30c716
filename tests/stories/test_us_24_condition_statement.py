"""US-24, condition statement for buyers: the latest check in plain words, and every treatment disclosed.

The story and its acceptance facts are those of the trade sheet, section 1.7; damages are never left out,
since that would mislead (its rule R8).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO
from painting_0_1 import EXAMINER, TEAR, check, painting, seen, tear
from printed_papers import both

from catalogue.measure import Day
from catalogue.record import (
    Item,
    Job,
    Location,
    MaterialUse,
    Note,
    Offer,
    PriorRepair,
    Step,
    Treatment,
)
from catalogue.surface import Shape

FIRST = check(Day(2026, 2, 3))
LATEST = replace(
    check(Day(2026, 9, 1), "outgoing", "K2"), framed=True, glazed=True, lights=("light/raking",),
    condition="condition/minor", limits="The stretcher bars were not looked behind.",
)  # fmt: skip
DONE = Treatment(
    number="T1",
    aim="aim/remedial",
    steps=(
        Step(order=1, kind="step/tear-mend", began=Day(2026, 4, 1), ended=Day(2026, 4, 2),
             materials=(MaterialUse(material="material/wheat-starch-paste", role="use/adhesive"),)),
        Step(order=2, kind="step/patch-heat-set", began=Day(2026, 4, 3), ended=Day(2026, 4, 3),
             location=Location(face="face/back", shape=Shape.of_box(TEAR))),
        Step(order=3, kind="step/photograph"),
    ),
)  # fmt: skip


def mended(**more):
    found = tear(
        seen(FIRST, length_mm=62, severity="severity/affecting"),
        seen(LATEST, length_mm=62, severity="severity/visible", stability="stability/stable"),
    )
    told = {
        "checks": (FIRST, LATEST),
        "findings": (found,),
        "repairs": (
            PriorRepair(number="R1", kind="repair/patch", materials=("material/linen",)),
        ),
        "treatments": (DONE,),
    }
    return painting(**{**told, **more})


@pytest.fixture
def statement(empty_studio):
    for party in (EXAMINER, CLIENT, ARTIST):
        empty_studio.save(party, who=WHO)

    def paper(work=None, name="condition-statement"):
        kept = empty_studio.save(work or mended(), who=WHO).record
        job = Job(
            client=CLIENT.document, reason="reason/consignment", items=(Item(work=kept.document),),
            offers=(Offer(work=kept.document, status="offer-status/for-sale", asked=12400,
                          currency="currency/euro"),),
        )  # fmt: skip
        empty_studio.save(job, who=WHO)
        return both(empty_studio, kept.number, name)

    return paper


@pytest.mark.parametrize("paper", ["condition-statement", "sale"])
def test_it_is_of_the_latest_check_with_its_day_and_examiner(statement, paper):
    told = statement(name=paper)
    assert "Examined on 1 September 2026 by Nell Quince: in its frame, raking light." in told
    assert "Judged as a whole: minor symptoms (Class 1" in told
    assert "3 February 2026" not in told


@pytest.mark.parametrize("paper", ["condition-statement", "sale"])
def test_it_says_what_was_not_examined(statement, paper):
    told = statement(name=paper)
    assert "Not examined: The stretcher bars were not looked behind." in told
    assert "What the frame covers: edges, tacking margins." in told
    assert "It was seen through glass." in told


def test_where_nobody_said_what_was_not_examined_that_is_said(statement):
    bare = replace(LATEST, framed=None, glazed=None, limits=None)
    told = statement(mended(checks=(FIRST, bare)))
    assert "What was not examined is not recorded" in told
    assert "whether in its frame is not recorded" in told


@pytest.mark.parametrize("paper", ["condition-statement", "sale"])
def test_damage_earlier_repairs_and_treatment_are_all_told(statement, paper):
    told = statement(name=paper)
    assert "Tear (support), front, upper left: length 62 mm; visible; stable." in told
    assert "Patch, linen" in told
    assert "T1.1 tear mending, with wheat starch paste, 2 April 2026" in told
    assert "T1.2 heat-set patching, back, upper left, 3 April 2026" in told
    # what was only planned was not done
    assert "T1.3" not in told


def test_a_tear_that_was_mended_is_still_told(statement):
    found = tear(seen(FIRST, length_mm=62), seen(LATEST, change="change/treated"))
    told = statement(mended(findings=(found,)))
    assert "Tear (support), front, upper left" in told
    assert "It has been treated since it was found." in told


def test_a_damage_that_the_latest_check_did_not_look_at_keeps_its_day(statement):
    told = statement(mended(findings=(tear(seen(FIRST, length_mm=62)),)))
    assert "It was last seen on 3 February 2026, not at the latest check." in told


def test_no_price_and_no_owner(statement):
    told = statement()
    assert "12400" not in "".join(each for each in told if each.isdigit())
    assert "Quillan" not in told
    assert "euro" not in told


def test_remarks_that_nobody_released_stay_home(statement):
    noted = replace(LATEST, notes=(Note(text="The client smokes."),))
    assert "smokes" not in statement(mended(checks=(FIRST, noted)))


def test_without_a_check_the_condition_is_not_known(statement):
    told = statement(mended(checks=(), findings=()))
    assert "Its condition is not known to the studio." in told
    assert "T1.1 tear mending" in told


def test_without_a_treatment_nobody_elses_is_ruled_out(statement):
    assert "That others treated it is not ruled out." in statement(mended(treatments=()))
