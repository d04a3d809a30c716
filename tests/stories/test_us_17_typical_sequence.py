"""US-17, the usual sequence of such a job: each step a type of its own, in an order that the rules accept.

The story and its acceptance facts are those of the trade sheet, section 1.5; the numbers are its own.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from painting_0_1 import WHO, page, painting, photo

from catalogue.argument.order import breaches, suggested_order
from catalogue.errors import Stopped
from catalogue.measure import Day
from catalogue.record import Location, PlannedStep, PriorRepair, Step, Treatment
from catalogue.surface import Box, Shape
from catalogue.terms import known

SEQUENCE = (
    "surface-clean", "photograph", "remove-tape", "remove-patch", "reduce-adhesive",
    "transcribe", "face", "humidify", "relax", "flatten", "align-threads", "tear-mend", "bridge",
    "patch-heat-set", "remove-facing", "fill", "level", "texture", "isolate-varnish", "retouch",
    "varnish", "tone-patch", "backing-board",
)  # fmt: skip
TAPE = PriorRepair(
    number="R1", kind="repair/tape",
    location=Location(face="face/back", shape=Shape.of_box(Box(430, 140, 60, 45))),
)  # fmt: skip


@pytest.mark.parametrize("kind", SEQUENCE)
def test_each_step_of_the_sequence_is_a_type_of_its_own(kind):
    assert known(f"step/{kind}")


def test_the_suggested_order_keeps_the_sequence_whatever_order_it_is_planned_in():
    chosen = (
        "remove-tape",
        "flatten",
        "align-threads",
        "tear-mend",
        "patch",
        "fill",
        "retouch",
    )
    planned = [
        PlannedStep(order=number, kind=f"step/{kind}")
        for number, kind in enumerate(reversed(chosen), 1)
    ]
    suggested = suggested_order(planned)
    assert [each.kind for each in suggested] == [f"step/{kind}" for kind in chosen]


def began(order, kind, day, **more):
    return Step(order=order, kind=f"step/{kind}", began=day, ended=day, **more)


def removal_and_next(work, today):
    steps = (
        began(1, "remove-tape", today, removes=(TAPE.id,), location=TAPE.location),
        began(2, "align-threads", today, location=TAPE.location),
    )
    return replace(work, treatments=(Treatment(number="T1", steps=steps),))


def test_what_appeared_beneath_is_photographed_and_read_before_the_next_step(empty_studio):
    photos = (photo(1, "front"), photo(2, "back"))
    kept = empty_studio.save(painting(repairs=(TAPE,), photos=photos), who=WHO)
    today = empty_studio.today()
    with pytest.raises(Stopped) as refused:
        empty_studio.save(removal_and_next(kept.record, today), who=WHO, read=kept)
    assert "O20" in {each.rule for each in refused.value.refusals}

    seen = replace(
        kept.record,
        repairs=(replace(TAPE, writing_beneath=True),),
        photos=(*photos, photo(3, "back", "during", taken=today)),
    )
    broken = breaches(removal_and_next(seen, today))
    assert "O20" not in {each.rule.key for each in broken}


def test_the_desk_says_so_at_the_step_and_leads_to_the_camera_and_the_slip(empty_studio):
    early = Day(2026, 2, 5)
    work = removal_and_next(
        painting(repairs=(TAPE,), photos=(photo(1, "front"), photo(2, "back"))), early
    )
    saved = empty_studio.save(work, who=WHO).record
    leaf = page(empty_studio, saved, "treat")
    assert "nobody has recorded what came to light: under R1 tape nobody has looked" in leaf
    assert f'href="/work/{saved.id}/photos"' in leaf
    assert f'href="/work/{saved.id}/read"' in leaf
