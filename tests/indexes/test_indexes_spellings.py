"""Words written in one or apart, and words with several spellings: found both ways, alone and in a row.

Which spellings are the same word is common practice, no source.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from catalogue.indexes.entry import Entry
from catalogue.indexes.folding import tokens
from catalogue.indexes.wholes import all_words
from catalogue.indexes.words import Query, Words

SAME = [
    ("H.M.S. Victory", "HMS Victory", "H M S Victory", "H. M. S. Victory"),
    ("London S.W.7", "London SW7", "London SW 7", "London S.W. 7"),
    ("MacBride sold", "McBride sold", "M'Bride sold", "Mac Bride sold"),
    ("St. Ives", "Saint Ives", "Sankt Ives"),
    ("Carver & Co", "Carver and Company"),
    ("Fenwick-Dray gallery", "Fenwickdray gallery"),
    ("re-lined 1899", "relined 1899"),
    ("Sea/Wall view", "Seawall view"),
    ("No 12", "N° 12", "Nr. 12", "№ 12"),
    ("12 gns", "12gns"),
    ("har-\nbour view", "harbour view"),
    ("the Houſe", "the House"),
    ("a ﬁne ﬀord", "a fine fford"),
    ("O'Hara", "O’Hara", "Ohara"),
    ("Frith Bros", "Frith Brothers"),
    ("A. J. Penhale", "AJ Penhale"),
]
OTHER = [
    ("126", "12/6"),
    ("w7", "S.W.7"),
    ("1234", "12.34"),
    ("hmsv", "H.M.S. Victory"),
    ('"hms gallery"', "H.M.S. Victory"),
    ("picturesab", "pictures. A. B."),
    ('"fenwickdray 1899"', "Fenwick-Dray gallery 1899"),
]
PARTS = [
    ("hms", "H.M.S. Victory"),
    ("penhale", "A. J. Penhale"),
    ("a", "A. J. Penhale"),
    ('"j penhale"', "A. J. Penhale"),
    ("sw 7", "S.W.7"),
    ("fenwick", "Fenwick-Dray gallery"),
    ('"dray gallery"', "Fenwick-Dray gallery"),
    ('"fenwick dray gallery"', "Fenwick-Dray gallery"),
    ("carver and co", "Carver & Co"),
    ("12", "£12"),
    ("£12", "12 gns"),
    ("har", "har-\nbour view"),
    ("bour", "har-\nbour view"),
    ("12 guineas", "12gns"),
    ("hms near/1 victory", "HMS Victory"),
]


def _entry(number: int, text: str) -> Entry:
    return Entry(document=f"work/{number}", number=str(number), title="", value=f"v{number}",
                 where="label", kind="inscription/dealer-label", text=text, words="", patterns=(),
                 artist="", place="", earliest=None, latest=None, seen=text)  # fmt: skip


TEXTS = list(
    dict.fromkeys(
        [*(text for row in SAME for text in row), *(text for _, text in (*OTHER, *PARTS))]
    )
)


@pytest.fixture(scope="module", params=["usual", "large"])
def index(request, tmp_path_factory):
    made = Words
    if request.param == "large":
        pytest.importorskip("tantivy")
        from catalogue.indexes.large.words import LargeWords

        made = LargeWords
    with made(tmp_path_factory.mktemp(request.param)) as opened:
        opened.rebuild([(f"work/{at}", [_entry(at, text)]) for at, text in enumerate(TEXTS)], 1)
        yield opened


def found(index, typed: str) -> dict[str, str]:
    hits = index.search(Query(words=typed, limit=200)).hits
    return {TEXTS[int(hit.number)]: hit.statements[0].html for hit in hits}


@pytest.mark.parametrize("row", SAME, ids=lambda row: row[0])
def test_every_spelling_finds_every_other_in_a_row_with_marks(index, row):
    for typed, text in permutations(row, 2):
        if "\n" in typed:
            # nobody types the end of a line
            continue
        hits = found(index, f'"{typed}"')
        assert text in hits, (typed, text)
        assert "<mark>" in hits[text], (typed, text)


@pytest.mark.parametrize(("typed", "text"), PARTS)
def test_a_part_and_a_whole_are_found(index, typed, text):
    assert "<mark>" in found(index, typed)[text]


@pytest.mark.parametrize(("typed", "text"), OTHER)
def test_what_is_another_word_is_not_found(index, typed, text):
    assert text not in found(index, typed)


def test_every_word_of_a_text_finds_it_and_is_marked(index):
    for text in TEXTS:
        for word in tokens(text):
            hits = found(index, text[word.start : word.end])
            assert "<mark>" in hits.get(text, ""), (text, word)


def test_wholes_lie_on_what_they_are_made_of():
    for text in TEXTS:
        words = list(tokens(text))
        assert [word.position for word in words] == list(range(len(words)))
        for whole in all_words(text):
            if whole.whole and whole.parts:
                inside = [w for w in words if whole.start <= w.start and w.end <= whole.end]
                assert inside[0].position == whole.position
                assert inside[-1].end == whole.end
                assert len(inside) > 1
