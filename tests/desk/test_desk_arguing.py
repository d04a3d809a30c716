"""The page that says why a label or a repair is dated as it is, and the leaf that leads there."""

import re
from dataclasses import replace
from xml.etree import ElementTree as ET

from catalogue.record import Inscription, PriorRepair, Transcript

LABEL = "@p 14 Sorrel Place, London, S.W.7|@p Telephone: KENsington 0417|@p <b>Lot</b> @h 1[...] gns"


def with_label(desk, markup=LABEL):
    kept = desk.studio.read(f"work/{desk.low_water}")
    label = Inscription(
        kind="inscription/label", face="face/back", transcripts=(Transcript(markup=markup),)
    )
    repair = PriorRepair(kind="repair/patch", adhesive="material/eva-adhesive")
    record = replace(
        kept.record,
        inscriptions=(*kept.record.inscriptions, label),
        repairs=(*kept.record.repairs, repair),
    )
    desk.studio.save(record, who="Nell Quince", read=kept)
    return label.id, repair.id


def page(desk, value):
    return desk.client.get(f"/work/{desk.low_water}/argue/{value}")


def test_the_leaf_says_what_each_label_and_repair_proves(desk):
    label, repair = with_label(desk)
    text = desk.client.get(f"/work/{desk.low_water}/argue").text
    assert f"/argue/{label}" in text
    assert f"/argue/{repair}" in text
    assert "firm reasons: from 1 March 1917" in text
    assert "firm reasons: from 1967" in text


def test_every_bar_leads_to_a_reason_with_its_letters(desk):
    label, _ = with_label(desk)
    text = page(desk, label).text
    picture = ET.fromstring(re.search(r"<svg.*?</svg>", text, re.DOTALL)[0])
    leads = [each.get("href") for each in picture.iter("{http://www.w3.org/2000/svg}a")]
    assert leads
    for each in leads:
        assert f'id="{each[1:]}"' in text
    assert "<mark>S.W.7</mark>" in text
    assert "<b>Lot</b>" not in text


def test_a_repair_has_no_letters_but_its_materials(desk):
    _, repair = with_label(desk)
    text = page(desk, repair).text
    assert "<mark>" in text
    assert "Change the repair" in text
    assert "neither dates the painting" in text


def test_a_label_that_proves_nothing_says_so(desk):
    label, _ = with_label(desk, "Low Water")
    text = page(desk, label).text
    assert "Nothing here is known to give a year." in text
    assert "<svg" not in text


def test_reasons_that_cannot_both_hold_are_shown_in_pairs(desk):
    label, _ = with_label(desk, "14 Sorrel Place, London, N.E.|www.ambry.example")
    text = page(desk, label).text
    assert "What cannot both hold" in text
    assert "contradiction" in desk.client.get(f"/work/{desk.low_water}/argue").text


def test_what_is_not_there_is_said_in_words(desk):
    answer = page(desk, "00000000-0000-4000-8000-000000000000")
    assert answer.status_code == 404
    assert "what is not read proves nothing" in answer.text
