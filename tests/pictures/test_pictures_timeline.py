"""The timeline of a work: every check, step and observation a sign on its day, told without colour."""

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.measure import Day
from catalogue.pictures.timeline import timeline
from catalogue.record import ConditionCheck, Finding, Observation, Step, Treatment, Work

SVG = "{http://www.w3.org/2000/svg}"
PARTY = "party/0c8e2b0e-9a4f-4f3c-9d1c-6a6d3a2b1f00"
CHANGES = [None, "change/new", "change/unchanged", "change/grown", "change/shrunk",
           "change/changed", "change/treated", "change/not-found"]  # fmt: skip


def checked(number, on):
    return ConditionCheck(number=f"K{number}", occasion="occasion/periodic", on=on, by=PARTY)


def a_life(days, changes=CHANGES):
    """A finding seen at a check on every one of these days, and a treatment on the first."""
    checks = tuple(checked(number, day) for number, day in enumerate(days, 1))
    seen = tuple(
        Observation(check=check.id, change=changes[number % len(changes)])
        for number, check in enumerate(checks)
    )
    finding = (
        Finding(number="F1", kind="damage/tear", layer="layer/support", observations=seen),
    )
    step = Step(order=1, kind="step/flatten", began=days[0])
    return Work(
        checks=checks, findings=finding if seen else (),
        treatments=(Treatment(number="T1", steps=(step,)),),
    )  # fmt: skip


def links(root):
    return {each.get("href"): each for each in root.iter(f"{SVG}a")}


def drawn(work):
    return ET.fromstring(timeline(work, leads_to=lambda value: f"#{value}"))


def where(link):
    rect = link.find(f"{SVG}rect")
    return float(rect.get("x")) + float(rect.get("width")) / 2


def test_every_check_step_and_observation_leads_to_its_value():
    work = a_life([Day(2012, 2, 1), Day(2019, 5, 1), Day(2026, 6, 1)])
    values = [
        *work.checks, *(step for each in work.treatments for step in each.steps),
        *(seen for each in work.findings for seen in each.observations),
    ]  # fmt: skip
    found = links(drawn(work))
    assert set(found) == {f"#{each.id}" for each in values}
    for link in found.values():
        assert link.get("aria-label") == link.find(f"{SVG}title").text


def test_what_a_sign_says():
    work = a_life([Day(2012, 2, 1), Day(2019, 5, 1)], ["change/new", "change/grown"])
    said = {each.get("aria-label") for each in links(drawn(work)).values()}
    assert "F1 at K2, 1 May 2019: grown" in said
    assert "K1 periodic, 1 February 2012" in said
    assert "T1.1 flattening, 1 February 2012" in said


def test_each_change_has_a_sign_of_its_own_and_its_words_in_the_legend():
    days = [Day(2010 + number, 1, 1) for number in range(len(CHANGES))]
    root = drawn(a_life(days))
    signs = [
        (path.get("d"), path.get("fill"))
        for link in links(root).values()
        if link.get("aria-label").startswith("F1")
        for path in link.iter(f"{SVG}path")
    ]
    assert len(set(signs)) == len(CHANGES)
    legend = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "legend")
    assert len(legend.findall(f"{SVG}g")) == len(CHANGES)
    only = drawn(a_life(days[:1], ["change/new"]))
    legend = next(each for each in only.iter(f"{SVG}g") if each.get("class") == "legend")
    assert [each.text for each in legend.iter(f"{SVG}text")] == ["new"]


def test_a_work_of_one_year_has_its_quarters_on_the_scale():
    words = [
        each.text
        for each in drawn(a_life([Day(2026, 3, 1), Day(2026, 8, 1)])).iter(f"{SVG}text")
    ]
    assert "Apr 2026" in words


def test_nothing_with_a_day_gives_no_picture():
    assert timeline(Work(), leads_to=lambda value: None) is None
    undated = Treatment(number="T1", steps=(Step(order=1, kind="step/flatten"),))
    assert timeline(Work(treatments=(undated,)), leads_to=lambda value: None) is None


def test_no_sign_is_told_by_a_colour():
    root = drawn(a_life([Day(2012, 2, 1), Day(2019, 5, 1)]))
    colours = {each.get(name) for each in root.iter() for name in ("fill", "stroke")}
    assert colours <= {None, "currentColor", "transparent", "none"}


days = st.builds(Day, st.integers(1850, 2100), st.integers(1, 12), st.integers(1, 28))


@given(st.lists(days, min_size=1, max_size=8), st.lists(st.sampled_from(CHANGES), min_size=1))
def test_any_life_stays_on_its_paper_and_runs_from_left_to_right(found, changes):
    work = a_life(found, changes)
    root = drawn(work)
    width, height = map(float, root.get("viewBox").split()[2:])
    places = links(root)
    at = [(check.on, where(places[f"#{check.id}"])) for check in work.checks]
    assert all(8 <= x <= width - 8 for _, x in at)
    assert all(float(text.get("y")) <= height for text in root.iter(f"{SVG}text"))
    for day, x in at:
        for other, y in at:
            assert x <= y if day < other else True


@pytest.mark.parametrize("title", ["<b>&", "a" * 500, "\x00"])
def test_any_title_is_text(title):
    step = Step(order=1, kind="step/flatten", began=Day(2026, 1, 1))
    try:
        treatment = Treatment(number="T1", title=title, steps=(step,))
    except ValueError:
        return
    drawn(Work(treatments=(treatment,)))
