"""A photograph made a measure at the desk: by a bar, by the corners, by the pointer; refused in words."""

from dataclasses import replace

import lxml.html
import pytest
from test_desk_browser import browser, choose_who, house, room

from catalogue.measure import Day
from catalogue.record import Size

__all__ = ["browser", "house", "room"]
BAR = {
    "first_x": "10",
    "first_y": "20",
    "second_x": "1194",
    "second_y": "20",
    "length_mm": "100",
}
# the drawn back of the desk's studio is 600 x 450 pixels; the picture fills it but for a margin
CORNERS = {
    "first_x": "60", "first_y": "60", "second_x": "540", "second_y": "60",
    "third_x": "540", "third_y": "390", "fourth_x": "60", "fourth_y": "390",
}  # fmt: skip


def back(desk):
    return next(each for each in desk.work(desk.low_water).photos if each.face == "face/back")


def sized(desk):
    """The work measured: 480 x 330 mm, so that a pixel of the drawn photograph is a millimetre."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    size = Size(what="size/support", width_mm=480, height_mm=330, on=Day(2026, 3, 2))
    record = replace(kept.record, sizes=(size,))
    desk.studio.save(record, who="Nell Quince", read=kept)


def path(desk):
    return f"/work/{desk.low_water}/photos/{back(desk).id}/scale"


def send(desk, **typed):
    desk.begin()
    return desk.post(path(desk), revision=desk.revision(desk.low_water), **typed)


def test_a_bar_gives_the_scale(desk):
    # trade sheet C17: 100 mm on 1184 pixels are 11.84 pixels to the mm
    assert send(desk, **BAR).status_code == 302
    assert 1 / back(desk).mm_per_pixel == pytest.approx(11.84, abs=0.005)
    page = desk.client.get(f"/work/{desk.low_water}").text
    assert "11.84 pixels to the mm" in page


def test_the_corners_turn_frames_into_places(desk):
    sized(desk)
    assert send(desk, **CORNERS).status_code == 302
    work = desk.work(desk.low_water)
    assert back(desk).mm_per_pixel == pytest.approx(1, abs=0.001)
    label = next(each for each in work.inscriptions if each.regions)
    # its frame is (150, 120) to (400, 240) on the photograph, the picture begins at (60, 60)
    assert (label.place.x_mm, label.place.y_mm) == (pytest.approx(78), pytest.approx(60))
    assert (label.place.width_mm, label.place.height_mm) == (
        pytest.approx(262), pytest.approx(120),
    )  # fmt: skip


def test_a_place_that_was_measured_stays(desk):
    sized(desk)
    send(desk, **CORNERS)
    before = desk.work(desk.low_water).inscriptions
    send(desk, **{**CORNERS, "first_x": "61"})
    assert desk.work(desk.low_water).inscriptions == before


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({**BAR, "length_mm": ""}, "a scale bar has two ends and a length in mm"),
        ({**BAR, "second_x": ""}, "the second point lacks one of its two numbers"),
        ({**BAR, "second_x": "10"}, "Not saved"),
        ({**CORNERS, "third_x": "60", "fourth_x": "540"}, "Not saved"),
    ],
)
def test_what_cannot_be_a_scale_is_refused_and_nothing_is_lost(desk, typed, says):
    answer = send(desk, **typed)
    assert answer.status_code == 422
    assert says in answer.text
    assert f'value="{typed["first_y"]}"' in answer.text
    assert back(desk).mm_per_pixel is None


def test_who_works_is_asked_first(desk):
    assert "/who" in desk.client.get(path(desk)).location


@pytest.mark.browser
def test_the_pointer_marks_the_points_on_the_photo(room):
    choose_who(room)
    work = room.work("low_water")
    photo = next(each for each in work.photos if each.face == "face/back")
    room.go(f"/work/{work.id}/photos/{photo.id}/scale")
    image = room.page.locator("#measured")
    image.evaluate("image => image.decode()")
    shown = image.bounding_box()
    drawn = room.page.locator(".outlined polygon").last
    for x, y in ((0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9)):
        assert drawn.get_attribute("points") == ""
        image.click(position={"x": shown["width"] * x, "y": shown["height"] * y})
    assert len(drawn.get_attribute("points").split()) == 4
    image.click(position={"x": shown["width"] * 0.85, "y": shown["height"] * 0.85})
    third = float(room.page.locator("[name=third_x]").input_value())
    assert third == pytest.approx(photo.width * 0.85, abs=2), "a fifth press moves the nearest"
    room.page.get_by_role("button", name="Mark again").click()
    assert drawn.get_attribute("points") == ""
    for x in (0.25, 0.75):
        image.click(position={"x": shown["width"] * x, "y": shown["height"] * 0.5})
    first = float(room.page.locator("[name=first_x]").input_value())
    second = float(room.page.locator("[name=second_x]").input_value())
    assert first == pytest.approx(photo.width * 0.25, abs=2)
    assert second == pytest.approx(photo.width * 0.75, abs=2)
    room.page.locator("[name=length_mm]").fill("100")
    room.page.get_by_role("button", name="Keep the scale").click()
    room.page.get_by_text("pixels to the mm").first.wait_for()
    kept = next(each for each in room.work("low_water").photos if each.id == photo.id)
    assert kept.mm_per_pixel == pytest.approx(100 / (second - first), rel=0.01)
    assert not room.complaints


def asked_by_the_table(desk, **typed):
    """As the light table of the reading page sends it: to be answered, not left."""
    desk.begin()
    return desk.client.post(
        path(desk),
        data={
            "csrf_token": desk.token("/who"),
            "revision": desk.revision(desk.low_water),
            **typed,
        },
        headers={"Accept": "application/json"},
    )


def test_the_light_table_is_answered_with_the_scale_that_was_kept(desk):
    # trade sheet C17, as above
    said = asked_by_the_table(desk, **BAR).get_json()
    assert 1 / said["mm_per_pixel"] == pytest.approx(11.84, abs=0.005)
    assert said["revision"] == desk.revision(desk.low_water)
    assert "11.84 pixels to the mm" in said["says"]
    assert "11.84" not in desk.client.get(f"/work/{desk.low_water}").text  # told once, there


def test_the_light_table_is_told_what_is_refused(desk):
    answer = asked_by_the_table(desk, **{**BAR, "length_mm": "none"})
    assert answer.status_code == 422
    assert "is not a number" in answer.get_json()["says"]
    assert back(desk).mm_per_pixel is None


MARKED = ((60, 60), (540, 60), (540, 390), (60, 390))


def test_the_four_corners_are_kept_and_shown_again_to_be_put_right(desk):
    sized(desk)
    send(desk, **CORNERS)
    assert back(desk).outline == MARKED
    page = desk.client.get(path(desk)).text
    assert all(
        f'name="{name}" inputmode="decimal" size="7" value="{CORNERS[name]}"' in page
        for name in CORNERS
    )
    assert '<polygon points="60,60 540,60 540,390 60,390"/>' in page
    send(desk, **{**CORNERS, "first_x": "58.5"})
    assert back(desk).outline == ((58.5, 60), *MARKED[1:])


def test_a_bar_leaves_the_corners_alone(desk):
    sized(desk)
    send(desk, **CORNERS)
    send(desk, **BAR)
    assert back(desk).outline == MARKED


def test_the_corners_can_be_taken_away_and_the_scale_stays(desk):
    sized(desk)
    send(desk, **CORNERS)
    scale = back(desk).mm_per_pixel
    assert send(desk, **CORNERS, take_away="outline").status_code == 302
    assert (back(desk).outline, back(desk).mm_per_pixel) == ((), scale)
    assert "Take the corners away" not in desk.client.get(path(desk)).text


def test_corners_far_off_the_photo_are_refused(desk):
    sized(desk)
    far = {
        **CORNERS,
        "second_x": "1640",
        "third_x": "1640",
        "third_y": "1146",
        "fourth_y": "1146",
    }
    answer = send(desk, **far)
    assert answer.status_code == 422
    assert "far beyond the edge of the photograph" in answer.text
    assert back(desk).outline == ()


def test_changing_what_is_said_of_a_photo_keeps_its_corners(desk):
    sized(desk)
    send(desk, **CORNERS)
    page = f"/work/{desk.low_water}/enter/photos/{back(desk).id}"
    forms = lxml.html.fromstring(desk.client.get(page).text).forms
    form = next(each for each in forms if "light" in each.fields)
    typed = {name: held for name, held in form.form_values() if name != "and"}
    assert desk.client.post(page, data={**typed, "light": "light/raking"}).status_code == 302
    assert (back(desk).light, back(desk).outline) == ("light/raking", MARKED)
