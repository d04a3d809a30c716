"""The condition map on the desk: looked at, drawn on by figures, asked what a region would cover."""

import re
import xml.etree.ElementTree as ET
from urllib.parse import parse_qs, urlsplit

import pytest
from mapped import sea_wall

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def mapped(desk):
    desk.begin()
    return sea_wall(desk.studio, f"party/{desk.member}")


def ask(desk, mapped, **typed):
    """The page after asking what a planned region would cover."""
    return desk.client.get(f"{mapped.path}/map", query_string={"cover": "yes", **typed}).text


def covered(page):
    """Number and cell of every inscription that the page says is hit or near."""
    part = page.partition('<table class="covered">')[2].partition("</table>")[0]
    rows = re.findall(r"<tr class=\"is-(\w+)\">(.*?)</tr>", part, re.DOTALL)
    return {
        re.search(r"mark-i[^>]*>(\w+)<", row)[1]: (
            level,
            " ".join(re.sub(r"<[^>]+>", " ", row).split()),
        )
        for level, row in rows
    }


def test_the_map_shows_both_sides_and_says_the_same_in_words(desk, mapped):
    page = desk.client.get(f"{mapped.path}/map").text
    assert page.count("<svg") == 1
    assert 'data-side="front"' in page
    assert 'data-side="back"' in page
    words = page.partition('id="list"')[2]
    assert "back, upper right, 65 mm from the right edge and 120 mm from the top edge" in words
    assert f"{mapped.path}/check#{mapped.work.findings[0].id}" in page


def test_a_patch_over_the_tear_covers_half_of_the_title_behind_it(desk, mapped):
    # trade sheet C2: the mirrored tear with 15 mm on each side covers 52.5 % of the title, 66.7 %
    # with a margin of 5 mm; without the mirror it would cover nothing
    page = ask(desk, mapped, over=mapped.work.findings[0].id, overlap_mm="15", face="face/back")
    for name, said in (("x_mm", 415), ("y_mm", 125), ("width_mm", 90), ("height_mm", 75)):
        assert f'name="{name}" value="{said}"' in page
    found = covered(page)
    assert set(found) == {"I1"}
    level, words = found["I1"]
    assert level == "hit"
    assert "52.5 %" in words
    assert "66.7 % with 5 mm margin" in words


def test_the_same_figures_typed_say_the_same(desk, mapped):
    typed = {"x_mm": "415", "y_mm": "125", "width_mm": "90", "height_mm": "75"}
    assert "52.5 %" in covered(ask(desk, mapped, face="face/back", **typed))["I1"][1]
    outline = "polygon((415 125, 505 125, 505 200, 415 200, 415 125))"
    assert "52.5 %" in covered(ask(desk, mapped, face="face/back", outline=outline))["I1"][1]
    assert not covered(ask(desk, mapped, face="face/front", **typed))


def test_what_is_missing_is_a_list_of_things_to_do_each_with_its_way(desk, mapped):
    title, stamp, _ = mapped.work.inscriptions
    page = ask(desk, mapped, face="face/back", whole="yes", wet="yes")
    found = covered(page)
    assert set(found) == {"I1", "I2"}
    assert "photograph it again with a scale" in found["I1"][1]
    assert "test its ink" in found["I1"][1]
    assert "100 %" in found["I1"][1]
    assert "photograph it, with a scale" in found["I2"][1]
    assert "read it, or write that it is illegible" in found["I2"][1]
    assert f"{mapped.path}/photos?about={title.id}" in page
    assert f"{mapped.path}/read/{stamp.id}" in page
    tested = f"{mapped.path}/enter/tests?inscription={title.id}"
    assert tested in page.replace("&amp;", "&")
    assert (
        "test its ink" not in covered(ask(desk, mapped, face="face/back", whole="yes"))["I1"][1]
    )


def test_a_signature_wants_the_client_asked_and_names_the_job(desk, mapped):
    found = covered(ask(desk, mapped, face="face/front", whole="yes"))
    assert set(found) == {"I3"}
    assert "ask the client first: no job is open for this work" in found["I3"][1]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"x_mm": "far"}, "is not a number"),
        ({"x_mm": "10"}, "from the left and from the top go together"),
        ({"outline": "POLYGON ((0 0, 10 10, 10 0, 0 10, 0 0))"}, "crosses itself"),
        ({"outline": "a circle"}, "no outline in mm"),
        ({"x_mm": "1", "outline": "POINT (1 1)"}, "not both"),
        ({}, "nothing is drawn yet"),
        ({"x_mm": "1", "y_mm": "1", "margin_mm": "-4"}, "the margin is 0 to 1000 mm"),
        ({"face": "face/other", "whole": "yes"}, "is no side of the map"),
        ({"over": "nothing"}, "has no place on the map"),
    ],
)
def test_what_cannot_be_drawn_is_said_and_stays_as_typed(desk, mapped, typed, said):
    page = ask(desk, mapped, **typed)
    assert said in page
    for name, text in typed.items():
        if name in ("x_mm", "outline"):
            assert f'name="{name}" value="{text}"' in page


