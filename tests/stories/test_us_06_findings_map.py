"""US-6, the map of condition findings: each with its term, place, judgement and image; layers to take along.

The story and its acceptance facts are those of the trade sheet, section 1.2.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from painting_0_1 import WHO, check, page, painting, photo, seen, tear

from catalogue.desk import create_app
from catalogue.errors import BadData
from catalogue.measure import Day
from catalogue.pictures.map import condition_map

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def work(empty_studio):
    first = check(Day(2026, 2, 3))
    found = tear(
        seen(
            first, severity="severity/affecting", stability="stability/active",
            extent="extent/localised", length_mm=62,
        ),
        cause="cause/impact", cause_certainty="certainty/probable",
    )  # fmt: skip
    image = photo(1, "front", about=(found.id,))
    made = painting(checks=(first,), findings=(found,), photos=(image,))
    return empty_studio.save(made, who=WHO).record


def test_a_finding_keeps_all_that_the_story_asks(work):
    (found,) = work.findings
    (at,) = found.observations
    assert (found.kind, found.layer, found.cause) == (
        "damage/tear", "layer/support", "cause/impact",
    )  # fmt: skip
    assert at.location.face == "face/front"
    assert at.location.shape.bounds == (120, 140, 180, 185)
    assert (at.length_mm, at.severity, at.stability) == (
        62, "severity/affecting", "stability/active",
    )  # fmt: skip
    assert work.photos[0].about == (found.id,)


def test_a_damage_has_a_term_of_the_list_and_no_other(work):
    with pytest.raises(BadData, match="damage"):
        replace(work.findings[0], kind="damage/hurt")


def test_the_leaf_shows_it_on_the_map_and_in_words(empty_studio, work):
    leaf = page(empty_studio, work, "check")
    assert "F1: tear, affecting" in leaf
    assert "front, upper left, 120 mm from the left edge" in leaf
    assert "impact" in leaf


def test_one_layer_of_the_map_can_be_taken_along_with_its_legend(empty_studio, work):
    client = create_app(empty_studio).test_client()
    answer = client.get(f"/work/{work.id}/map.svg?show=finding")
    words = [each.text for each in ET.fromstring(answer.data).iter(f"{SVG}text")]
    assert {"F1", "F  finding", "(F1)"} <= set(words)
    assert "I1" not in words
    every = condition_map(work, key="m", leads_to=lambda _: None)
    assert ">I1<" in every
