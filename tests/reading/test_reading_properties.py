"""What must hold for every label, well typed or not."""

import os
import sys
import unicodedata
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.reading import compare, read, without_notes, write
from catalogue.reading.nodes import Branch, walk
from catalogue.reading.scan import _DOT, _DOTTED

# The usual run, or as many as the night has time for (DEVELOPERS.md, "Long runs").
CASES = int(os.environ.get("DORSE_CASES", "500"))

# on the object: Latin letters; from the editor: Cyrillic; remarks: Greek
latin = st.text("abcdefgKLM", min_size=1, max_size=6)
editors = st.text("бвгдж", min_size=1, max_size=4)
remarks = st.text("αβγδ ", min_size=1, max_size=6).filter(str.strip)
_BITS = [*"[](){}<>+_|\\/=#@~*^?!.:-…\n\r\u0323\u0301 ab1",
    "[[", "]]", "<<", ">>", "((", "))", "{{", "}}", "/*", "*/", "[...]", "[---]", "(?)", "[!]",
    "(---)", "(vac.)", "(blank)", "~fr:", "\\margin:", "@h ", "@p2(ink) ", "[c.5]", "+(2-3)",
    "[2 lines]", "[[erased:", "||", "=|", "-|", "שלום", "\u202e", "e\u0301", "@r90 ", "@r400 ",
    "&((", '"((', " ?medium]", " ?low)", "a(", "?]", "\r\n", "\u0323", "\N{NO-BREAK SPACE}", "\x85",
]  # fmt: skip
signs = st.sampled_from(_BITS)
soup = st.lists(signs, max_size=40).map("".join)


def _joined(parts):
    return tuple("".join(part) for part in zip(*parts, strict=True)) or ("", "")


def _labels(inner):
    """Well-typed markup with the Latin letters that the eye must see, in order."""
    several = st.lists(inner, min_size=1, max_size=4).map(_joined)
    # the x and the space keep two signs from becoming a third, as "{" and "{" would
    around = st.sampled_from(
        ["[[x ]]", "{x }", "*x *", "<<x >>", "[[erased:x ]]", "~fr:x ~", "\\x /"]
    ).map(str.split)
    return st.one_of(
        # a language inside a language is no label: its "~" would close the first
        st.tuples(several, around)
        .filter(lambda t: "~" not in t[0][0] or "~" not in t[1])
        .map(
            lambda t: (t[1][0] + t[0][0] + t[1][1] + " ", "x" + t[0][1])
        ),
        st.tuples(editors, several).map(lambda t: (f"<{t[0]}={t[1][0]}>", t[1][1])),
        st.tuples(latin, editors).map(lambda t: (f"{t[0]}({t[1]})", t[0])),
        st.tuples(latin, editors).map(lambda t: (f"{t[0]}(({t[1]}))", t[0])),
        editors.map(lambda text: (f"[{text}]", "")),
        editors.map(lambda text: (f"<{text}?>", "")),
    )  # fmt: skip


label_parts = st.recursive(
    st.one_of(
        latin.map(lambda text: (f" {text} ", text)),
        latin.map(lambda text: (f" {text}_", text)),
        remarks.map(lambda text: (f"/*{text}*/", "")),
        remarks.map(lambda text: (f"{{{{{text}}}}}", "")),
        st.sampled_from(["[...]", "[---]", "+(c.5)", "(vac.3)", "[.2-4 :torn]", " | "]).map(
            lambda sign: (sign, "")
        ),
    ),
    _labels,
    max_leaves=12,
)
labels = st.lists(label_parts, max_size=6).map(_joined)


def _letters(text):
    return [letter for letter in text if letter.isalpha()]


# whatever a file may hold when its bytes are taken for text
bytes_as_text = st.binary(max_size=200).flatmap(
    lambda raw: st.sampled_from(
        [raw.decode("latin-1"), raw.decode("utf-8", "replace"),
         raw.decode("utf-8", "surrogateescape"), raw.decode("cp1252", "replace")]
    )
)  # fmt: skip
anything = st.one_of(labels.map(lambda told: told[0]), soup, st.text(), bytes_as_text)


@settings(max_examples=CASES, deadline=None)
@given(anything)
def test_a_label_is_written_as_it_was_typed(markup):
    reading = read(markup)
    assert write(reading.tree) == markup
    at = 0
    for node in reading.tree:
        assert (node.start, node.end) == (at, at + len(write([node])))
        at = node.end
    for node in walk(reading.tree):
        assert markup[node.start : node.end] == write([node])
        if isinstance(node, Branch):
            assert all(node.start <= c.start <= c.end <= node.end for c in node.children)


@settings(max_examples=300, deadline=None)
@given(labels)
def test_seen_is_all_the_ink_and_nothing_else(told):
    markup, ink = told
    seen = read(markup).seen()
    assert "".join(_letters(seen)) == ink


@settings(max_examples=300, deadline=None)
@given(st.one_of(soup, st.text(), labels.map(lambda told: told[0])))
def test_every_letter_seen_was_typed_in_that_order(markup):
    typed = iter(unicodedata.normalize("NFD", markup))
    seen = _letters(unicodedata.normalize("NFD", read(markup).seen()))
    assert all(letter in typed for letter in seen)