def test_without_a_size_the_places_are_told_in_words(desk):
    desk.begin()
    mapped = sea_wall(desk.studio, f"party/{desk.member}", size=False)
    page = desk.client.get(f"{mapped.path}/map").text
    assert "<svg" not in page
    assert "The size of the painting is not known" in page
    assert "395 mm from the left edge and 120 mm from the top edge (seen from the back)" in page
    assert "cannot" not in ask(desk, mapped, x_mm="1", y_mm="1", width_mm="5", height_mm="5")
    mirrored = ask(desk, mapped, over=mapped.work.findings[0].id, face="face/back")
    assert "nothing can be said in mm" in mirrored


@pytest.mark.parametrize("field", ["findings", "repairs", "tests"])
def test_a_drawn_place_is_in_the_form_of_the_new_value(desk, mapped, field):
    typed = {"face": "face/back", "outline": "LINESTRING (10 10, 40 60)"}
    answer = desk.client.get(f"{mapped.path}/map/{field}", query_string=typed)
    assert answer.status_code == 302
    page = desk.client.get(answer.location).text
    assert 'value="LINESTRING (10 10, 40 60)"' in page
    assert re.search(r'<option value="face/back"[^>]* selected', page)
    if field == "findings":
        newest = mapped.work.checks[-1].id
        own = page.partition('name="observations.0.check"')[2].partition("</select>")[0]
        assert re.search(rf'<option value="{newest}"[^>]* selected', own)


def test_a_place_that_is_none_comes_back_to_the_map(desk, mapped):
    answer = desk.client.get(f"{mapped.path}/map/repairs", query_string={"x_mm": "ten"})
    assert urlsplit(answer.location).path == f"{mapped.path}/map"
    page = desk.client.get(answer.location).text
    assert "is not a number" in page
    assert 'name="x_mm" value="ten"' in page
    assert desk.client.get(f"{mapped.path}/map/photos").status_code == 404


def test_the_step_that_would_cover_begins_with_place_and_what_it_covers(desk, mapped):
    page = ask(desk, mapped, over=mapped.work.findings[0].id, face="face/back")
    address = re.search(r'href="([^"]+)">Enter the step here', page)[1].replace("&amp;", "&")
    asked = parse_qs(urlsplit(address).query)
    assert asked["covers"] == [mapped.work.inscriptions[0].id]
    assert asked["location.shape.x_mm"] == ["415"]
    form = desk.client.get(address).text
    assert re.search(rf'name="covers" value="{mapped.work.inscriptions[0].id}" checked', form)
    assert 'name="location.shape.x_mm" value="415"' in form


def test_kinds_can_be_left_out_and_a_check_chosen(desk, mapped):
    only = desk.client.get(f"{mapped.path}/map?show=inscription").text
    assert "I1" in only
    assert "F1: tear" not in only
    first = desk.client.get(f"{mapped.path}/map?check=K1").text
    assert "F1: tear, visible, new" in first
    assert "as seen at K1 2025-01-06" in first
    assert "F1: tear, affecting, grown" in desk.client.get(f"{mapped.path}/map?check=K2").text
    assert desk.client.get(f"{mapped.path}/map?check=K9&show=bogus").status_code == 200


def test_the_map_can_be_taken_along_as_a_drawing_layer_by_layer(desk, mapped):
    answer = desk.client.get(f"{mapped.path}/map.svg?show=finding")
    assert answer.mimetype == "image/svg+xml"
    assert answer.headers["Content-Disposition"].endswith(f'map-{mapped.work.number}.svg"')
    words = [each.text for each in ET.fromstring(answer.data).iter(f"{SVG}text")]
    assert "F1" in words
    assert "F  finding" in words
    assert "I1" not in words
    lone = desk.client.get(f"/work/{desk.ferry}/map.svg")
    assert lone.status_code == (200 if desk.work(desk.ferry).sheet else 404)


def test_a_region_over_the_edge_is_said_to_be_so(desk, mapped):
    page = ask(
        desk, mapped, face="face/back", x_mm="600", y_mm="10", width_mm="60", height_mm="40"
    )
    assert "it reaches 50 mm over the right edge" in page
