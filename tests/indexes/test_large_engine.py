"""Both engines find the same works with the same trees, and the second is as safe as the first."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from seeded_entries import catalogue
from trees import Trees

pytest.importorskip("tantivy", reason="the extra `large` is not installed")

from catalogue.indexes.engine import Page
from catalogue.indexes.large.fields import from_kept, kept, sortable
from catalogue.indexes.large.snapshot import LargeSnapshot
from catalogue.indexes.large.words import LargeWords
from catalogue.indexes.tree import All, Fact, Hit, Measured, Row, Terms
from catalogue.indexes.words import Words

WORKS = dict(catalogue(150))
CHANGED = {
    document: tuple(
        replace(entry, text=f"{entry.text} again", touched=20_000_000 * (order == 0))
        for order, entry in enumerate(entries)
    )
    for document, entries in WORKS.items()
}
ENTRIES = [entry for entries in WORKS.values() for entry in entries]
ORDERS = ("best", "newest", "made", "own", "number")
FACETS = ("kind", "technique", "artist")


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    """The same works in both: made anew, some taken in since, some only held in memory."""
    engines = []
    for kind in (Words, LargeWords):
        index = kind(tmp_path_factory.mktemp(kind.__name__))
        index.rebuild(list(WORKS.items())[:100], 100)
        index.take_in(list(WORKS.items())[90:140], 140)
        index.take_in(list(CHANGED.items())[5:15], 155)
        index.take_in([(document, ()) for document in list(WORKS)[20:23]], 158)
        index.hold(list(WORKS.items())[138:], 170)
        index.hold([*list(CHANGED.items())[30:33], (list(WORKS)[1], ())], 175)
        engines.append(index)
    yield engines
    for index in engines:
        index.close()


@pytest.mark.parametrize("seed", range(500))
def test_both_engines_find_the_same_with_every_tree(both, seed):
    tree = Trees(ENTRIES, seed).any()
    page = Page(first=seed % 3 * 7, limit=25, order=ORDERS[seed % 5], facets=FACETS)
    one, other = (index.find(tree, page) for index in both)
    assert other.exact
    assert other == one
    everything = Page(limit=1000, statements=1)
    one, other = (index.find(tree, everything) for index in both)
    assert other == one


def test_the_trees_are_not_all_empty_and_not_all_everything(both):
    totals = [both[1].find(Trees(ENTRIES, seed).any(), Page()).total for seed in range(500)]
    assert sum(0 < total < 140 for total in totals) > 200


@pytest.mark.parametrize("seed", range(500, 700))
def test_of_very_many_entries_the_first_page_is_the_same(both, seed):
    tree = Trees(ENTRIES, seed).any(2)
    page = Page(first=seed % 2 * 5, limit=10, order=ORDERS[seed % 5])
    exact = both[0].find(tree, page)
    rough = LargeSnapshot(both[1].snapshot().holdings, 175, most_looked_at=0).find(tree, page)
    assert rough.works == exact.works


@pytest.fixture(scope="module")
def nothing_replaced(tmp_path_factory):
    """The same works in both, none of them saved twice."""
    engines = []
    for kind in (Words, LargeWords):
        index = kind(tmp_path_factory.mktemp(kind.__name__))
        index.rebuild(list(WORKS.items())[:130], 100)
        index.hold(list(WORKS.items())[130:], 120)
        engines.append(index)
    yield engines
    for index in engines:
        index.close()


@pytest.mark.parametrize("seed", range(500, 600))
def test_of_very_many_entries_works_and_facets_are_counted_roughly(nothing_replaced, seed):
    both = nothing_replaced
    tree = Trees(ENTRIES, seed).any(2)
    page = Page(limit=10, order=ORDERS[seed % 5], facets=FACETS)
    exact = both[0].find(tree, page)
    rough = LargeSnapshot(both[1].snapshot().holdings, 175, most_looked_at=0).find(tree, page)
    assert 0.9 * exact.total - 1 <= rough.total <= exact.total
    for name, counts in exact.facets.items():
        assert dict(rough.facets[name]) == pytest.approx(dict(counts), rel=0.1, abs=2)


@pytest.mark.parametrize("order", ORDERS)
def test_pages_follow_each_other_without_a_gap(both, order):
    tree = All((Fact("kind", ("inscription",)),))
    pages = [
        both[1].find(tree, Page(first=first, limit=13, order=order)).works
        for first in range(0, 156, 13)
    ]
    assert [work for page in pages for work in page] == list(
        both[0].find(tree, Page(limit=156, order=order)).works
    )


def test_an_entry_comes_back_as_it_was_given():
    for order, entry in enumerate(ENTRIES):
        assert from_kept(kept(entry, order)) == (order, entry)


def test_figures_keep_their_order_as_whole_numbers():
    chance = random.Random(3)
    figures = [chance.uniform(-(10**chance.randint(-9, 12)), 10**chance.randint(-9, 12)) for _ in range(5000)]  # fmt: skip
    figures += [0.0, -0.0, 1e-300, -1e-300, 1.7e308, -1.7e308]
    assert sorted(figures, key=sortable) == sorted(figures)
    assert sortable(0.0) == sortable(-0.0)


@pytest.mark.parametrize(
    "tree",
    [
        Terms("", ()),
        Terms("half a sign", (Hit("text", "a\ud800b", 1.0),)),
        Terms("long", (Hit("text", "x" * 100_000, 1.0),)),
        Terms("many", tuple(Hit("text", f"w{number}", 0.5) for number in range(20_000))),
        Measured("no such figure", 1.0, 2.0),
        Measured("street-number", None, 2.0),
        Measured('a"b:c] OR *', 1.0, None),
        Fact("no such field", ("x",)),
        Fact("kind", ()),
        Row((), 3),
        Row((Terms("x", ()), Terms("y", ())), 0),
        Row((Terms("a.*", (Hit("text", "a.*", 1.0), Hit("text", "(", 1.0), Hit("text", "\\", 1.0))),) * 2),
    ],
)  # fmt: skip
def test_what_is_not_there_is_not_found_and_never_a_fault(both, tree):
    assert both[1].find(tree, Page(facets=FACETS)) == both[0].find(tree, Page(facets=FACETS))
