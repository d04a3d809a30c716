"""Words for a place, both ways: what they say of shapes and bars, and what is read back from them.

Worked wordings: the trade sheet's computation C1 and its story US-9, a picture 610 mm wide and 500 mm
high. That "u.l." is upper left in English and lower left (unten links) in German, and the wordings of
old reports: common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.places import table
from catalogue.surface import (
    Box,
    Distance,
    Edges,
    Shape,
    Sheet,
    Stretcher,
    clock,
    clock_in_words,
    field_in_words,
    hour_region,
    in_words,
    mirror,
    nine_field,
    ninth,
    off_in_words,
    overlap_mm2,
    read_place,
    union_area_mm2,
)

PICTURE = Sheet(610, 500)
TEAR = Box(120, 140, 60, 45)
TITLE = Box(395, 120, 150, 40)
TWIN = mirror(TEAR, PICTURE)
SEEN = (
    "left and right: as seen from the back, or from the front through the picture, is not said"
)
SIDE = "on which side it is, is not said"


# Geometry to words --------------------------------------------------------------------------------


def test_three_wordings_of_one_place_on_both_sides():
    assert field_in_words(TEAR, PICTURE, "front") == "upper left seen from the front"
    assert field_in_words(TWIN, PICTURE, "back") == "upper right seen from the back"
    assert clock_in_words(TEAR, PICTURE, "front") == "at 10 o'clock seen from the front"
    assert clock_in_words(TWIN, PICTURE, "back") == "at 2 o'clock seen from the back"
    middle = Box(300, 245, 10, 10)
    assert clock_in_words(middle, PICTURE, "back") == "centre seen from the back"


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        (
            Shape("line", ((120, 140), (150, 152), (161.5, 185))),
            "front, upper left, 120 mm from the left edge and 140 mm from the top edge (seen from the front)",
        ),
        (
            Shape("point", ((600, 490),)),
            "front, lower right, 10 mm from the right edge and 10 mm from the bottom edge (seen from the front)",
        ),
        (
            Shape.ellipse(Box(5, 5, 20, 30)),
            "front, upper left, 5 mm from the left edge and 5 mm from the top edge (seen from the front)",
        ),
    ],
)
def test_any_shape_has_a_place_in_words(shape, said):
    assert in_words(shape, PICTURE, "front") == said


def test_measured_from_the_inner_edges_of_the_bars():
    opening = Stretcher(bars=Edges(top_mm=45, right_mm=50, bottom_mm=45, left_mm=40)).opening(
        PICTURE
    )
    assert in_words(TITLE, PICTURE, "back", opening) == (
        "back, upper right, 15 mm from the inner edge of the right bar and 75 mm from the inner edge "
        "of the top bar (seen from the back)"
    )


def test_without_a_size_words_still_work_from_the_left_and_the_top():
    assert in_words(TITLE, None, "back") == (
        "back, 395 mm from the left edge and 120 mm from the top edge (seen from the back)"
    )


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (TITLE, None),
        (Box(-2, 0, 614, 502), None),
        (Box(580, 10, 60, 40), "it reaches 30 mm over the right edge"),
        (
            Shape("line", ((-7.5, 10), (50, 520))),
            "it reaches 7.5 mm over the left edge and 20 mm over the bottom edge",
        ),
    ],
)
def test_what_lies_outside_the_painting_is_told_in_words(place, said):
    assert off_in_words(place, PICTURE) == said
    assert place.fits(PICTURE) == (said is None)


def test_nine_ninths_make_up_a_side():
    ninths = [
        ninth(row, column, PICTURE)
        for row in ("upper", "centre", "lower")
        for column in ("left", "centre", "right")
    ]
    assert sum(box.width_mm * box.height_mm for box in ninths) == pytest.approx(305_000)
    assert union_area_mm2(ninths) == pytest.approx(305_000)
    assert len({nine_field(box, PICTURE) for box in ninths}) == 9
    assert ninth(None, "right", PICTURE).height_mm == 500


@given(st.integers(1, 12), st.integers(50, 3000), st.integers(50, 3000))
def test_twelve_hours_and_a_middle_make_up_a_side(hour, width, height):
    sheet = Sheet(width, height)
    hours = [hour_region(each, sheet) for each in range(1, 13)]
    assert sum(each.area_mm2 for each in hours) == pytest.approx(width * height * 35 / 36)
    assert union_area_mm2(hours) == pytest.approx(width * height * 35 / 36)
    turned = mirror(hour_region(hour, sheet), sheet)
    twin = hour_region(12 - hour if hour < 12 else 12, sheet)
    assert overlap_mm2(turned, twin) == pytest.approx(twin.area_mm2)


@given(st.integers(1, 999), st.integers(1, 999))
def test_a_point_lies_in_the_part_of_its_hour(x, y):
    sheet = Sheet(1000, 1000)
    hour = clock(Shape("point", ((x, y),)), sheet)
    around = Box(x - 0.5, y - 0.5, 1, 1)
    if hour:
        assert overlap_mm2(around, hour_region(hour, sheet)) > 0


# Words to geometry --------------------------------------------------------------------------------

sizes = st.integers(200, 30_000).map(lambda tenth: tenth / 10)


@given(sizes, sizes, st.data())
def test_what_is_said_of_a_box_is_read_back(width, height, data):
    sheet = Sheet(width, height)
    w = data.draw(st.integers(10, int(width * 10))) / 10
    h = data.draw(st.integers(10, int(height * 10))) / 10
    x = data.draw(st.integers(-19, int((width - w) * 10))) / 10
    y = data.draw(st.integers(-19, int((height - h) * 10))) / 10
    box, side = Box(x, y, w, h), data.draw(st.sampled_from(["front", "back"]))
    found = read_place(in_words(box, sheet, side), sheet)
    assert (found.face, found.seen, found.rest) == (f"face/{side}", side, "")
    assert found.field == nine_field(box, sheet)
    assert found.box(w, h).bounds == pytest.approx(box.bounds, abs=1e-9)
    assert found.doubts == ()
    assert found.seen_term == "seen/that-side"


@given(st.integers(0, 560), st.integers(0, 450))
def test_what_is_said_from_the_inner_edges_is_read_back(x, y):
    opening = Edges.all_round(40).inner(PICTURE)
    box = Box(x, y, 20, 10)
    found = read_place(in_words(box, PICTURE, "back", opening), PICTURE)
    assert found.rest == ""
    assert found.box(20, 10, opening) == box
    with pytest.raises(BadData, match="distances from two edges that are known"):
        found.box(20, 10)


FIELDS = ["upper left", "upper centre", "lower right", "centre left", "centre"]


@pytest.mark.parametrize("field", FIELDS)
@pytest.mark.parametrize("side", ["front", "back"])
def test_a_field_and_an_hour_are_read_back(field, side):
    found = read_place(f"{field} seen from the {side}")
    assert (found.field, found.seen, found.face, found.rest) == (field, side, None, "")
    assert found.doubts == (SIDE,)


@pytest.mark.parametrize(
    ("text", "face", "field", "distances", "seen"),
    [
        (
            "verso, upper right: 65 mm from right edge, 120 mm from top edge",
            "face/back", "upper right", [("right", 65), ("top", 120)], None,
        ),
        ("lower left seen from the front", None, "lower left", [], "front"),
        (
            "65 mm from the right-hand edge and 12 cm from the top, on the back, seen from behind",
            "face/back", None, [("right", 65), ("top", 120)], "back",
        ),
        ("from top 120 mm, from left 30 mm, recto", "face/front", None, [("top", 120), ("left", 30)], "front"),
        ("right edge: 65 mm; top edge: 120.5 mm (verso)", "face/back", None, [("right", 65), ("top", 120.5)], None),
        ('2.5 in from the left edge, recto', "face/front", None, [("left", 63.5)], "front"),
        (
            "3 mm over the left edge and at the top edge, back",
            "face/back", None, [("left", -3), ("top", 0)], None,
        ),
        (
            "rückseitig o.l., 65 mm vom linken Rand und 12 cm von oben, von hinten gesehen",
            "face/back", "upper left", [("left", 65), ("top", 120)], "back",
        ),
        (
            "au dos, en bas à droite, à 65 mm du bord droit, vu de dos",
            "face/back", "lower right", [("right", 65)], "back",
        ),
        ("in transmitted light, verso upper left", "face/back", "upper left", [], "front"),
        ("c. 65 mm from the left edge, recto", "face/front", None, [("left", 65)], "front"),
        ("in the centre of the reverse", "face/back", "centre", [], None),
    ],
)  # fmt: skip
def test_places_as_people_write_them(text, face, field, distances, seen):
    found = read_place(text, PICTURE)
    assert (found.face, found.field, found.seen, found.rest) == (face, field, seen, "")
    assert [(each.edge, each.mm) for each in found.distances] == distances


@pytest.mark.parametrize(
    ("text", "face", "part", "bar", "field"),
    [
        ("on the top stretcher bar, left, seen from the back", "face/stretcher-bar", "part/stretcher-bar", "top", "left"),
        ("stretcher, top", "face/stretcher-bar", "part/stretcher", "top", None),
        ("upper right corner of the stretcher", "face/stretcher-bar", "part/stretcher", None, "upper right"),
        ("top tacking edge", "face/tacking-edge-top", "part/tacking-margin", "top", None),
        ("right tacking edge, seen from the front", "face/tacking-edge-right", "part/tacking-margin", "right", None),
        # the names of the edges are those of the front
        ("right tacking edge, seen from the back", "face/tacking-edge-left", "part/tacking-margin", "right", None),
        ("backing board, lower left", "face/backing-board", "part/backing-board", None, "lower left"),
        ("backing board, top, verso", "face/backing-board", "part/backing-board", None, "upper"),
        ("on the tacking margin", None, "part/tacking-margin", None, None),
        ("frame, top", None, "part/frame", "top", None),
        ("back of the frame, upper left", "face/frame-back", "part/frame", None, "upper left"),
    ],
)  # fmt: skip
def test_bars_margins_and_frames(text, face, part, bar, field):
    found = read_place(text, PICTURE)
    assert (found.face, found.part, found.bar, found.field) == (face, part, bar, field)
    assert found.rest == ""


@pytest.mark.parametrize(
    "text", ["left stretcher bar", "right tacking edge", "verso u.r.", "3 o'clock, verso"]
)
def test_left_and_right_without_a_side_to_look_from_are_in_doubt(text):
    found = read_place(text, PICTURE)
    assert SEEN in found.doubts
    assert found.on_its_side() is None


@pytest.mark.parametrize(
    "text", ["top stretcher bar", "verso, upper centre", "6 o'clock, verso", "recto, left"]
)
def test_what_is_the_same_from_both_sides_is_in_no_doubt(text):
    assert read_place(text, PICTURE).doubts == ()


def test_the_front_is_seen_from_the_front():
    found = read_place("recto, upper left", PICTURE)
    assert found.on_its_side() == found.region == ninth("upper", "left", PICTURE)
    assert found.seen_term == "seen/that-side"


def test_what_was_told_through_the_canvas_is_mirrored_once_it_is_known():
    found = read_place("verso, upper left, seen from the front", PICTURE)
    assert found.seen_term == "seen/through-front"
    assert found.on_its_side().bounds == pytest.approx(ninth("upper", "right", PICTURE).bounds)
    point = read_place(
        "verso, 65 mm from the left edge, 120 mm from the top, from the front", PICTURE
    )
    assert point.region == Shape("point", ((65, 120),))
    assert point.on_its_side() == Shape("point", ((545, 120),))


def test_an_unknown_side_stays_unknown():
    found = read_place("2 o'clock seen from the back", PICTURE)
    assert (found.hour, found.face, found.seen, found.doubts) == (2, None, "back", (SIDE,))
    assert found.region == hour_region(2, PICTURE)
    assert found.on_its_side() is None
    assert found.seen_term == "seen/unknown"


@pytest.mark.parametrize(
    ("text", "field", "unsure"),
    [
        ("u.l.", "upper left", True),
        ("u.l", "upper left", True),
        ("U. L.", "upper left", True),
        ("upper left", "upper left", False),
        ("Rückseite u.l.", "lower left", False),
        ("u.l., vom Rand", "lower left", False),
        ("ul", "upper left", False),
        ("o.r.", "upper right", True),  # Dutch reads it as lower right
        ("h.g.", "upper left", False),
    ],
)
def test_short_forms_and_their_languages(text, field, unsure):
    found = read_place(text, PICTURE)
    assert found.field == field
    assert any("in another language" in doubt for doubt in found.doubts) == unsure


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("recto, upper left, 4 o'clock", "4 o'clock does not lie upper left"),
        (
            "recto, upper left, 400 mm from the left edge",
            "upper left and a distance from the left edge do not go together",
        ),
        (
            "recto, centre, 450 mm from the top edge",
            "centre and a distance from the top edge do not go together",
        ),
        (
            "recto, 700 mm from the left edge, 20 mm from the top edge",
            "it lies off the picture",
        ),
    ],
)
def test_what_contradicts_itself_is_said(text, doubt):
    assert read_place(text, PICTURE).doubts == (doubt,)
    assert read_place(text).doubts == ()


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("verso, u.l., under old varnish", "under old varnish"),
        ("recto, upper left, lower right", "lower right"),
        ("recto upper left verso", "verso"),
        ("20 mm from the upper left corner", "20 mm"),
        ("65 from the right edge", "65"),
        ("recto, 65 mm from the left edge, 70 mm from the left edge", "70 mm"),
        ("recto, 13 o'clock", "13 o'clock"),
        ("recto, 9999999999999 mm from the top", "9999999999999 mm"),
        ("", ""),
    ],
)
def test_what_is_not_understood_is_kept(text, rest):
    assert read_place(text, PICTURE).rest == rest


WORDS = table("places_words.toml")


@pytest.mark.parametrize("lead", WORDS["joint"]["from"])
def test_every_word_before_an_edge_is_one(lead):
    found = read_place(f"recto: 65 mm {lead} top edge")
    assert (found.distances, found.rest) == ((Distance("top", 65),), "")


@pytest.mark.parametrize(
    ("edge", "word"), [(edge, word) for edge, words in WORDS["edge"].items() for word in words]
)
@pytest.mark.parametrize(
    "text", ["65 mm from the {} edge", "{} Rand: 65 mm", "65 mm du bord {}"]
)
def test_every_word_for_an_edge_is_one(edge, word, text):
    found = read_place(text.format(word))
    assert (found.distances, found.rest) == ((Distance(edge, 65),), "")


@pytest.mark.parametrize("word", WORDS["joint"]["rim"])
def test_every_word_that_makes_an_edge_does(word):
    assert read_place(f"65 mm from the left {word}").distances == (Distance("left", 65),)
    assert read_place(f"at the left {word}").distances == (Distance("left", 0),)


@pytest.mark.parametrize("word", WORDS["joint"]["at"])
def test_every_word_for_at_puts_it_there(word):
    assert read_place(f"{word} top edge").distances == (Distance("top", 0),)


@pytest.mark.parametrize("word", WORDS["joint"]["over"])
def test_every_word_for_over_goes_beyond(word):
    assert read_place(f"5 mm {word} left edge").distances == (Distance("left", -5),)


@pytest.mark.parametrize("word", WORDS["joint"]["inner"])
def test_every_word_for_an_inner_edge_is_one(word):
    found = read_place(f"5 mm from the {word} left bar")
    assert found.distances == (Distance("left", 5, inner=True),)


@pytest.mark.parametrize("word", WORDS["joint"]["clock"])
def test_every_word_for_the_hour_is_one(word):
    assert read_place(f"2 {word}").hour == 2


@pytest.mark.parametrize(("unit", "mm"), WORDS["millimetres"].items())
def test_every_unit_is_one(unit, mm):
    assert read_place(f"2 {unit} from the top").distances == (Distance("top", 2 * float(mm)),)


@pytest.mark.parametrize(
    ("side", "word"),
    [
        (side, word)
        for kind in ("seen", "seen_through")
        for side, words in WORDS[kind].items()
        for word in words
    ],
)
def test_every_word_for_the_side_one_looks_from_is_one(side, word):
    found = read_place(f"verso, left, {word}")
    assert (found.seen, found.face, found.rest) == (side, "face/back", "")


def test_without_a_size_a_text_is_read_all_the_same_and_mm_are_refused():
    found = read_place("recto, upper left, 65 mm from the left edge, 20 mm from the top edge")
    assert (found.field, found.region, found.on_its_side()) == ("upper left", None, None)
    assert found.distances == (Distance("left", 65), Distance("top", 20))
    with pytest.raises(BadData, match="size of the painting is not known"):
        found.box(10, 10)
    with pytest.raises(BadData, match="says no distances from two edges"):
        read_place("recto, upper left", PICTURE).box(10, 10)


words = st.sampled_from(
    ["verso", "recto", "upper", "left", "right", "top", "edge", "from", "the", "65", "mm", "2", "o'clock", "inner", "edge", "of", "bar", "stretcher", "u.l.", "Rand", "vom", "bord", "droit", "tacking", "seen", "back", ",", ":", ";", ".", "(", ")", "-", "-5", "9,5", "cm", "at", "over", "½", "…", "é", "漢", "\t", "\n"]
)  # fmt: skip


@given(st.lists(words, max_size=30).map(" ".join) | st.text(max_size=60))
def test_no_text_breaks_the_reader_and_nothing_it_leaves_is_made_up(text):
    for sheet in (None, PICTURE):
        found = read_place(text, sheet)
        assert found.text == text
        left = iter("".join(text.split()))
        assert all(sign in left for sign in "".join(found.rest.split()))
        assert found.region is None or sheet is not None
