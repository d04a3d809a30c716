"""US-12, condition check: a dated look with purpose, examiner, light and limits; each finding's outcome.

The story, its acceptance facts and the filled example K1 are those of the trade sheet, sections 1.4,
2.9 and 2.9b (contents after EN 16095, the idea of four classes after EN 16096).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_records import ARTIST, WHO
from printed_papers import both

from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.record import ConditionCheck, Finding, Observation, Work
from catalogue.terms import group, in_order

K1 = ConditionCheck(
    occasion="occasion/incoming", on=Day(2026, 3, 2), by=ARTIST.document,
    lights=("light/daylight", "light/raking"), framed=False, limits="Glazed; the back not seen.",
    temperature_c=20.1, humidity_percent=54, condition="condition/moderate",
    urgency="urgency/short-term", handling="handling/travel-after-stabilising",
)  # fmt: skip
K2 = ConditionCheck(occasion="occasion/after-treatment", on=Day(2026, 9, 1), by=ARTIST.document)
OUTCOMES = {
    "change/new": "New", "change/unchanged": "Unchanged", "change/grown": "Worse",
    "change/shrunk": "Better", "change/treated": "Treated", "change/not-found": "Not seen",
}  # fmt: skip
"""The six outcomes of a finding, and how a comparison says them."""


def looked(change="change/treated"):
    tear = Finding(
        layer="layer/support", kind="damage/tear",
        observations=(
            Observation(check=K1.id, length_mm=62, severity="severity/affecting"),
            Observation(check=K2.id, length_mm=62, change=change),
        ),
    )  # fmt: skip
    return Work(checks=(K1, K2), findings=(tear,))


@pytest.fixture
def kept(empty_studio):
    empty_studio.save(ARTIST, who=WHO)
    return empty_studio, empty_studio.save(looked(), who=WHO).record.number


def test_the_report_says_purpose_day_examiner_light_frame_and_limits(kept):
    studio, number = kept
    told = both(studio, number, "condition", checks=("K1",))
    for said in (
        "Occasion Incoming, K1", "Day 2 March 2026", "Examined by Ada Penhale",
        "Light Daylight, raking light", "Framed No",
        "Limits of the check Glazed; the back not seen.", "20.1 °C, 54 % relative humidity",
    ):  # fmt: skip
        assert said in told


@pytest.mark.parametrize(
    "purpose",
    [
        "incoming",
        "before-treatment",
        "after-treatment",
        "loan-out",
        "on-loan",
        "loan-return",
        "periodic",
    ],
)
def test_a_check_has_one_of_the_purposes(purpose):
    """Incoming, pre- and post-treatment, pre-loan, in transit, on return, annual."""
    assert f"occasion/{purpose}" in {each.key for each in group("occasion")}


def test_a_check_without_day_examiner_or_purpose_is_refused():
    for missing in ("on", "by", "occasion"):
        facts = {"on": K1.on, "by": K1.by, "occasion": K1.occasion}
        del facts[missing]
        with pytest.raises(TypeError, match=missing):
            ConditionCheck(**facts)


@pytest.mark.parametrize("change", OUTCOMES)
def test_each_finding_has_one_of_six_outcomes(empty_studio, change):
    empty_studio.save(ARTIST, who=WHO)
    number = empty_studio.save(looked(change), who=WHO).record.number
    told = both(empty_studio, number, "comparison")
    assert f"length 62 mm {OUTCOMES[change]}" in told


def test_condition_and_urgency_are_two_judgements_each_on_four_steps(kept):
    studio, number = kept
    told = both(studio, number, "condition", checks=("K1",))
    assert "Condition Moderate symptoms Class 2" in told
    assert "Urgency Short term Class 2" in told
    assert "Handling Travel after stabilising" in told
    for name in ("condition", "urgency", "severity"):
        assert len(in_order(name)) == 4
    assert "from memory" in told
    assert "common practice, no source" in told


def test_a_later_check_replaces_none_before(kept):
    studio, number = kept
    read = studio.work(number)
    later = replace(
        K2, id=ARTIST.id, on=Day(2027, 9, 1), occasion="occasion/periodic", number=None
    )
    studio.save(replace(read.record, checks=(*read.record.checks, later)), who=WHO, read=read)
    assert "2 March 2026" in both(studio, number, "condition", checks=("K1",))
    assert "1 September 2027" in both(studio, number, "condition")


def test_one_check_has_one_observation_of_a_finding():
    twice = (Observation(check=K1.id), Observation(check=K1.id))
    with pytest.raises(BadData, match="one check has one observation"):
        Finding(layer="layer/support", kind="damage/tear", observations=twice)
