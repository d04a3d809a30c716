"""Bars on a scale of years: well-formed, in place, readable without colour and by keyboard."""

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.argument import date_label, date_repair
from catalogue.measure import Day
from catalogue.pictures.bars import Bar, Group, bars
from catalogue.pictures.dating import dating_picture, in_years
from catalogue.pictures.svg import element
from catalogue.pictures.words import years
from catalogue.pictures.years import YearScale, scale_for
from catalogue.reading import read

SVG = "{http://www.w3.org/2000/svg}"
LABEL = (
    "@p AMBRY & FELL|@p 14 Sorrel Place, London, S.W.7|@p Telephone: KENsington 0417 @h 12 gns"
)


def picture_of(markup):
    dating = date_label(read(markup))
    drawn = dating_picture(
        dating, of="the label I1", key="k", leads_to=lambda n: f"#reason-{n}"
    )
    return dating, ET.fromstring(drawn)


def test_every_reason_is_a_bar_that_leads_to_its_letters():
    dating, root = picture_of(LABEL)
    links = [each.get("href") for each in root.iter(f"{SVG}a")]
    assert len(dating.reasons) > 3
    assert sorted(links) == sorted(f"#reason-{n}" for n in range(len(dating.reasons)))
    for link in root.iter(f"{SVG}a"):
        assert link.get("aria-label")
        assert link.find(f"{SVG}title").text == link.get("aria-label")


def test_what_is_soft_is_hatched_and_what_is_firm_is_filled():
    dating, root = picture_of(LABEL)
    fills = {
        link.get("href"): [rect.get("fill") for rect in link.iter(f"{SVG}rect")][1:]
        for link in root.iter(f"{SVG}a")
    }
    for number, reason in enumerate(dating.reasons):
        drawn = fills[f"#reason-{number}"]
        assert ("currentColor" in drawn) is (reason.strength == "hard")
        assert set(drawn) <= {"currentColor", "url(#k-hatch)"}


def test_no_bar_is_told_by_a_colour_of_its_own():
    _, root = picture_of(LABEL)
    colours = {each.get(name) for each in root.iter() for name in ("fill", "stroke")}
    assert colours <= {None, "currentColor", "transparent", "url(#k-hatch)"}


def test_reasons_that_contradict_leave_no_bar_but_words():
    dating, root = picture_of("@p 14 Sorrel Place, London, N.E.|@p www.ambry.example")
    assert dating.conflicts
    words = [each.text for each in root.iter(f"{SVG}text")]
    assert "the firm reasons contradict each other: no year" in words


def test_the_years_of_a_repair_in_words():
    # EVA heat-seal lining adhesive, firm from 1967: dating rules, rp.eva_heatseal
    dating = date_repair(["material/eva-adhesive"])
    assert in_years(dating.main) == "firm reasons: from 1967"


@pytest.mark.parametrize(
    ("earliest", "latest", "said"),
    [
        (None, None, "any year"),
        (Day(1917, 3, 1), None, "from 1 March 1917"),
        (None, Day(1971, 2, 14), "until 14 February 1971"),
        (Day(1931, 1, 1), Day(1938, 12, 31), "1931 to 1938"),
        (Day(1931, 1, 1), Day(1931, 12, 31), "1931"),
        (Day(1931, 5, 3), Day(1931, 5, 3), "3 May 1931"),
    ],
)
def test_a_span_in_words(earliest, latest, said):
    assert years(earliest, latest) == said


days = st.builds(Day, st.integers(-500, 2100), st.integers(1, 12), st.integers(1, 28))
maybe = st.none() | days


@st.composite
def any_bar(draw):
    spans = [sorted(draw(st.lists(days, min_size=2, max_size=2))) for _ in range(2)]
    ends = [draw(st.sampled_from([day, None])) for span in spans for day in span]
    return Bar(
        words=draw(st.text(max_size=120)),
        said=draw(st.text(max_size=40)),
        earliest=ends[0],
        latest=ends[1],
        soft_earliest=ends[2],
        soft_latest=ends[3],
        firm=draw(st.booleans()),
        href=draw(st.none() | st.text(max_size=9)),
        sum=draw(st.booleans()),
        empty=draw(st.booleans()),
    )


@given(st.lists(any_bar(), max_size=6))
def test_any_bars_make_a_picture_that_stays_on_its_paper(found):
    root = ET.fromstring(bars("Any", [Group("All", tuple(found))], key="k"))
    width = float(root.get("viewBox").split()[2])
    for rect in root.iter(f"{SVG}rect"):
        assert float(rect.get("width")) >= 0
        assert float(rect.get("x")) >= 0
        assert float(rect.get("x")) + float(rect.get("width")) <= width


@given(days, days)
def test_later_days_lie_further_right(one, other):
    scale = scale_for([one, other], 0, 100)
    assert scale.holds(one)
    assert scale.holds(other)
    assert (scale.at(one) <= scale.at(other)) is (one <= other) or scale.at(one) == scale.at(
        other
    )


def test_a_day_far_from_what_is_asked_does_not_shrink_the_scale():
    scale = scale_for(
        [Day(1704, 1, 1), Day(1930, 1, 1)], 0, 1, (Day(1928, 1, 1), Day(1938, 1, 1))
    )
    assert scale.first > 1850


@pytest.mark.parametrize("last", [1901, 1905, 1930, 1999, 2400, 9999])
def test_few_round_years_are_written_on_the_scale(last):
    ticks = YearScale(1900, last, 0, 1).ticks()
    assert 1 <= len(ticks) <= 10
    assert len({after - before for before, after in pairwise(ticks)}) <= 1


@given(st.text())
def test_any_text_is_well_formed(text):
    ET.fromstring(element("g", element("text", text), aria_label=text))
