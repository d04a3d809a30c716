"""Searching against a plain scan of every entry: the scan is the outside check of this room."""

from __future__ import annotations

import re
from dataclasses import replace
from fnmatch import translate

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_entries import ARTISTS, KINDS, PLACES, WORDS, fields, invented, plain_words

from catalogue.errors import BadData
from catalogue.indexes.words import Entry, Query, Results, Words

WORKS = invented()
ENTRIES = [entry for _, entries in WORKS for entry in entries]
EVERYTHING = 10_000


@pytest.fixture(scope="module")
def words(tmp_path_factory):
    """An index made in one go, then written to again: it has deletions and several parts."""
    with Words(tmp_path_factory.mktemp("indexes")) as index:
        index.rebuild(WORKS[:60], 60)
        index.take_in([(document, entries[:1]) for document, entries in WORKS[50:]], 70)
        index.take_in(WORKS[50:], 75)
        yield index


def values(found: Results) -> set[str]:
    return {statement.value for hit in found.hits for statement in hit.statements}


def scan(*tests) -> set[str]:
    """Statements where each test holds in some field, and one in a field of its own."""
    found = set()
    for entry in ENTRIES:
        words = fields(entry)
        whole = entry.kind == "work"
        if all(any(map(test, words)) for test in tests) and (
            whole or any(test(field) for test in tests for field in words[:2])
        ):
            found.add(entry.value)
    return found


def holds(word: str):
    [plain] = plain_words(word)
    return lambda field: plain in field


def follows(phrase: str):
    wanted = plain_words(phrase)
    size = len(wanted)
    return lambda field: any(field[at : at + size] == wanted for at in range(len(field)))


def like(pattern: str):
    """Shell patterns as the standard library (fnmatch) reads them."""
    compiled = re.compile(translate(pattern))
    return lambda field: any(map(compiled.match, field))


def ask(words: Words, typed: str, **filters) -> set[str]:
    return values(words.search(Query(words=typed, limit=EVERYTHING, **filters)))


@pytest.mark.parametrize("word", sorted(set(WORDS)))
def test_a_word_finds_what_a_scan_finds(words, word):
    assert ask(words, word) == scan(holds(word)) != set()


@settings(max_examples=60, deadline=None)
# "sold 1899" asks for what was sold in that year, so figures stay out of this
@given(
    st.lists(
        st.sampled_from([each for each in WORDS if not each.isdigit()]), min_size=2, max_size=3
    )
)
def test_several_words_must_all_occur(words, typed):
    expected = scan(*map(holds, typed))
    found = words.search(Query(words=" ".join(typed), limit=EVERYTHING))
    if expected:
        assert values(found) == expected
    else:
        assert not found.hits or "different places" in " ".join(found.notes)


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_a_phrase_finds_what_a_scan_finds(words, data):
    entry = data.draw(st.sampled_from(ENTRIES))
    own = plain_words(entry.text)
    start = data.draw(st.integers(0, len(own) - 1))
    phrase = " ".join(own[start : start + data.draw(st.integers(2, 4))])
    turned = " ".join(reversed(phrase.split()))
    assert entry.value in ask(words, f'"{phrase}"')
    for asked in (phrase, turned):
        found, there = ask(words, f"“{asked}”"), scan(follows(asked))
        # "carver and gilder" is also "carver & gilder"; what is in one word is also asked for apart
        assert found >= there if "and" in asked.split() else found == there


@pytest.mark.parametrize(
    "pattern",
    [
        "harb*",
        "h?rb*r",
        "*our",
        "c*",
        "colour*",
        "*e*",
        "g?o*",
        "1?",
        "q*side",
        "*a*b*",
        "?",
        "1*9",
        "xyz*",
    ],
)
def test_a_pattern_finds_what_a_scan_finds(words, pattern):
    if pattern.strip("*?"):
        # a sign for one letter may stand for none at the end of a word
        also = [like(pattern), like(pattern.removesuffix("?"))]

        def fits(field):
            return any(test(field) for test in also)

        assert ask(words, pattern) == scan(fits)
    else:
        assert not ask(words, pattern)


def wholly_found(values: set[str]) -> set[str]:
    """These entries, of a work of which every one is among them the whole alone."""
    shown = set()
    for document in {entry.document for entry in ENTRIES}:
        own = [entry for entry in ENTRIES if entry.document == document]
        found = {entry.value for entry in own if entry.value in values}
        shown |= {own[0].value} if len(found) == len(own) else found
    return shown


