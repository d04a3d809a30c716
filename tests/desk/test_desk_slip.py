"""The reading page: what is typed on the slip becomes readings, frames and sightings, and nothing is lost."""

from __future__ import annotations

import html
import math
import re

import pytest
from desk_studio import photo_named
from hypothesis import given
from hypothesis import strategies as st

from catalogue.desk.frame import Frame, frame_of, is_box


def slip(desk, path="", **fields):
    desk.begin()
    told = {
        "revision": desk.revision(desk.low_water), "kind": "inscription/stamp", "face": "face/back",
        "orientation": "0", "preferred": "yes", **fields,
    }  # fmt: skip
    answer = desk.post(f"/work/{desk.low_water}/read{path}", **told)
    return answer, desk.work(desk.low_water)


def as_kept(desk, **fields):
    """The fields of the label's slip as its page shows them."""
    return {
        "kind": "inscription/dealer-label", "face": "face/stretcher-bar",
        "part": desk.work(desk.low_water).parts[0].id, **fields,
    }  # fmt: skip


def test_a_new_inscription_gets_its_number_its_reading_and_its_state(desk):
    answer, work = slip(desk, markup="CUS+++S", light="light/raking", certainty="certainty/doubtful",
                        techniques=["technique/stamped"], languages="en, fr", state="state/present")  # fmt: skip
    assert answer.status_code == 302
    new = work.inscription("I2")
    assert answer.headers["Location"].startswith(f"/work/{desk.low_water}/read/{new.id}")
    assert new.transcripts[0].markup == "CUS+++S"
    assert new.transcripts[0].by == f"party/{desk.member}"
    assert new.transcripts[0].preferred
    assert new.techniques == ("technique/stamped",)
    assert new.languages == ("en", "fr")
    assert new.sightings[0].state == "state/present"


def test_what_it_lies_over_is_ticked_and_unticked_and_left_alone_where_nobody_asked(desk):
    stretcher = desk.work(desk.low_water).parts[0].id
    _, work = slip(
        desk, markup="84", lying="asked", lies_over=[desk.label], across=[desk.label, stretcher]
    )
    new = work.inscription("I2")
    assert new.lies_over == (desk.label,)
    assert set(new.across) == {desk.label, stretcher}
    page = desk.client.get(f"/work/{desk.low_water}/read/{new.id}").text
    assert f'name="lies_over" value="{desk.label}" checked' in page
    assert f'name="across" value="{stretcher}" checked' in page
    assert f'value="{new.id}"' not in page.partition("What it lies over")[2]
    _, work = slip(desk, f"/{new.id}", hand="A")
    assert work.inscription("I2").lies_over == (desk.label,)
    _, work = slip(desk, f"/{new.id}", hand="A", lying="asked", across=[stretcher])
    assert work.inscription("I2").lies_over == ()
    assert work.inscription("I2").across == (stretcher,)


def test_whose_hand_it_is_held_to_be_is_said_and_left_alone_where_nobody_asked(desk):
    maker = next(each.artist for each in desk.work(desk.low_water).attributions if each.artist)
    _, work = slip(desk, markup="A. P.", whose="asked", written_by=maker,
                   written_by_certainty="certainty/probable")  # fmt: skip
    new = work.inscription("I2")
    assert (new.written_by, new.written_by_certainty) == (maker, "certainty/probable")
    page = desk.client.get(f"/work/{desk.low_water}/read/{new.id}").text
    assert f'<option value="{maker}" selected>' in page
    _, work = slip(desk, f"/{new.id}", hand="A")
    assert work.inscription("I2").written_by == maker
    _, work = slip(
        desk,
        f"/{new.id}",
        whose="asked",
        written_by="",
        written_by_certainty="certainty/probable",
    )
    new = work.inscription("I2")
    assert (new.written_by, new.written_by_certainty) == (None, None)


def test_line_ends_of_a_browser_are_one_sign(desk):
    _, work = slip(desk, markup="Lot\r\n12")
    assert work.inscription("I2").transcripts[0].markup == "Lot\n12"


