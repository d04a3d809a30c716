"""Prices in a dealer's letters.

The key BLACKHORSE with the repeater X and its codes are the check values of the sheet of datable
evidence; CUMBERLAND and "UMR/-" are the example of the trade sheet, C11. Both keys are invented.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue import places
from catalogue.errors import BadSetting
from catalogue.measure import PriceKey, decode, why_no_code

KEY = PriceKey("BLACKHORSE", repeaters="X")


@pytest.mark.parametrize(
    ("code", "value"),
    [("BLKE", 1250), ("KX", 55), ("BEX", 100), ("LXEX", 2200), ("SOR", 978), ("AXX", 333)],
)
def test_the_check_values_of_the_sheet(code, value):
    assert [reading.number for reading in decode(code, KEY)] == [value]
    assert [reading.number for reading in decode(code.lower(), KEY)] == [value]


def test_the_example_of_the_trade_sheet():
    # C U M B E R L A N D is 1 to 9 and 0: "UMR/-" is 2, 3, 6
    (reading,) = decode("UMR/-", PriceKey("cumber-land"))
    assert (reading.figures, reading.number) == ("236/-", 236)


def test_a_key_may_begin_at_nought():
    assert (
        decode("BLE", PriceKey("BLACKHORSE", from_nought=True))[0].number == 19
    )  # figures 019


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("XK", "a letter that repeats cannot come first"), ("BLZ", "Z is not in the key"),
        ("B7", "7 is not in the key"), ("/-", "there is no letter"), ("", "there is no letter"),
    ],
)  # fmt: skip
def test_what_cannot_be_a_code_is_refused_in_words(code, why):
    assert decode(code, KEY) == ()
    assert why_no_code(code, KEY).startswith(why)
    assert why_no_code("BLKE", KEY) is None


@pytest.mark.parametrize(
    ("word", "repeaters", "why"),
    [
        ("LITTLE", "", "a letter of the key comes twice"), ("BLACKHORS", "", "a key has ten letters"),
        ("BLACKHORSEY", "", "a key has ten letters"), ("BLACKHORS1", "", "letters alone"), ("", "", "a key has ten"),
        ("BLACKHORSE", "B", "stands for a figure already"),
    ],
)  # fmt: skip
def test_a_bad_key_is_refused_in_words_that_do_not_repeat_it(word, repeaters, why):
    with pytest.raises(BadSetting) as refused:
        PriceKey(word, repeaters)
    assert why in str(refused.value)
    assert not word or word not in str(refused.value)


def test_a_letter_that_was_not_read_may_be_any_figure():
    assert [each.figures for each in decode("B?", KEY)] == [f"1{each}" for each in "1234567890"]
    assert [each.figures for each in decode("?X", KEY)] == [each * 2 for each in "1234567890"]
    assert len(decode("B??", KEY)) == 100


def test_a_doubtful_letter_is_read_as_it_seems_first():
    numbers = [each.number for each in decode("BL_", KEY)]
    assert numbers[0] == 12
    assert sorted(numbers) == list(range(10, 20))


def test_a_doubtful_repeater_is_read_as_such_first():
    numbers = [each.number for each in decode("KX_", KEY)]
    assert numbers[0] == 55
    assert sorted(numbers) == list(range(50, 60))


def test_lost_letters_leave_a_gap_and_no_number():
    assert [(each.figures, each.number) for each in decode("BL…", KEY)] == [("12…", None)]
    assert [each.figures for each in decode("BL…X", KEY)] == ["12…?"]
    assert [each.figures for each in decode("B????E", KEY)] == ["1????0"]


def test_a_code_in_two_parts_has_no_single_number():
    assert [(each.figures, each.number) for each in decode("KX/H", KEY)] == [("55/6", None)]


def test_the_key_is_in_no_representation():
    assert "BLACK" not in repr(KEY)
    assert "X" not in repr(KEY)


def test_no_key_word_is_among_the_words_of_the_house():
    kept = "".join(path.read_text("utf-8") for path in places.folder("vocab").rglob("*.toml"))
    assert "price_key" not in kept
    assert "BLACKHORSE" not in kept


@given(st.permutations("ABCDEFGHIJ"), st.integers(1, 999_999), st.booleans(), st.booleans())
def test_every_number_comes_back_from_its_code(letters, number, from_nought, repeated):
    key = PriceKey("".join(letters), "X", from_nought)
    order = "0123456789" if from_nought else "1234567890"
    code = ""
    for at, figure in enumerate(str(number)):
        again = repeated and at and str(number)[at - 1] == figure
        code += "X" if again else letters[order.index(figure)]
    assert [reading.number for reading in decode(code, key)] == [number]


@given(st.text(alphabet="BLACKHORSEX?_…+/- z", max_size=8))
def test_no_text_at_all_raises_and_every_reading_is_one_of_the_letters(text):
    readings = decode(text, KEY)
    assert (not readings) == (why_no_code(text, KEY) is not None)
    assert len(readings) <= 1000
    assert len(set(readings)) == len(readings)
