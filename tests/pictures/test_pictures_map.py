"""The condition map: every mark in its place on both sides, told without colour, in words as well."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_records import full_work

from catalogue.measure import Day
from catalogue.pictures.legend import round_length
from catalogue.pictures.map import compared_maps, condition_map
from catalogue.pictures.marks import marks, placed
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    PriorRepair,
    Sighting,
    Size,
    Step,
    Treatment,
    Work,
)
from catalogue.record import Test as SpotTest
from catalogue.surface import Box, CrossBar, Edges, Shape, Stretcher

SVG = "{http://www.w3.org/2000/svg}"
PARTY = "party/0c8e2b0e-9a4f-4f3c-9d1c-6a6d3a2b1f00"
SIZE = Size(what="size/support", width_mm=610, height_mm=500)
TEAR = Shape.of_box(Box(120, 140, 60, 45))


def at(shape, face="face/front", **more):
    return Location(face=face, shape=shape, **more)


FIRST = ConditionCheck(number="K1", occasion="occasion/incoming", on=Day(2026, 1, 5), by=PARTY)
SECOND = ConditionCheck(number="K2", occasion="occasion/periodic", on=Day(2026, 8, 5), by=PARTY)


def the_work(**more):
    """The tear of trade sheet 0.1 with the title on its back, and one mark of every kind."""
    told = {
        "number": "2026-041",
        "sizes": (SIZE,),
        "checks": (FIRST, SECOND),
        "findings": (
            Finding(
                number="F1", kind="damage/tear", layer="layer/support",
                observations=(Observation(check=FIRST.id, location=at(TEAR)),),
            ),
        ),
        "inscriptions": (
            Inscription(
                number="I1", kind="inscription/title", face="face/back",
                place=Box(395, 120, 150, 40),
            ),
        ),
        "repairs": (
            PriorRepair(
                number="R1", kind="repair/tape",
                location=at(Shape.of_box(Box(420, 130, 80, 20)), "face/back"),
            ),
        ),
        "tests": (
            SpotTest(number="X1", kind="test/water-sensitivity", location=at(Shape("point", ((300, 300),)))),
        ),
        "treatments": (
            Treatment(
                number="T1",
                steps=(Step(order=1, kind="step/dry-clean", location=at(TEAR)),),
            ),
        ),
    }  # fmt: skip
    return Work(**{**told, **more})


def picture(work, **more):
    drawn = condition_map(work, key="m", leads_to=lambda value: f"#{value}", **more)
    return ET.fromstring(drawn)


def side(root, name):
    return next(each for each in root.iter(f"{SVG}g") if each.get("data-side") == name)


def corners(element):
    """Every corner of the outlines within an element, on the paper."""
    found = []
    for name in ("polygon", "polyline"):
        for each in element.iter(f"{SVG}{name}"):
            found += [tuple(map(float, pair.split(","))) for pair in each.get("points").split()]
    return found


def in_mm(element, panel):
    """The outline of a mark from the paper back to mm."""
    left, top, scale = (float(panel.get(f"data-{name}")) for name in ("left", "top", "scale"))
    return [((x - left) / scale, (y - top) / scale) for x, y in corners(element)]


def titled(panel, begins):
    return next(
        each
        for each in panel
        if (each.find(f"{SVG}title") is not None)
        and each.find(f"{SVG}title").text.startswith(begins)
    )


def test_every_mark_with_a_place_is_drawn_once_and_leads_to_its_value():
    work = the_work()
    root = picture(work)
    drawn = [each for each in marks(work) if each.shape]
    assert len(drawn) == 5
    lead = [each for each in root.iter(f"{SVG}a") if not each.get("aria-hidden")]
    assert sorted(each.get("href") for each in lead) == sorted(
        f"#{each.value}" for each in drawn
    )
    # for fingers each has its reach, beneath every mark of its side, out of the way of keys and readers
    reaches = [each for each in root.iter(f"{SVG}a") if each.get("aria-hidden") == "true"]
    assert sorted(each.get("href") for each in reaches) == sorted(
        each.get("href") for each in lead
    )
    assert {each.get("tabindex") for each in reaches} == {"-1"}
    for side in root.iter(f"{SVG}g"):
        order = [each.get("class").split()[0] for each in side if each.tag == f"{SVG}a"]
        assert order == sorted(order, reverse=True)  # reach, then mark
    for each in lead:
        assert each.find(f"{SVG}title").text == each.get("aria-label")


def test_what_lies_in_front_is_ghosted_mirrored_on_the_back():
    # trade sheet C1: the tear (120,140,60,45) of a picture 610 mm wide lies at (430,140,60,45) behind
    back = side(picture(the_work()), "back")
    found = in_mm(titled(back, "F1 seen from"), back)
    xs, ys = zip(*found, strict=True)
    assert (min(xs), min(ys)) == pytest.approx((430, 140), abs=0.02)
    assert (max(xs), max(ys)) == pytest.approx((490, 185), abs=0.02)


def test_a_mark_lies_where_it_was_measured():
    back = side(picture(the_work()), "back")
    xs, ys = zip(*in_mm(titled(back, "I1"), back), strict=True)
    assert (min(xs), min(ys)) == pytest.approx((395, 120), abs=0.02)
    assert (max(xs), max(ys)) == pytest.approx((545, 160), abs=0.02)


def test_no_mark_is_told_by_a_colour_and_no_two_kinds_look_alike():
    root = picture(the_work(), more=[placed(the_work(), Box(415, 125, 90, 75), "face/back")])
    colours = {each.get(name) for each in root.iter() for name in ("fill", "stroke")}
    assert {each for each in colours if each and not each.startswith("url(#m-")} <= {
        "currentColor", "none",
    }  # fmt: skip
    looks = set()
    for each in root.iter():
        kind = (each.get("class") or "").removeprefix("mark ")
        for outline in (
            each.findall(f"{SVG}polygon") if "mark" in (each.get("class") or "") else ()
        ):
            looks.add((kind, outline.get("stroke-dasharray"), outline.get("fill")))
    kinds = {kind for kind, *_ in looks}
    assert kinds == {"finding", "inscription", "planned", "repair", "treatment"}
    assert len({dashes for _, dashes, _ in looks}) == len({hatch for *_, hatch in looks}) == 5


def test_the_legend_tells_of_what_is_there_and_of_nothing_else():
    words = [each.text for each in picture(the_work()).iter(f"{SVG}text")]
    assert "R  earlier repair" in words
    assert "planned" not in words
    only = the_work(findings=(), repairs=(), tests=(), treatments=())
    words = [each.text for each in picture(only).iter(f"{SVG}text")]
    assert "I  inscription" in words
    assert not any("seen from the other side" in word for word in words)
    assert "F  finding" not in words


def test_without_a_size_there_is_no_map_but_words():
    work = the_work(sizes=())
    assert condition_map(work, key="m", leads_to=lambda value: None) is None
    said = {each.called: each.said for each in marks(work)}
    assert said["F1"].endswith(
        "front, 120 mm from the left edge and 140 mm from the top edge (seen from the front)"
    )


@pytest.mark.parametrize(
    ("location", "why"),
    [
        (None, "no place in mm"),
        (Location(face="face/back"), "no place in mm"),
        (at(TEAR, "face/tacking-edge-top"), "on the top tacking edge"),
        (at(TEAR, "face/frame-back"), "which has measures of its own"),
        (at(TEAR, seen="seen/unknown", face="face/back"), "seen from: not known"),
        (at(Shape.of_box(Box(600, 10, 60, 40))), "it reaches 50 mm over the right edge"),
    ],
)
def test_what_is_not_drawn_says_why(location, why):
    repair = PriorRepair(number="R1", kind="repair/tape", location=location)
    (found,) = (each for each in marks(the_work(repairs=(repair,))) if each.kind == "repair")
    assert found.shape is None
    assert why in found.left_out


def test_what_was_seen_through_the_front_lies_mirrored_on_its_own_face():
    repair = PriorRepair(
        number="R1",
        kind="repair/tape",
        location=at(TEAR, "face/back", seen="seen/through-front"),
    )
    (found,) = (each for each in marks(the_work(repairs=(repair,))) if each.kind == "repair")
    assert found.shape.bounds == (430, 140, 490, 185)


def test_what_is_gone_is_thin_and_says_so():
    repair = PriorRepair(
        number="R1", kind="repair/tape", location=at(TEAR),
        sightings=(Sighting(state="state/removed-kept", on=Day(2026, 2, 1)),),
    )  # fmt: skip
    work = the_work(repairs=(repair,))
    found = titled(side(picture(work), "front"), "R1")
    assert "no longer there" in found.get("aria-label")
    assert found.find(f"{SVG}polygon").get("fill") == "none"


def test_at_a_check_the_findings_are_as_they_were_then():
    grown = Shape.of_box(Box(120, 140, 80, 45))
    tear = Finding(
        number="F1", kind="damage/tear", layer="layer/support",
        observations=(
            Observation(check=FIRST.id, location=at(TEAR), change="change/new"),
            Observation(check=SECOND.id, location=at(grown), change="change/grown"),
        ),
    )  # fmt: skip
    later = Finding(
        number="F2", kind="damage/loss", layer="layer/paint",
        observations=(Observation(check=SECOND.id, location=at(TEAR)),),
    )  # fmt: skip
    stays = Finding(
        number="F3", kind="damage/loss", layer="layer/paint",
        observations=(Observation(check=FIRST.id, location=at(TEAR)),),
    )  # fmt: skip
    work = the_work(findings=(tear, later, stays))

    def told(check):
        return {each.called: each for each in marks(work, check) if each.kind == "finding"}

    assert told(FIRST)["F1"].shape == TEAR
    assert told(SECOND)["F1"].shape == grown
    assert "new" in told(FIRST)["F1"].what
    assert "grown" in told(SECOND)["F1"].what
    assert "F2" not in told(FIRST)
    assert told(SECOND)["F3"].faint
    assert not told(FIRST)["F3"].faint

    root = ET.fromstring(
        compared_maps(work, FIRST, SECOND, key="c", leads_to=lambda value: None)
    )
    panels = [each for each in root.iter(f"{SVG}g") if each.get("data-side")]
    assert [each.get("data-side") for each in panels] == ["front", "front", "back", "back"]
    headings = [each.find(f"{SVG}text").text for each in panels]
    assert headings[:2] == [
        "Front, as seen at K1 2026-01-05",
        "Front, as seen at K2 2026-08-05",
    ]


def test_the_bars_of_a_stretcher_lie_on_the_back():
    stretcher = Stretcher(bars=Edges.all_round(45), uprights=(CrossBar(280, 40),))
    root = picture(the_work(), stretcher=stretcher)
    bars = [each for each in side(root, "back").iter(f"{SVG}g") if each.get("class") == "bar"]
    assert len(bars) == 5
    assert not [
        each for each in side(root, "front").iter(f"{SVG}g") if each.get("class") == "bar"
    ]


def test_the_scale_bar_is_as_long_as_it_says():
    root = picture(the_work())
    scale = float(side(root, "front").get("data-scale"))
    bar = next(each for each in root.iter(f"{SVG}g") if each.get("class") == "scale")
    left, right = re.findall(r"M([\d.]+) [\d.]+ V", bar.find(f"{SVG}path").get("d"))
    said = float(bar.find(f"{SVG}text").text.removesuffix(" mm"))
    assert (float(right) - float(left)) / scale == pytest.approx(said, abs=0.05)


@given(st.floats(0.01, 1e5))
def test_the_scale_bar_is_the_longest_round_length(most):
    length = round_length(most)
    assert 0.39 * most < length <= most * (1 + 1e-6)


def test_a_full_record_has_a_map():
    work = full_work()
    if work.sheet is None:
        work = replace(work, sizes=(*work.sizes, SIZE))
    ET.fromstring(condition_map(work, key="m", leads_to=lambda value: None))


mm = st.floats(0, 400).map(lambda value: round(value, 1))
boxes = st.builds(
    Box, mm, mm, st.floats(0.5, 200).map(lambda v: round(v, 1)), st.floats(0.5, 90)
)
shapes = st.one_of(
    st.builds(lambda x, y: Shape("point", ((x, y),)), mm, mm),
    boxes.map(Shape.of_box),
    st.builds(lambda x, y: Shape("line", ((x, y), (x + 10, y + 40), (x + 3, y + 50))), mm, mm),
)
faces = st.sampled_from(["face/front", "face/back", "face/stretcher-bar", "face/lining"])


@st.composite
def any_work(draw):
    repairs = [
        PriorRepair(number=f"R{number}", kind="repair/tape", location=at(shape, face))
        for number, (shape, face) in enumerate(
            draw(st.lists(st.tuples(shapes, faces), max_size=9)), 1
        )
    ]
    inscriptions = [
        Inscription(number=f"I{number}", kind="inscription/label", face=draw(faces), place=box)
        for number, box in enumerate(draw(st.lists(boxes, max_size=6)), 1)
    ]
    size = Size(
        what="size/support",
        width_mm=draw(st.integers(5, 5000)),
        height_mm=draw(st.integers(5, 5000)),
    )
    return Work(
        number=draw(st.none() | st.just("2026-001")),
        sizes=(size,),
        repairs=tuple(repairs),
        inscriptions=tuple(inscriptions),
        findings=(),
    )


@given(any_work(), st.text(min_size=1, max_size=9))
def test_any_work_makes_a_map_whose_marks_and_letters_stay_on_their_side(work, address):
    root = ET.fromstring(condition_map(work, key="k", leads_to=lambda value: address))
    width, height = map(float, root.get("viewBox").split()[2:])
    for panel in (side(root, "front"), side(root, "back")):
        left, top, scale, wide, high = (
            float(panel.get(f"data-{name}"))
            for name in ("left", "top", "scale", "width", "height")
        )
        slack = 2 * scale + 0.01
        assert left >= 0
        assert left + wide * scale <= width
        assert top + high * scale <= height
        for x, y in corners(panel):
            assert left - slack <= x <= left + wide * scale + slack
            assert top - slack <= y <= top + high * scale + slack
        for letters in panel.iter(f"{SVG}text"):
            assert 0 <= float(letters.get("x")) <= width
            assert 0 <= float(letters.get("y")) <= height
    drawn = [each for each in marks(work) if each.shape]
    named = [
        each.get("aria-label") for each in root.iter(f"{SVG}a") if not each.get("aria-hidden")
    ]
    assert sorted(named) == sorted(each.said for each in drawn)
    assert len(drawn) + sum(bool(each.left_out) for each in marks(work)) == len(marks(work))