def test_a_new_reading_never_deletes_an_old_one(desk):
    _, work = slip(desk, f"/{desk.label}", **as_kept(desk, markup="Hollis & Trewin", state=""))
    readings = work.inscription(desk.label).transcripts
    assert len(readings) == 2
    assert [each.markup for each in readings if each.preferred] == ["Hollis & Trewin"]


def test_a_slip_saved_as_it_was_changes_nothing(desk):
    before = desk.work(desk.low_water).inscription(desk.label)
    page = desk.client.get(f"/work/{desk.low_water}/read/{desk.label}")
    assert page.status_code == 302  # asks the name first
    _, work = slip(desk, f"/{desk.label}", **as_kept(desk, **shown(desk)))
    assert work.inscription(desk.label) == before


def shown(desk):
    """The frame as the page writes it."""
    frame = frame_of(desk.work(desk.low_water).inscription(desk.label).regions[0].corners)
    region = desk.work(desk.low_water).inscription(desk.label).regions[0]
    return {
        "photo": region.photo, "region": region.id, "frame_x": f"{frame.x:g}", "frame_y": f"{frame.y:g}",
        "frame_width": f"{frame.width:g}", "frame_height": f"{frame.height:g}", "frame_turn": f"{frame.turn:g}",
    }  # fmt: skip


def test_an_earlier_reading_can_be_shown_first_again(desk):
    slip(desk, f"/{desk.label}", **as_kept(desk, markup="Hollis & Trewin"))
    first = next(
        each
        for each in desk.work(desk.low_water).inscription(desk.label).transcripts
        if not each.preferred
    )
    desk.post(
        f"/work/{desk.low_water}/read/{desk.label}/first",
        revision=desk.revision(desk.low_water), transcript=first.id,
    )  # fmt: skip
    assert desk.work(desk.low_water).inscription(desk.label).preferred().id == first.id


def test_two_readings_at_once_are_both_kept(desk):
    revision = desk.revision(desk.low_water)
    slip(
        desk,
        f"/{desk.label}",
        **as_kept(desk, markup="Hollis and Co", revision=revision, **shown(desk)),
    )
    answer, work = slip(
        desk,
        f"/{desk.label}",
        **as_kept(desk, markup="Hollis and Son", revision=revision, **shown(desk)),
    )
    assert answer.status_code == 302
    readings = work.inscription(desk.label).transcripts
    assert {"Hollis and Co", "Hollis and Son"} < {each.markup for each in readings}
    assert [each.markup for each in readings if each.preferred] == ["Hollis and Co"]
    assert "Both readings are kept" in desk.client.get(answer.headers["Location"]).text


def test_the_same_fact_of_an_inscription_changed_twice_shows_both(desk):
    revision = desk.revision(desk.low_water)
    slip(desk, f"/{desk.label}", **as_kept(desk, hand="A", revision=revision, **shown(desk)))
    answer, _ = slip(
        desk, f"/{desk.label}", **as_kept(desk, hand="B", revision=revision, **shown(desk))
    )
    assert answer.status_code == 409


def test_a_frame_typed_in_numbers_is_kept_as_corners(desk):
    photo = photo_named(desk.work(desk.low_water), "face/back")
    _, work = slip(
        desk, markup="Lot 12", photo=photo.id, frame_x="100", frame_y="50", frame_width="40", frame_height="20",
        frame_turn="90",
    )  # fmt: skip
    region = work.inscription("I2").regions[0]
    assert region.photo == photo.id
    assert region.corners == ((100, 50), (100, 90), (80, 90), (80, 50))


def test_a_frame_is_moved_in_place_and_taken_away(desk):
    kept = shown(desk)
    region = kept["region"]
    _, work = slip(desk, f"/{desk.label}", **as_kept(desk, **{**kept, "frame_x": "160"}))
    assert work.inscription(desk.label).regions[0].id == region
    assert work.inscription(desk.label).regions[0].corners[0][0] == 160
    gone = {name: "" for name in kept if name.startswith("frame_")}
    _, work = slip(desk, f"/{desk.label}", **as_kept(desk, **{**kept, **gone}))
    assert work.inscription(desk.label).regions == ()


