"""Texts in TEI taken in: ours go back to their painting, anybody's become a work, nothing goes in silence.

Outside: the EpiDoc Guidelines, page ex-epidoctemplate (shape of a document) and pages trans-* (the
signs), from the sheet of standards, 1.1.
"""

from __future__ import annotations

import re

import pytest
from made_records import full_work
from sent_works import BASE, files, sample_works
from test_iiif import SMALL, UUID

from catalogue.exchange.tei.writing import write
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write as write_text
from catalogue.reading import read
from catalogue.record import Work
from catalogue.studio import Studio

# Invented; its shape is that of EpiDoc's template, its signs those of the pages trans-*.
FOREIGN = """<?xml version="1.0" encoding="UTF-8"?>
<?xml-model href="http://example.org/tei-epidoc.rng"?>
<TEI xmlns="http://www.tei-c.org/ns/1.0" xml:lang="en">
<teiHeader>
<fileDesc>
<titleStmt><title xml:lang="de">Zettel eines Rahmenmachers</title><editor>Ines Brandt</editor></titleStmt>
<publicationStmt><authority>Labels of Wend</authority><idno type="filename">WEND017</idno>
<availability><licence target="http://creativecommons.org/licenses/by/4.0/">CC BY</licence></availability>
</publicationStmt>
<sourceDesc><msDesc>
<msIdentifier><settlement>Wend</settlement><repository>Town archive</repository><idno>L 17</idno></msIdentifier>
<msContents><summary>Label in three lines.</summary></msContents>
<physDesc><objectDesc><supportDesc><support><p><objectType ref="http://vocab.getty.edu/aat/300028730">label</objectType>
 of <material>paper</material></p></support></supportDesc>
<layoutDesc><layout>Three lines within a border.</layout></layoutDesc></objectDesc>
<handDesc><handNote xml:id="h1" medium="ink">clerk</handNote></handDesc></physDesc>
<history><origin><origPlace>Wend</origPlace><origDate notBefore="1905" notAfter="1910">shortly before 1910</origDate></origin>
<provenance type="found">In a portfolio.</provenance></history>
</msDesc></sourceDesc>
</fileDesc>
<profileDesc><langUsage><language ident="de">German</language><language ident="la">Latin</language></langUsage></profileDesc>
</teiHeader>
<text><body>
<div type="edition" xml:lang="de"><ab><lb n="1"/>Rahmen<supplied reason="lost">macher</supplied>
<lb n="2"/><persName>A. Br<unclear>a</unclear>ndt</persName> <gap reason="lost" quantity="3" unit="character"/></ab></div>
<div type="translation" xml:lang="en"><p>Frame maker A. Brandt</p></div>
<div type="apparatus"><p>2: or Brendt</p></div>
<div type="bibliography"><p>Handlist, no. 17</p></div>
</body></text>
</TEI>
"""


def taken(studio, tmp_path, content, name="label.xml", **how):
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return list(studio.import_([path], who="Nell", **how))


def the_work(studio, told):
    return studio.work(told.document_id).record


def put_on_file(studio, tmp_path, work):
    (told,) = taken(studio, tmp_path, write_text(to_jsonld(work)), name=f"{work.id}.json")
    assert told.outcome == "new"


def put(folder, made):
    folder.mkdir(exist_ok=True)
    for name, content in made.items():
        (folder / name).write_bytes(content)
    return folder


def test_anybodys_text_becomes_a_work_with_one_inscription(empty_studio, tmp_path):
    (told,) = taken(empty_studio, tmp_path, FOREIGN)
    assert told.outcome == "new"
    work = the_work(empty_studio, told)
    assert [(each.text, each.language) for each in work.titles] == [
        ("Zettel eines Rahmenmachers", "de")
    ]
    assert {each.text for each in work.numbers} == {"L 17", "WEND017"}
    (inscription,) = work.inscriptions
    assert inscription.kind == "inscription/label"
    assert inscription.languages == ("de",)
    (transcript,) = inscription.transcripts
    assert transcript.markup == "Rahmen[macher]\nA. Bra_ndt [...]"
    notes = {(note.kind, note.text) for note in (*inscription.notes, *transcript.notes)}
    assert ("note/translation", "Frame maker A. Brandt") in notes
    assert ("note/bibliography", "Handlist, no. 17") in notes
    assert ("note/inscription", "2: or Brendt") in notes
    assert ("note/date", "Date of the text: shortly before 1910 (1905 to 1910)") in notes
    assert ("note/production", "Made at: Wend") in notes
    assert ("note/rights", "CC BY") in notes
    assert {"editor: Ines Brandt", "Kept by: Town archive, Wend"} <= {text for _, text in notes}
    # when the label was written is no date of the painting
    assert work.made is None


