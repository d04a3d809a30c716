"""The six verbs are at hand from the first page on, and each leads on to a work."""

from __future__ import annotations

import re

import pytest

VERBS = ["Find", "Read", "Check", "Treat", "Argue", "Send"]
"""Source: the studio's own design, "six places, six plain verbs"."""


def links(page: str, nav: str) -> list[str]:
    inside = page.partition(f"<nav {nav}")[2].partition("</nav>")[0]
    return re.findall(r">([^<>]+)</a>", inside)


def test_the_six_stand_in_the_bar_in_their_order(desk):
    shown = links(desk.client.get("/").text, 'aria-label="Studio"')
    assert [each for each in shown if each in VERBS] == VERBS


def test_with_a_work_in_hand_the_bar_and_its_tabs_have_them_between_them(desk):
    page = desk.client.get(f"/work/{desk.low_water}").text
    bar = links(page, 'aria-label="Studio"')
    tabs = links(page, 'class="tabs"')
    assert [each for each in bar + tabs if each in VERBS] == VERBS


@pytest.mark.parametrize("verb", ["read", "check", "treat", "argue"])
def test_each_asks_which_work_and_leads_there(desk, verb):
    desk.begin()
    page = desk.client.get(f"/{verb}").text
    assert f'href="/work/{desk.low_water}/{verb}"' in page
    assert desk.client.get(f"/work/{desk.low_water}/{verb}").status_code == 200


def test_no_other_word_asks_for_a_work(desk):
    assert desk.client.get("/judge").status_code == 404
