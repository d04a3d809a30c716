"""What was seen, done and known is found by its words: terms, materials, names, dates and sentences."""

from __future__ import annotations

import pytest
from made_records import full_work

from catalogue.indexes.entries import entries
from catalogue.indexes.words import Query, Words

SOUGHT = {
    "tear bulge": "finding",
    "heat-set patching A-1107": "step",
    "animal glue tape": "repair",
    "water sensitivity": "test",
    "loupe": "check",
    "Trewin guinea": "provenance",
    "Norbury": "exhibition",
    "reversed": "citation",
    "chalk ground": "layer",
    "rack": "movement",
    "stock book": "inquiry",
    "letter of sale": "paper",
}


@pytest.fixture(scope="module")
def index(tmp_path_factory):
    with Words(tmp_path_factory.mktemp("told")) as words:
        words.rebuild([(full_work().document, every_entry())], 1)
        yield words


def every_entry():
    return entries(full_work(), lambda _: ("Ada Penhale", "A. Penhale"))


@pytest.mark.parametrize(("sought", "kind"), SOUGHT.items())
def test_a_word_of_it_leads_to_it(index, sought, kind):
    (hit,) = index.search(Query(words=sought)).hits
    found = next(each for each in hit.statements if each.kind == kind)
    assert "<mark>" in found.html
    assert "word in a" in found.why


def test_each_value_is_told_once_and_a_finding_once_for_each_look():
    by_kind = [each.kind for each in every_entry() if each.kind in set(SOUGHT.values())]
    assert by_kind.count("finding") == 2, "an entry for each look at it"
    assert by_kind.count("check") == 2
    assert by_kind.count("movement") == 4


def test_what_stays_in_the_house_is_marked_and_so_is_what_holds_it():
    private = {each.where for each in every_entry() if each.private}
    assert "movement" in private
    assert "F1 tear" not in private


def test_what_nobody_chose_is_not_said():
    tear = next(each for each in every_entry() if each.kind == "finding")
    assert "description" not in tear.text
    assert "from that side" not in tear.text
