"""The timeline of a chronology: certain and possible days, gaps, windows, contradictions, sheets."""

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.argument import Interval
from catalogue.argument.chain.passages import passages
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import window
from catalogue.argument.timing.claims import AtLeast, Claim, Event, Firmness
from catalogue.argument.timing.solving import solve
from catalogue.measure import Day
from catalogue.pictures.chronology import timeline_sheets
from catalogue.pictures.hands import bands_of, gaps_of
from catalogue.pictures.rows import WIDTH, Band
from catalogue.pictures.spells import Spell, in_words, sentence, spells_of, when

SVG = "{http://www.w3.org/2000/svg}"
PRINTED = 1097
"""As many units as a page of A4 holds where 760 fill its width of 18 cm: 760 / 18 cm * 26 cm."""


def years(first, last):
    return Interval(first and Day(first, 1, 1), last and Day(last, 12, 31))


def spell(number, began, ended=None, *, kind="holding", moment=False, at_odds=()):
    event = Event(
        id=f"e{number}",
        kind=kind,
        called=f"E{number}",
        words=f"E{number} (sale)",
        moment=moment,
    )
    return Spell(event=event, began=began, ended=ended or began, at_odds=at_odds)


def drawn(*spells, bands=(), gaps=()):
    sheets = timeline_sheets(
        spells,
        of="2026-041",
        key="t",
        leads_to=lambda event: f"#{event}",
        bands=bands,
        gaps=gaps,
    )
    return [ET.fromstring(sheet.picture) for sheet in sheets]


def link(root, event):
    return next(each for each in root.iter(f"{SVG}a") if each.get("href") == f"#{event}")


def boxes(group):
    """Left end, right end and fill of every box of a row, from left to right."""
    found = [each for each in group.iter(f"{SVG}rect") if each.get("class") == "span"]
    return sorted(
        (
            float(each.get("x")),
            float(each.get("x")) + float(each.get("width")),
            each.get("fill"),
        )
        for each in found
    )


# --- what is certain, what is possible --------------------------------------------------------------


def test_what_is_certain_is_filled_and_what_is_possible_hatched_on_either_side():
    (root,) = drawn(spell(1, years(1931, 1932), years(1940, 1945)), spell(2, years(1900, 1960)))
    left, middle, right = boxes(link(root, "e1"))
    assert middle[2] == "currentColor"
    assert left[2] == right[2] == "url(#t-1-hatch)"
    assert left[1] == pytest.approx(middle[0], abs=0.02)
    assert middle[1] == pytest.approx(right[0], abs=0.02)


def test_where_no_day_is_certain_nothing_is_filled():
    (root,) = drawn(spell(1, years(1937, 1938), years(1937, 1938)))
    assert [fill for *_, fill in boxes(link(root, "e1"))] == ["url(#t-1-hatch)"]


def test_the_certain_days_are_those_of_the_worked_example():
    """C10 of the trade sheet: held from some day of 1931 to some day of 1934 to 1936."""
    held = spell(1, years(1931, 1931), years(1934, 1936))
    assert held.certain == (Day(1931, 12, 31), Day(1934, 1, 1))
    assert held.possible == years(1931, 1936)


def test_an_open_end_is_an_arrow_and_said():
    one = spell(1, years(1931, 1931), Interval(Day(1940, 1, 1)))
    (root,) = drawn(one)
    assert "ended in 1940 or later" in link(root, "e1").get("aria-label")
    arrows = list(link(root, "e1").iter(f"{SVG}path"))
    assert len(arrows) == 1
    assert float(arrows[0].get("d")[1:].split()[0]) == pytest.approx(WIDTH - 16)


def test_a_day_is_a_lozenge_and_one_of_several_days_a_line_between_them():
    day = Interval(Day(1931, 5, 3), Day(1931, 5, 3))
    (root,) = drawn(spell(1, day, moment=True), spell(2, years(1931, 1960), moment=True))
    for event in ("e1", "e2"):
        assert not boxes(link(root, event))
    (lozenge,) = link(root, "e1").iter(f"{SVG}path")
    (line,) = link(root, "e2").iter(f"{SVG}path")
    assert lozenge.get("d").endswith("Z")
    assert " H" in line.get("d")


