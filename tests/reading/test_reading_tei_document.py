"""Whole TEI documents: valid EpiDoc, with nothing in them that points nowhere."""

import re

import pytest
from epidoc_schema import TEI, epidoc, needs_schema, what_the_schema_misses
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from test_reading_properties import labels, soup
from test_reading_tei import _LABELS

from catalogue.reading import (
    Dated,
    Observed,
    Picture,
    TeiDocument,
    Term,
    read,
    read_tei,
    tei_document,
)

FULL = TeiDocument(
    markup="@p AMBRY & FELL|@p No. @h2(pencil) [[412]]<<421>>||@r90 @s SOLD",
    address="urn:uuid:2f1c1a1e-9d6c-4a57-8f3e-0c5d0b6c9a11",
    kind=Term("dealer's label", "http://vocab.getty.edu/aat/300028730"),
    work="Low Tide & Ebb",
    number="2026-041, I3",
    on="stretcher bar",
    materials=(Term("paper", "http://vocab.getty.edu/aat/300014109"),),
    techniques=(Term("letterpress"), Term("pencil")),
    hand="A",
    languages=(Term("English", "en"),),
    turned=270,
    condition="partly covered: paper tape",
    pictures=(
        Picture(
            address="ni:///sha-256;abc",
            number="P1",
            width=3000,
            height=2000,
            regions=(
                ((10.0, 20.0), (110.0, 20.0), (110.0, 70.5), (10.0, 70.5)),
                ((12.25, 20.0), (110.0, 24.0), (108.0, 70.0)),
            ),
        ),
        Picture(address="unused.jpg"),
    ),
    dated=Dated(
        earliest="1917-03-01",
        latest=None,
        phrase="after 1 March 1917",
        evidence=("gb.post.london_numbered", "street number"),
        about=True,
    ),
    observed=(Observed("present", "2026-10-05"), Observed("partly covered: paper tape")),
    reader="The studio's own reader",
    read_on="2026-10-05",
    light="raking light",
    remarks=("Printed in two colours.",),
)
PLAIN = TeiDocument(markup="Low Tide", address="urn:x", kind=Term("label"), work="Low Tide")


def parsed(document):
    return etree.fromstring(tei_document(document).encode())


def of(markup):
    return TeiDocument(markup=markup, address="urn:x", kind=Term("label"), work="Low Tide")


@needs_schema
@pytest.mark.parametrize("document", [FULL, PLAIN, *map(of, _LABELS)])
def test_a_document_is_valid_epidoc(document):
    root, schema = parsed(document), epidoc()
    assert schema.validate(root), schema.error_log.last_error
    what_the_schema_misses(root)


@needs_schema
@settings(max_examples=100, deadline=None)
@given(st.one_of(labels.map(lambda typed: typed[0]), soup, st.text()))
def test_a_document_of_any_label_is_valid_epidoc(markup):
    root = parsed(of(markup))
    schema = epidoc()
    assert schema.validate(root), schema.error_log.last_error
    what_the_schema_misses(root)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('facs="#z1', 'facs="#z9'),
        ('xml:id="z2"', 'xml:id="z1"'),
        ('new="#printed"', 'new="#nobody"'),
        ('<lb n="2"', '<lb n="5"'),
        ("#gregorian", "#julian"),
    ],
)
def test_our_own_assertions_would_notice(old, new):
    told = tei_document(FULL)
    assert old in told
    with pytest.raises(AssertionError):
        what_the_schema_misses(
            # the parser would notice a doubled id before we do
            etree.fromstring(
                told.replace(old, new, 1).encode(), etree.XMLParser(collect_ids=False)
            )
        )
    what_the_schema_misses(etree.fromstring(told.encode()))


def test_a_document_says_all_that_it_was_given():
    root = parsed(FULL)

    def words(path):
        found = root.xpath(path, namespaces={"t": TEI[1:-1]})
        return [" ".join("".join(each.itertext()).split()) for each in found]

    assert words("//t:title") == ["dealer's label on Low Tide & Ebb"]
    assert words("//t:idno") == ["2026-041, I3", FULL.address]
    assert words("//t:support") == ["dealer's label, stretcher bar, paper"]
    assert words("//t:condition") == ["partly covered: paper tape"]
    assert words("//t:layout") == ["3 lines, turned 270 degrees clockwise"]
    assert words("//t:handDesc/t:summary") == ["letterpress, pencil, writer A"]
    assert words("//t:handNote") == ["printed", "written by hand, writer 2, pencil", "stamped"]
    assert words("//t:provenance") == ["present", "partly covered: paper tape"]
    assert words("//t:change") == ["Read under: raking light."]
    assert words("//t:name") == ["The studio's own reader"]
    assert words("//t:div[@type='commentary']/t:p") == ["Printed in two colours."]
    (date,) = root.iter(f"{TEI}origDate")
    assert date.get("notBefore-custom") == "1917-03-01"
    assert date.get("notAfter-custom") is None
    assert date.get("evidence") == "gb.post.london_numbered street-number"
    assert len(list(root.iter(f"{TEI}surface"))) == 1


def test_nothing_is_said_that_is_not_known():
    told = tei_document(PLAIN)
    for element in ("origDate", "handDesc", "facsimile", "history", "respStmt", "revisionDesc"):
        assert f"<{element}" not in told
    assert "proves neither title nor authenticity" in told


def test_a_document_is_read_back_as_it_was():
    found = read_tei(tei_document(FULL))
    (text,) = found.texts
    assert read(text.markup).tei() == read(FULL.markup).tei()
    assert read(text.markup).hands() == read(FULL.markup).hands()
    assert (text.number, text.language) == ("2026-041, I3", "en")
    assert [zone.corners for zone in text.zones] == list(FULL.pictures[0].regions)
    assert {zone.picture for zone in text.zones} == {"ni:///sha-256;abc"}
    assert {remark.element for remark in found.remarks} == {"teiHeader", "div"}


@pytest.mark.parametrize(
    "markup",
    [
        "@h a @h(pencil) b @h2 c @h d",
        "@h(ink) a|@h b @h(pencil) c @h(ink) d",
        "@r90 Top|@r0 Low @p2(red ink) Tide",
        "(@h 12)",
    ],
)
def test_hands_and_turns_come_back(markup):
    back = read_tei(tei_document(of(markup))).reading
    assert back.tei() == read(markup).tei()
    assert back.hands() == read(markup).hands()


def test_a_fragment_alone_still_tells_its_hands_apart():
    fragment = read("@h(ink) a @h(pencil) b @p c").tei()
    found = read_tei(fragment).reading
    assert re.sub('"#[^"]*"', "", found.tei()) == re.sub('"#[^"]*"', "", fragment)
    assert len(found.hands()) == 3
