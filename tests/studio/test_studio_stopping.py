"""A stop of the order of work is a stop wherever a record is saved, until somebody writes why not."""

from dataclasses import replace

import pytest

from catalogue.errors import Stopped
from catalogue.measure import Day
from catalogue.record import (
    Inscription,
    Override,
    Photo,
    PriorRepair,
    Region,
    Step,
    Transcript,
    Treatment,
    Work,
)
from catalogue.studio import Studio

WHO = "Nell Quince"


@pytest.fixture
def studio():
    with Studio.open("memory:") as opened:
        yield opened


def photographed(work, today):
    photos = tuple(
        Photo(file_name=f"{side}.jpg", face=f"face/{side}", stage="stage/before", taken=today, mm_per_pixel=0.1)
        for side in ("front", "back")
    )  # fmt: skip
    return replace(work, photos=photos)


def with_steps(work, *steps):
    return replace(work, treatments=(Treatment(number="T1", steps=steps),))


@pytest.fixture
def kept(studio):
    """A work on file with an inscription that nobody has read, and an old tape."""
    label = Inscription(number="I1", kind="inscription/title", face="face/back")
    tape = PriorRepair(number="R1", kind="repair/tape")
    work = Work(number="2026-041", inscriptions=(label,), repairs=(tape,))
    return studio.save(photographed(work, studio.today()), who=WHO)


def lining(studio, **more):
    return Step(order=1, kind="step/lining", began=studio.today(), **more)


def test_what_would_be_covered_unrecorded_is_not_saved(studio, kept):
    with pytest.raises(Stopped) as stopped:
        studio.save(with_steps(kept.record, lining(studio)), who=WHO, read=kept)
    assert {each.rule for each in stopped.value.refusals} == {"O3", "O13"}
    said = str(stopped.value)
    assert "I1 title (no photograph, no reading, no place)" in said
    assert "photograph it with a scale" in said
    assert studio.read(kept.document_id).revision == kept.revision
    assert not studio.read(kept.document_id).record.treatments


def test_a_planned_step_without_a_day_is_stopped_too(studio, kept):
    step = Step(order=1, kind="step/lining")
    with pytest.raises(Stopped):
        studio.save(with_steps(kept.record, step), who=WHO, read=kept)


def test_a_new_work_has_to_pass_as_well(studio, kept):
    work = with_steps(Work(inscriptions=kept.record.inscriptions), lining(studio))
    with pytest.raises(Stopped):
        studio.save(work, who=WHO)


def test_a_written_reason_lets_it_pass_and_stays_on_record(studio, kept):
    reasons = tuple(
        Override(rule=rule, reason="the old lining hides it; the client agreed")
        for rule in ("O3", "O13")
    )
    saved = studio.save(
        with_steps(kept.record, lining(studio, overrides=reasons)), who=WHO, read=kept
    )
    (treatment,) = studio.read(saved.document_id).record.treatments
    assert {each.rule for each in treatment.steps[0].overrides} == {"O3", "O13"}


def test_what_is_recorded_first_may_be_covered(studio, kept):
    member = studio.welcome("Maud Brand")
    (label,) = kept.record.inscriptions
    back = next(each for each in kept.record.photos if each.face == "face/back")
    read = replace(
        label,
        regions=(Region(photo=back.id, corners=((0, 0), (9, 0), (9, 9), (0, 9))),),
        transcripts=(Transcript(markup="+(?)", by=member.document),),
    )
    record = replace(kept.record, inscriptions=(read,))
    saved = studio.save(
        with_steps(record, lining(studio, covers=(label.id,))), who=WHO, read=kept
    )
    assert saved.record.treatments


def test_what_was_done_before_the_work_was_on_file_is_history(studio, kept):
    old = Step(order=1, kind="step/lining", began=Day(1998, 5, 1))
    assert studio.save(with_steps(kept.record, old), who=WHO, read=kept).record.treatments


def test_another_edit_of_a_work_asks_nothing(studio, kept):
    old = Step(order=1, kind="step/lining", began=Day(1998, 5, 1))
    told = studio.save(with_steps(kept.record, old), who=WHO, read=kept)
    again = replace(told.record, medium="oil on canvas")
    assert studio.save(again, who=WHO, read=told).record.medium == "oil on canvas"


def test_after_a_tape_is_off_somebody_looks_beneath_first(studio, kept):
    (tape,) = kept.record.repairs
    off = Step(order=1, kind="step/remove-fixings", began=studio.today(), removes=(tape.id,))
    first = studio.save(with_steps(kept.record, off), who=WHO, read=kept)
    then = Step(order=2, kind="step/flatten", began=studio.today())
    with pytest.raises(Stopped, match="nobody has looked"):
        studio.save(with_steps(first.record, off, then), who=WHO, read=first)
