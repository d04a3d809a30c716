"""US-16, the log of a step: what, where, when, by whom, with which batch, how warm, and how it went.

The story and its acceptance facts are those of the trade sheet, section 1.5.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from painting_0_1 import MEMBER, WHO, page, painting, photo

from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import Location, MaterialUse, Step, Treatment
from catalogue.surface import Box, Shape

DAY = Day(2026, 2, 10)
FILM = MaterialUse(
    material="material/eva-adhesive", role="use/adhesive", product="Sample film", lot="M-31",
    formulation_year=2025, expires=Day(2027, 1, 1), data_sheet=Day(2025, 2, 3),
)  # fmt: skip
STEP = Step(
    order=1, kind="step/flatten", aim="aim/remedial", began=DAY, began_at="09:40", ended=DAY,
    ended_at="11:50", by=(MEMBER,), materials=(FILM,), set_temperature_c=65,
    surface_temperature_c=52.5, humidity_percent=55, dwell_s=900, pressure_mbar=30, weight_kg=2,
    ph=6.8, location=Location(face="face/front", shape=Shape.of_box(Box(120, 140, 60, 45))),
    outcome="Flat, the edges meet.",
)  # fmt: skip


@pytest.fixture
def kept(empty_studio):
    before = photo(1, "front", "before", about=(STEP.id,))
    after = photo(2, "front", "after", about=(STEP.id,))
    treatment = Treatment(number="T1", title="The tear", steps=(STEP,))
    return empty_studio.save(painting(treatments=(treatment,), photos=(before, after)), who=WHO)


def test_the_log_comes_back_as_it_was_written(empty_studio, kept):
    (treatment,) = empty_studio.read(kept.document_id).record.treatments
    assert treatment.steps == (STEP,)


def test_the_leaf_says_all_of_it_with_what_to_mind(empty_studio, kept):
    leaf = page(empty_studio, kept.record, "treat")
    for said in (
        "09:40", "11:50", "lot M-31", "52.5 °C", "65 °C", "900 s", "30 mbar", "2 kg", "6.8",
        "Flat, the edges meet.",
    ):  # fmt: skip
        assert said in leaf, said
    assert "P1" in leaf
    assert "P2" in leaf
    assert "Heat: the surface is measured, not only the tool set" in leaf


def test_a_step_cannot_end_before_it_begins():
    with pytest.raises(BadData, match="began"):
        replace(STEP, ended_at="08:00")
    with pytest.raises(BadData, match="began"):
        replace(STEP, ended=Day(2026, 2, 9))


def test_a_temperature_in_another_unit_is_noticed_and_an_impossible_one_refused(empty_studio):
    # 52.5 °C is 126.5 °F (exact conversion)
    fahrenheit = replace(STEP, surface_temperature_c=126.5)
    treatment = Treatment(number="T1", steps=(fahrenheit,))
    kept = empty_studio.save(painting(treatments=(treatment,)), who=WHO)
    remarks = {each.says for each in empty_studio.check(kept.document_id)}
    assert any(
        says.startswith("the surface was measured at 126.5 °C, over") for says in remarks
    )
    with pytest.raises(BadData, match="surface_temperature_c"):
        replace(STEP, surface_temperature_c=980.0)


def test_it_is_on_the_map_and_on_the_timeline(empty_studio, kept):
    assert "T1.1: flattening; front, upper left" in page(empty_studio, kept.record, "map")
    assert "T1.1 flattening, 10 February 2026" in page(empty_studio, kept.record, "check")
