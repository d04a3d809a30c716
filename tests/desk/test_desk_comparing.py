"""Two checks beside each other: table, maps, sentences; trends on the leaf of the checks."""

import re
from dataclasses import replace

import pytest
from mapped import sea_wall

from catalogue.desk.comparing import trends
from catalogue.measure import Day
from catalogue.record import ConditionCheck, Finding, Observation, Work


@pytest.fixture
def mapped(desk):
    desk.begin()
    return sea_wall(desk.studio, f"party/{desk.member}")


def words(page):
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_two_checks_stand_beside_each_other_as_table_maps_and_sentences(desk, mapped):
    page = desk.client.get(f"{mapped.path}/compare").text
    assert page.count("<svg") == 1
    assert "Front, as seen at K1 2025-01-06" in page
    assert "Front, as seen at K2 2026-02-03" in page
    told = words(page)
    assert "▲ worse length +6 mm, more than the error of measuring" in told
    assert "F1 tear: worse; length +6 mm, more than the error of measuring." in told
    assert "The two checks were not made alike What differs: the light." in told


def test_the_earlier_check_comes_first_however_they_are_asked_for(desk, mapped):
    page = desk.client.get(f"{mapped.path}/compare?first=K2&second=K1").text
    assert "+6 mm" in page
    assert page.index("as seen at K1") < page.index("as seen at K2")


def test_a_check_that_is_not_there_or_a_work_with_one_only_is_said(desk, mapped):
    missing = desk.client.get(f"{mapped.path}/compare?first=K1&second=K9")
    assert missing.status_code == 404
    lone = desk.client.get(f"/work/{desk.low_water}/compare")
    assert lone.status_code == 404
    assert "fewer than two condition checks" in lone.text


def test_the_leaf_of_the_checks_has_map_timeline_and_the_way_to_compare(desk, mapped):
    page = desk.client.get(f"{mapped.path}/check").text
    assert page.count("<svg") == 2
    assert f'href="{mapped.path}/compare"' in page
    assert "Length 62 → 68 mm: +6, more than the error of measuring (2.83)" in page
    assert "a year" not in words(page)
    bare = desk.client.get(f"/work/{desk.low_water}/check").text
    assert "nothing can be drawn in mm" in bare or "<svg" in bare


def test_a_rate_is_told_from_three_measures_on():
    # trade sheet C4: 62.0, 64.5 after 1.1 years, 68.0 after 2.4: 6.0 in all, 2.51 mm a year
    by = "party/0c8e2b0e-9a4f-4f3c-9d1c-6a6d3a2b1f00"
    days = (Day(2023, 1, 1), Day(2024, 2, 6), Day(2025, 5, 26))
    checks = tuple(ConditionCheck(occasion="occasion/periodic", on=on, by=by) for on in days)
    seen = tuple(
        Observation(check=check.id, length_mm=mm)
        for check, mm in zip(checks, (62.0, 64.5, 68.0), strict=True)
    )
    tear = Finding(kind="damage/tear", layer="layer/support", observations=seen)
    work = Work(checks=checks, findings=(tear,))
    assert list(trends(work, tear)) == [
        "length 62 → 64.5 → 68 mm: +6, more than the error of measuring (2.83); +2.51 mm a year"
    ]
    two = replace(tear, observations=seen[:2])
    assert list(trends(replace(work, findings=(two,)), two)) == [
        "length 62 → 64.5 mm: +2.5, within the error of measuring (2.83)"
    ]
