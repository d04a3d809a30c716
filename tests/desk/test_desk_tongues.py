"""What stands on the object is marked with its own language, so that it is spoken as what it is.

Source: W3C, WCAG 2.2, success criterion 3.1.2 (AA): the language of each passage can be told by a program.
"""

from __future__ import annotations

from dataclasses import replace

import pytest


@pytest.fixture
def german(desk):
    """The label of the desk's work, said to be German; its title, to be French."""
    kept = desk.studio.read(f"work/{desk.low_water}")
    (label,) = kept.record.inscriptions
    first, *others = kept.record.titles
    desk.studio.save(
        replace(
            kept.record,
            inscriptions=(replace(label, languages=("de",)),),
            titles=(replace(first, language="fr"), *others),
        ),
        who="Nell Quince",
        read=kept,
    )
    desk.begin()
    return desk


@pytest.mark.parametrize("page", ["", "/read/{label}", "/argue/{label}"])
def test_a_reading_says_its_language(german, page):
    text = german.client.get(f"/work/{german.low_water}{page.format(label=german.label)}").text
    quoted = text.partition('<blockquote class="object')[2].partition(">")[0]
    assert 'lang="de"' in quoted


def test_a_title_says_its_language(german):
    assert (
        '<h1 class="object" lang="fr">' in german.client.get(f"/work/{german.low_water}").text
    )


def test_nothing_is_said_where_nobody_said_it(desk):
    desk.begin()
    text = desk.client.get(f"/work/{desk.low_water}").text
    assert '<h1 class="object">' in text
    assert 'lang="de"' not in text
