"""Malformed labels and what is said about each: the table is the help page too."""

import pytest

from catalogue.errors import MarkupError
from catalogue.reading import fault_examples, read, write
from catalogue.reading.faults import MOST_LISTED
from catalogue.reading.grammar import DEEPEST
from catalogue.reading.reading import MOST_BYTES
from catalogue.reading.sentences import fault_keys, fault_sentence

examples = pytest.mark.parametrize("told", fault_examples(), ids=lambda told: told.typed[:30])


@examples
def test_each_fault_says_where_and_what_and_what_to_do(told):
    reading = read(told.typed)
    assert told.fault.shown(told.typed) == told.says
    for fault in reading.faults:
        assert told.typed.startswith(fault.sign, fault.at)
        assert fault.remedy
        assert not any(blank in fault.remedy for blank in ("{sign}", "{partner}", "{escaped}"))


@examples
def test_a_wrong_sign_stays_a_letter_and_nothing_is_lost(told):
    reading = read(told.typed)
    assert write(reading.tree) == told.typed
    if told.fault.literal:
        assert told.fault.sign in reading.diplomatic()
        assert told.fault.sign in reading.seen()


@examples
def test_what_the_table_calls_better_has_no_fault(told):
    assert told.better
    for typed in told.better:
        assert not read(typed).faults
        assert read(typed).tree != read(told.typed).tree


def test_every_fault_that_there_is_has_an_example():
    # the last one is said about a thousand others: a test of its own is below
    assert {told.key for told in fault_examples()} == set(fault_keys()) - {"more"}
    for told in fault_examples():
        sentence = fault_sentence(told.key)
        sign = told.fault.sign
        assert told.fault.message == sentence.message.format(sign=sign)


def test_the_caret_stands_under_the_sign_on_its_own_line():
    label = "Low Tide\r\n一e\u0301\t[x\nend"
    assert read(label).faults[0].shown(label) == (
        "this '[' has no partner: kept as a letter\n  一e\u0301\t[x\n     \t^"
    )


def test_a_long_line_is_cut_around_the_sign():
    label = "a" * 500 + "[" + "b" * 500
    shown = read(label).faults[0].shown(label).splitlines()
    assert shown[1].index("[") == shown[2].index("^")
    assert max(map(len, shown)) < 130


def test_signs_that_cross_are_told_apart():
    reading = read("[a {b] c}")
    assert [(fault.at, fault.sign) for fault in reading.faults] == [(3, "{"), (8, "}")]
    assert reading.plain() == "a {b c}"


def test_sixty_four_levels_are_signs_and_the_next_is_a_letter():
    def deep(levels):
        return "{y" * levels + "}" * levels

    assert not read(deep(DEEPEST)).faults
    (fault,) = read("[z" + deep(DEEPEST) + "]").faults
    assert (fault.at, fault.sign) == (2 * DEEPEST, "{")
    assert "64" in fault.message


def test_nobody_has_to_read_a_hundred_thousand_faults():
    markup = "[a" * 50_000
    faults = read(markup).faults
    assert len(faults) == MOST_LISTED + 1
    assert sum(fault.message.startswith("49,000 more") for fault in faults) == 1


@pytest.mark.parametrize("no_label", [None, 12, b"Lot 12", ["Lot"]])
def test_what_is_no_text_is_no_label(no_label):
    with pytest.raises(MarkupError, match="a label is text"):
        read(no_label)


def test_a_megabyte_is_the_most():
    assert read("é" * (MOST_BYTES // 2)).seen()
    with pytest.raises(MarkupError, match="1,000,002 bytes"):
        read("é" * (MOST_BYTES // 2 + 1))
