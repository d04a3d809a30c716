"""Marks on photographs: a place in mm stands where the photograph shows it, however that lies."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import cv2
import numpy
import pytest

from catalogue.argument.laid_on_photos import laid_on
from catalogue.measure import Day
from catalogue.pictures.marks import marks
from catalogue.pictures.on_photo import WIDE, numbered, swatch
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Location,
    Observation,
    Photo,
    Region,
    Size,
    Work,
)
from catalogue.surface import Box, Shape

SHEET = (400.0, 300.0)
SCALE = 0.25
"""mm for a pixel: the painting is 1600 by 1200 pixels on the photographs below."""
MARGIN = (100, 60)

WAYS = {
    "upright": lambda x, y: (MARGIN[0] + x, MARGIN[1] + y),
    "quarter": lambda x, y: (MARGIN[0] + 1200 - y, MARGIN[1] + x),
    "head": lambda x, y: (MARGIN[0] + 1600 - x, MARGIN[1] + 1200 - y),
    "three quarters": lambda x, y: (MARGIN[0] + y, MARGIN[1] + 1600 - x),
    "mirrored": lambda x, y: (MARGIN[0] + 1600 - x, MARGIN[1] + y),
}
"""Worked by hand: where a photograph shows what lies so many pixels from the picture's corner."""

PLACES = (Box(20, 15, 60, 25), Box(300, 210, 40, 50), Box(150, 120, 80, 30))


def corners_of(box: Box) -> tuple[tuple[float, float], ...]:
    left, top, right, bottom = box.bounds
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def on_photo(way: str, corner: tuple[float, float]) -> tuple[int, int]:
    x, y = WAYS[way](corner[0] / SCALE, corner[1] / SCALE)
    return round(x), round(y)


def work_seen(way: str, places=PLACES, *, face="face/back", **photo) -> Work:
    turned = way in ("quarter", "three quarters")
    size = (1400, 1720) if turned else (1800, 1320)
    shown = Photo(
        number="P1", file_name="a.jpg", width=size[0], height=size[1], face=face,
        mirrored=way == "mirrored", mm_per_pixel=SCALE, **photo,
    )  # fmt: skip
    check = ConditionCheck(
        number="K1",
        on=Day(2026, 1, 2),
        by="https://elsewhere.example/person/1",
        occasion="occasion/incoming",
    )
    loss = Finding(
        number="F1", kind="damage/puncture", layer="layer/support",
        observations=(
            Observation(
                check=check.id,
                location=Location(face=face, shape=Shape.of_box(Box(100, 50, 40, 20))),
            ),
        ),
    )  # fmt: skip
    labels = tuple(
        Inscription(
            number=f"I{n}", kind="inscription/dealer-label", face=face, place=place,
            regions=(Region(photo=shown.id, corners=tuple(on_photo(way, c) for c in corners_of(place))),),
        )
        for n, place in enumerate(places, 1)
    )  # fmt: skip
    return Work(
        sizes=(Size(what="size/support", width_mm=SHEET[0], height_mm=SHEET[1]),),
        photos=(shown,), inscriptions=labels, checks=(check,), findings=(loss,),
    )  # fmt: skip


def drawn_at(picture: str, value: str) -> list[tuple[float, float]]:
    tree = ElementTree.fromstring(picture)
    svg = "{http://www.w3.org/2000/svg}"
    mark = next(each for each in tree if each.get("data-mark") == value)
    line = next(each for each in mark if each.tag == f"{svg}polygon")
    return [tuple(map(float, each.split(","))) for each in line.get("points").split()]


@pytest.mark.parametrize("way", WAYS)
def test_a_place_in_mm_stands_where_the_photograph_shows_it(way):
    work = work_seen(way)
    (photo,) = work.photos
    drawn = numbered(work, photo, marks(work), key="a", leads_to=lambda _: None)
    assert drawn is not None
    (loss,) = work.findings
    assert loss.id in drawn.shown
    scale = WIDE / photo.width
    expected = {on_photo(way, corner) for corner in corners_of(Box(100, 50, 40, 20))}
    found = {(round(x / scale), round(y / scale)) for x, y in drawn_at(drawn.picture, loss.id)}
    near = all(any(abs(x - a) <= 4 and abs(y - b) <= 4 for a, b in expected) for x, y in found)
    assert near, (found, expected)


def test_one_label_alone_goes_by_the_scale_of_the_photograph():
    work = work_seen("upright", PLACES[:1])
    lies = laid_on(work, work.photos[0])
    assert lies is not None
    assert lies.to_pixel((400, 300)) == pytest.approx(on_photo("upright", (400, 300)), abs=2)


def test_frames_that_agree_with_no_way_of_lying_lay_nothing():
    work = work_seen("upright")
    wrong = replace(work.inscriptions[0], place=Box(300, 15, 60, 25))
    work = replace(work, inscriptions=(wrong, *work.inscriptions[1:]))
    assert laid_on(work, work.photos[0]) is None
    drawn = numbered(work, work.photos[0], marks(work), key="a", leads_to=lambda _: None)
    assert drawn.shown == {each.id for each in work.inscriptions}, "the frames stay as drawn"


