"""The twenty worked examples of the studio's standards sheet, and every sign on the card."""

import json
from pathlib import Path

import pytest

from catalogue.reading import SIGNS, fold, help_card, read, write
from catalogue.reading.nodes import walk

_EXAMPLES = json.loads(
    (Path(__file__).parent / "worked_examples.json").read_text(encoding="utf-8")
)["examples"]
examples = pytest.mark.parametrize("told", _EXAMPLES, ids=lambda told: told["markup"])


def test_all_twenty_are_here():
    assert len(_EXAMPLES) == 20


@examples
def test_what_the_eye_sees(told):
    assert read(told["markup"]).diplomatic().replace("\n", "⏎") == told["diplomatic"]


@examples
def test_what_the_label_says(told):
    assert read(told["markup"]).plain() == told["plain"]


@examples
def test_what_may_be_argued_from(told):
    assert read(told["markup"]).seen().replace("\n", "⏎") == told["seen"]


@examples
def test_the_epidoc_fragment(told):
    assert read(told["markup"]).tei() == told["tei"]


@examples
def test_damaged_and_struck_words_for_the_index(told):
    words = read(told["markup"]).words()
    assert [word.pattern for word in words if word.pattern] == told["patterns"]
    assert [word.text for word in words if word.stream == "struck"] == told["struck"]


@examples
def test_nothing_is_wrong_and_nothing_is_lost(told):
    reading = read(told["markup"])
    assert not reading.faults
    assert write(reading.tree) == told["markup"]


def test_literal_brackets_need_no_escape_after_a_space():
    # sheet 1.3, example 8 as its table prints it: the bracket is on the label
    assert read("L. Mey_e_r_ (Wwe.)").plain() == "L. Meyer (Wwe.)"


@pytest.mark.parametrize("sign", SIGNS, ids=lambda sign: sign.key)
def test_each_sign_on_the_card_is_what_it_says(sign):
    reading = read(sign.example)
    assert not reading.faults
    assert any(type(node) is sign.becomes for node in walk(reading.tree))
    assert sign.meaning
    assert sign.rendering == reading.diplomatic()


def test_the_card_has_a_line_for_each_sign():
    lines = help_card().splitlines()
    assert [sign.sign for sign in SIGNS] == [
        next(sign.sign for sign in SIGNS if line.startswith(f"{sign.sign}  "))
        for line in lines
        if not line.startswith(" ")
    ]
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize(
    ("markup", "seen"),
    [
        ("Smith + Sons", "Smith + Sons"),  # sheet 1.3, rule 1
        ("B\\+W", "B+W"),
        ("Nr.(12)", "Nr.(12)"),  # rule 2
        ("\\[12\\]", "[12]"),  # rule 3
        ("[12]", "…"),
        ("[---  :  torn]ndon W.", "…ndon W."),
        ("[3-5]", "…"),
        ("* 1850", "* 1850"),  # rule 5
        ("*1850 in Bath", "*1850 in Bath"),
        ("C:\\temp", "C:\\temp"),  # rule 6
        ("Name ______", "Name ______"),  # "__" is a ruled line
        ("a@b.example", "a@b.example"),
        ("12/3/1921", "12/3/1921"),
        ("No.3, Rm.12, Fr.1.500", "No.3, Rm.12, Fr.1.500"),  # 1.2: points are no gaps
    ],
)
def test_the_sheets_rules_for_signs_that_are_letters(markup, seen):
    assert read(markup).seen() == seen


@pytest.mark.parametrize(
    ("markup", "plain", "indexed"),
    [
        ("Ausstel-\nlung", "Ausstellung", {"Ausstellung"}),  # sheet 1.3, rule 7
        ("Kunst-\nSalon", "Kunst-Salon", {"Kunst-Salon", "KunstSalon"}),
        ("Exhi=|bition", "Exhibition", {"Exhibition"}),
        ("Low -|tide", "Low - tide", {"Low", "tide"}),
        ("1912-|13", "1912-13", {"1912-13", "191213"}),
        ("Low||Tide", "Low\nTide", {"Low", "Tide"}),
        ("Low|[2 lines]|tide", "Low … tide", {"Low", "tide"}),
        ("W[---]|tide", "W… tide", {"W…", "tide"}),
    ],
)
def test_words_over_a_line_end(markup, plain, indexed):
    reading = read(markup)
    assert reading.plain() == plain
    assert {word.text for word in reading.words()} == indexed


def test_a_dotted_letter_is_the_same_composed_or_not():
    # sheet 1.3, rule 9
    for typed in ("Bir\u1e05y", "Birb\u0323y", "Birb_y"):
        reading = read(typed)
        assert (reading.seen(), reading.words()[0].pattern) == ("Birby", "bir.y")


def test_printed_form_and_filling_are_kept_apart():
    reading = read("@p Title: @h Low Tide |@p Price: @h2(pencil) [[30]] 25 gns")
    told = [(p.hand.technique, p.hand.number, p.seen()) for p in reading.passages()]
    assert told == [
        ("printed", None, "Title:"),
        ("handwritten", None, "Low Tide\n"),
        ("printed", None, "Price:"),
        ("handwritten", 2, "30 25 gns"),
    ]
    assert [hand.key for hand in reading.hands()] == ["printed", "handwritten", "handwritten2"]


def test_two_media_are_two_hands_and_a_bare_sign_is_the_last_one():
    reading = read("@h(chalk) 1 @h(pencil) 2 @h 3 @h(chalk) 4")
    assert [hand.key for hand in reading.hands()] == ["handwritten", "handwritten.2"]
    assert reading.tei().count("#handwritten.2") == 2


def test_every_letter_knows_where_it_was_typed():
    markup = "Gal.(erie) Ho[...]nn [[12]]<<1\u03233>> cafe\u0301 \\[x"
    reading = read(markup)
    seen, places = reading.seen(), reading.seen_at()
    assert len(seen) == len(places)
    assert places == tuple(sorted(places))
    for letter, at in zip(seen, places, strict=True):
        if letter.isascii() and letter.isalnum():
            assert markup[at] == letter
    assert markup[places[seen.index("é")]] == "e"
    assert markup[places[seen.index("…")]] == "["


def test_folding_makes_compatible_forms_alike():
    # Unicode Standard Annex 15, compatibility decomposition: № is N and o, ﬁ is f and i
    assert fold("№ ﬁne Größe … É") == "no fine grosse … e"


def test_the_outline_is_plain_data():
    outline = read("H[arbour?] [c.6 :torn]").outline()
    assert json.loads(json.dumps(outline)) == outline
    assert [node["kind"] for node in outline] == ["text", "restored", "text", "gap"]
    assert outline[3]["extent"] == {"least": 4, "most": 8, "unit": "character", "about": 6}
