"""Families of labels at the desk: pairs proposed, what a person says of two, and taking it back."""

from __future__ import annotations

import re
from dataclasses import replace
from threading import Event

import pytest

from catalogue import alike
from catalogue.alike import LabelsOnFile
from catalogue.record import Inscription, Transcript, Work, new_id

FORM = "@p Harkwick & Son | Fine Art Dealers | {} Tanner Street, York | No @h {} @p Date @h {}"


def with_label(street, number, date=""):
    label = Inscription(
        kind="inscription/dealer-label", face="face/stretcher-bar",
        transcripts=(Transcript(markup=FORM.format(street, number, date)),),
    )  # fmt: skip
    return Work(inscriptions=(label,))


@pytest.fixture
def labelled(desk):
    """Two labels of one form with neighbouring numbers, and a sister form with another house number."""
    one, other, sister = (
        desk.studio.save(with_label(*each), who="Nell Quince").record
        for each in ((14, 341, "3 May 1931"), (14, 344), (16, 9))
    )
    return desk, one, other, sister


def address(work):
    return f"/work/{work.id}/read/{work.inscriptions[0].id}/alike"


def say(desk, one, other, says, **more):
    desk.begin()
    told = {"work": other.document, "other": other.inscriptions[0].id, "says": says, **more}
    return desk.post(address(one), **told)


def families_and_pairs(desk):
    page = desk.client.get("/families").text
    families, _, pairs = page.partition('id="proposed"')
    return families, pairs


def test_pairs_are_proposed_side_by_side_with_reasons_and_all_that_may_be_said(labelled):
    desk, one, other, _ = labelled
    families, pairs = families_and_pairs(desk)
    assert "None yet" in families
    first = pairs.partition("</section>")[0]
    assert {one.number, other.number} <= set(re.findall(r"\d{4}-\d{3}", first))
    assert "The printed words agree." in first
    assert "341 and 344" in first or "344 and 341" in first
    assert {"same", "other", "open"} == set(re.findall(r'name="says" value="(\w+)"', first))


def test_a_confirmed_pair_is_a_family_with_firm_address_years_and_neighbours(labelled):
    desk, one, other, _ = labelled
    answer = say(desk, one, other, "same", note="same worn A", **{"from": "families"})
    assert answer.headers["Location"] == "/families"
    families, pairs = families_and_pairs(desk)
    row = families.partition("<tbody>")[2].partition("</tbody>")[0]
    assert "Harkwick &amp; Son" in row
    assert "14 Tanner Street, York" in row
    assert re.search(r"\b19(2|3)\d–19(3|4)\d\b", row)
    numbers = re.findall(r">(\d+)</a>", row.rpartition("<td>")[2])
    assert numbers == ["341", "344"]
    assert "same worn A" in families
    assert "Nell Quince" in families
    together = [
        each for each in pairs.split("<section") if one.number in each and other.number in each
    ]
    assert not together


def test_not_the_same_is_no_more_proposed_on_either_page(labelled):
    desk, one, _, sister = labelled
    say(desk, one, sister, "other")
    _, pairs = families_and_pairs(desk)
    assert not [
        each for each in pairs.split("<section") if one.number in each and sister.number in each
    ]
    for mine, theirs in ((one, sister), (sister, one)):
        assert theirs.number not in desk.client.get(address(mine)).text.partition("<h2>")[2]


def test_the_labels_like_one_carry_the_verdict(labelled):
    desk, one, other, _ = labelled
    assert other.number in desk.client.get(address(one)).text
    answer = say(desk, one, other, "same")
    assert answer.headers["Location"] == address(one)
    page = desk.client.get(address(other)).text
    assert "same printed form, said Nell Quince" in page


