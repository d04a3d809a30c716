"""US-7, safety of examination: where paint lifts, the picture stays face up until somebody made it safe.

The story and its acceptance facts are those of the trade sheet, section 1.2 (after published notes on
condition reporting, which say: face up, flat, not unframed).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from painting_0_1 import WHO, check, page, painting, photo, seen, tear

from catalogue.errors import Stopped
from catalogue.measure import Day
from catalogue.record import Location, Override, Step, Treatment
from catalogue.surface import Box, Shape

FIRST = check(Day(2026, 2, 3))
AREA = Location(face="face/front", shape=Shape.of_box(Box(100, 120, 120, 100)))


def flaking(stability="active", **more):
    found = tear(
        seen(FIRST, stability=f"stability/{stability}", **more),
        kind="flaking",
        layer="layer/paint",
    )
    photos = (photo(1, "front"), photo(2, "back"))
    return painting(checks=(FIRST,), findings=(found,), photos=photos)


def with_steps(work, *steps):
    return replace(work, treatments=(Treatment(steps=steps),))


@pytest.fixture
def kept(empty_studio):
    return empty_studio.save(flaking(), who=WHO)


def turned(today, order=1, **more):
    return Step(order=order, kind="step/turn-face-down", began=today, **more)


@pytest.mark.parametrize("leaf", ["check", "treat"])
def test_keep_face_up_stands_on_the_leaves(empty_studio, kept, leaf):
    told = page(empty_studio, kept.record, leaf)
    assert "Keep face up." in told
    assert "neither turned over nor unframed" in told


def test_it_is_not_said_where_nothing_lifts(empty_studio):
    calm = empty_studio.save(flaking("stable"), who=WHO).record
    assert "Keep face up." not in page(empty_studio, calm, "check")
    treated = empty_studio.save(flaking(change="change/treated"), who=WHO).record
    assert "Keep face up." not in page(empty_studio, treated, "check")


def test_to_turn_it_over_is_stopped(empty_studio, kept):
    step = turned(empty_studio.today())
    with pytest.raises(Stopped) as refused:
        empty_studio.save(with_steps(kept.record, step), who=WHO, read=kept)
    assert "O6" in {each.rule for each in refused.value.refusals}
    assert empty_studio.read(kept.document_id).record.treatments == ()


def test_once_it_is_faced_it_may_be_turned(empty_studio, kept):
    today = empty_studio.today()
    day_before = Day.from_iso("2026-02-04")
    faced = Step(
        order=1, kind="step/face", began=day_before, ended=day_before, location=AREA,
        overrides=(Override(rule="O9", reason="the facing was tested on another work"),),
    )  # fmt: skip
    steps = with_steps(kept.record, faced, turned(today, 2))
    saved = empty_studio.save(steps, who=WHO, read=kept)
    assert len(saved.record.treatments[0].steps) == 2


def test_somebody_may_have_found_it_safe_and_says_so_in_writing(empty_studio, kept):
    word = Override(rule="O6", reason="assessed as safe by N. Quince with a brush and a lens")
    step = turned(empty_studio.today(), overrides=(word,))
    empty_studio.save(with_steps(kept.record, step), who=WHO, read=kept)
    assert "assessed as safe" in page(empty_studio, kept.record, "treat")
