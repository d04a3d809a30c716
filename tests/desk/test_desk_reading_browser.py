"""Reading in a real browser: signs from the keyboard, faults found again, a card of one sheet."""

from __future__ import annotations

import re

import pytest
from test_desk_browser import browser, choose_who, house, room

pytestmark = pytest.mark.browser
__all__ = ["browser", "house", "room"]

LONG = "Kunstausstellungsgebäudeverwaltung" * 5
UGLY = (
    "@p KUNSTHANDLUNG A_lbrecht Sp[--- :torn]\n@p Nr. @h2(ball-point) [[412]]<<421>> @s ZOLL[...]MT\n"
    f"@h(pencil) Trew[in ?medium] [[erased: +(c.8)]] \\margin:sold/ {LONG}\n@p Preis: (blank) Sm[ith\n"
    "@h \u05d2\u05dc\u05e8\u05d9\u05d4 [---] e\u0301\u0323\u0301\u0301\u0301 \N{MUSICAL SYMBOL G CLEF}"
)  # fmt: skip


@pytest.fixture
def slip(room):
    """The empty slip of a work without photos, and its text area."""
    choose_who(room)
    room.go(f"/work/{room.ids['ferry']}/read")
    return room.page.locator("#markup")


def select(markup, start, end):
    markup.focus()
    markup.evaluate("(area, [start, end]) => area.setSelectionRange(start, end)", [start, end])


def caret(markup):
    return markup.evaluate("area => [area.selectionStart, area.selectionEnd]")


def test_a_letter_with_alt_puts_its_sign_around_the_selection_and_undo_takes_it_back(slip):
    slip.fill("Sea Wall")
    select(slip, 4, 8)
    slip.press("Alt+r")
    assert slip.input_value() == "Sea [Wall]"
    assert caret(slip) == [10, 10]
    slip.press("Control+z")
    assert slip.input_value() == "Sea Wall"


def test_without_a_selection_one_types_on_between_the_brackets(slip):
    slip.fill("No. ")
    slip.press("Alt+x")
    slip.press_sequentially("412")
    assert slip.input_value() == "No. [[412]]"


def test_doubt_goes_behind_every_letter_with_its_accents(slip):
    slip.fill("e\u0301a\N{MUSICAL SYMBOL G CLEF}")
    slip.press("Control+a")
    slip.press("Control+.")
    slip.press("d")
    assert slip.input_value() == "e\u0301_a_\N{MUSICAL SYMBOL G CLEF}_"


def test_a_correction_is_typed_before_what_stands_there(slip):
    slip.fill("Galery")
    slip.press("Control+a")
    slip.press("Control+.")
    slip.press("c")
    slip.press_sequentially("Gallery")
    assert slip.input_value() == "<Gallery=Galery>"


def test_after_ctrl_and_full_stop_only_the_next_key_is_a_sign(slip):
    slip.fill("")
    slip.press("Control+.")
    slip.press("1")
    slip.press_sequentially("red")
    assert slip.input_value() == "1red"


def test_the_list_of_signs_is_one_stop_of_the_tab_key_with_arrows_within(slip):
    page = slip.page
    slip.fill("Sea")
    select(slip, 0, 3)
    slip.press("Shift+Tab")
    assert page.evaluate("document.activeElement.dataset.letter") == "g"
    page.keyboard.press("End")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    assert page.evaluate("document.activeElement.dataset.letter") == "n"
    page.keyboard.press("Enter")
    assert slip.input_value() == "/* Sea */"


