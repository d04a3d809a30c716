"""Labels of one printed form are found and kept apart from sister forms; the worked examples hold."""

from __future__ import annotations

import os
import random

import pytest
from made_forms import forms, label

from catalogue.argument.look_alikes import Shelf, compare, seen_of, stamp_verdict
from catalogue.argument.look_alikes.aligning import align
from catalogue.argument.look_alikes.comparing import Seen, banded, size_likeness, weighed
from catalogue.argument.look_alikes.print_words import printed_words
from catalogue.argument.look_alikes.stamps import differences_percent
from catalogue.reading import read
from catalogue.record import Inscription, Transcript
from catalogue.surface import Box

HOW_MANY = int(os.environ.get("DORSE_FORMS", "50"))
HASHES = (0, (1 << 6) - 1)  # six bits apart


def seen(markup: str, **told) -> Seen:
    hashes = told.pop("hashes", ())
    inscription = Inscription(
        kind="inscription/dealer-label", face="face/back", transcripts=(Transcript(markup=markup),), **told
    )  # fmt: skip
    return seen_of("work/a", inscription, hashes)


def test_the_worked_example_of_the_trade_sheet():
    """Trade sheet C7: parts 0.930, 0.971, 0.906, 0.75 and a score of 0.918, likely."""
    one = seen(
        "galerie morvane 14 rue des tanneurs gand no",
        place=Box(0, 0, 62, 38), hashes=HASHES[:1],
        shape="shape/rectangle", colours=("colour/black",), techniques=("technique/letterpress",),
    )  # fmt: skip
    other = seen(
        "galerie morvan 14 rue d tanneurs gand no",
        place=Box(0, 0, 61, 38.5), hashes=HASHES[1:],
        shape="shape/rectangle", colours=("colour/red",), techniques=("technique/letterpress",),
    )  # fmt: skip
    found = compare(one, other)
    told = [round(found.parts[name] or 0, 3) for name in ("text", "size", "image", "looks")]
    assert told == [0.930, 0.971, 0.906, 0.75]
    assert round(found.score, 3) == 0.918
    assert found.band == "likely"


def test_the_bands_and_missing_parts_of_the_trade_sheet():
    """C7: >= 0.85 likely, 0.65 to 0.85 review, else no; weights are shared out where a part is missing."""
    assert [banded(each) for each in (0.85, 0.849, 0.65, 0.649)] == [
        "likely",
        "review",
        "review",
        "no",
    ]
    assert weighed({"text": 1.0, "size": None, "image": None, "looks": 0.5}) == pytest.approx(
        (0.45 + 0.05) / 0.55
    )
    assert weighed({"text": None}) == 0


def test_two_stamps_of_the_trade_sheet_are_consistent():
    """Trade sheet C8: 48.0 x 31.5 against 47.1 x 30.6."""
    apart = differences_percent((48.0, 31.5), (47.1, 30.6))
    assert [round(each, 1) for each in apart] == [1.9, 2.9, 1.0]
    assert stamp_verdict((48.0, 31.5), (47.1, 30.6)) == "verdict/consistent"
    assert stamp_verdict((48.0, 31.5), (46.0, 31.5)) == "verdict/not-inconsistent"


WHOLE = (
    "@p Harkwick & Son | Fine Art Dealers | 14 Tanner Street, York | Telephone 2251 | No @h 341"
)


@pytest.mark.parametrize(
    "other",
    [
        "@p Harkwick & Son | Fine Art Dealers | 14 Tanner Street, York | Telephone 2251 | No @h Sea Wall",
        "@p Harkw[...] & Son | Fine A[..] Dealers | 14 Tanner Street, Y_ork | Telephone 22[..] | No @h 9",
        "@p Harkwick & Son | Fine Art Dea-|lers | 14 Tanner Street, York | Teleph[---]",
        "Harkwick & Son | Fine Art Dealers | 14 Tanner Street, York | Telephone 2251 | No 4417",
    ],
)
def test_other_fillings_and_what_is_lost_do_not_part_a_form(other):
    found = compare(seen(WHOLE), seen(other))
    assert found.telling == 0
    assert found.parts["text"] == pytest.approx(1)


@pytest.mark.parametrize(
    "other",
    [
        WHOLE.replace("14", "16"),
        WHOLE.replace("2251", "2258"),
        WHOLE.replace("Tanner", "Orchard"),
        WHOLE.replace("York", "Hull"),
        WHOLE.replace(" | Telephone 2251", ""),
    ],
)
def test_a_sister_form_is_another_form(other):
    same = {"place": Box(0, 0, 62, 38), "hashes": HASHES[:1], "shape": "shape/oval"}
    found = compare(seen(WHOLE, **same), seen(other, **same))
    assert found.telling >= 1
    assert found.band != "likely"


def test_a_doubted_figure_tells_nothing():
    assert compare(seen(WHOLE), seen(WHOLE.replace("2251", "225_8_"))).telling == 0


def test_what_was_written_by_hand_alone_is_no_form():
    words = printed_words(read("Sea Wall, Evening"), ["technique/ink"])
    assert {each.letters for each in words} <= {0}


def test_a_cut_label_is_held_to_the_sides_that_are_left():
    whole, cut = (
        seen(WHOLE, place=Box(0, 0, 60, 40)),
        seen(WHOLE, place=Box(0, 0, 45, 40), edge="edge/torn"),
    )
    assert size_likeness(whole, cut) == 1
    larger = seen(WHOLE, place=Box(0, 0, 75, 40), edge="edge/torn")
    assert size_likeness(whole, larger) == pytest.approx(0.8)


def test_a_label_that_lies_turned_is_measured_as_its_text_runs():
    assert seen(WHOLE, place=Box(0, 0, 40, 60), orientation=90).size_mm == (60, 40)


def test_laying_side_by_side_is_the_same_from_both_sides():
    one, other = (printed_words(read(each)) for each in (WHOLE, WHOLE.replace("Art", "[---]")))
    assert align(one, other).likeness == align(other, one).likeness


def test_seeded_families_are_found_and_sisters_kept_apart():
    """Ours: forms with sisters, wear, tears, other fillings. Pairs proposed as likely."""
    chance = random.Random(8)
    made = forms(HOW_MANY, 8)
    of, sure, labels = {}, {}, []
    for number, form in enumerate(made):
        sisters = [each for each in made if each.firm == form.firm and each is not form]
        for copy in range(chance.randint(2, 4)):
            one, told_apart = label(form, sisters, f"work/{number}-{copy}", chance)
            labels.append(one)
            of[one.id], sure[one.id] = number, told_apart
    shelf = Shelf(labels)
    proposed = {
        frozenset((one.id, found.other.id))
        for one in labels
        for found in shelf.like(one)
        if found.band == "likely"
    }
    true = {
        frozenset((one.id, other.id))
        for number, one in enumerate(labels)
        for other in labels[number + 1 : number + 4]
        if of[one.id] == of[other.id]
    }
    decidable = {pair for pair in proposed | true if all(sure[each] for each in pair)}
    right = proposed & true & decidable
    assert len(right) / len(proposed & decidable) >= 0.95
    assert len(right) / len(true & decidable) >= 0.95
    assert len(proposed & true) / len(true) >= 0.95
