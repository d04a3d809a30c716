"""Help in the page: one page leads to all of it, and every page leads to that one."""

from __future__ import annotations

import re
from html import unescape

import pytest

from catalogue.places import table
from catalogue.surface import Box, Sheet, mirror

SAID = table("help.toml")
LEAVES = (
    "/help/signs",
    "/help/faults",
    "/find/help",
    "/help/places",
    "/help/safety",
    "/help/keys",
)


def test_every_page_leads_to_the_help_and_that_to_every_leaf(desk):
    for page in ("/", "/people", f"/work/{desk.low_water}", "/nowhere"):
        assert 'href="/help" data-help' in desk.client.get(page).text
    page = desk.client.get("/help").text
    for leaf in LEAVES:
        assert f'href="{leaf}"' in page
        assert desk.client.get(leaf).status_code == 200


def test_the_place_on_the_other_side_is_worked_out_and_not_written_down(desk):
    # the worked example of the trade sheet, C1: x = 120 on the front of 610 mm is x = 430 on the back
    assert mirror(Box(120, 140, 60, 45), Sheet(610, 500)).x_mm == 610 - 120 - 60 == 430
    example = SAID["places"]["example"]
    (width, _), (left, top, wide, _) = example["side_mm"], example["label_mm"]
    page = desk.client.get("/help/places").text
    assert f"{left} mm from the left edge, {top} mm from the top edge" in page
    assert f"{width - left - wide} mm from the left edge, {top} mm from the top edge" in page


def test_every_caution_is_told_and_defers_to_those_who_know(desk):
    page = unescape(desk.client.get("/help/safety").text)
    for row in table("cautions.toml")["caution"]:
        if row["terms"]:
            assert row["says"] in page
    for asked in ("solvents", "ammonia", "heat", "blades", "lead", "mould"):
        assert asked in page.lower()
    for word in (
        "safety data sheet",
        "local rules",
        "licensed practice",
        "the conservator decides",
    ):
        assert word in page


@pytest.mark.parametrize("group", SAID["keys"], ids=lambda each: each["title"])
def test_every_key_is_told(desk, group):
    page = unescape(desk.client.get("/help/keys").text)
    assert group["title"] in page
    for keys, does in group["rows"]:
        assert f"<kbd>{keys}</kbd>" in page
        assert does in page


@pytest.mark.parametrize(
    ("script", "keys"),
    [
        ("find.js", ["/", "ArrowDown", "ArrowUp", "j", "k", "Escape"]),
        ("lighttable.js", ["+", "-", "0", "m", "[", "]"]),
        ("map.js", ["Enter", "Escape", "Delete", "+", "-"]),
        ("keys.js", ["PageDown", "PageUp", "?"]),
        ("help.js", ["?"]),
    ],
)
def test_the_keys_are_those_of_the_scripts(script, keys):
    from catalogue.places import folder

    text = (folder("templates") / "static" / script).read_text("utf-8")
    for key in keys:
        assert re.search(rf'"{re.escape(key)}"', text), (
            f"{script} knows no key {key!r} any more"
        )
