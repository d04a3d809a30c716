"""Every value and every field has a name in vocab/words.toml, and no name there is for nothing."""

from __future__ import annotations

import tomllib
from dataclasses import fields

import pytest

from catalogue.measure import read_date
from catalogue.places import folder
from catalogue.record import VALUES
from catalogue.surface import Box, Shape
from catalogue.wording import field_word, has_word, kind_word, said

WORDS = tomllib.loads((folder("vocab") / "words.toml").read_text("utf-8"))
FIELDS = [(kind, each.name) for kind in VALUES for each in fields(kind)]
BESIDE = {"every", "acts"}


@pytest.mark.parametrize(
    ("kind", "field"), FIELDS, ids=lambda each: getattr(each, "__name__", each)
)
def test_every_field_of_the_record_has_a_label(kind, field):
    assert has_word(kind.__name__, field)
    word = field_word(kind.__name__, field)
    assert word.label
    assert "_" not in word.label
    for unit in ("mm", "mm2", "c", "percent", "s", "mbar", "kg", "ms_cm"):
        if field.endswith(f"_{unit}"):
            assert word.unit, "a measure says its unit"


@pytest.mark.parametrize("kind", VALUES, ids=lambda kind: kind.__name__)
def test_every_kind_of_value_has_a_label_for_one_and_for_many(kind):
    assert kind.__name__ in WORDS
    assert kind_word(kind.__name__).label
    assert kind_word(kind.__name__).many


@pytest.mark.parametrize("kind", sorted(set(WORDS) - BESIDE))
def test_no_word_is_for_a_field_that_is_not_there(kind):
    here = {each.__name__: {field.name for field in fields(each)} for each in VALUES}
    assert set(WORDS[kind]["fields"]) <= here[kind]


def test_no_common_word_is_unused():
    names = {name for _, name in FIELDS}
    assert set(WORDS["every"]) <= names


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (None, "", ""),
        ((), "", ""),
        (True, "", "yes"),
        (61.50, "mm", "61.5 mm"),
        (20, "°C", "20 °C"),
        (180, "°", "180°"),
        ("material/pine", "", "pine"),
        ("material/no-such", "", "material/no-such"),
        (read_date("before 1907"), "", "before 1907"),
        (Box(10, 5, 62, 38.5), "", "62 × 38.5 mm, 10 mm from the left and 5 mm from the top"),
        (Shape("line", ((1, 2), (3, 4.5))), "", "line at 1 2, 3 4.5 mm"),
        (((0, 0), (9, 0), (4, 5)), "", "3 corners: 0 0, 9 0, 4 5"),
    ],
)
def test_a_value_is_said_as_one_would_say_it(value, unit, words):
    assert said(value, unit=unit) == words
