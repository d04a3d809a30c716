"""US-21, after-care: a page that the work's own needs make, and the day to look again.

The story and its acceptance facts are those of the trade sheet, section 1.6; twelve months for a
fresh mend and three for flaking paint are its C19 (common practice, no source). Limits of climate and
light: 2023 Bizot Green Protocol and Western Australian Museum manual, as its C13 quotes them.
"""

from __future__ import annotations

import pytest
from made_records import ARTIST, WHO
from printed_papers import both

from catalogue.measure import Day
from catalogue.record import ConditionCheck, Finding, Observation, Part, Step, Treatment, Work

LOOKED = ConditionCheck(occasion="occasion/outgoing", on=Day(2026, 9, 1), by=ARTIST.document)


@pytest.fixture
def advised(empty_studio):
    """The page for a work that was looked at on its way out."""
    empty_studio.save(ARTIST, who=WHO)

    def page(checks=(LOOKED,), **fields):
        number = empty_studio.save(Work(checks=checks, **fields), who=WHO).record.number
        return both(empty_studio, number, "aftercare")

    return page


def done(kind, day=Day(2026, 8, 20)):  # noqa: B008 (a day is a frozen value)
    return (Treatment(steps=(Step(order=1, kind=kind, began=day, ended=day),)),)


def flaking(change="change/new"):
    seen = Observation(check=LOOKED.id, stability="stability/active", change=change)
    return (Finding(layer="layer/paint", kind="damage/flaking", observations=(seen,)),)


def test_every_work_has_light_climate_heat_handling_and_when_to_call(advised):
    told = advised()
    for said in (
        "at most 200 lux", "40 to 60 % relative humidity", "16 to 25 °C", "10 % up or down",
        "Not above a fireplace, a radiator", "with two hands", "When to call us",
    ):  # fmt: skip
        assert said in told


def test_a_fresh_mend_is_looked_at_after_twelve_months_and_not_pressed(advised):
    told = advised(treatments=done("step/tear-mend"))
    assert "By 20 August 2027: a fresh mend." in told
    assert "nothing may press or knock against the canvas" in told


def test_a_mend_is_fresh_even_if_somebody_looked_while_the_work_went_on(advised):
    while_working = ConditionCheck(
        occasion="occasion/during-treatment", on=Day(2026, 8, 28), by=ARTIST.document
    )
    told = advised(checks=(while_working,), treatments=done("step/tear-mend"))
    assert "By 20 August 2027: a fresh mend." in told


def test_loose_paint_is_looked_at_after_three_months_and_carried_flat(advised):
    told = advised(findings=flaking())
    assert "By 1 December 2026: paint that lifts or comes off." in told
    assert "carry it flat with the face up" in told


def test_nothing_that_moves_is_looked_at_after_three_years(advised):
    told = advised()
    assert "By 1 September 2029" in told
    assert "A mend is fresh" not in told
    assert "Paint is loose" not in told


def test_paint_that_was_laid_is_loose_no_more(advised):
    assert "Paint is loose" not in advised(findings=flaking("change/treated"))


def test_a_board_that_is_there_stays_and_one_that_is_missing_is_offered(advised):
    assert "It has no board behind it." in advised()
    fitted = advised(treatments=done("step/backing-board"))
    assert "leave it on" in fitted
    assert "It has no board behind it." not in fitted
    assert "leave it on" in advised(parts=(Part(kind="part/backing-board"),))


def test_a_panel_needs_steady_air_and_a_canvas_on_pine_does_not_say_so(advised):
    steady = "Wood moves across its grain"
    assert steady in advised(materials=("material/oak",))
    assert steady not in advised(materials=("material/canvas", "material/pine"))


def test_it_is_advice_and_says_on_what_it_rests(advised):
    told = advised()
    assert "The conservator decides" in told
    assert "2023 Bizot Green Protocol" in told
    assert "Everything else: common practice, no source." in told
