"""Asking the vocabulary: by key, by address, by word; and what a curator hears about a mistake."""

from __future__ import annotations

import pytest

from catalogue.errors import BadSetting, UnknownTerm
from catalogue.terms import concept, group, known, label, labelled, of_iri, within
from catalogue.terms.concepts import read_group

CHIP = """\
@prefix skos: <http://www.w3.org/2004/02/skos/core#> .
@prefix aat: <http://vocab.getty.edu/aat/> .

<https://dorse.example/ns/1#chip> a skos:ConceptScheme ;
    skos:prefLabel "Chips"@en .

<https://dorse.example/ns/1#chip/edge> a skos:Concept ;
    skos:inScheme <https://dorse.example/ns/1#chip> ;
    skos:prefLabel "edge \\"chip\\""@en ;
    skos:altLabel "nick"@en ;
    skos:altLabel "notch"@en ;
    skos:scopeNote "A chip at the edge."@en ;
    skos:exactMatch aat:300053752 .

<https://dorse.example/ns/1#chip/corner> a skos:Concept ;
    skos:inScheme <https://dorse.example/ns/1#chip> ;
    skos:prefLabel "corner chip"@en ;
    skos:scopeNote "A chip at a corner."@en ;
    skos:broader <https://dorse.example/ns/1#chip/edge> ;
    skos:editorialNote "None found."@en .
"""


def write(folder, text):
    source = folder / "chip.ttl"
    source.write_text(text, "utf-8")
    return source


def test_a_key_that_is_not_there_is_answered_with_its_group_and_the_nearest():
    with pytest.raises(UnknownTerm) as said:
        concept("inscription/dealers-label")
    assert "'inscription'" in str(said.value)
    assert "inscription/dealer-label" in str(said.value)


def test_the_nearest_is_also_found_by_another_word_for_it():
    with pytest.raises(UnknownTerm, match=r"did you mean .*face/back"):
        concept("face/versos")


@pytest.mark.parametrize("key", ["", "nonsense/back", "../face/back", "face/"])
def test_no_file_is_opened_for_a_group_that_does_not_exist(key):
    assert not known(key)
    with pytest.raises(UnknownTerm):
        concept(key)


def test_a_group_is_sorted_by_label():
    labels = [each.label.casefold() for each in group("inscription")]
    assert labels == sorted(labels)


@pytest.mark.parametrize(
    "address",
    [
        "https://dorse.example/ns/1#inscription/label",
        "http://vocab.getty.edu/aat/300028730",
        "https://vocab.getty.edu/aat/300028730",
        "aat:300028730",
    ],
)
def test_a_concept_is_known_by_every_form_of_its_address(address):
    assert of_iri(address, "inscription") is concept("inscription/label")


def test_an_address_is_looked_for_in_one_group_only():
    assert of_iri("https://dorse.example/ns/1#face/back", "part") is None
    assert of_iri("aat:300028730", "part") is concept("part/label")
    assert of_iri("https://dorse.example/ns/1#edtf", "edtf") is None


def test_a_word_is_found_by_label_before_another_concept_has_it_as_an_alternative():
    assert labelled(" Panel  Size", "size") is concept("size/support")
    assert labelled("panel", "size") is concept("size/panel")
    assert labelled("RECTO", "face") is concept("face/front")
    assert labelled("no such word", "face") is None


def test_narrower_terms_lie_within_broader_ones():
    assert within("inscription/monogram", "inscription/signature")
    assert within("inscription/monogram", "inscription/inscription")
    assert not within("inscription/label", "inscription/signature")
    assert not within("http://example.org/other", "inscription/label")


def test_an_address_from_outside_is_called_by_itself():
    assert label("http://example.org/other") == "http://example.org/other"


def test_a_curator_adds_a_concept_by_adding_lines(tmp_path):
    chips = read_group(write(tmp_path, CHIP)).concepts
    assert chips["chip/edge"].label == 'edge "chip"'
    assert chips["chip/edge"].alternatives == ("nick", "notch")
    assert chips["chip/edge"].aat == "http://vocab.getty.edu/aat/300053752"
    assert chips["chip/corner"].broader == "chip/edge"
    assert chips["chip/corner"].why_none == "None found."


def test_a_file_that_ends_within_a_concept_is_refused(tmp_path):
    with pytest.raises(BadSetting, match=r"line 20: the last line of .* must end in"):
        read_group(write(tmp_path, CHIP.replace('"None found."@en .\n', '"None found."@en ;')))


@pytest.mark.parametrize(
    ("right", "wrong", "line", "says"),
    [
        ('"nick"@en ;', '"nick"@en', 10, "one property"),
        ('"nick"@en ;', '"nick" ;', 10, "one property"),
        ('"nick"@en ;', '"ni\\nck"@en ;', 10, "one property"),
        ("aat:300053752", "aat:30005375", 13, "one property"),
        ("    skos:altLabel", "skos:altLabel", 10, "one property"),
        ('"None found."@en .', '"None found."@en ;', 20, "must end in '.'"),
        ("@prefix aat", "@prefix att", 2, "opens no concept"),
        ("a skos:Concept ;", "a skos:Idea ;", 7, "opens no concept"),
        ("skos:altLabel", "skos:hiddenLabel", 7, "hiddenLabel is not expected"),
        ('    skos:scopeNote "A chip at a corner."@en ;\n', "", 15, "no skos:scopeNote"),
        ('    skos:editorialNote "None found."@en .', "    skos:broadMatch aat:300053752 .", 15, "why none"),
        ("chip/edge> ;", "chip/side> ;", 15, "'chip/side' cannot be broader"),
        ("chip/edge> ;", "chip/corner> ;", 15, "cannot be broader"),
        ("#chip/corner> a", "#chip/edge> a", 15, "chip/edge is"),
        ("#chip/corner> a", "#chop/corner> a", 15, "must begin with"),
        ("#chip> a", "#chop> a", 4, "the group of this file"),
        (
            'skos:editorialNote "None found."@en', "skos:exactMatch aat:300053752", 15,
            "chip/edge is <http://vocab.getty.edu/aat/300053752> too",
        ),
    ],
)  # fmt: skip
def test_a_mistake_is_reported_with_its_file_and_line(tmp_path, right, wrong, line, says):
    assert right in CHIP
    with pytest.raises(BadSetting) as said:
        read_group(write(tmp_path, CHIP.replace(right, wrong, 1)))
    assert f"chip.ttl, line {line}:" in str(said.value)
    assert says in str(said.value)