@pytest.mark.parametrize("first", [None, 690_540, 691_980])
@pytest.mark.parametrize("last", [None, 691_980, 695_000])
@pytest.mark.parametrize("certainly", [False, True])
def test_dates_overlap_or_lie_within(words, first, last, certainly):
    def fits(entry: Entry) -> bool:
        if entry.earliest is None and entry.latest is None:
            return first is last is None
        begins = float("-inf") if entry.earliest is None else entry.earliest
        ends = float("inf") if entry.latest is None else entry.latest
        low = float("-inf") if first is None else first
        high = float("inf") if last is None else last
        return low <= begins and ends <= high if certainly else begins <= high and low <= ends

    asked = {"earliest": first, "latest": last, "certainly": certainly}
    expected = {entry.value for entry in ENTRIES if fits(entry)}
    if first is not None or last is not None:
        assert ask(words, "", **asked) == wholly_found(expected)
    assert ask(words, "harb*", **asked) == expected & ask(words, "harb*")


@pytest.mark.parametrize(
    ("first", "last", "may", "must"),
    [(9, 9, False, False), (9, 10, True, False), (10, 20, True, True), (11, 19, True, False),
     (20, 30, True, False), (21, 30, False, False), (None, 10, True, False),
     (20, None, True, False),
     (None, 9, False, False), (21, None, False, False), (None, 20, True, True)],
)  # fmt: skip
def test_both_ends_of_a_span_belong_to_it(tmp_path, first, last, may, must):
    entry = replace(ENTRIES[0], earliest=10, latest=20)
    with Words(tmp_path) as index:
        index.take_in([(entry.document, [entry])], 1)
        for certainly, expected in ((False, may), (True, must)):
            found = ask(index, "", earliest=first, latest=last, certainly=certainly)
            assert bool(found) == expected


@pytest.mark.parametrize("artist", ARTISTS)
@pytest.mark.parametrize("kind", [*KINDS, "label", "Inscription", "lab"])
def test_filters_narrow_what_is_found(words, artist, kind):
    wanted = set(re.split("[/-]", kind.lower()))
    expected = {
        entry.value
        for entry in ENTRIES
        if entry.artist == artist and wanted <= set(re.split("[/-]", entry.kind))
    }
    assert ask(words, "", artist=artist, kind=kind) == expected
    surname = artist.split()[-1].upper()
    assert ask(words, "", artist=surname, kind=kind) == expected
    assert ask(words, "", artist=artist[:3] + "*", kind=kind) == expected


@pytest.mark.parametrize("place", [*PLACES, "back", "lining"])
def test_a_place_is_found_by_its_words(words, place):
    expected = {e.value for e in ENTRIES if set(place.split()) <= set(e.place.split())}
    assert ask(words, "", place=place) == expected != set()


def test_pages_hold_every_work_once(words):
    whole = words.search(Query(words="of", limit=EVERYTHING))
    assert whole.total == len(whole.hits) > 20
    paged = []
    for page in range(1, 99):
        found = words.search(Query(words="of", limit=7, page=page))
        assert found.total == whole.total
        if not found.hits:
            break
        paged.extend(found.hits)
    assert tuple(paged) == whole.hits


def test_works_come_best_first_and_are_grouped(words):
    found = words.search(Query(words="harbour view", limit=EVERYTHING))
    scores = [hit.score for hit in found.hits]
    assert scores == sorted(scores, reverse=True)
    assert len({hit.document for hit in found.hits}) == len(found.hits)
    for hit in found.hits:
        inner = [statement.score for statement in hit.statements]
        assert inner == sorted(inner, reverse=True)
        assert inner[0] == hit.score


@settings(max_examples=200, deadline=None)
@given(st.text() | st.text('"“*?[](){}\\.-/:^~+ aäß1\ud800', max_size=30))
def test_no_text_is_a_wrong_question(words, typed):
    found = words.search(Query(words=typed, artist=typed[:5], kind=typed[:3]))
    assert isinstance(found, Results)
    assert isinstance(words.search(Query(words=typed)), Results)


def test_a_question_is_answered_however_long_or_odd(words):
    assert words.search(Query(words="harbour " * 100_000)).ignored
    assert words.search(Query(words=" ".join(map(str, range(100))))).ignored
    assert isinstance(words.search(Query(words="*a" * 500)), Results)
    assert words.search(Query()).notes
    assert words.search(Query(words="—")).notes


def test_a_question_that_cannot_be_meant_is_refused():
    for asked in ({"limit": 0}, {"page": 0}, {"earliest": 2, "latest": 1}):
        with pytest.raises(BadData):
            Query(words="harbour", **asked)
