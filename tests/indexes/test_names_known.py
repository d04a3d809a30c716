"""Names in the index: whoever is found by letters is found by name, and those told apart are not."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from faker import Faker
from rapidfuzz import fuzz, process

from catalogue.indexes.entries import entries
from catalogue.indexes.matches import Matches
from catalogue.indexes.names_known import Known, NamesKnown, keys_of, known_in, widened_name
from catalogue.indexes.widening import NamesOnFile
from catalogue.indexes.wish import Name
from catalogue.measure.names import ALIKE, likeness
from catalogue.record import Party, PartyName


@pytest.fixture
def names():
    with NamesKnown() as names:
        names.know(
            [
                ("party/1", [Known("Ada Penhale", "party/1"), Known("Ada Trewin", "party/1")]),
                ("party/2", [Known("Pieter van der Quill", "party/2")]),
                ("party/3", [Known("Jan van der Quill the Elder", "party/3")]),
                ("party/4", [Known("Trewin & Sons", "party/4")]),
                ("work/1", [Known("mr burney", "")]),
            ]
        )
        yield names


# How a name may be written: common practice, no source.
@pytest.mark.parametrize(
    ("written", "party"),
    [
        ("PENHALE, A.", "party/1"),
        ("Penhalle", "party/1"),
        ("Ada Trewin", "party/1"),
        ("P. Vanderquill", "party/2"),
        ("Quil, Pierre", "party/2"),
        ("Johannes v. d. Quill", "party/3"),
        ("Trewin and Son", "party/4"),
        ("Bumey", ""),
    ],
)
def test_somebody_is_found_however_the_name_is_written(names, written, party):
    assert names.like(written)[0].known.key == party


def test_who_is_told_apart_is_not_offered_again(names):
    assert names.like("J. van der Quill")
    elder = Known("Jan van der Quill the Elder", "party/3")
    names.know([("party/3", [elder, Known("j. van der quill", "party/3", apart=True)])])
    assert not [each for each in names.like("Quill, J. van der") if each.known.key == "party/3"]
    ada = Known("Ada Trewin", "party/1")
    names.know(
        [("party/3", [elder]), ("party/1", [ada, Known("party/4", "party/1", apart=True)])]
    )
    assert "party/4" not in {each.known.key for each in names.like("Ada Trewin")}
    assert names.like("J. van der Quill")


def test_a_document_is_known_by_what_it_holds_now(names):
    names.know([("party/1", [Known("Ada Quillan", "party/1")])])
    assert not names.like("Penhale")
    assert names.like("Quillan")[0].known.key == "party/1"
    names.know([("party/1", [])])
    assert not names.like("Quillan")


def test_a_name_wished_for_becomes_parties_and_names_as_written(names):
    terms = widened_name(Name("A. Penhale", "artist"), names)
    assert [(hit.field, hit.term, hit.why) for hit in terms.hits] == [
        ("fact:artist", "party/1", "name-initials")
    ]
    assert 0 < terms.hits[0].strength < 1
    (hit,) = widened_name(Name("Burney", "owner"), names).hits
    assert (hit.field, hit.term) == ("fact:named", "mr burney")
    assert not widened_name(Name("", "artist"), names).hits


def test_names_stay_in_the_file(tmp_path):
    with NamesKnown(tmp_path / "names.sqlite") as first:
        first.know([("party/1", [Known("Ada Penhale", "party/1")])])
    with NamesKnown(tmp_path / "names.sqlite") as again:
        assert len(again) == 1
        assert again.like("Penhale")


def test_words_that_one_mistake_parts_share_a_key():
    made = random.Random(5)
    for word in ("harrowell", "penhallow", "trewinnard", "oesterveld"):
        for _ in range(40):
            at = made.randrange(len(word))
            wrong = made.choice(
                [
                    word[:at] + word[at + 1 :],
                    word[:at] + "o" + word[at:],
                    word[:at] + "o" + word[at + 1 :],
                ]
            )
            assert keys_of(word) & keys_of(wrong), wrong


# rapidfuzz's own pass over the whole table, with its usual scorer, against ours.
def test_what_a_pass_over_all_names_finds_is_found():
    made = random.Random(8)
    invent = Faker(["nl_NL", "de_DE", "fr_FR", "en_GB"])
    invent.seed_instance(8)
    table = sorted({f"{invent.first_name()} {invent.last_name()}" for _ in range(3000)})
    missed, found = [], 0
    with NamesKnown() as names:
        names.know(
            (f"party/{at}", [Known(name, f"party/{at}")]) for at, name in enumerate(table)
        )
        for name in made.sample(table, 60):
            at = made.randrange(1, len(name) - 1)
            asked = name[:at] + name[at + 1 :]
            ours = {each.known.text for each in names.like(asked)}
            # Of its finds those count that are one person by our rules (another given name is not).
            theirs = [
                each
                for each, _, _ in process.extract(asked, table, scorer=fuzz.WRatio, limit=10)
                if likeness(asked, each) >= ALIKE
            ]
            found += len(theirs)
            missed += [(asked, each) for each in theirs if each not in ours]
    assert found > 40
    assert len(missed) <= found * 0.03, missed


@pytest.mark.parametrize(
    "written", ["", " ", "?", "A", "a.b.c.", "🙂", "van der", "Quill " * 2000, "x" * 10_000]
)
def test_whatever_is_typed_is_answered(names, written):
    assert isinstance(names.like(written), list)


def test_a_name_with_a_semicolon_stays_one_name():
    written = ["Quill; Trewin", "Ada Penhale", "Trewin;Quill"]
    names = tuple(PartyName(text=each) for each in written)
    party = Party(kind="person", names=names)
    made = entries(party, str)
    assert {each.text for each in known_in(made)} == set(written)


class Counted:
    """Holdings of a hundred entries, so many of which hold what is sought."""

    size = 100

    def __init__(self, often):
        self.often = often

    def found(self, terms):
        return Matches(np.arange(self.often, dtype=np.int32), np.ones(self.often))


# The same figure as for words (DEVELOPERS: log of entries for each that holds it), worked here by hand.
@pytest.mark.parametrize(
    ("often", "rarity"), [(1, math.log(1 + 100 / 1.5)), (100, math.log(1 + 100 / 100.5))]
)
def test_a_rare_name_counts_more_as_a_rare_word_does(names, often, rarity):
    on_file = NamesOnFile()
    on_file._known, on_file._of = names, Counted(often)
    assert on_file.widened(Name("Ada Penhale", "artist")).rarity == pytest.approx(rarity)
