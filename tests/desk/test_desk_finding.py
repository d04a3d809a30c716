"""The search page: what stands beside the answer changes the text alone; crops, damage, kept searches."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest


def found(desk, asked, path="/find"):
    return desk.client.get(path, query_string={"q": asked})


def test_a_card_shows_the_label_its_damage_its_light_and_leads_to_it(desk):
    page = found(desk, "pictures").text
    assert f'href="/work/{desk.low_water}/read/{desk.label}"' in page
    assert '<span class="restored">' in page
    assert '<span class="doubtful">' in page
    assert "raking light" in page
    crop = re.search(r'src="(/photo/[0-9a-f]{64}/part/[0-9-]+\.jpg)"', page)
    assert crop
    with desk.client.get(crop[1]) as picture:
        assert picture.status_code == 200
        assert picture.mimetype == "image/jpeg"


@pytest.mark.parametrize("box", ["1-2-3", "0-0-0-5", "a-b-c-d", "1-1-9999999-1"])
def test_a_part_that_is_none_is_not_found(desk, box):
    photo = desk.work(desk.low_water).photos[0]
    assert desk.client.get(f"/photo/{photo.sha256}/part/{box}.jpg").status_code == 404


def test_a_facet_adds_its_condition_to_the_text_and_takes_it_away_again(desk):
    page = found(desk, "hollis").text
    link = unescape(re.search(r'href="([^"]+)" data-key="face=face/back"', page)[1])
    text = parse_qs(urlsplit(link).query)["q"][0]
    assert text == "hollis face:back"
    narrowed = found(desk, text).text
    assert f'value="{text}"' in narrowed
    back = unescape(
        re.search(r'href="([^"]+)" data-key="face=face/back" aria-current', narrowed)[1]
    )
    assert parse_qs(urlsplit(back).query)["q"] == ["hollis"]


def test_the_part_for_whoever_types_is_the_part_of_the_page(desk):
    part = re.sub(r'value="[^"]{40,}"', "", found(desk, "hollis", "/find/part").text)
    page = re.sub(r'value="[^"]{40,}"', "", found(desk, "hollis").text)
    assert part.strip() in page
    assert "<html" not in part


def test_searches_are_kept_and_renamed_and_removed(desk):
    desk.begin()
    desk.post("/find/saved", name="Hollis", q="hollis sort:newest")
    assert "hollis+sort:newest" in desk.client.get("/").text
    assert "1 found" in desk.client.get("/find/saved").text
    desk.post("/find/saved", act="rename", old="Hollis", name="the label")
    assert [each.name for each in desk.studio.saved_searches()] == ["the label"]
    desk.post("/find/saved", act="remove", name="the label")
    assert not desk.studio.saved_searches()
    assert desk.post("/find/saved", name=" ", q="x").status_code == 422


@pytest.mark.parametrize(
    "asked", ["", " ", "((((", '"', "or or", "🖼", "*", "-", "kind:", "x" * 10_000, "<b>&", "~~"]
)
def test_no_question_is_a_fault(desk, asked):
    for path in ("/find", "/find/part"):
        answer = found(desk, asked, path)
        assert answer.status_code == 200
        assert "<b>&" not in answer.text


def test_every_question_of_the_help_page_is_a_link_that_runs_it(desk):
    page = desk.client.get("/find/help").text
    links = re.findall(r'<li value="\d+">.*?href="([^"]+)"', page, re.DOTALL)
    assert len(links) == 32
    for link in links:
        answer = desk.client.get(unescape(link))
        assert answer.status_code == 200
        assert "is no field" not in answer.text, link


@pytest.mark.parametrize(
    ("asked", "place"), [("place:stretcher", "stretcher"), ("on:stretcher", "stretcher")]
)
def test_the_side_or_part_that_bears_a_statement_is_asked_as_the_filter_asks_it(
    desk, asked, place
):
    studio = desk.studio
    typed = studio.search(studio.query(asked, counting=False))
    filtered = studio.search(studio.query(place=place))
    assert [hit.document for hit in typed.hits] == [hit.document for hit in filtered.hits]
    assert typed.total == 1
    assert not typed.facets
    assert filtered.facets


def test_a_misspelt_question_is_mended_by_a_link(desk):
    page = found(desk, "hollis kindd:label").text
    link = unescape(re.search(r'ask <a class="mono" href="([^"]+)"', page)[1])
    assert parse_qs(urlsplit(link).query)["q"] == ["hollis kind:label"]
    assert 'ask <a class="mono"' not in desk.client.get(link).text


def test_what_was_found_leads_to_sending_it(desk):
    page = unescape(found(desk, "pictures").text)
    onward = re.search(r'href="(/send[?]q=[^"]+)"', page)
    assert onward
    assert "1 found" in re.sub("<[^>]+>", "", desk.client.get(onward[1]).text)
    assert "/send?q=" not in found(desk, "zzyzx").text