@pytest.mark.parametrize(("size", "is_laid"), [((1600, 1200), True), ((1800, 1320), False)])
def test_a_photograph_cut_to_the_outline_is_the_painting(size, is_laid):
    work = work_seen("upright", ())
    photo = replace(work.photos[0], width=size[0], height=size[1])
    lies = laid_on(replace(work, photos=(photo,)), photo)
    assert (lies is not None) == is_laid
    if lies:
        assert lies.to_pixel((100, 75)) == pytest.approx((400, 300))


def test_a_frame_on_another_photograph_goes_by_way_of_its_mm():
    work = work_seen("upright")
    first = work.photos[0]
    second = replace(first, id="0b34f1c0-1f0c-4c0a-9a3b-111111111111", number="P2")
    also = tuple(
        replace(
            each,
            regions=(*each.regions, Region(photo=second.id, corners=each.regions[0].corners)),
        )
        for each in work.inscriptions
    )
    new = Inscription(
        number="I9", kind="inscription/stamp", face="face/back",
        regions=(Region(photo=second.id, corners=((500, 500), (600, 500), (600, 560), (500, 560))),),
    )  # fmt: skip
    work = replace(work, photos=(first, second), inscriptions=(*also, new))
    drawn = numbered(work, first, marks(work), key="a", leads_to=lambda _: None)
    assert new.id in drawn.shown


def test_what_lies_on_the_other_side_is_not_drawn():
    work = work_seen("upright")
    front = replace(work.photos[0], face="face/front")
    work = replace(work, photos=(front,))
    drawn = numbered(work, front, marks(work), key="a", leads_to=lambda _: None)
    assert work.findings[0].id not in drawn.shown


def test_words_of_a_record_are_escaped_and_no_style_is_written_in_line():
    work = work_seen("upright")
    drawn = numbered(
        work, work.photos[0], marks(work), key="a", leads_to=lambda _: '"><script>x</script>'
    )
    assert "<script" not in drawn.picture
    assert not re.search(r'\sstyle="', drawn.picture + swatch("finding", "s"))
    ElementTree.fromstring(drawn.picture)


@pytest.mark.parametrize("size", [(1, 40_000), (40_000, 1), (1, 1)])
def test_a_photograph_of_any_shape_can_be_drawn_on(size):
    work = work_seen("upright", ())
    photo = replace(work.photos[0], width=size[0], height=size[1])
    assert numbered(work, photo, marks(work), key="a", leads_to=lambda _: None) is not None


def test_without_its_size_in_pixels_nothing_is_drawn():
    work = work_seen("upright")
    photo = replace(work.photos[0], width=None)
    assert numbered(work, photo, marks(work), key="a", leads_to=lambda _: None) is None


TILTED = ((140.5, 95), (1690, 60), (1755.5, 1230), (90, 1288))
"""A painting of 400 x 300 mm, seen from its left and a little from below, on 1800 x 1320 pixels."""


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
@pytest.mark.parametrize("mirrored", [False, True])
def test_the_outline_lays_marks_where_opencv_would(turn, mirrored):
    # opencv-python, getPerspectiveTransform: the map of four points to four, solved by others
    seen = [(1800 - x if mirrored else x, y) for x, y in TILTED]
    outline = (*seen[turn:], *seen[:turn])
    wide, high = SHEET if turn % 2 == 0 else SHEET[::-1]
    work = work_seen("upright", ())
    photo = replace(work.photos[0], outline=outline, mirrored=mirrored)
    sizes = (Size(what="size/support", width_mm=wide, height_mm=high),)
    work = replace(work, photos=(photo,), sizes=sizes)
    lies = laid_on(work, photo)
    assert lies is not None
    side = numpy.float32([(0, 0), (wide, 0), (wide, high), (0, high)])
    outside = cv2.getPerspectiveTransform(side, numpy.float32(outline))
    places = numpy.float32([[(0, 0), (wide, high), (100, 50), (37.5, 240), (250, 110)]])
    for place, pixel in zip(
        places[0], cv2.perspectiveTransform(places, outside)[0], strict=True
    ):
        assert lies.to_pixel(tuple(map(float, place))) == pytest.approx(tuple(pixel), abs=0.1)
    drawn = numbered(work, photo, marks(work), key="a", leads_to=lambda _: None)
    assert work.findings[0].id in drawn.shown


def test_the_outline_goes_before_frames_and_before_a_picture_cut_to_it():
    work = work_seen("upright")
    askew = tuple(
        (x + 40, y + 25) for x, y in ((100, 60), (1700, 60), (1700, 1260), (100, 1260))
    )
    photo = replace(work.photos[0], outline=askew)
    lies = laid_on(replace(work, photos=(photo,)), photo)
    assert lies.to_pixel((0, 0)) == pytest.approx((140, 85), abs=0.1)


def test_an_outline_that_no_longer_fits_the_size_on_file_is_passed_over():
    work = work_seen("upright")
    narrow = ((100, 60), (400, 60), (400, 1260), (100, 1260))
    photo = replace(work.photos[0], outline=narrow)
    lies = laid_on(replace(work, photos=(photo,)), photo)
    assert lies.to_pixel((0, 0)) == pytest.approx(MARGIN, abs=2), "the frames have to do"
