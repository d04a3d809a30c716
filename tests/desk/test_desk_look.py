"""The look: every colour that words are written in can be read on every ground it stands on."""

from __future__ import annotations

import re

import pytest

from catalogue.places import folder

SHEET = (folder("templates") / "static" / "desk.css").read_text("utf-8")
WORDS = ("ink", "soft", "madder", "ochre", "verdigris", "link")
GROUNDS = ("ground", "table", "slip")


def colours(which: int) -> dict[str, str]:
    blocks = re.findall(r":root \{(.*?)\}", SHEET, re.DOTALL)
    light, dark = (
        dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", block)) for block in blocks[:2]
    )
    return light if which == 0 else {**light, **dark}


def luminance(colour: str) -> float:
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    linear = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    red, green, blue = linear
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Source: W3C, Web Content Accessibility Guidelines 2.2, definition of contrast ratio."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_is_the_published_one():
    # Source: W3C, WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1


@pytest.mark.parametrize("which", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("word", WORDS)
def test_words_can_be_read_on_every_ground(which, word):
    """At least 4.5:1. Source: W3C, WCAG 2.2, success criterion 1.4.3 (AA)."""
    palette = colours(which)
    grounds = [*GROUNDS]
    if word in ("ink", "soft", "madder"):
        grounds += ["madder-wash"]
    if word in ("ink", "soft", "ochre"):
        grounds += ["ochre-wash"]
    for ground in grounds:
        assert contrast(palette[word], palette[ground]) >= 4.5, f"{word} on {ground}"


SHEETS = sorted((folder("templates") / "static").glob("*.css"))


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda each: each.name)
def test_type_goes_by_the_steps_at_the_head_of_the_sheet(sheet):
    """One scale: a size in rem stands nowhere but where the steps are named."""
    assert not re.findall(r"font(?:-size)?: [^;}]*\drem\b", sheet.read_text("utf-8"))


def test_words_on_paper_can_be_read():
    """At least 4.5:1 on white. Source: W3C, WCAG 2.2, success criterion 1.4.3 (AA)."""
    printed = SHEET.partition("@media print {")[2].partition("}")[0]
    palette = dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{3,6});", printed))
    assert set(WORDS) <= set(palette)
    for word in WORDS:
        whole = (
            palette[word]
            if len(palette[word]) == 7
            else "#" + "".join(2 * each for each in palette[word][1:])
        )
        assert contrast(whole, "#ffffff") >= 4.5, word


def test_the_sheet_fetches_nothing():
    assert "url(" not in SHEET
    assert "@import" not in SHEET
    assert "@font-face" not in SHEET
