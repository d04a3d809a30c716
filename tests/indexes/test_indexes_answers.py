"""What an answer says: the reason in plain words, the marks, and what to try instead."""

from __future__ import annotations

import re
from dataclasses import replace
from html import escape

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.indexes.answer import DAMAGED, OTHER_WORDS
from catalogue.indexes.folding import tokens
from catalogue.indexes.marking import Sought, marked
from catalogue.indexes.tree import Hit, Terms
from catalogue.indexes.words import Entry, Query, Words
from catalogue.reading import read

WHOLE = Entry(
    document="work/aa",
    number="2031-007",
    title="Evening on the quay",
    value="aa",
    where="work",
    kind="work",
    text="Evening on the quay",
    words="Ilse Brömmel",
    patterns=(),
    artist="Ilse Brömmel",
    place="",
    earliest=None,
    latest=None,
)
LABEL = replace(
    WHOLE,
    value="l1",
    where="I1 label, back, stretcher",
    kind="inscription/dealer-label",
    text="A. J. Tarn, carver & gilder, No. 1.402",
    words="Tarn junior",
    place="back stretcher",
    patterns=("w.{2}dow",),
)
TITLE = replace(WHOLE, value="t1", where="title", kind="title", words="")
OTHER = replace(
    WHOLE,
    document="work/bb",
    number="2031-010",
    value="bb",
    title="Two boats",
    text="Two boats",
)


@pytest.fixture(scope="module")
def words(tmp_path_factory):
    with Words(tmp_path_factory.mktemp("indexes")) as index:
        index.rebuild([("work/aa", [WHOLE, TITLE, LABEL]), ("work/bb", [OTHER])], 2)
        yield index


def reasons(words, typed, **filters):
    found = words.search(Query(words=typed, **filters))
    return {each.value: each.why for hit in found.hits for each in hit.statements}


@pytest.mark.parametrize(
    ("typed", "value", "why"),
    [
        ("gilder", "l1", "word in the inscription"),
        ("gild*", "l1", "word in the inscription"),
        ("junior", "l1", OTHER_WORDS),
        ("window", "l1", DAMAGED),
        ('"carver gilder"', "l1", "phrase: in the inscription"),
        ("A.J. 1402", "l1", "phrase: in the inscription; word in the inscription"),
        ("gilder broemmel", "l1", "word in the inscription; artist's name"),
        ("gilder stretcher quay", "l1", "word in the inscription; place; title"),
        ("evening", "t1", "title"),
        ("Bröm*", "aa", "artist's name"),
        ("2031-007", "aa", "number"),
        ("boats", "bb", "word in the record"),
    ],
)
def test_the_reason_is_said(words, typed, value, why):
    assert reasons(words, typed)[value] == why


def test_an_artist_alone_does_not_bring_up_every_label(words):
    assert set(reasons(words, "brömmel")) == {"aa", "bb"}


def test_filters_are_reasons_too(words):
    assert reasons(words, "", kind="label", place="back") == {"l1": "kind; place"}


def test_words_in_different_places_are_the_second_choice(words):
    found = words.search(Query(words="junior quayside"))
    assert not found.hits
    # each in one statement of the work, none in both
    third = replace(TITLE, value="t2", text="Quayside")
    found = words.search(
        Query(words="junior quayside"), [("work/aa", [WHOLE, TITLE, LABEL, third])]
    )
    assert [each.value for each in found.hits[0].statements] == ["t2", "l1"]
    assert "different places" in found.notes[0]


@pytest.mark.parametrize("typed", ["windw", "wi", "dow", "w", "windows", "w1ndow!x"])
def test_a_damaged_word_is_only_what_fits_it(words, typed):
    assert DAMAGED not in " ".join(reasons(words, typed).values())


@pytest.mark.parametrize(
    ("markup", "typed", "fits"),
    [("T[..]nfield", "Tarnfield", True), ("T[..]nfield", "Tanfield", False),
     ("Har[---]", "Harcastle", True), ("H[---]", "Harcastle", False),
     ("[....]", "Tarn", False), ("1[9]1[2]", "1912", True)],
)  # fmt: skip
def test_damaged_words_come_from_the_reading(tmp_path, markup, typed, fits):
    reading = read(markup)
    patterns = tuple(word.pattern for word in reading.words() if word.pattern)
    entry = replace(LABEL, text=reading.plain(), words="", patterns=patterns)
    with Words(tmp_path) as index:
        index.take_in([("work/aa", [entry])], 1)
        assert bool(index.search(Query(words=typed)).hits) == fits