@pytest.mark.parametrize(
    ("window", "says"),
    [
        (years(1931, 1931), "in 1931"),
        (years(1931, 1936), "between 1931 and 1936"),
        (Interval(Day(1931, 5, 3), Day(1931, 5, 3)), "on 3 May 1931"),
        (Interval(Day(1931, 1, 1), Day(1931, 1, 1)), "on 1 January 1931"),
        (Interval(Day(1935, 2, 1), Day(1935, 2, 28)), "in February 1935"),
        (
            Interval(Day(1935, 2, 1), Day(1935, 2, 27)),
            "between 1 February 1935 and 27 February 1935",
        ),
        (Interval(Day(1917, 3, 1)), "on 1 March 1917 or later"),
        (years(1917, None), "in 1917 or later"),
        (years(None, 1917), "in 1917 or earlier"),
        (Interval(None, Day(1917, 1, 1)), "on 1 January 1917 or earlier"),
        (Interval(), "on a day that is not known"),
    ],
)
def test_when_something_was_in_words(window, says):
    assert when(window) == says


def test_what_a_row_says_to_whoever_cannot_see_it():
    said = sentence(spell(1, years(1931, 1931), years(1934, 1936), at_odds=(2,)))
    assert said == (
        "E1 (sale): began in 1931, ended between 1934 and 1936; certain from 31 December 1931 to "
        "1 January 1934; at odds with other statements, see 2"
    )
    assert in_words(spell(1, Interval(), years(1934, 1934))) == "ended in 1934"


# --- contradictions, gaps, windows ------------------------------------------------------------------


def contradicted():
    """A label over a patch that is said to be younger; a third event that nobody doubts."""
    label = Event(id="i1", kind="writing", called="I1", words="I1 (label)", moment=True)
    patch = Event(id="r1", kind="repair", called="R1", words="R1 (patch)", moment=True)
    sale = Event(id="e1", kind="passing", called="E1", words="E1 (sale)", moment=True)
    hard = {"firmness": Firmness.HARD}
    return solve(
        [label, patch, sale],
        [
            Claim(key="a", words="", bounds=(AtLeast(label.began, None, -700_000),), **hard),
            Claim(key="b", words="", bounds=(AtLeast(None, patch.began, 710_000),), **hard),
            Claim(key="c", words="", bounds=(AtLeast(patch.began, label.began, 0),), **hard),
            Claim(key="d", words="", bounds=(AtLeast(None, sale.began, 700_000),), **hard),
        ],
    )


def test_a_contradiction_is_a_sign_with_its_number_at_each_event_of_it():
    found = spells_of(contradicted())
    assert {each.event.id: each.at_odds for each in found} == {"i1": (1,), "r1": (1,), "e1": ()}
    (root,) = drawn(*found)
    for event, there in (("i1", True), ("r1", True), ("e1", False)):
        signs = list(link(root, event).iter(f"{SVG}g"))
        assert [each.get("class") for each in signs] == ["at-odds"] * there
        assert ("see 1" in link(root, event).get("aria-label")) is there


def tenure(number, began, ended):
    return Tenure(
        event=f"e{number}", number=f"E{number}", name=f"Holder {number}", hold="owner",
        began=began, ended=ended,
    )  # fmt: skip


def test_a_certain_gap_is_drawn_between_the_holdings_and_said_in_days():
    """C10: from the last possible day of one to the first of the next, 3,287 days."""
    held = (
        tenure(1, years(1937, 1937), years(1938, 1938)),
        tenure(2, years(1948, 1948), years(1962, 1962)),
    )
    gaps = gaps_of(passages(held), "#chain")
    spells = [spell(n, each.began, each.ended) for n, each in enumerate(held, 1)]
    (root,) = drawn(*spells, gaps=gaps)
    rows = [each.get("href") for each in root.iter(f"{SVG}a")]
    assert rows == ["#e1", "#chain", "#e2"]
    gap = link(root, "chain")
    assert "Between Holder 1 and Holder 2" in gap.get("aria-label")
    assert "1 January 1939 to 31 December 1947, 3,287 days" in gap.get("aria-label")
    assert "not an accusation" in gap.get("aria-label")
    (hollow,) = [each for each in gap.iter(f"{SVG}rect") if each.get("class") == "gap"]
    end, begin = boxes(link(root, "e1"))[-1][1], boxes(link(root, "e2"))[0][0]
    assert float(hollow.get("x")) == pytest.approx(end)
    assert float(hollow.get("x")) + float(hollow.get("width")) == pytest.approx(begin, abs=0.02)


def test_windows_that_matter_stand_behind_with_their_names():
    found = bands_of([window("europe-1933")])
    (root,) = drawn(spell(1, years(1931, 1931), years(1950, 1950)), bands=found)
    (band,) = [each for each in root.iter(f"{SVG}g") if each.get("class") == "window"]
    assert band.find(f"{SVG}text").text == "30 January 1933 to 8 May 1945"
    assert len(band.findall(f"{SVG}line")) == 2


