"""The forms of values in a real browser: by keyboard, at a desk's width and a telephone's."""

from __future__ import annotations

import pytest
from test_desk_browser import browser, choose_who, house, room  # noqa: F401

pytestmark = pytest.mark.browser


def refused_once(room) -> None:  # noqa: F811
    """The browser's own word for the one refusal that was asked for, and no other complaint."""
    assert len(room.complaints) == 1
    assert "422" in room.complaints.pop()


def test_a_check_and_a_tear_are_entered_with_the_keyboard_alone(room):  # noqa: F811
    page = room.page
    choose_who(room)
    work = f"/work/{room.ids['ferry']}"
    room.go(f"{work}/check")
    page.get_by_role("link", name="New condition check").click()
    page.get_by_label("Occasion").select_option("occasion/incoming")
    page.get_by_label("Under glass").focus()
    page.wait_for_load_state()
    page.keyboard.press("Control+s")
    page.locator("article").get_by_text("incoming").first.wait_for()

    room.go(f"{work}/enter/findings")
    page.get_by_label("Damage").focus()
    page.keyboard.type("three-corner tear")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.name") == "layer"
    page.keyboard.type("sup")
    length = page.locator("[id='b-observations.0.length_mm']")
    length.fill("sixty")
    page.wait_for_load_state()
    page.keyboard.press("Control+s")
    stop = page.get_by_role("alert")
    stop.get_by_role("link", name="length").click()
    assert page.evaluate("document.activeElement.name") == "observations.0.length_mm"
    assert page.get_by_label("Damage").input_value() == "three-corner tear"
    length.fill("62,5")
    page.keyboard.press("Enter")
    page.get_by_text("62.5 mm").wait_for()
    finding = room.work("ferry").findings[0]
    refused_once(room)
    assert (finding.kind, finding.observations[0].length_mm) == (
        "damage/tear-three-corner",
        62.5,
    )


def test_a_new_name_is_put_on_file_when_the_person_says_so(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go(f"/work/{room.ids['ferry']}/enter/movements")
    page.get_by_label("In whose care").fill("Orme & Daughters")
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_label("put on file as a firm or institution").check()
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_text("with Orme & Daughters").first.wait_for()
    assert room.work("ferry").movements[0].keeper.startswith("party/")
    refused_once(room)


@pytest.mark.parametrize("width", [1400, 420])
def test_no_page_of_a_folder_is_wider_than_its_screen(room, width):  # noqa: F811
    page = room.page
    choose_who(room)
    page.set_viewport_size({"width": width, "height": 900})
    work = f"/work/{room.ids['low_water']}"
    forms = ("checks", "findings", "repairs", "tests", "treatments", "provenance", "movements")
    paths = [
        work,
        f"{work}/check",
        f"{work}/treat",
        f"{work}/argue",
        f"{work}/papers",
        "/jobs/new",
        "/people/new",
    ]
    for path in (*paths, *(f"{work}/enter/{each}" for each in forms)):
        room.go(path)
        beyond = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert beyond <= 0, path
        unlabelled = page.evaluate(
            "[...document.querySelectorAll('main input:not([type=hidden]), main select, main textarea')]"
            ".filter(each => !each.labels?.length && !each.ariaLabel).map(each => each.name)"
        )
        assert unlabelled == [], path
