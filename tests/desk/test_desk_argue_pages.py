"""The pages of Argue: when everything was, through whose hands, what lies over what; nothing by script alone."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest
from argued_back import argued_back
from desk_studio import HOSTILE

SVG = "{http://www.w3.org/2000/svg}"
NEVER = ("stolen", "clear ", "guarantee", "suspicious")
"""Words that no page of these says of a painting (user's rules; trade sheet V15)."""


def page(desk, name, **asked):
    got = desk.client.get(f"/work/{desk.low_water}/argue/{name}", query_string=asked)
    assert got.status_code == 200
    return got.text


def pictures(text):
    return [ET.fromstring(each) for each in re.findall(r"<svg.*?</svg>", text, re.DOTALL)]


def leads(text):
    return [each.get("href") for root in pictures(text) for each in root.iter(f"{SVG}a")]


def words_of(text):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text)).replace("&#39;", "'")


# --- when everything was -----------------------------------------------------------------------------


def test_every_row_of_the_timeline_leads_to_its_evidence(desk):
    back = argued_back(desk)
    found = leads(page(desk, "chronology"))
    assert f"/work/{desk.low_water}/read/{back.label}" in found
    assert f"/work/{desk.low_water}/treat#{back.patch}" in found
    assert f"/work/{desk.low_water}/argue#{back.second}" in found
    assert f"/work/{desk.low_water}/argue#{back.show}" in found
    for each in found:
        assert desk.client.get(each.partition("#")[0]).status_code in (200, 302)


def test_each_bound_says_why_step_by_step(desk):
    back = argued_back(desk)
    text = page(desk, "chronology")
    row = text.partition(f'id="event-{back.over}"')[2].partition("</tr>")[0]
    assert "in 1952 or later" in words_of(row)
    early = words_of(row).partition("Not earlier, because")[2].partition("Not later")[0]
    assert early.index("1952") < early.index("I3 (chalk mark)")
    assert "(firm; the record) · rests on R1" in early
    assert "<details" in row


def test_a_gap_between_hands_is_drawn_and_leads_to_the_chain(desk):
    argued_back(desk)
    text = page(desk, "chronology")
    assert f"/work/{desk.low_water}/argue/chain" in leads(text)
    assert "nobody known: 1 January 1939 to 31 December 1947, 3,287 days" in text


def test_holders_are_named_on_the_timeline(desk):
    argued_back(desk)
    rows = [
        each.get("aria-label")
        for root in pictures(page(desk, "chronology"))
        for each in root.iter()
    ]
    assert any(each and each.startswith("E2 (presence): The Lantern Room") for each in rows)


def test_a_contradiction_stands_on_top_with_what_would_settle_it(desk):
    argued_back(desk, patch_made="1900")
    text = page(desk, "chronology")
    top, _, below = text.partition("<svg")
    said = words_of(top)
    assert "1 contradiction: what cannot all hold" in said
    assert "is dated “1900”" in said
    assert "S.W.7" in said
    assert "What would settle it: " in said
    signs = [
        each for each in pictures(text)[0].iter(f"{SVG}g") if each.get("class") == "at-odds"
    ]
    assert signs
    assert 'href="#clash-1"' in below
    assert "Given up, and in no bound" in below


def test_without_a_contradiction_nothing_of_the_kind_is_said(desk):
    argued_back(desk)
    text = page(desk, "chronology")
    assert "contradiction" not in text
    assert "at odds" not in text


# --- through whose hands ------------------------------------------------------------------------------


def test_hands_stand_in_order_with_the_worked_gap_between(desk):
    """C10 of the trade sheet: from 1938 at the latest to 1948 at the earliest, 3,287 days."""
    back = argued_back(desk)
    text = page(desk, "chain")
    places = [
        text.index(f'class="hand" id="{each}"')
        for each in (back.first, back.second, back.third)
    ]
    assert places == sorted(places)
    assert "3,287 days between them with nobody known" in text
    said = words_of(text)
    assert "Only marks or labels are cited for it" in said
    assert "Nothing is cited for it." in said


def test_the_window_says_its_days_and_shares_in_a_bar_and_in_words(desk):
    argued_back(desk)
    text = page(desk, "chain")
    bar = next(root for root in pictures(text) if root.get("class") == "bars coverage")
    kinds = [each.get("class") for each in bar.iter(f"{SVG}rect")]
    assert {"possible", "nobody"} <= set(kinds)
    assert "of 4,482 days" in text
    assert "2,320 days" in text  # C10: of the gap, inside the window
    said = [each.get("aria-label") for each in bar.iter(f"{SVG}g") if each.get("aria-label")]
    assert any(each.endswith("nobody is known") for each in said)


def test_other_windows_can_be_looked_at(desk):
    argued_back(desk)
    text = page(desk, "chain", window="austria-1938")
    assert "13 March 1938 to 8 May 1945" in text
    assert 'id="window-europe-1933"' not in text