def test_a_window_outside_the_scale_is_left_out_and_names_do_not_run_into_each_other():
    bands = [Band("1933 to 1945", Day(1933, 1, 1), Day(1945, 1, 1)),
             Band("1935 to 1945", Day(1935, 1, 1), Day(1945, 1, 1)),
             Band("1850", Day(1850, 1, 1), Day(1850, 12, 31))]  # fmt: skip
    (root,) = drawn(spell(1, years(1931, 1931), years(1950, 1950)), bands=bands)
    names = [
        each.find(f"{SVG}text")
        for each in root.iter(f"{SVG}g")
        if each.get("class") == "window"
    ]
    assert [each.text for each in names] == ["1933 to 1945", "1935 to 1945"]
    assert len({each.get("y") for each in names}) == 2


# --- the whole --------------------------------------------------------------------------------------


def test_nothing_gives_no_sheet():
    assert timeline_sheets([], of="", key="t", leads_to=lambda event: None) == ()


def test_events_stand_under_their_headings_and_any_other_under_the_last():
    (root,) = drawn(
        spell(1, years(1931, 1931)), spell(2, years(1900, 1900), kind="made"),
        spell(3, years(1940, 1940), kind="no such kind"),
    )  # fmt: skip
    heads = [each.text for each in root.findall(f"{SVG}text")]
    assert heads == ["The painting", "Hands", "The studio"]


def test_many_events_fill_sheets_that_fit_a_printed_page_and_no_row_is_lost():
    spells = [spell(n, years(1900, 1900 + n)) for n in range(100)]
    roots = drawn(*spells)
    assert len(roots) > 3
    rows = [each.get("href") for root in roots for each in root.iter(f"{SVG}a")]
    assert rows == [f"#e{n}" for n in range(100)]
    assert all(float(root.get("viewBox").split()[3]) < PRINTED for root in roots)
    carried = [each.text for root in roots[1:] for each in root.findall(f"{SVG}text")]
    assert carried == ["Hands, carried on"] * (len(roots) - 1)
    assert len(
        {each.get("id") for root in roots for each in root.iter(f"{SVG}pattern")}
    ) == len(roots)


def test_no_sign_is_told_by_a_colour():
    spells = spells_of(contradicted())
    held = (
        tenure(1, years(1937, 1937), years(1938, 1938)),
        tenure(2, years(1948, 1948), years(1962, 1962)),
    )
    more = [spell(n, each.began, each.ended) for n, each in enumerate(held, 1)]
    for root in drawn(
        *spells, *more, bands=bands_of([window("europe-1933")]), gaps=gaps_of(passages(held))
    ):
        colours = {each.get(name) for each in root.iter() for name in ("fill", "stroke")}
        assert {each for each in colours if each and not each.startswith("url(#t-")} <= {
            "currentColor", "transparent", "none",
        }  # fmt: skip


days = st.builds(Day, st.integers(1, 2100), st.integers(1, 12), st.integers(1, 28))
windows = st.tuples(st.none() | days, st.none() | days).map(
    lambda ends: Interval(*(sorted(ends) if all(ends) else ends))
)


@given(st.lists(st.tuples(windows, windows, st.booleans()), min_size=1, max_size=60))
def test_any_windows_stay_on_their_paper_in_order(found):
    spells = [
        spell(n, began, began if moment else ended, moment=moment)
        for n, (began, ended, moment) in enumerate(found)
    ]
    rows = 0
    for root in drawn(*spells, bands=bands_of([window("europe-1933"), window("unesco-1970")])):
        width, height = map(float, root.get("viewBox").split()[2:])
        for each in root.iter(f"{SVG}rect"):
            left, wide = float(each.get("x")), float(each.get("width"))
            assert wide >= 0
            assert left >= 0
            assert left + wide <= width
        for text in root.iter(f"{SVG}text"):
            assert float(text.get("y")) <= height
        rows += len(list(root.iter(f"{SVG}a")))
    assert rows == len(found)


@given(windows, windows)
def test_what_is_certain_lies_within_what_is_possible(began, ended):
    one = spell(1, began, ended)
    if one.certain and one.possible.earliest:
        assert one.possible.earliest <= one.certain[0]
    if one.certain and one.possible.latest:
        assert one.certain[1] <= one.possible.latest
