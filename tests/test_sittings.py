"""A card sorted by time: where a sitting ends, and for which work it is proposed, or why for none.

How long a break ends a sitting and how firmly a doing ties photographs to a work is common practice, no
source: vocab/sittings.toml is the studio's own.
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.places import table
from catalogue.sittings import Doing, Frame, names_said, proposed, read_off, shifted, sittings
from catalogue.terms import concept

NINE = datetime(2026, 3, 2, 9)
LOW, FERRY = "work/low", "work/ferry"


def frame(minutes, name=None, folder=""):
    at = NINE + timedelta(minutes=minutes)
    name = name or f"IMG_{minutes:04}.jpg"
    return Frame(key=name, name=name, folder=folder, at=at, clock="camera")


def doing(kind, work=LOW, **more):
    number = {LOW: "2026-001", FERRY: "2026-002"}[work]
    return Doing(**{"work": work, "number": number, "day": NINE.date(), "kind": kind, **more})


def one(*doings, frames=None):
    return proposed(sittings(frames or [frame(0), frame(3)])[0], doings)


def names(found):
    return [[each.name for each in sitting.frames] for sitting in found]


def test_a_break_of_the_studios_own_length_ends_a_sitting():
    gap = table("sittings.toml")["gap_minutes"]
    assert len(sittings([frame(0), frame(gap)])) == 1
    assert len(sittings([frame(0), frame(gap + 1)])) == 2


def test_fractions_of_a_second_order_a_burst_and_names_order_the_same_instant():
    burst = [
        Frame(key=name, name=name, at=NINE + timedelta(milliseconds=ms), clock="camera")
        for name, ms in (("c.jpg", 90), ("b.jpg", 250), ("a.jpg", 90))
    ]
    assert names(sittings(burst)) == [["a.jpg", "c.jpg", "b.jpg"]]


def test_photographs_without_a_time_come_last_by_folder_and_are_for_no_work():
    untimed = [
        Frame(key=n, name=n, folder=f)
        for n, f in (("z.jpg", "a"), ("y.jpg", "b"), ("x.jpg", "a"))
    ]
    found = sittings([*untimed, frame(0)])
    assert names(found) == [["IMG_0000.jpg"], ["x.jpg", "z.jpg"], ["y.jpg"]]
    assert proposed(found[1], [doing("check")]).proposed is None
    assert "nothing of when" in proposed(found[1], []).why


def test_the_break_between_two_works_named_by_their_folders_is_no_question_of_time():
    found = sittings([frame(0, "a.jpg", "2026-001"), frame(1, "b.jpg", "2026-002")])
    assert len(found) == 2


@given(
    st.lists(st.integers(0, 600), min_size=1, max_size=30, unique=True),
    st.sets(st.integers(0, 29)),
    st.sets(st.integers(0, 29)),
    st.integers(-100_000, 100_000),
)
def test_every_photograph_is_in_one_sitting_and_the_clock_changes_nothing_of_that(
    minutes, cuts, joins, ahead
):
    frames = [frame(each) for each in minutes]
    keys = [each.key for each in frames]
    marks = {
        "cuts": {keys[each] for each in cuts if each < len(keys)},
        "joins": {keys[each] for each in joins if each < len(keys)},
    }
    found = sittings(frames, **marks)
    assert sorted(name for group in names(found) for name in group) == sorted(
        each.name for each in frames
    )
    assert names(sittings(shifted(frames, ahead), **marks)) == names(found)
    for mark in marks["cuts"]:
        assert any(sitting.frames[0].key == mark for sitting in found)


# --- for which work -----------------------------------------------------------------------------------


def test_the_work_that_was_worked_on_that_day_is_proposed_with_the_reason():
    sitting = one(doing("step", what="T1.3 patching"))
    assert sitting.proposed.work == LOW
    assert sitting.why == "T1.3 patching was done that day"


@pytest.mark.parametrize(
    ("begins", "ends", "going_on"),
    [(time(8, 50), time(9, 10), True), (time(9, 20), None, True), (time(11), time(12), False), (None, None, False)],
)  # fmt: skip
def test_a_step_that_was_going_on_at_that_hour_is_firmer_than_one_of_that_day(
    begins, ends, going_on
):
    other = doing("step", FERRY, what="T1.1 cleaning")
    sitting = one(other, doing("step", what="T2.1 lining", begins=begins, ends=ends))
    assert (sitting.proposed is not None) == going_on
    if going_on:
        assert sitting.proposed.work == LOW
        assert "was going on then" in sitting.why


def test_two_works_alike_are_both_told_and_none_is_proposed():
    sitting = one(doing("check", what="K1 incoming"), doing("check", FERRY, what="K1 incoming"))
    assert sitting.proposed is None
    assert "2026-001" in sitting.why
    assert "2026-002" in sitting.why


def test_what_was_done_on_another_day_says_nothing():
    assert one(doing("step", day=date(2026, 3, 3), what="T1.1 cleaning")).candidates == ()


def test_being_in_the_house_counts_only_for_the_only_one():
    assert one(doing("here")).proposed.work == LOW
    assert one(doing("here"), doing("here", FERRY)).candidates == ()
    assert one(doing("here"), doing("here", FERRY), doing("came", FERRY)).proposed.work == FERRY


def test_a_number_in_the_folder_is_firmer_than_all_else_but_only_for_its_own_photographs():
    named = doing("named", what="the folder")
    done = doing("step", FERRY, what="T1.1 cleaning", begins=time(9))
    inside = [frame(0, "a.jpg", "DCIM/2026-001 back"), frame(1, "b.jpg", "DCIM/2026-001 back")]
    assert one(named, done, frames=inside).proposed.work == LOW
    assert one(named, done).proposed.work == FERRY
    assert one(named, done, frames=[*inside, frame(2)]).proposed.work == FERRY


@pytest.mark.parametrize("name", ["IMG_20260302_0001.jpg", "12026-001.jpg", "2026-0.jpg"])
def test_figures_that_are_no_number_of_the_studio_name_no_work(name):
    assert names_said(sittings([frame(0, name)])[0]) == {}


# --- what a name says ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "folder", "said"),
    [
        ("IMG_0031.jpg", "", {}),
        ("front and back.jpg", "", {}),
        ("feedback.jpg", "", {}),
        ("weir back.jpg", "front", {"face": "face/back"}),
        ("IMG_1.jpg", "before/UV", {"light": "light/ultraviolet", "stage": "stage/before"}),
        ("Back_Detail-RAKING.JPG", "", {"face": "face/back", "view": "view/detail", "light": "light/raking"}),
        ("x-ray.tif", "", {"light": "light/x-ray"}),
        ("back", "", {"face": "face/back"}),
    ],
)  # fmt: skip
def test_sides_and_lights_are_read_off_names_and_nothing_else(name, folder, said):
    assert read_off(Frame(key="a", name=name, folder=folder)) == said


def test_every_row_of_the_table_says_what_it_says():
    for row in table("sittings.toml")["name"]:
        assert concept(row["term"]).key == row["term"]
        for word in row["words"]:
            assert (
                read_off(Frame(key="a", name=f"IMG_12 {word} 3.jpg"))[row["field"]]
                == row["term"]
            )