@pytest.mark.parametrize(
    ("day", "says"),
    [
        ("1937", "The Lantern Room"),
        ("3 March 1950", "a private collection"),
        ("1943", "Nobody is known to have had it then"),
    ],
)
def test_who_had_it_on_a_day(desk, day, says):
    argued_back(desk)
    answer = (
        page(desk, "chain", on=day).partition('class="answer"')[2].partition("</section>")[0]
    )
    assert says in answer


def test_a_day_that_is_none_is_told_beside_the_blank_and_kept(desk):
    argued_back(desk)
    text = page(desk, "chain", on="a Tuesday <b>")
    assert 'value="a Tuesday &lt;b&gt;"' in text
    assert 'class="answer"' not in text
    assert 'role="alert"' in text


def test_an_event_leads_to_its_inscription_and_to_the_photo(desk):
    back = argued_back(desk)
    photo = next(
        each.id for each in desk.work(desk.low_water).photos if each.face == "face/back"
    )
    text = page(desk, "chain")
    assert f'href="/work/{desk.low_water}/read/{back.label}"' in text
    framed = f"/work/{desk.low_water}/read/{back.label}?photo={photo}"
    assert f'href="{framed}"' in text
    assert desk.client.get(framed).status_code in (200, 302)


def test_showings_literature_and_inquiries_stand_beside(desk):
    back = argued_back(desk)
    text = page(desk, "chain")
    said = words_of(text)
    assert "Shores" in said
    assert "A book of shores" in said
    assert "A register of losses" in said
    assert "11 February 2026" in said
    assert back.inquiry in text
    assert "certifies neither title nor authenticity" in said


def test_the_chain_is_written_in_both_habits_with_its_notes(desk):
    """Trade sheet 7.1: dealers in round brackets or in square ones; each says how it is written."""
    argued_back(desk)
    prose = page(desk, "chain").partition('id="prose"')[2].partition("</section>")[0]
    assert prose.count("<details") == 4
    assert "(The Lantern Room, " in prose
    assert "[The Lantern Room, " in prose
    assert 'class="footnotes"' in prose
    assert prose.index("For readers outside") < prose.index("For the studio")


def test_no_page_accuses_or_certifies(desk):
    argued_back(desk, patch_made="1900")
    for name in ("chronology", "chain", "layers"):
        said = words_of(page(desk, name)).lower()
        for word in NEVER:
            assert word not in said


# --- what lies over what ------------------------------------------------------------------------------


def test_layers_lead_to_their_values_and_are_told_in_order(desk):
    back = argued_back(desk)
    text = page(desk, "layers")
    found = leads(text)
    assert f"/work/{desk.low_water}/read/{back.over}" in found
    assert f"/work/{desk.low_water}/treat#{back.patch}" in found
    said = words_of(text.partition('class="strata-list"')[2])
    assert (
        said.index("I2 dealer's label") < said.index("R1 patch") < said.index("I3 chalk mark")
    )
    assert "R1 patch; on the painting itself; covers I2 dealer's label" in said


def test_a_circle_on_record_is_told(desk):
    argued_back(desk, marks_round=True)
    text = page(desk, "layers")
    assert "The record goes round in a circle" in text
    assert "Look again at the back" in text


@pytest.mark.parametrize("name", ["chronology", "chain", "layers"])
def test_a_work_of_which_nothing_is_known_has_its_pages(desk, name):
    got = desk.client.get(f"/work/{desk.ferry}/argue/{name}")
    assert got.status_code == 200


@pytest.mark.parametrize("name", ["", "/chronology", "/chain", "/layers"])
def test_the_ways_between_the_pages(desk, name):
    text = desk.client.get(f"/work/{desk.low_water}/argue{name}").text
    bar = text.partition('class="argue-bar"')[2].partition("</nav>")[0]
    assert bar.count("<a ") == 4
    assert bar.count('aria-current="page"') == 1


@pytest.mark.parametrize("name", ["chronology", "chain", "layers"])
def test_no_style_or_script_stands_in_the_page(desk, name):
    """The policy of the desk lets none through (guard.py)."""
    argued_back(desk, patch_made="1900")
    text = page(desk, name)
    assert " style=" not in text
    assert "<style" not in text
    assert not re.search(r"\son[a-z]+=", text)
    for each in re.findall(r"<script[^>]*>", text):
        assert " src=" in each


def test_a_hostile_name_is_text(desk):
    back = argued_back(desk)
    kept = desk.studio.read(f"work/{desk.low_water}")
    events = tuple(
        replace(each, parties=(replace(each.parties[0], written=HOSTILE),))
        if each.id == back.second
        else each
        for each in kept.record.provenance
    )
    desk.studio.save(replace(kept.record, provenance=events), who="Nell Quince", read=kept)
    for name in ("chronology", "chain", "layers"):
        assert "<script>alert" not in page(desk, name)