def test_an_outline_is_kept_corner_by_corner_and_shown_again_as_typed(desk):
    photo = photo_named(desk.work(desk.low_water), "face/back")
    outline = "150.5,120 400,160 420,200 388,240 138,200"
    answer, work = slip(desk, markup="Lot 13", photo=photo.id, frame_outline=outline)
    region = work.inscription("I2").regions[0]
    assert region.corners == ((150.5, 120), (400, 160), (420, 200), (388, 240), (138, 200))
    page = desk.client.get(answer.location).text
    assert re.search(rf'name="frame_outline"[^>]*>{re.escape(outline)}<', page)
    assert re.search(r'name="frame_x"[^>]* value=""', page)


def test_an_outline_drawn_against_the_clock_is_kept_clockwise_from_where_it_began(desk):
    """As the record says of a region's corners."""
    photo = photo_named(desk.work(desk.low_water), "face/back")
    _, work = slip(desk, markup="Lot 13", photo=photo.id, frame_outline="10,10 10,90 90,50")
    assert work.inscription("I2").regions[0].corners == ((10, 10), (90, 50), (10, 90))


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"orientation": "askew"}, "is not a number"),
        ({"orientation": "12.5"}, "whole degrees"),
        ({"languages": "English!"}, "BCP 47"),
        ({"x_mm": "10"}, "all four numbers"),
        ({"x_mm": "1", "y_mm": "1", "width_mm": "0", "height_mm": "4"}, "more than 0"),
        ({"frame_x": "1"}, "all four numbers"),
        ({"frame_x": "1", "frame_y": "1", "frame_width": "1", "frame_height": "1"}, "too small"),
        ({"frame_x": "9999", "frame_y": "1", "frame_width": "9", "frame_height": "9"}, "outside the photo"),
        ({"frame_x": "-1e308", "frame_y": "1", "frame_width": "1e308", "frame_height": "9"}, "outside the photo"),
        ({"frame_outline": "1,1 9,1 9"}, "is no corner"),
        ({"frame_outline": "1,1 9,1"}, "2 corners"),
        ({"frame_outline": "1,1 " * 501}, "corners"),
        ({"frame_outline": "1,1 9,1 5,1"}, "too small"),
        ({"frame_outline": "10,10 90,90 90,10 10,80"}, "crosses itself"),
        ({"frame_outline": "700,10 900,10 900,90"}, "outside the photo"),
        ({"frame_outline": "9" * 400 + ",1 5,5 9,9"}, "is no corner"),
        ({"frame_outline": "1,1 9,1 9,9", "frame_x": "1"}, "typed twice"),
        ({"kind": "inscription/banana"}, "inscription/banana"),
        ({"part": "0" * 8}, "Inscription.part"),
    ],
)  # fmt: skip
def test_what_is_refused_leaves_everything_as_typed_on_the_page(desk, fields, said):
    photo = photo_named(desk.work(desk.low_water), "face/back")
    before = desk.revision(desk.low_water)
    answer, _ = slip(desk, markup="Lot 12 & more", photo=photo.id, **fields)
    assert answer.status_code == 422
    assert said in answer.text
    assert "Lot 12 &amp; more</textarea>" in answer.text
    assert desk.revision(desk.low_water) == before


def test_wrong_signs_are_kept_as_letters_and_listed_with_a_caret(desk):
    desk.begin()
    shown = desk.post("/render", markup="Lot 3\nSm[ith").text
    assert "this &#39;[&#39; has no partner" in shown
    assert "  Sm[ith\n    ^" in shown
    _, work = slip(desk, markup="Sm[ith")
    assert work.inscription("I2").transcripts[0].markup == "Sm[ith"


