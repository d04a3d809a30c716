"""Dates within the text of labels: what is found where, and what is left alone. All texts are invented."""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from catalogue.measure import Day, find_dates

FOUND = [
    ("Spring Exhibition, 12 April 1903. No. 1887", [("12 April 1903", "1903-04-12")]),
    ("Berlin, den 4. Mai 1911", [("4. Mai 1911", "1911-05-04")]),
    ("Le Moulin, le 1er mai 1911.", [("1er mai 1911", "1911-05-01")]),
    ("Dec. 31st, 1899", [("Dec. 31st, 1899", "1899-12-31")]),
    ("Monday, 12 April 1903, at 3", [("Monday, 12 April 1903", "1903-04-12")]),
    ("returned 3.5.1907.", [("3.5.1907", "1907-05-03")]),
    ("relined in the 1880s, frame 19th century", [("1880s", "188X"), ("19th century", "18XX")]),
    ("Scuola veneta, fine del XVIII sec.", [("fine del XVIII sec.", "1775/1799")]),
    ("bought 1887, sold 1901-05", [("1887", "1887"), ("1901-05", "1901/1905")]),
    ("before 1900 with the framer", [("before 1900", "[..1899]")]),
    ("shown 1887 and 1889", [("1887 and 1889", "{1887,1889}")]),
    ("by 1887 in the shop", [("1887", "1887")]),
    ("d. 1953", [("1953", "1953")]),
    ("Low Tide, c. 1650-55", [("c. 1650-55", "1650~/1655~")]),
    ("from 1880 to 1890", [("1880 to 1890", "1880/1890")]),
    ("3 Gannet Steps 1903", [("1903", "1903")]),
    ("'87", [("'87", "[1687,1787,1887,1987]")]),
    ("12 Geo. III", [("12 Geo. III", "1771-10-25/1772-10-24")]),
    ("12 vendémiaire an VI", [("12 vendémiaire an VI", "1797-10-03")]),
    ("lent 1903 … 1905", [("1903", "1903"), ("1905", "1905")]),
    ("…3 May 1887", [("May 1887", "1887-05")]),
    ("…ember 1887", [("1887", "1887")]),
]

LEFT_ALONE = [
    "1234 Elm Street", "1887 High Broadway", "5 Victoria Street", "12 George Street", "No. 1887", "Nr 1887", "lot 1887",
    "cat. 1887", "inv. no. 1887", "stock 1887", "Tel. 1887 2345", "Telephone: Marlow 1903", "Fernsprecher 1887", "A-1887 Holm", "Room 1903", "£1887", "$1900", "1887 francs", "1900 gns", "15s.", "15 c.", "£1 15s. 6d.",
    "1887 mm", "24 x 1887 mm", "1,887 copies", "1.887", "1887.50", "£2.12.6", "W1887", "1887A", "1887-2345", "12/1887/3.4",
    "12-10-45", "01-23-45-67", "800-900", "1399", "2100", "188", "18…", "…87", "188… and …7", "1887…", "12.4.…", "12.4.1903…",
    "May …1887", "1 May 188…", "31 February 1900", "99 May 1887", "25/25/1925", "in May", "spring", "early", "n.d.",
    "Regency frame", "Meiji", "a figure", "to be continued", "the end", "",
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), FOUND)
def test_dates_are_found_where_they_stand(text, expected):
    found = find_dates(text)
    assert [(each.span.written, each.span.edtf) for each in found] == expected
    for each in found:
        assert text[each.start : each.end] == each.span.written


@pytest.mark.parametrize("text", LEFT_ALONE)
def test_what_is_not_to_be_sure_of_is_left_alone(text):
    assert find_dates(text) == ()


def test_other_evidence_argues_the_century():
    (found,) = find_dates("paid 3.5.07", within=(Day(1890, 1, 1), Day(1930, 12, 31)))
    assert found.span.edtf == "1907-05-03"
    assert (found.start, found.end) == (5, 11)


def test_the_width_of_circa_is_the_studios():
    (found,) = find_dates("Low Tide, c. 1900", circa=10)
    assert found.span.earliest == Day(1890, 1, 1)


words = st.sampled_from(
    ["12", "April", "1903", "c.", "before", "…", "19th", "century", "-", "/", "1887", "(", ")", ",", "No.", "XIX",
     "early", "'87", "an", "VI", "Geo.", "III", "AD", "80s", "of", "the", "and", "or", "to", "18…", "Monday", "\n"]
)  # fmt: skip


@given(st.one_of(st.text(max_size=80), st.lists(words, max_size=20).map(" ".join)))
@example("02nd '87")
def test_no_text_raises_and_dates_never_reach_across_what_is_lost(text):
    behind = 0
    for each in find_dates(text):
        assert behind <= each.start < each.end <= len(text)
        assert each.span.written == text[each.start : each.end]
        assert "…" not in each.span.written
        assert text[each.start - 1 : each.start] != "…"
        behind = each.end


@given(
    st.integers(0, 9999), st.sampled_from(["…{}", "{}…", "…{}…", "12 April …{}", "{}… April 1"])
)
def test_a_figure_glued_to_what_is_lost_is_part_of_another_number(number, text):
    assert find_dates(text.format(number)) == ()


@given(st.lists(words, max_size=12).map(" ".join), st.lists(words, max_size=12).map(" ".join))
def test_a_lost_part_keeps_both_sides_apart(before, behind):
    """Nothing is found in the whole that is not found on one of its sides.

    But "1903 -" is an open span where the text ends, and a year where its end is lost.
    """
    assume(not before.endswith("-"))
    apart = [each.span.edtf for side in (before, behind) for each in find_dates(side)]
    together = [each.span.edtf for each in find_dates(f"{before} … {behind}")]
    assert together == apart


def test_a_telephone_number_ends_with_its_line():
    text = "Tel. KENsington 0417\n3 May 1931 12 gns"
    assert [each.span.edtf for each in find_dates(text)] == ["1931-05-03"]
    assert find_dates("12 April\n1903")[0].span.edtf == "1903-04-12"