def test_a_verdict_is_taken_back_from_the_history_it_links_to(labelled):
    desk, one, other, _ = labelled
    say(desk, one, other, "same")
    families, _ = families_and_pairs(desk)
    history = f"/work/{one.id}/history"
    assert f'href="{history}"' in families
    assert desk.client.get(history).status_code == 200
    revision = desk.revision(one.id)
    answer = desk.post(
        f"{history}/back", revision=revision, state=revision, why="the wrong label"
    )
    assert answer.status_code == 302
    families, pairs = families_and_pairs(desk)
    assert "None yet" in families
    assert one.number in pairs


def test_another_verdict_on_the_same_two_takes_the_place_of_the_first(labelled):
    desk, one, other, _ = labelled
    say(desk, one, other, "same")
    say(desk, one, other, "other")
    assert "None yet" in families_and_pairs(desk)[0]


def test_labels_nobody_knows_and_words_nobody_offered_are_refused_in_words(labelled):
    desk, one, other, _ = labelled
    strange = replace(
        other, inscriptions=(Inscription(kind="inscription/label", face="face/back"),)
    )
    assert say(desk, one, strange, "same").status_code == 404
    assert desk.client.get(f"/work/{one.id}/read/{new_id()}/alike").status_code == 404
    answer = say(desk, one, other, "maybe")
    assert 400 <= answer.status_code < 500
    assert "Press one of the three buttons" in answer.text
    desk.begin()
    assert 400 <= desk.post(address(one), says="same").status_code < 500
    assert "None yet" in families_and_pairs(desk)[0]


def test_nobody_says_anything_without_a_name(labelled):
    desk, one, other, _ = labelled
    told = {"work": other.document, "other": other.inscriptions[0].id, "says": "same"}
    answer = desk.post(address(one), **told, **{"from": "families"})
    assert "/who" in answer.headers["Location"] or "who" in answer.text
    assert "None yet" in families_and_pairs(desk)[0]


def test_the_sheet_to_print_has_the_families_and_nothing_to_press(labelled):
    desk, one, other, _ = labelled
    say(desk, one, other, "same")
    assert 'href="/families?sheet=yes"' in families_and_pairs(desk)[0]
    main = desk.client.get("/families?sheet=yes").text.partition("<main")[2]
    assert "Harkwick &amp; Son" in main
    assert "May be one form" not in main
    assert 'name="says"' not in main


@pytest.fixture
def large(labelled, monkeypatch):
    """The same studio as if it were too large to lay its labels out while a page is asked for."""
    desk, one, other, _ = labelled
    monkeypatch.setattr(alike, "_SOON", 1)
    begun, done = Event(), Event()
    lay_out = LabelsOnFile.lay_out

    def in_time(self):
        begun.set()
        done.wait(20)
        lay_out(self)

    monkeypatch.setattr(LabelsOnFile, "lay_out", in_time)
    yield desk, one, other, begun, done
    done.set()


def test_a_page_does_not_wait_until_all_labels_are_laid_out_and_says_so(large):
    desk, one, other, begun, done = large
    for page in (address(one), "/families"):
        shown = desk.client.get(page)
        assert shown.status_code == 200
        assert "being laid out" in shown.text
        assert other.number not in shown.text
        (piece,) = re.findall(r'data-later="([^"]+)"', shown.text)
        assert desk.client.get(piece).status_code == 202
        # Without script it looks again too, until one asks it not to.
        assert 'http-equiv="refresh"' in shown.text
        still = desk.client.get(f"{page}?still=yes").text
        assert 'http-equiv="refresh"' not in still
        assert f'href="{page}"' in still
    assert begun.wait(20)
    assert "None yet" in families_and_pairs(desk)[0]
    assert "being laid out" not in desk.client.get("/families?sheet=yes").text
    done.set()
    desk.studio._labels()._layer.join(20)
    for page in (address(one), "/families"):
        piece = desk.client.get(f"{page}?piece=yes")
        assert piece.status_code == 200
        assert other.number in piece.text
        assert 'name="csrf_token"' in piece.text
        whole = desk.client.get(page).text
        assert "data-later" not in whole
        assert piece.text.strip() in whole