@pytest.mark.parametrize(
    "pattern",
    ["(", "[", "", ".*", "a.*", r"\w\w.*", "x" * 10_000, "\ud800ab", "ab" + "a.*" * 40],
)
def test_a_pattern_that_says_too_little_finds_nothing(tmp_path, pattern):
    with Words(tmp_path) as index:
        index.take_in([("work/aa", [replace(LABEL, patterns=(pattern, "l.{2}den"))])], 1)
        assert set(reasons(index, "linden")) == {"l1"}
        assert not reasons(index, "a" * 39 + "b")
        assert not reasons(index, "absent")


def test_what_a_newer_save_took_away_is_found_no_more(words):
    newer = [("work/aa", [WHOLE, replace(LABEL, text="gone", words="", patterns=())])]
    for typed in ("window", "junior", "gild*", '"carver gilder"', "evening quay"):
        assert words.search(Query(words=typed)).hits
        found = words.search(Query(words=typed), newer)
        assert not {each.value for hit in found.hits for each in hit.statements} - {"aa"}
    assert not words.search(Query(words="evening"), [("work/aa", ())]).hits
    assert words.search(Query(kind="label"), [("work/aa", [WHOLE])]).total == 0


def test_the_undated_are_counted_not_shown(words):
    found = words.search(Query(words="quay", earliest=690_000, latest=691_000))
    assert (found.hits, found.undated) == ((), 1)


def test_a_slip_of_the_pen_is_answered_with_the_nearest_words(words):
    assert "gilder" in words.search(Query(words="gildr")).suggestions
    found = words.search(Query(words="carver gildr"))
    assert found.suggestions == ("carver gilder",)
    assert words.search(Query(words=found.suggestions[0])).hits
    assert not words.search(Query(words="gilder")).suggestions


def test_the_beginning_of_a_word_is_answered_with_how_to_ask_for_it(words):
    """All that is legible of a torn label may be its first letters."""
    found = words.search(Query(words="gild"))
    assert found.suggestions[0] == "gild*"
    assert words.search(Query(words="gild*")).hits
    assert "gi*" not in words.search(Query(words="gi")).suggestions


def test_works_of_equal_strength_stand_by_number(words):
    assert [hit.number for hit in words.search(Query(artist="Ilse")).hits] == [
        "2031-007",
        "2031-010",
    ]


def test_what_is_private_says_so(tmp_path):
    with Words(tmp_path) as index:
        index.take_in([("work/aa", [replace(LABEL, private=True)])], 1)
        [hit] = index.search(Query(words="gilder")).hits
        assert hit.statements[0].private


@given(st.text(max_size=60), st.text(max_size=10))
def test_whatever_a_label_says_stays_text(text, typed):
    words = [form for token in tokens(f"{typed} {text[:3]}") for form in token.forms]
    looked_for = [Sought((Terms(each, (Hit("text", each, 1.0),)),)) for each in words]
    html = marked(text, looked_for)
    bare = re.sub("</?mark>", "", html)
    assert bare == escape(text)
    assert "<" not in bare
    assert html.count("<mark>") == html.count("</mark>")


@pytest.mark.parametrize(
    ("text", "typed", "html"),
    [
        ("<script>Tarn</script>", "tarn", "&lt;script&gt;<mark>Tarn</mark>&lt;/script&gt;"),
        ("Tarn <mark>", "mark", "Tarn &lt;<mark>mark</mark>&gt;"),
        ("carver & gilder", '"carver gilder"', "<mark>carver &amp; gilder</mark>"),
        ("gilder, gilders", "gild*", "<mark>gilder</mark>, <mark>gilders</mark>"),
        ("Brömmel", "broemmel", "<mark>Brömmel</mark>"),
        ("No. 1.402", "1402", "No. <mark>1.402</mark>"),
        ("a b a c", '"a c"', "a b <mark>a c</mark>"),
        ("a a a", '"a a"', "<mark>a a a</mark>"),
    ],
)
def test_what_was_sought_is_marked(tmp_path, text, typed, html):
    with Words(tmp_path) as index:
        index.take_in([("work/aa", [replace(LABEL, text=text, words="", patterns=())])], 1)
        [hit] = index.search(Query(words=typed)).hits
        assert hit.statements[0].html == html


def test_what_may_only_have_read_so_is_not_refused(words):
    assert "l1" in reasons(words, "gilder -window")
    assert "l1" not in reasons(words, "gilder -carver")
