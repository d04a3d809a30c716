"""Statements found in readings: which letters they rest on, which are left when two want the same."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.argument.statements import BESIDE, KINDS, find_statements, open_statements
from catalogue.reading import GAP, read
from catalogue.record import Statement, Transcript
from catalogue.terms import group

LABELS = {
    # invented; what labels bear is common practice, no source
    "12 gns": [("money", "12 gns", "12.6 GBP")],
    "Lot 38": [("number", "Lot 38", "38")],
    "No. 412": [("number", "No. 412", "412")],
    "Inv. Nr. 47": [("number", "Inv. Nr. 47", "47")],
    "Kat. 17": [("number", "Kat. 17", "17")],
    "LOT|38": [("number", "LOT 38", "38")],
    "63,5 × 76,2 cm": [("size", "63,5 × 76,2 cm", "H. 635 x W. 762 mm")],
    "Preis in RM: (blank)": [("currency", "RM", "Reichsmark")],
    "@p Price: @h 12 gns": [("money", "12 gns", "12.6 GBP")],
    "448 K": [("money", "448 K", "448 austrian-krone")],
    "HOLLIS & SONS|48 Hart Lane,|London, W.1|Tel.: MAYfair 1234": [
        ("name", "HOLLIS & SONS", "HOLLIS & SONS"),
        ("address", "48 Hart Lane, London, W.1", "48 Hart Lane, London, W.1"),
        ("postal", "W.1", "W.1"),
        ("telephone", "MAYfair 1234", "MAYfair 1234"),
    ],
    "by Ada Penhale": [("name", "Ada Penhale", "Penhale, Ada")],
    "12 iv 1903": [("date", "12 iv 1903", "1903-04-12")],
    "15. Okt.|1887": [("date", "15. Okt. 1887", "1887-10-15")],
    "4/5/1903": [("date", "4/5/1903", "[1903-04-05,1903-05-04]")],
    "Lot 1903": [("number", "Lot 1903", "1903")],
    "No. 12, 1903": [("number", "No. 12", "12"), ("date", "1903", "1903")],
    "£31.10": [("money", "£31.10", "31.1 GBP or 31.5 GBP")],
}


@pytest.mark.parametrize("label", LABELS)
def test_what_a_label_says_has_its_kind_its_words_and_what_it_comes_to(label):
    found = find_statements(read(label))
    said = [(each.kind.removeprefix("statement/"), each.written, each.value) for each in found]
    assert said == LABELS[label]


NOTHING = [
    "84",
    "1[9]03",
    "HOLLIS & S[ONS]",
    "48 Hart L[ane]",
    "W.[1]",
    "MAYfair 12[34]",
    "19[03]",
    "[May] 19…",
    "1903[...]",
    "<1903>",
    "Lot […]38",
    "Lot [3]8",
    "Lot 3[8]",
    "Lot 38[...]",
    "[Lot] 38",
    "Lot <38>",
    "12 g[ns]",
    "Lot /* 38 */",
    "Lot ((38))",
    "a chalk mark on the crown",
]


@pytest.mark.parametrize("label", NOTHING)
def test_nothing_rests_on_letters_that_are_not_seen_or_beside_a_lost_part(label):
    assert find_statements(read(label)) == ()


def test_what_stands_near_a_lost_part_is_found_and_says_so():
    (beside,) = find_statements(read("Lot 38 [...]"))
    (apart,) = find_statements(read("Lot 38|[...]"))
    assert (beside.doubt, apart.doubt) == ("a lost part stands beside it", "")


def test_a_statement_is_where_it_was_typed():
    markup = "@p Preis: @h(pencil) Lo_t [[38]]<<3_9>> /* so */ £31.10"
    lot, struck, price = find_statements(read(markup))
    assert (struck.written, markup[struck.start : struck.end]) == ("Lot 38", "Lo_t [[38")
    assert (lot.written, markup[lot.start : lot.end]) == ("Lot 39", "Lo_t [[38]]<<3_9")
    assert (price.written, markup[price.start : price.end]) == ("£31.10", "£31.10")
    assert (lot.doubtful, price.doubtful) == (True, False)


def test_what_was_struck_out_is_read_and_the_rest_as_it_was_left():
    found = find_statements(read("12 gns [[15 gns]] Lot [[1]]2"))
    assert [(each.written, each.struck) for each in found] == [
        ("12 gns", False),
        ("15 gns", True),
        ("Lot 2", False),
        ("Lot 1", True),
    ]


def test_a_struck_part_is_read_behind_its_line_and_by_no_other():
    markup = "No.|Nr. [[1412]]<<1421>>, £[[12]]13|[[1903]] [[…]] 4 [[4_12]]"
    found = [(each.written, each.struck) for each in find_statements(read(markup))]
    assert found == [
        ("Nr. 1421", False), ("Nr. 1412", True), ("£13", False), ("£12", True), ("1903", True),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("label", "left"),
    [
        ("Lot 1200 $", ["Lot 1200", "$"]),
        ("12 gns", ["12 gns"]),
        ("No. 25 x 30 cm", ["25 x 30 cm"]),
    ],
)
def test_of_two_that_want_the_same_letters_the_longer_wins(label, left):
    assert [each.written for each in find_statements(read(label))] == left


def test_every_kind_that_is_ranked_is_a_concept_and_the_other_way_round():
    assert {f"statement/{kind}" for kind in KINDS} == {each.key for each in group("statement")}
    assert {kind for pair in BESIDE for kind in pair} <= set(KINDS)


PIECES = [
    "Lot 38", "No. 4_7", "12 gns", "£1 10s", "[[", "]]", "[...]", "[ab]", "_", " ", "|", "\n", "Inv. Nr. ", "25 x 30 cm",
    "RM", "é", "e\u0301", "<<", ">>", "(blank)", "@h ", "/* 12 gns */", "W.1", "1903", "-", "\\[",
]  # fmt: skip


@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join) | st.text(max_size=60))
def test_on_any_label_statements_rest_on_seen_letters_in_order_and_share_none(markup):
    reading = read(markup)
    found = find_statements(reading)
    assert [each.start for each in found] == sorted(each.start for each in found)
    seen = {each.start for each in reading.seen_letters() if each.letter != GAP}
    for each in found:
        assert GAP not in each.written
        assert each.start in seen
        assert 0 <= each.start < each.end <= len(markup)
        inside = [it for it in reading.seen_letters() if each.start <= it.start < each.end]
        own = "".join(it.letter for it in inside if each.struck or not it.struck)
        assert re.sub(r"[\s-]", "", own) == re.sub(r"[\s-]", "", each.written)
    left = [each for each in found if each.kind != "statement/postal" and not each.struck]
    assert all(one.end <= other.start for one, other in pairwise(left))


def test_a_long_label_is_read_in_one_go():
    for label in ("12 gns " * 5000, "£1[...]" * 5000, "No. " * 9000, "1 x " * 9000):
        find_statements(read(label))


# --- decisions ------------------------------------------------------------------------------------

FIRST = Transcript(markup="Lot 38, Lot 38, 12 gns")
LATER = Transcript(markup="@p LOT 38|@h 12 gns. 15 gns")


def decided(place: int, standing: str, **more: str) -> Statement:
    return find_statements(FIRST.reading())[place].decided(
        FIRST.id, f"standing/{standing}", **more
    )


def still_open(transcript: Transcript, *kept: Statement) -> list[str]:
    return [each.written for each in open_statements(transcript, kept)]


@pytest.mark.parametrize("standing", ["accepted", "rejected"])
def test_what_was_decided_is_not_asked_again_in_these_letters(standing):
    assert still_open(FIRST, decided(0, standing)) == ["Lot 38", "12 gns"]
    assert still_open(FIRST, decided(1, standing), decided(2, standing)) == ["Lot 38"]


def test_nor_in_a_later_reading_in_the_same_words():
    assert still_open(LATER) == ["LOT 38", "12 gns.", "15 gns"]
    assert still_open(LATER, decided(0, "rejected")) == ["12 gns.", "15 gns"]


def test_what_was_corrected_to_another_kind_is_not_asked_again_either():
    corrected = decided(0, "corrected", kind="statement/name", value="Lot, a painter")
    assert corrected.kind == "statement/name"
    assert still_open(LATER, corrected) == ["12 gns.", "15 gns"]


def test_a_decision_keeps_what_it_comes_to_and_a_rejection_does_not():
    assert decided(2, "accepted").value == "12.6 GBP"
    assert decided(2, "rejected").value is None
    assert decided(2, "corrected", value="13 guineas").value == "13 guineas"


def test_two_who_decide_about_the_same_letters_decide_about_one_value():
    assert decided(0, "accepted").id == decided(0, "rejected").id
    assert decided(0, "accepted").id != decided(1, "accepted").id
