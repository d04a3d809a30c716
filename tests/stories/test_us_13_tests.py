"""US-13, tests: each on its spot, with agent and response; what they say stops or lets go on.

The story and its acceptance facts are those of the trade sheet, section 1.4.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from painting_0_1 import MEMBER, WHO, page, painting, photo

from catalogue.errors import Stopped
from catalogue.measure import Day
from catalogue.record import Location, MaterialUse, Response, Step, Treatment
from catalogue.record import Test as Trial
from catalogue.surface import Box, Shape

WATER = MaterialUse(material="material/deionised-water", role="use/cleaning-agent")
HERE = Location(face="face/front", shape=Shape.of_box(Box(300, 300, 80, 60)))


def trial(result, **more):
    told = {
        "number": "X1", "kind": "test/cleaning", "on": Day(2026, 2, 4), "by": MEMBER,
        "location": Location(face="face/front", shape=Shape("point", ((320, 320),))),
        "materials": (WATER,), "ph": 6.5, "conductivity_ms_cm": 0.4, "dwell_s": 60,
        "applicator": "swab", "rolls": 3,
        "responses": (Response(layer="layer/paint", seen=("response/pigment-on-swab",)),),
        "result": f"result/{result}",
    }  # fmt: skip
    return Trial(**{**told, **more})


def cleaned(studio, **more):
    told = {
        "order": 1, "kind": "step/surface-clean", "began": studio.today(), "location": HERE,
        "materials": (WATER,),
    }  # fmt: skip
    return Treatment(steps=(Step(**{**told, **more}),))


def rules_against(studio, kept, treatment):
    with pytest.raises(Stopped) as refused:
        studio.save(replace(kept.record, treatments=(treatment,)), who=WHO, read=kept)
    return {each.rule: each.args[0] for each in refused.value.refusals}


def with_tests(studio, *tests):
    photos = (photo(1, "front"), photo(2, "back"))
    return studio.save(painting(tests=tests, photos=photos), who=WHO)


def test_a_test_keeps_agent_strength_time_applicator_and_each_layers_answer(empty_studio):
    kept = with_tests(empty_studio, trial("unsafe"))
    (found,) = empty_studio.read(kept.document_id).record.tests
    assert (found.ph, found.conductivity_ms_cm, found.dwell_s, found.rolls) == (6.5, 0.4, 60, 3)
    assert found.responses[0].layer == "layer/paint"


def test_a_test_spot_has_a_place_and_is_on_the_map(empty_studio):
    kept = with_tests(empty_studio, trial("unsafe"))
    told = page(empty_studio, kept.record, "map")
    assert "X1: cleaning test; front, centre, " in told


def test_pigment_on_the_swab_blocks_that_agent_there(empty_studio):
    kept = with_tests(empty_studio, trial("unsafe"))
    stopped = rules_against(empty_studio, kept, cleaned(empty_studio))
    assert "a test here says unsafe" in stopped["O5"]


def test_an_agent_that_nobody_tested_is_blocked_and_a_tested_one_is_not(empty_studio):
    kept = with_tests(empty_studio)
    stopped = rules_against(empty_studio, kept, cleaned(empty_studio))
    assert "no passing test" in stopped["O5"]
    passed = with_tests(empty_studio, trial("safe"))
    saved = empty_studio.save(
        replace(passed.record, treatments=(cleaned(empty_studio),)), who=WHO, read=passed
    )
    assert saved.record.treatments[0].steps


def test_writing_is_tested_for_itself_before_moisture_comes_near(empty_studio):
    wet = cleaned(
        empty_studio,
        kind="step/humidify",
        location=Location(face="face/front", shape=Shape.of_box(Box(60, 120, 160, 60))),
    )
    kept = with_tests(empty_studio, trial("safe"))
    assert "O4" in rules_against(empty_studio, kept, wet)
    ink = trial(
        "safe", number="X2", kind="test/inscription-solubility",
        inscription=kept.record.inscriptions[0].id,
    )  # fmt: skip
    tested = empty_studio.save(
        replace(kept.record, tests=(*kept.record.tests, ink)), who=WHO, read=kept
    )
    saved = empty_studio.save(replace(tested.record, treatments=(wet,)), who=WHO, read=tested)
    assert saved.record.treatments[0].steps
