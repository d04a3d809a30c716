"""What people already write: offered as signs, never over a sign, never without being asked."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.errors import BadData
from catalogue.reading import SIGNS, Suggestion, fault_examples, read
from catalogue.reading.habits import apply, habits, suggest
from catalogue.reading.sentences import editors_words

_WORKED = json.loads(
    (Path(__file__).parent / "worked_examples.json").read_text(encoding="utf-8")
)["examples"]
rows = pytest.mark.parametrize("habit", habits(), ids=lambda habit: habit.key)
_BITS = [
    text for habit in habits() for before, _ in habit.examples for text in before.split(" ")
]
written = st.lists(
    st.sampled_from([*_BITS, " ", " / ", "[...]", "a_", "[[", "]]", "\\", "/", "|", "\n", "(", ")"]),
    max_size=20,
).map("".join)  # fmt: skip


@rows
def test_each_row_does_what_its_examples_say(habit):
    assert habit.examples
    for before, after in habit.examples:
        found = suggest(before)
        assert habit.key in {each.habit for each in found}
        assert apply(before, found) == after


@rows
def test_what_was_typed_for_it_is_right_markup_and_nothing_more_is_offered(habit):
    for _, after in habit.examples:
        assert not read(after).faults
        assert not suggest(after)


@rows
def test_each_row_is_silent_where_it_says(habit):
    assert habit.silent_on
    for text in habit.silent_on:
        assert habit.key not in {each.habit for each in suggest(text)}


@pytest.mark.parametrize(
    "markup", [*(e["markup"] for e in _WORKED), *(s.example for s in SIGNS)]
)
def test_nothing_is_offered_for_right_markup(markup):
    assert not suggest(markup)


def test_what_the_error_table_calls_better_is_left_alone():
    assert not [b for told in fault_examples() for b in told.better if suggest(b)]


@pytest.mark.parametrize("word", sorted(editors_words()))
def test_every_remark_that_we_ask_about_has_an_offer(word):
    assert suggest(f"Lot [{word}] 12")


def test_something_that_may_mean_two_things_says_so():
    (found,) = suggest("Lot [?]")
    assert found.markup == "(?)"
    assert apply("Lot [?]", [found.meaning(found.others[0])]) == "Lot +(?)"


def test_only_what_was_chosen_is_applied():
    label = "Spring … / Room 4 / ____"
    found = suggest(label)
    assert [each.written for each in found] == ["…", " / ", " / ", "____"]
    assert apply(label, []) == label
    assert apply(label, found[2:3]) == "Spring … / Room 4|____"


def test_a_slash_on_the_label_may_stay():
    # crate 3 of 4: offered all the same, which is why nothing is applied silently
    assert [each.habit for each in suggest("Crate 3 / 4")] == ["new_line"]


@pytest.mark.parametrize(
    "label", ["~fr:huile … ~ [sic]", "/* [sic] … ____ */", "{{drawing … }}", "\\[sic\\] [---]"]
)
def test_signs_notes_and_escapes_are_let_be(label):
    for each in suggest(label):
        assert each.written in {"…", " [sic]"}
        assert label.startswith("~")


def test_a_label_that_moved_on_is_not_touched():
    (found,) = suggest("Galery [sic]")
    with pytest.raises(BadData, match="does not stand at letter 7"):
        apply("A Galery [sic]", [found])
    twice = replace(found, start=found.start + 1, written=found.written[1:])
    with pytest.raises(BadData):
        apply("Galery [sic]", [found, twice])


@settings(max_examples=300, deadline=None)
@given(st.one_of(written, st.text()))
def test_applying_all_keeps_everything_else_to_the_letter(text):
    found = suggest(text)
    new = apply(text, found)
    at = moved = 0
    for each in found:
        assert isinstance(each, Suggestion)
        assert text[each.start : each.end] == each.written
        kept = each.start - at
        assert new[moved : moved + kept] == text[at : each.start]
        assert new.startswith(each.markup, moved + kept)
        at, moved = each.end, moved + kept + len(each.markup)
    assert new[moved:] == text[at:]


@settings(max_examples=300, deadline=None)
@given(written)
def test_nothing_is_offered_inside_a_note_or_a_sign_without_a_question(text):
    reading = read(text)
    asked = {fault.at for fault in reading.faults if not fault.literal}
    for node in reading.tree:
        if type(node).__name__ in ("Note", "Drawn", "Gap", "Hand") and node.start not in asked:
            assert not any(e.start < node.end and node.start < e.end for e in suggest(text))
