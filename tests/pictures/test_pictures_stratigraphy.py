"""The stratigraphy as a picture and as a list: boxes on their bearers, what lies over what, circles."""

import random
import xml.etree.ElementTree as ET

import pytest

from catalogue.argument import Interval
from catalogue.argument.stratigraphy import stratigraphy
from catalogue.measure import Day
from catalogue.pictures.beds import laid_out
from catalogue.pictures.strata_words import circles_told, told
from catalogue.pictures.stratigraphy import stratigraphy_picture
from catalogue.record import (
    Inscription,
    Part,
    PriorRepair,
    Sighting,
    Step,
    Treatment,
    Work,
    new_id,
)

IN_1931 = Interval(Day(1931, 1, 1), Day(1931, 12, 31))
SVG = "{http://www.w3.org/2000/svg}"


def no_years(bed):
    return None


def mark(number, *over, **more):
    return Inscription(
        number=f"I{number}", kind="inscription/label", face="face/back", lies_over=over, **more
    )


def drawn(work, when_of=no_years):
    svg = stratigraphy_picture(
        stratigraphy(work),
        of="2026-041",
        key="s",
        leads_to=lambda bed: f"#{bed}",
        when_of=when_of,
    )
    return ET.fromstring(svg)


def a_back():
    """A dealer's label, a patch that covers it, a chalk mark across the patch and the stretcher."""
    stretcher = Part(kind="part/stretcher")
    label = mark(1)
    patch = PriorRepair(number="R1", kind="repair/patch", covers=(label.id,))
    chalk = mark(2, across=(patch.id, stretcher.id), part=stretcher.id)
    off = Step(order=3, kind="step/patch", removes=(patch.id,))
    return Work(
        parts=(stretcher,), inscriptions=(label, chalk, mark(3)), repairs=(patch,),
        treatments=(Treatment(number="T1", steps=(off,)),),
    )  # fmt: skip


def test_every_box_leads_to_its_value_and_says_all_of_it():
    work = a_back()
    found = {each.get("href"): each for each in drawn(work).iter(f"{SVG}a")}
    wanted = [*work.inscriptions, *work.repairs, *work.treatments[0].steps, *work.parts]
    assert set(found) - {"#painting"} == {f"#{each.id}" for each in wanted}
    for each in found.values():
        assert each.get("aria-label") == each.find(f"{SVG}title").text


def test_the_list_says_what_the_picture_shows_from_the_bottom_up():
    lines = [each.words for each in told(stratigraphy(a_back()), no_years)]
    assert lines[:2] == ["the painting itself", "stretcher; beneath I2 label"]
    assert "I1 label; on the painting itself; beneath R1 patch" in lines
    assert "I3 label; on the painting itself; nothing is recorded over or under it" in lines
    assert (
        "R1 patch; on the painting itself; covers I1 label; beneath I2 label; taken off in T1.3 patching"
        in lines
    )
    assert "I2 label; on stretcher; runs across stretcher and R1 patch" in lines or (
        "I2 label; on stretcher; runs across R1 patch and stretcher" in lines
    )


def test_years_and_states_are_said():
    gone = mark(1, sightings=(Sighting(state="state/removed"),))
    work = Work(inscriptions=(gone,))
    (line,) = [
        each.words
        for each in told(stratigraphy(work), lambda bed: IN_1931)
        if each.bed == gone.id
    ]
    assert line.endswith("in 1931; last seen: removed")
    root = drawn(work, lambda bed: IN_1931)
    words = [each.text for each in root.iter(f"{SVG}text")]
    assert any("1931" in (each or "") and "removed" in each for each in words)


def test_what_lies_over_stands_higher_on_its_shelf():
    found = stratigraphy(a_back())
    spots, *_ = laid_out(found)
    for each in found.overs:
        upper, lower = spots[each.upper], spots[each.lower]
        assert upper.shelf != lower.shelf or upper.bottom < lower.top


def test_a_circle_is_drawn_with_its_sign_and_told_with_a_remedy():
    one, other = new_id(), new_id()
    work = Work(inscriptions=(mark(1, other, id=one), mark(2, one, id=other)))
    root = drawn(work)
    signed = [
        each.get("href")
        for each in root.iter(f"{SVG}a")
        if any(inner.get("class") == "at-odds" for inner in each.iter(f"{SVG}g"))
    ]
    assert set(signed) == {f"#{one}", f"#{other}"}
    (said,) = circles_told(stratigraphy(work))
    assert "I1 label lies over I2 label; I2 label lies over I1 label" in said
    assert "Look again at the back" in said
    legend = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "legend")
    assert "goes round in a circle" in [each.text for each in legend.iter(f"{SVG}text")]


def test_an_empty_back_gives_no_picture():
    picture = stratigraphy_picture(
        stratigraphy(Work()), of="", key="s", leads_to=lambda bed: None, when_of=no_years
    )
    assert picture is None


@pytest.mark.parametrize("seed", range(60))
def test_any_back_stays_on_its_paper_and_no_box_lies_over_another(seed):
    chance = random.Random(seed)
    parts = tuple(Part(kind="part/stretcher-bar") for _ in range(chance.randint(0, 6)))
    ids = [new_id() for _ in range(chance.randint(1, 25))]
    marks = tuple(
        mark(
            number, *chance.sample([each for each in ids if each != own], k=min(len(ids) - 1, chance.randint(0, 2))),
            id=own, part=chance.choice([None, *(each.id for each in parts)]),
        )
        for number, own in enumerate(ids, 1)
    )  # fmt: skip
    work = Work(inscriptions=marks, parts=parts)
    spots, wide, _ = laid_out(stratigraphy(work))
    root = drawn(work)
    _, _, width, height = map(float, root.get("viewBox").split())
    placed = list(spots.values())
    for spot in placed:
        assert spot.left >= 0
        assert spot.left + spot.wide <= width
        assert spot.bottom <= height
    for number, spot in enumerate(placed):
        for other in placed[number + 1 :]:
            assert (
                spot.left + spot.wide <= other.left
                or other.left + other.wide <= spot.left
                or spot.bottom <= other.top
                or other.bottom <= spot.top
            )
    assert wide == width


def test_no_sign_is_told_by_a_colour():
    colours = {each.get(name) for each in drawn(a_back()).iter() for name in ("fill", "stroke")}
    assert {each for each in colours if each and not each.startswith("url(#s-")} <= {
        "currentColor", "white", "none",
    }  # fmt: skip
