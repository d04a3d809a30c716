"""Frames from the desk to whoever is sent them: what was drawn arrives as a selector that others can read."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from desk_studio import photo_named

from catalogue.desk.frame import Frame


def selector_of(desk, folder, **fields):
    """What the export says of the frame that the desk was given."""
    desk.begin()
    photo = photo_named(desk.work(desk.low_water), "face/back")
    desk.post(
        f"/work/{desk.low_water}/read", revision=desk.revision(desk.low_water), kind="inscription/stamp",
        face="face/back", orientation="0", preferred="yes", markup="Zollamt", photo=photo.id, **fields,
    )  # fmt: skip
    number = len(desk.work(desk.low_water).inscriptions)
    desk.studio.export("web-annotation", "full", folder, [f"work/{desk.low_water}"])
    texts = [path.read_text("utf-8") for path in folder.rglob("*.jsonld")]
    said = [each for text in texts for each in selectors(json.loads(text)) if "Zollamt" in text]
    kept = desk.work(desk.low_water).inscription(f"I{number}").regions[0].corners
    return kept, said


def selectors(node):
    if isinstance(node, list):
        return [each for one in node for each in selectors(one)]
    if not isinstance(node, dict):
        return []
    own = [node] if node.get("type") in ("SvgSelector", "FragmentSelector") else []
    return own + [each for value in node.values() for each in selectors(value)]


def corners_drawn(selector):
    """The points of the polygon, read as any reader of SVG reads them."""
    drawing = ET.fromstring(selector["value"])
    points = drawing.find("{http://www.w3.org/2000/svg}polygon").get("points")
    return tuple(tuple(map(float, pair.split(","))) for pair in points.split())


@pytest.mark.parametrize(
    "fields",
    [
        {"frame_outline": "150.5,120 400,160 420,200 388,240 138,200"},
        {"frame_x": "200", "frame_y": "120", "frame_width": "150", "frame_height": "60", "frame_turn": "-17.5"},
    ],
    ids=["outline", "a box drawn on a turned photo"],
)  # fmt: skip
def test_what_was_drawn_askew_leaves_as_a_polygon_with_the_same_corners(desk, tmp_path, fields):
    """Source: W3C, Web Annotation Data Model (2017), 4.2.7, SVG Selector."""
    kept, said = selector_of(desk, tmp_path / "out", **fields)
    drawn = [each for each in said if each["type"] == "SvgSelector"]
    assert kept in [corners_drawn(each) for each in drawn]


def test_an_upright_box_leaves_as_a_fragment_of_the_picture(desk, tmp_path):
    """Source: W3C, Web Annotation Data Model (2017), 4.2.1, and Media Fragments URI 1.0, 4.2.2."""
    _, said = selector_of(
        desk, tmp_path / "out", frame_x="20", frame_y="12", frame_width="150", frame_height="60", frame_turn="0"
    )  # fmt: skip
    fragments = [each for each in said if each["type"] == "FragmentSelector"]
    assert "xywh=20,12,150,60" in [
        re.sub("pixel:", "", each["value"]) for each in fragments if each.get("conformsTo")
    ]


def test_a_box_drawn_on_a_mirrored_view_has_its_corners_clockwise_on_the_photo():
    """As the record says of them; the page sends the photo's own directions (static/plane.js)."""
    (a, b, c, _) = Frame(656.6, 100.1, 319.1, 159.5, 14.79).corners()
    assert (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0


def test_a_photo_that_was_taken_mirrored_says_so_wherever_it_is_read(desk):
    kept = desk.studio.read(f"work/{desk.low_water}")
    photos = tuple(
        replace(each, mirrored=each.face == "face/back") for each in kept.record.photos
    )
    desk.studio.save(replace(kept.record, photos=photos), who="Nell Quince", read=kept)
    desk.begin()
    page = desk.client.get(f"/work/{desk.low_water}/read").text
    assert re.search(r'id="mirror-warning"[^>]*">This photo was taken mirrored', page)
    front = photo_named(desk.work(desk.low_water), "face/front")
    page = desk.client.get(f"/work/{desk.low_water}/read?photo={front.id}").text
    assert re.search(r'id="mirror-warning"[^>]* hidden></p>', page)


def test_without_script_every_frame_is_on_the_photo_and_those_of_others_are_links(desk):
    desk.begin()
    page = desk.client.get(f"/work/{desk.low_water}/read").text
    link = re.search(r'<a class="other" href="([^"]+)"', page)[1]
    assert f"/read/{desk.label}" in link
    page = desk.client.get(f"/work/{desk.low_water}/read/{desk.label}").text
    drawn = re.search(r'<polygon class="over" points="([^"]+)"', page)[1].split()
    points = tuple(tuple(map(float, each.split(","))) for each in drawn)
    assert points == desk.work(desk.low_water).inscription(desk.label).regions[0].corners
    assert 'class="other"' not in page
