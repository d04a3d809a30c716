"""Malformed labels and what is said about each: the table is the help page too."""

import pytest

from catalogue.errors import MarkupError
from catalogue.reading import read, write
from catalogue.reading.faults import MOST_LISTED
from catalogue.reading.grammar import DEEPEST
from catalogue.reading.reading import MOST_BYTES

_TABLE = [
    # typed, at, sign, what is said
    ("Sm[ith", 2, "[", "this '[' has no partner: kept as a letter"),
    ("Smi]th", 3, "]", "this ']' closes nothing: kept as a letter"),
    ("No. [[412", 4, "[[", "this '[[' has no partner: kept as a letter"),
    ("a > b", 2, ">", "this '>' closes nothing: kept as a letter"),
    ("17}", 2, "}", "this '}' closes nothing: kept as a letter"),
    ("<Gallery", 0, "<", "this '<' has no partner: kept as a letter"),
    ("{17", 0, "{", "this '{' has no partner: kept as a letter"),
    ("Gal.(erie", 4, "(", "this '(' has no partner: kept as a letter"),
    ("Stk((Stück)", 3, "((", "this '((' has no partner: kept as a letter"),
    ("\\sold", 0, "\\", "this '\\' has no partner: kept as a letter"),
    ("M^rs", 1, "^", "this '^' has no partner: kept as a letter"),
    ("*Low Tide", 0, "*", "this '*' has no partner: kept as a letter"),
    ("~fr:huile", 0, "~", "this '~' has no partner: kept as a letter"),
    ("[open\nshut", 0, "[", "this '[' has no partner: kept as a letter"),
    ("Lot []", 4, "[]", "there is nothing inside '[]': kept as letters"),
    ("Lot [?]", 4, "[?]",
     "'[?]' says neither how much is missing nor what stood there: kept as letters"),
    ("<=Galery>", 0, "<=Galery>", "one half of '<=Galery>' is empty: kept as letters"),
    ("<Gallery=>", 0, "<Gallery=>", "one half of '<Gallery=>' is empty: kept as letters"),
    ("[.7-5]", 0, "[.7-5]", "the count in '[.7-5]' runs backwards: kept as letters"),
    ("Lot 3 /* ask", 6, "/*", "this note is not closed: kept as letters"),
    ("@x Lot 3", 0, "@x", "'@x' is no technique: kept as letters"),
    ("Lot [!]", 4, "[!]", "no word stands directly before '[!]': kept as letters"),
    ("Low (tide)(?)", 10, "(?)", "no word stands directly before '(?)': kept as letters"),
    ("[Low tide](s)", 10, "(", "no word stands directly before '(': kept as letters"),
    ("[sic]", 0, "[sic]", "'[sic]' is read as lost text that you restored"),
    ("[illegible]", 0, "[illegible]", "'[illegible]' is read as lost text that you restored"),
    ("[--- torn]", 0, "[--- torn]", "'[--- torn]' is read as restored text, not as a gap"),
    ("B+W", 1, "+", "this '+' is read as one illegible letter"),
    ("+49 30 123", 0, "+", "this '+' is read as one illegible letter"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "at", "sign", "message"), _TABLE)
def test_each_fault_says_where_and_what(typed, at, sign, message):
    (fault,) = read(typed).faults
    assert (fault.at, fault.sign, fault.message) == (at, sign, message)
    assert fault.remedy
    assert not any(blank in fault.remedy for blank in ("{sign}", "{partner}", "{escaped}"))


@pytest.mark.parametrize(("typed", "at", "sign", "message"), _TABLE)
def test_a_wrong_sign_stays_a_letter(typed, at, sign, message):
    reading = read(typed)
    assert write(reading.tree) == typed
    if reading.faults[0].literal:
        assert sign in reading.diplomatic()
        assert sign in reading.seen()


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