def test_what_was_not_understood_is_told_by_its_path(empty_studio, tmp_path):
    (told,) = taken(empty_studio, tmp_path, FOREIGN)
    (said,) = [each for each in told.said if each.startswith("kept, not understood")]
    assert "msContents/summary: Label in three lines." in said
    assert "persName: its text was kept, the element was not" in said
    assert "translation" not in said
    assert "teiHeader: read" not in said


def test_the_file_is_kept_byte_for_byte(empty_studio, tmp_path):
    (told,) = taken(empty_studio, tmp_path, FOREIGN)
    revision = empty_studio.ledger.read(told.document_id)
    assert revision.source is not None
    assert empty_studio.ledger.file(revision.source).read_bytes() == FOREIGN.encode()


def test_taken_in_again_it_is_the_same_and_changed_it_is_different(empty_studio, tmp_path):
    taken(empty_studio, tmp_path, FOREIGN)
    (again,) = taken(empty_studio, tmp_path, FOREIGN, name="other-name.xml")
    assert again.outcome == "same"
    changed = FOREIGN.replace("Handlist, no. 17", "Handlist, no. 18")
    (told,) = taken(empty_studio, tmp_path, changed)
    assert told.outcome == "different"
    (told,) = taken(empty_studio, tmp_path, changed, add=True)
    assert told.outcome == "added"
    (told,) = taken(empty_studio, tmp_path, changed)
    assert told.outcome == "same"


def test_each_document_of_a_corpus_is_taken_in_and_a_bad_one_stops_none(empty_studio, tmp_path):
    inner = FOREIGN[FOREIGN.index("<TEI") :]
    second = inner.replace("WEND017", "WEND018")
    endless = inner.replace("WEND017", "WEND019").replace("Rahmen<", f"{'x' * 1_100_000}<")
    third = inner.replace("WEND017", "WEND020")
    corpus = (
        '<teiCorpus xmlns="http://www.tei-c.org/ns/1.0"><teiHeader/>'
        f"{inner}{second}{endless}{third}</teiCorpus>"
    )
    told = taken(empty_studio, tmp_path, corpus)
    assert [each.outcome for each in told] == ["refused", "new", "new", "new"]
    assert "1,000,000" in told[0].said[0]


@pytest.mark.parametrize("base", [None, BASE])
def test_what_we_sent_out_goes_back_to_its_painting_as_nothing_new(tmp_path, base):
    for work in sample_works():
        with Studio.open("memory:") as studio:
            put_on_file(studio, tmp_path, work)
            folder = put(tmp_path / work.id, files(write, work, base=base))
            told = list(studio.import_([folder], who="Nell"))
            assert {each.outcome for each in told} == {"same"}
            assert {each.document_id for each in told} == {work.document}


@pytest.mark.parametrize("profile", ["public", "sale", "owner"])
def test_what_a_profile_left_out_brings_nothing_new(tmp_path, profile):
    for work in sample_works():
        with Studio.open("memory:") as studio:
            put_on_file(studio, tmp_path, work)
            folder = put(tmp_path / work.id, files(write, work, profile))
            told = list(studio.import_([folder], who="Nell"))
            assert {each.outcome for each in told} <= {"same"}


def test_another_reading_of_our_text_is_added_only_on_request(empty_studio, tmp_path):
    put_on_file(empty_studio, tmp_path, SMALL)
    ((name, content), _) = files(write, SMALL).items()
    other = content.replace(b"Lot 3", b"Lot 8")
    (told,) = taken(empty_studio, tmp_path, other, name=name)
    assert (told.outcome, told.document_id) == ("different", SMALL.document)
    (told,) = taken(empty_studio, tmp_path, other, name=name, add=True)
    assert told.outcome == "added"
    inscription = empty_studio.work(SMALL.document).record.inscription(UUID(3))
    assert [each.markup for each in inscription.transcripts if each.id != UUID(6)] == [
        "Gal.(erie) Ho[...]nn\nLot 8"
    ]
    # both readings stand, and the preferred one is still that of the studio or the latest
    assert len(inscription.transcripts) == 2
    (told,) = taken(empty_studio, tmp_path, other, name=name)
    assert told.outcome == "same"