def test_without_script_the_rendering_comes_with_a_button(desk):
    before = desk.revision(desk.low_water)
    answer, _ = slip(desk, markup="Gal.(erie)", look="yes")
    assert answer.status_code == 200
    assert 'class="reading"' in answer.text
    assert desk.revision(desk.low_water) == before


def test_a_draft_is_offered_again_taken_up_and_consumed(desk):
    desk.begin()
    path = f"/work/{desk.low_water}/draft"
    kept = desk.client.post(
        path,
        data={
            "csrf_token": desk.token("/who"),
            "markup": "Half a la",
            "kind": "inscription/seal",
            "frame_x": "3",
        },
        headers={"Accept": "application/json"},
    ).get_json()
    assert "Half a la" in desk.client.get("/").text
    page = desk.client.get(f"/work/{desk.low_water}/read").text
    assert "Take it up" in page
    page = desk.client.get(f"/work/{desk.low_water}/read?draft={kept['id']}").text
    assert "Half a la</textarea>" in page
    assert '<option value="inscription/seal"' in page
    assert "Take it up" not in page
    slip(desk, markup="Half a label", draft=kept["id"])
    assert desk.studio.ledger.drafts() == []


def test_a_draft_can_be_thrown_away(desk):
    desk.begin()
    draft = desk.studio.ledger.keep_draft(
        who="x", document=f"work/{desk.low_water}", place="new", text="odd"
    )
    assert "odd" in desk.client.get("/").text
    desk.post(f"/draft/{draft.id}/drop")
    assert desk.studio.ledger.drafts() == []


def test_a_draft_is_no_part_of_the_history(desk):
    desk.begin()
    before = desk.studio.ledger.last()
    desk.post(f"/work/{desk.low_water}/draft", markup="Half")
    assert desk.studio.ledger.last() == before
    assert "Half" not in desk.client.get("/find?q=half").text.partition("<main")[2].replace(
        'value="half"', ""
    )


def test_a_reading_can_start_from_an_earlier_one(desk):
    desk.begin()
    first = desk.work(desk.low_water).inscription(desk.label).transcripts[0]
    page = desk.client.get(f"/work/{desk.low_water}/read/{desk.label}?from={first.id}").text
    assert "Hollis &amp; Tr_ewin\nDealers in Pict[ures]" in page
    _, work = slip(
        desk, f"/{desk.label}", **as_kept(
            desk, started_from=first.id, markup=first.markup, light=first.light, certainty=first.certainty, **shown(desk)
        )
    )  # fmt: skip
    assert len(work.inscription(desk.label).transcripts) == 1


def test_a_work_without_a_photo_can_be_read_all_the_same(desk):
    desk.begin()
    page = desk.client.get(f"/work/{desk.ferry}/read")
    assert page.status_code == 200
    assert "No photo of this side yet" in page.text


sides = st.integers(4, 3000)


@given(st.integers(0, 3000), st.integers(0, 3000), sides, sides, st.integers(-179, 180))
def test_a_frame_and_its_corners_are_the_same_box(x, y, width, height, turn):
    corners = Frame(x, y, width, height, turn).corners()
    assert is_box(corners)
    again = frame_of(corners)
    assert (again.x, again.y) == (x, y)
    assert abs(again.width - width) <= 0.2
    assert abs(again.height - height) <= 0.2
    assert abs((again.turn - turn + 180) % 360 - 180) <= 3
    (left, top), (right, below) = corners[:2]
    assert abs(math.hypot(right - left, below - top) - width) < 0.5


HABITS = "Galery [sic] / Lot [illeg.]"


def test_what_is_written_in_another_way_is_offered_and_never_changed_unasked(desk):
    desk.begin()
    shown = desk.post("/render", markup=HABITS).text
    assert "Nothing is changed unless you ask for it" in shown
    _, work = slip(desk, markup=HABITS)
    assert work.inscription("I2").transcripts[0].markup == HABITS


def offered(page):
    """What the buttons of the page would send, in their order."""
    return [html.unescape(each) for each in re.findall(r'name="take" value="([^"]*)"', page)]