@settings(max_examples=max(300, CASES // 10), deadline=None)
@given(anything)
def test_every_rendering_of_anything_is_well_formed(markup):
    reading = read(markup)
    ET.fromstring(reading.html())
    ET.fromstring(f'<ab xmlns="http://www.tei-c.org/ns/1.0">{reading.tei()}</ab>')
    assert len(reading.seen()) == len(reading.seen_at())
    assert unicodedata.is_normalized("NFC", reading.seen())
    assert unicodedata.is_normalized("NFC", reading.plain())
    assert list(reading.faults) == sorted(reading.faults, key=lambda fault: fault.at)
    assert all(markup[f.at :].startswith(f.sign[:1]) for f in reading.faults)
    assert all(fault.shown(markup).count("\n") == 2 for fault in reading.faults)
    assert all(word.text.strip() for word in reading.words())


@settings(max_examples=200, deadline=None)
@given(soup, soup)
def test_two_readings_differ_by_no_more_than_both_and_agree_with_themselves(one, two):
    first, second = read(one), read(two)
    assert compare(first, first).error_rate == 0
    assert not compare(first, first).differences
    there, back = compare(first, second), compare(second, first)
    assert there.edits == back.edits
    assert there.edits <= max(len(first.seen()), len(second.seen()))
    assert bool(there.edits) == bool(there.differences)


@settings(max_examples=300, deadline=None)
@given(soup)
def test_no_note_survives_being_taken_out(markup):
    assert not read(without_notes(markup)).notes()


@given(st.lists(remarks, min_size=1, max_size=3), latin)
def test_the_rest_of_the_label_stays(notes, text):
    markup = text + "".join(f" /*{note}*/ " for note in notes) + text
    told = without_notes(markup)
    assert told.replace(" ", "") == text + text
    assert read(told).plain() == read(markup).plain()


@pytest.mark.parametrize(
    ("markup", "left"),
    [
        ("Lot 12 /* owner: */ sold", "Lot 12  sold"),
        (
            "Lot /* over\ntwo lines */ 12",
            "Lot  12",
        ),  # literal for the reader, gone all the same
        ("Lot /* open\n12", "Lot \n12"),
        ("Lot //* one */* two */ 12", "Lot  12"),  # one note laid bare by another
        ("Lot \\/* no note", "Lot \\/* no note"),
        ("[/* between */[12]]", "[ [12]]"),  # no new sign is made
        ("{{crown /* whose? */}}", "{{crown }}"),
    ],
)
def test_notes_that_are_hard_to_take_out(markup, left):
    assert without_notes(markup) == left


@pytest.mark.parametrize(
    "opening",
    ["[", "<", "{", "a(", "[[", "((", "\\a", "*a", "^a", "/*", "&((", "<a=", "[a", "[a]", "a(b)",
     "a[!]", "/**/[!]", "a(?)", "@h ", "@r9 ", "a_", "+a", "]", ")", "[ ?low]", '"((a))', "~fr:a~"],
)  # fmt: skip
def test_a_hundred_thousand_brackets_are_read(opening):
    markup = (opening * 100_000)[:100_000]
    reading = read(markup)
    assert write(reading.tree) == markup


@pytest.mark.parametrize(("opening", "closing"), ["[]", "<>", "{}", ("a(b", ")"), ("\\a", "/")])
def test_very_deep_signs_are_read_and_rendered(opening, closing):
    markup = opening * 5_000 + "x" + closing * 5_000
    reading = read(markup)
    assert write(reading.tree) == markup
    assert reading.html()
    assert reading.tei()
    assert reading.diplomatic()
    assert reading.outline()


@pytest.mark.parametrize("typed", ["Low\r\nTide", "Low\rTide", "Low\nTide", "Low|Tide"])
def test_every_line_end_is_one_line_end(typed):
    assert read(typed).diplomatic() == "Low\nTide"
    assert write(read(typed).tree) == typed


@pytest.mark.parametrize("around", ["", "[", "a_", "@h ", "<a="])
def test_all_of_unicode_is_read_and_rendered(around):
    # every code point that a string of Python can hold, unpaired surrogates too
    for first in range(0, sys.maxunicode + 1, 0x2000):
        markup = around + "".join(map(chr, range(first, first + 0x2000)))
        reading = read(markup)
        assert write(reading.tree) == markup
        assert reading.seen() is not None
        assert reading.words() is not None
        assert len(reading.html()) > len(markup) // 4
        assert len(reading.seen_at()) == len(reading.seen())


@pytest.mark.parametrize(
    "mark", ["\u0301", "\u0323", "\u20dd", "\ufe0f", "\u200d", "\u202e", "\u2067"]
)
def test_a_tower_of_marks_stands_on_its_letter(mark):
    markup = "a" + mark * 20_000 + "_ [" + mark * 3 + "] b" + mark
    reading = read(markup)
    assert write(reading.tree) == markup
    assert len(reading.seen_at()) == len(reading.seen())
    assert reading.html()
    assert reading.tei()
    assert reading.form().printed is not None


def test_right_to_left_text_keeps_its_order():
    reading = read("גלריה [...] 12")
    assert reading.seen() == "גלריה … 12"
    assert 'dir="auto"' in reading.html()


def test_every_letter_with_a_dot_below_is_known():
    # Unicode Character Database as shipped with Python: canonical decompositions with U+0323
    dotted = {
        chr(number)
        for number in range(0x110000)
        if chr(number).isalpha() and _DOT in unicodedata.normalize("NFD", chr(number))
    }
    assert dotted == set(_DOTTED)