@pytest.mark.parametrize("work", sample_works(), ids=lambda work: work.number)
def test_a_painting_that_is_not_on_file_comes_with_all_its_texts(empty_studio, tmp_path, work):
    made = files(write, work)
    told = list(empty_studio.import_([put(tmp_path / "out", made)], who="Nell"))
    assert {each.outcome for each in told} == {"new"}
    assert len(told) == len(made)
    held = empty_studio.work(work.document).record
    assert held.number == work.number
    assert held.title() == work.title()
    read_ones = {each.id: each for each in work.inscriptions if each.preferred()}
    assert {each.id for each in held.inscriptions} == read_ones.keys()
    for found in held.inscriptions:
        sent = read_ones[found.id]
        assert (found.kind, found.face, found.number) == (sent.kind, sent.face, sent.number)
        assert found.languages == sent.languages
        assert found.techniques == sent.techniques
        assert found.orientation == sent.orientation
        assert {region.corners for region in found.regions} == {
            region.corners for region in sent.regions
        }
        assert [(s.state, s.on) for s in found.sightings] == [
            (s.state, s.on) for s in sent.sightings
        ]
        (transcript,) = found.transcripts
        assert transcript.on == sent.preferred().on
        assert transcript.light == sent.preferred().light
        wanted = re.sub(" +", " ", read(sent.preferred().markup).tei())
        assert re.sub(" +", " ", read(transcript.markup).tei()) == wanted
    again = list(empty_studio.import_([tmp_path / "out"], who="Nell"))
    assert {each.outcome for each in again} == {"same"}


def test_what_was_made_of_texts_goes_out_as_the_same_texts(empty_studio, tmp_path):
    """Sent, taken in, sent again: letter for letter, for a text whose words are all of the trade."""
    made = files(write, SMALL)
    list(empty_studio.import_([put(tmp_path / "out", made)], who="Nell"))
    held = empty_studio.work(SMALL.document).record
    again = files(write, held)
    assert again.keys() == made.keys()
    for name, content in made.items():
        assert _edition(again[name]) == _edition(content)


def _edition(content):
    return content[content.index(b"<text>") :]


def test_a_full_record_after_its_texts_is_said_to_be_different(empty_studio, tmp_path):
    work = full_work()
    list(empty_studio.import_([put(tmp_path / "out", files(write, work))], who="Nell"))
    (tmp_path / "work.json").write_bytes(write_text(to_jsonld(work)))
    (told,) = empty_studio.import_([tmp_path / "work.json"], who="Nell")
    assert told.outcome == "different"


@pytest.mark.parametrize(
    ("changed", "to", "said"),
    [
        ("<gap", "<gap &odd;", "not well-formed"),
        ("</TEI>", "", "not well-formed"),
        (
            '<TEI xmlns="http://www.tei-c.org/ns/1.0"',
            "<TEI",
            "XML of a kind that is not read here",
        ),
        ("<TEI ", '<!DOCTYPE TEI SYSTEM "tei.dtd"><TEI ', "declares a document type"),
    ],
)
def test_a_broken_file_is_refused_in_words(empty_studio, tmp_path, changed, to, said):
    (told,) = taken(empty_studio, tmp_path, FOREIGN.replace(changed, to, 1))
    assert told.outcome == "refused"
    assert said in told.said[0]


def test_a_text_without_anything_around_it_is_taken_in(empty_studio, tmp_path):
    bare = (
        '<TEI xmlns="http://www.tei-c.org/ns/1.0"><text><body><p>Lot 3</p></body></text></TEI>'
    )
    (told,) = taken(empty_studio, tmp_path, bare)
    assert told.outcome == "new"
    work = the_work(empty_studio, told)
    assert isinstance(work, Work)
    assert work.inscriptions[0].preferred().markup == "Lot 3"
    (told,) = taken(empty_studio, tmp_path, bare, name="again.xml")
    assert told.outcome == "same"


def test_places_on_pictures_that_can_be_known_again_are_kept(empty_studio, tmp_path):
    facsimile = (
        '<facsimile><surface><graphic url="photos/../../back.jpg" width="300px" height="200px"/>'
        '<zone xml:id="z1" ulx="1" uly="2" lrx="30" lry="40"/>'
        '<zone xml:id="z2" ulx="1" uly="2" lrx="1" lry="40"/></surface>'
        '<surface><graphic url="https://pictures.example/17.jpg"/></surface></facsimile>'
    )
    content = FOREIGN.replace("<text>", f"{facsimile}<text>").replace(
        "<ab>", '<ab facs="#z1 #z2">'
    )
    (told,) = taken(empty_studio, tmp_path, content)
    work = the_work(empty_studio, told)
    (photo,) = work.photos
    assert photo.file_name == "back.jpg"
    assert (photo.width, photo.height) == (300, 200)
    (region,) = work.inscriptions[0].regions
    assert region.corners == ((1, 2), (30, 2), (30, 40), (1, 40))
    said = " ".join(told.said)
    assert "https://pictures.example/17.jpg did not come along" in said
    assert "encloses no area" in said
