"""An ugly invented job book of sixty rows: a third of them against readings made by hand, by eye.

The readings beside the book (ledger-1987.json) were written from the cells before the book was first
read by the program; they name no field that they don't judge. Afterwards only notations of theirs were
set right (the season 22 of EDTF is summer, "before 1907" is [..1906], a line end is | in the markup),
and a "?" is left over since those who keep such books asked to see it (87/5).
"""

import json
from pathlib import Path

import pytest

from catalogue.studio import Studio
from catalogue.terms import label

BOOKS = Path(__file__).parent / "books"
BOOK, MAPPING = BOOKS / "ledger-1987.csv", BOOKS / "ledger-1987.toml"
GOLD = json.loads((BOOKS / "ledger-1987.json").read_text("utf-8"))


@pytest.fixture(scope="module")
def rows():
    with Studio.open("memory:") as studio:
        return list(studio.read_book(BOOK, MAPPING, who="Nell").tried())


@pytest.fixture(scope="module")
def names(rows):
    return {party.document: party.name() for row in rows for party in row.parties}


def row_of(rows, key):
    """The first row of that key: a second one is refused."""
    return next(row for row in rows if row.key == key)


def read_so(row, names):
    """A row in the words of the gold readings."""
    work, item = row.work, row.job.items[0] if row.job else None
    attribution = work.attribution()
    return {
        "title": work.titles[0].text if work.titles else None,
        "qualifier": label(attribution.qualifier) if attribution else None,
        "artist": names[attribution.artist] if attribution and attribution.artist else None,
        "made": work.made.edtf if work.made else None,
        "sizes": [
            [label(each.what), each.height_mm, each.width_mm]
            for each in sorted(work.sizes, key=lambda each: each.what, reverse=True)
        ],
        "client": names[row.job.client] if row.job and row.job.client else None,
        "came": item.came.iso if item and item.came else None,
        "left": item.left.iso if item and item.left else None,
        "inscriptions": [
            [
                label(each.kind),
                label(each.face),
                each.preferred().markup if each.preferred() else "",
            ]
            for each in work.inscriptions
        ],
        "hands": [each.written for event in work.provenance for each in event.parties],
        "rest": {cell.column: cell.rest for cell in row.cells if cell.rest},
    }


@pytest.mark.parametrize("key", GOLD)
def test_a_row_is_read_as_a_person_reads_it(rows, names, key):
    found = read_so(row_of(rows, key), names)
    assert {name: found[name] for name in GOLD[key]} == GOLD[key]


def test_a_third_of_the_book_is_judged():
    assert len(GOLD) >= 20


def test_bad_rows_are_told_and_do_not_stop_the_others(rows):
    assert len(rows) == 60
    refused = {row.row: row.refused for row in rows if row.refused}
    assert refused[7] == "nothing stands in Nr., by which rows are known"
    assert refused[13] == "the key 87/11 stands in row 12 already"
    assert refused[49].startswith("Out: '1987-05-01' is not possible")
    assert len(refused) == 3
    assert row_of(rows, "87/59").work.titles[0].text == "Last of the year"


def test_what_was_not_understood_is_kept_as_a_note(rows):
    notes = [note.text for note in row_of(rows, "87/42").work.notes]
    assert any("From the priory at Holm" in text for text in notes)
    notes = [note.text for note in row_of(rows, "87/8").job.notes]
    assert any("31/02/1987" in text for text in notes)
    beyond = [note.text for note in row_of(rows, "87/10").work.notes]
    assert any("extra cell" in text for text in beyond)