def test_a_fault_leads_back_to_its_sign(slip):
    slip.fill("\N{MUSICAL SYMBOL G CLEF} Lot\nSm[ith")
    slip.page.get_by_role("button", name="Go to line 2, letter 3").click()
    start, end = caret(slip)
    assert (
        slip.input_value().encode("utf-16-le")[2 * start : 2 * end].decode("utf-16-le") == "["
    )


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    "width", [1400, 420, 320]
)  # 320: 1280 pixels at 400 %, WCAG 2.2, 1.4.10
def test_an_ugly_label_runs_over_no_edge_and_hides_no_letter(slip, width, scheme):
    page = slip.page
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": width, "height": 900})
    slip.fill(UGLY)
    page.get_by_text("this '[' has no partner").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    rendering = page.locator(".rendering")
    assert rendering.evaluate("each => each.scrollWidth - each.clientWidth") <= 0
    assert LONG in rendering.inner_text()


def test_a_line_from_right_to_left_begins_at_the_right(slip):
    slip.fill("Lot 12|\u05d2\u05dc\u05e8\u05d9\u05d4 7")
    slip.page.locator(".rendering br").wait_for(state="attached")
    first, last = slip.page.evaluate("""() => {
        const reading = document.querySelector(".rendering .reading");
        const lines = [...reading.childNodes].filter((each) => each.nodeType === Node.TEXT_NODE);
        const box = reading.getBoundingClientRect();
        return lines.map((each) => {
            const range = document.createRange();
            range.selectNodeContents(each);
            const { left, right } = range.getBoundingClientRect();
            return [left - box.left, box.right - right];
        });
    }""")
    assert first[0] < 2 < first[1]
    assert last[1] < 2 < last[0]


def test_what_is_heard_of_a_label_is_what_is_seen(slip):
    slip.fill("Trew[in ?medium] a_ [[erased: x]] (blank)")
    slip.page.locator(".rendering .struck").wait_for()
    heard = slip.page.locator(".rendering").aria_snapshot()
    for words in ("restored with some doubt", "doubtful letter", "erased", "field left empty"):
        assert words in heard
    assert "?medium" not in heard


def test_the_card_of_the_signs_is_one_sheet(room, tmp_path):
    room.go("/help/signs")
    sheet = room.page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", sheet)) == 1
    width, height = re.search(rb"/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]", sheet).groups()
    # ISO 216: A4 is 210 x 297 mm; PDF counts in 1/72 inch
    assert float(width) == pytest.approx(210 / 25.4 * 72, abs=1)
    assert float(height) == pytest.approx(297 / 25.4 * 72, abs=1)


def test_an_offer_is_typed_when_asked_for_and_undo_takes_it_back(slip):
    slip.fill("\N{MUSICAL SYMBOL G CLEF} Galery [sic] / Lot [illeg.]")
    slip.page.get_by_role("button", name="[illeg.] becomes +(?)").click()
    assert slip.input_value() == "\N{MUSICAL SYMBOL G CLEF} Galery [sic] / Lot +(?)"
    slip.page.get_by_role("button", name="Type all 2").click()
    assert slip.input_value() == "\N{MUSICAL SYMBOL G CLEF} Galery[!]|Lot +(?)"
    slip.press("Control+z")
    slip.press("Control+z")
    assert slip.input_value() == "\N{MUSICAL SYMBOL G CLEF} Galery [sic] / Lot [illeg.]"


def test_an_offer_made_for_another_text_types_nothing(slip):
    slip.fill("Lot [illeg.]")
    button = slip.page.get_by_role("button", name="[illeg.] becomes +(?)")
    button.wait_for()
    # as if one typed on while the rendering is still under way
    slip.evaluate("area => { area.value = 'A Lot [illeg.]'; }")
    button.click()
    assert slip.input_value() == "A Lot [illeg.]"


def test_the_slip_lies_beside_the_photo_on_a_wide_screen_and_below_it_on_a_narrow_one(slip):
    table, paper = slip.page.locator(".beside > .table"), slip.page.locator(".beside > .slips")
    wide = table.bounding_box()
    assert wide["x"] + wide["width"] <= paper.bounding_box()["x"]
    slip.page.set_viewport_size({"width": 420, "height": 900})
    narrow = table.bounding_box()
    assert narrow["y"] + narrow["height"] <= paper.bounding_box()["y"]
