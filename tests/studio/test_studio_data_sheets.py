"""The studio's own safety data sheets: the newest that somebody typed, of each product."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import WHO

from catalogue.measure import Day
from catalogue.record import MaterialUse, Step, Treatment, Work
from catalogue.record import Test as Tried

ACETONE = MaterialUse(
    material="material/acetone", product="Acetone, pure", maker="a maker", data_sheet=Day(2024, 2, 3),
    signal="Danger", hazards=("H225", "H319"), precautions=("P210",),
)  # fmt: skip
NEWER = replace(
    ACETONE, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2c01", data_sheet=Day(2026, 1, 9),
    hazards=("H225", "H319", "H336"),
)  # fmt: skip
OTHERS = replace(ACETONE, id="5a0f1f5c-7a51-4ec1-9a3b-0d0b6d1f2c02", product="Remover")


def used_on(*uses):
    return Work(tests=(Tried(kind="test/cleaning", materials=uses),))


def codes(studio, *materials):
    return [(use.product, use.hazards) for use in studio.data_sheets(materials)]


def test_the_newest_sheet_of_each_product_is_told(empty_studio):
    empty_studio.save(used_on(NEWER), who=WHO)
    empty_studio.save(used_on(ACETONE, OTHERS), who=WHO)
    assert codes(empty_studio, "material/acetone") == [
        ("Acetone, pure", ("H225", "H319", "H336")), ("Remover", ("H225", "H319")),
    ]  # fmt: skip
    assert codes(empty_studio, "material/water") == []


def test_what_is_typed_later_is_known_and_what_is_taken_out_is_not(empty_studio):
    kept = empty_studio.save(used_on(ACETONE), who=WHO)
    assert codes(empty_studio, "material/acetone") == [("Acetone, pure", ("H225", "H319"))]
    step = Step(order=1, kind="step/other", began=Day(1990, 1, 1), materials=(NEWER,))
    changed = replace(kept.record, tests=(), treatments=(Treatment(steps=(step,)),))
    kept = empty_studio.save(changed, who=WHO, read=kept)
    assert codes(empty_studio, "material/acetone") == [
        ("Acetone, pure", ("H225", "H319", "H336"))
    ]
    empty_studio.save(replace(kept.record, treatments=()), who=WHO, read=kept)
    assert codes(empty_studio, "material/acetone") == []


def test_a_work_that_was_set_aside_tells_none(empty_studio):
    kept = empty_studio.save(used_on(ACETONE), who=WHO)
    assert codes(empty_studio, "material/acetone")
    empty_studio.withdraw(kept.document_id, who=WHO, why="entered twice")
    assert codes(empty_studio, "material/acetone") == []


def test_a_use_without_codes_is_no_sheet(empty_studio):
    bare = replace(ACETONE, signal=None, hazards=(), precautions=())
    empty_studio.save(used_on(bare), who=WHO)
    assert codes(empty_studio, "material/acetone") == []


@pytest.mark.parametrize("said", [{"signal": "Danger"}, {"hazards": ("H225",)}])
def test_codes_go_with_the_day_of_their_sheet(said):
    with pytest.raises(ValueError, match="the day of the sheet"):
        MaterialUse(material="material/acetone", **said)