def test_one_offer_or_all_of_them_can_be_taken_without_script_and_are_not_saved_yet(desk):
    desk.begin()
    before = desk.revision(desk.low_water)
    every, first, *_ = offered(desk.post("/render", markup=HABITS).text)
    answer, _ = slip(desk, markup=HABITS, take=first)
    assert answer.status_code == 200
    assert ">Galery[!] / Lot [illeg.]</textarea>" in answer.text
    answer, _ = slip(desk, markup=HABITS, take=every)
    assert ">Galery[!]|Lot +(?)</textarea>" in answer.text
    assert desk.revision(desk.low_water) == before


@pytest.mark.parametrize(
    "take",
    [
        "",
        "nonsense",
        "[]",
        "{}",
        "[" * 9000,
        '{"start": 0, "end": 4, "written": "Gone", "markup": ""}',
    ],
)
def test_what_was_not_offered_is_refused_and_what_was_typed_stays(desk, take):
    answer, _ = slip(desk, markup=HABITS, take=take)
    assert answer.status_code == 422
    assert f">{HABITS}</textarea>" in answer.text


def test_enter_in_a_field_saves_and_takes_no_offer(desk):
    desk.begin()
    page = desk.client.get(f"/work/{desk.low_water}/read/{desk.label}").text
    form = page.partition('id="slip"')[2]
    first = re.search(r"<button[^>]*>", form)[0]
    assert "type=" not in first
    assert "name=" not in first


MADE_OF = {
    "looks": "asked", "shape": "shape/oval", "edge": "edge/scalloped", "paper": "colour/green",
    "adhesive": "material/animal-glue", "complete_percent": "72,5 %",
    "colours": ["colour/black", "colour/gold"],
}  # fmt: skip


def test_what_a_label_is_made_of_is_typed_with_its_reading_and_stands_on_the_page_again(desk):
    _, work = slip(desk, markup="Lot 12", **MADE_OF)
    new = work.inscription("I2")
    assert (new.shape, new.edge, new.paper, new.adhesive, new.complete_percent) == (
        "shape/oval", "edge/scalloped", "colour/green", "material/animal-glue", 72.5,
    )  # fmt: skip
    assert set(new.colours) == {"colour/black", "colour/gold"}
    page = desk.client.get(f"/work/{desk.low_water}/read/{new.id}").text
    for chosen in ("shape/oval", "edge/scalloped", "colour/green", "material/animal-glue"):
        assert re.search(rf'<option value="{chosen}"[^>]* selected', page), chosen
    assert 'name="complete_percent" inputmode="decimal" value="72.5"' in page
    assert re.search(r'name="colours" value="colour/gold" checked', page)
    assert not re.search(r'name="colours" value="colour/red" checked', page)


def test_what_a_label_is_made_of_is_taken_away_where_the_page_asked_and_left_alone_where_not(
    desk,
):
    _, work = slip(desk, markup="Lot 12", **MADE_OF)
    before = work.inscription("I2")
    _, work = slip(desk, f"/{before.id}", hand="A")
    assert work.inscription("I2").shape == "shape/oval"
    assert work.inscription("I2").colours == before.colours
    _, work = slip(desk, f"/{before.id}", hand="A", looks="asked", colours=["colour/gold"])
    after = work.inscription("I2")
    assert (after.shape, after.edge, after.paper, after.adhesive) == (None,) * 4
    assert after.complete_percent is None
    assert after.colours == ("colour/gold",)


@pytest.mark.parametrize(
    "wrong", [{"complete_percent": "most"}, {"complete_percent": "140"}, {"shape": "shape/heart-of-oak"}, {"paper": "colour/none-such"}]
)  # fmt: skip
def test_what_no_label_is_made_of_is_refused_and_stays_on_the_page(desk, wrong):
    answer, work = slip(desk, markup="Lot 12", **{**MADE_OF, **wrong})
    assert 400 <= answer.status_code < 500
    assert "Lot 12" in answer.text
    assert len(work.inscriptions) == 1
