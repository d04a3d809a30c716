"""LIDO from elsewhere taken in: typed values for what we know, the rest told by its path, nothing harmful read."""

import tracemalloc

import pytest
from foreign_lido import GERMAN, alone, event, small, wrapped
from hypothesis import given, settings
from hypothesis import strategies as st
from lido_schemas import faults, needs_lido

from catalogue.exchange.incoming import Arrival, Receiver, Refusal
from catalogue.exchange.lido.reading import arrivals
from catalogue.exchange.lido.source import of_word
from catalogue.exchange.lido.taken import markup_of
from catalogue.places import table
from catalogue.reading import read
from catalogue.record import Party, Work
from catalogue.studio import Studio
from catalogue.terms import known

TERMINOLOGY = "http://terminology.lido-schema.org/"


@pytest.fixture
def taken(tmp_path):
    """The documents of a file of this content."""

    def take(content, **receiver):
        source = tmp_path / "foreign.xml"
        source.write_bytes(content if isinstance(content, bytes) else content.encode())
        return list(arrivals(source, Receiver(**receiver)))

    return take


def work_of(got) -> Work:
    (work,) = (each.record for each in got if isinstance(each.record, Work))
    return work


@needs_lido
def test_the_examples_are_lido():
    assert faults(GERMAN.encode()) == []
    for version in ("1.0", "1.1"):
        assert faults(wrapped(small("1", "A"), small("2", "B")).encode(), version) == []


def test_what_we_know_of_a_foreign_record_becomes_typed(taken):
    got = taken(GERMAN)
    work = work_of(got)
    assert [(each.text, each.language, each.preferred) for each in work.titles] == [
        ("Ebbe bei Norhaven", "de", True),
        ("Low Tide near Norhaven", "en", False),
        ("Marée basse", "fr", False),
    ]
    assert work.made.edtf == "1881~"
    assert work.medium == "Öl auf Leinwand"
    assert work.materials == ("material/canvas", "material/oil-paint")
    assert {(each.what, each.height_mm, each.width_mm) for each in work.sizes} == {
        ("size/support", 505, 610),
        ("size/framed", 700, None),
    }
    assert {(each.kind, each.text) for each in work.numbers} == {
        ("number/inventory", "G 1881"),
        ("number/system", "1881"),
        ("number/system", "DE-AHL/obj/1881"),
    }
    assert [each.to for each in work.movements] == ["Kunstsammlung Ahlenburg, Ahlenburg"]
    (shown,) = work.exhibitions
    assert (shown.title, shown.at, shown.when.edtf) == (
        "Maler der Küste",
        "Kunsthalle Norhaven",
        "1931-05-03/1931-05-28",
    )
    (repair,) = work.repairs
    assert (repair.made.edtf, repair.notes[0].text) == ("1954", "Doubliert.")
    (relation,) = work.relations
    assert (relation.kind, relation.to) == (
        "relation/pendant-of",
        "https://sammlung.example/obj/1882",
    )


def test_a_transcription_is_taken_letter_for_letter(taken):
    signed, label = work_of(taken(GERMAN)).inscriptions
    if signed.kind != "inscription/signature":
        signed, label = label, signed
    assert (signed.kind, signed.face) == ("inscription/signature", "face/back")
    reading = signed.transcripts[0].reading()
    # brackets and plus signs of others are letters, not signs of our markup
    assert reading.diplomatic() == "A. Brantow [18]81 + H."
    assert reading.faults == ()
    assert (label.kind, label.face) == ("inscription/label", "face/stretcher-bar")


@settings(max_examples=300, deadline=None)
@given(st.text(st.sampled_from("aB1 [](){}<>+_|\\/=#@~*^.,\n-"), max_size=40))
def test_no_text_of_others_becomes_a_sign(text):
    plain = "\n".join(" ".join(line.split()) for line in text.strip().splitlines())
    reading = read(markup_of(plain))
    wanted = [line for line in plain.split("\n") if line]
    assert [line for line in reading.diplomatic().split("\n") if line] == wanted


def test_an_attribution_has_its_qualifier_and_its_artist_is_known_by_the_authoritys_number(
    taken,
):
    got = taken(GERMAN)
    (artist,) = (each.record for each in got if isinstance(each.record, Party))
    (attribution,) = work_of(got).attributions
    assert attribution.qualifier == "qualifier/circle-of"
    assert attribution.artist == artist.document
    assert [each.text for each in artist.names] == ["Brantow, Anna", "Brantow-Heise, Anna"]
    assert [(each.kind, each.text) for each in artist.numbers] == [("number/ulan", "500000000")]
    assert (artist.began.edtf, artist.ended.edtf) == ("1840", "1903")


def test_a_step_of_the_provenance_cites_the_record_that_says_so(taken):
    (step,) = work_of(taken(GERMAN)).provenance
    assert step.kind == "provenance/sale"
    assert [(each.written, each.role, each.party) for each in step.parties] == [
        ("Galerie Torvald", "capacity/seller", None)
    ]
    assert step.when.edtf == "1923"
    assert step.evidence[0].text == "record DE-AHL/obj/1881 of Kunstsammlung Ahlenburg"


def test_what_is_not_understood_is_told_by_its_path(taken):
    told = next(each.not_understood for each in taken(GERMAN) if isinstance(each.record, Work))
    for expected in (
        "classification/term: Landschaft",
        "displayState: nach der Reinigung",
        "eventSet/event/eventMaterialsTech/displayMaterialsTech: huile sur toile",
        "objectMeasurementsSet/objectMeasurements/measurementsSet/measurementValue: 7,5",
        "eventSet/displayEvent: Restaurierungsgespräch",
        "subjectSet/displaySubject: Wattenmeer",
        "objectDescriptionSet/descriptiveNoteValue: Vue sur la mer.",
        "resourceSet/rightsResource/rightsType/term: CC0",
    ):
        assert expected in told


def test_where_much_is_not_understood_it_is_said_how_much_more(taken):
    strange = "".join(f"<lido:strange{number}>x</lido:strange{number}>" for number in range(60))
    told = taken(alone("1", "A", event("Production", strange)))[0].not_understood
    assert len(told) == 41
    assert told[-1] == "and 20 more places in the record: they stand in the file that was kept"


def test_every_text_of_a_record_is_either_kept_or_told(taken):
    """Nothing is dropped in silence: a word planted anywhere is in the record or in what is told."""
    from lxml import etree

    tree = etree.fromstring(GERMAN.encode())
    places = [
        each for each in tree.iter() if isinstance(each.tag, str) and (each.text or "").strip()
    ]
    lost = []
    for place in places:
        name = etree.QName(place).localname
        before, place.text = place.text, "zqxj"
        try:
            got = taken(etree.tostring(tree))
            said = " ".join(
                str(each.error) if isinstance(each, Refusal)
                else f"{each.record} {' '.join(each.not_understood)}"
                for each in got
            )  # fmt: skip
            if "zqxj" not in said:
                lost.append((name, before))
        finally:
            place.text = before
    # a concept is known by its address or its word, whichever is right; a record is of one thing
    assert {name for name, _ in lost} <= {"conceptID", "term"}, lost
    assert len(places) > 60


@pytest.mark.parametrize(
    ("kind", "becomes"),
    # numbers and words: standards sheet, section 3; short names: the same, last sentence
    [
        ("lido00001", "provenance/unknown"),
        ("lido00005", "provenance/transfer"),
        ("lido00227", "provenance/presence"),
        ("lido00010", "provenance/presence"),
        ("lido00226", "provenance/commission"),
        ("lido00009", "provenance/lost"),
        ("lido00002", "provenance/discovery"),
        ("lido00225", "provenance/exhibition"),
        ("eventType/acquisition", "provenance/unknown"),
        ("eventType/transfer_of_custody", "provenance/transfer"),
        ("eventType/collecting", "provenance/presence"),
    ],
)
def test_each_kind_of_event_is_known_by_number_or_short_name(taken, kind, becomes):
    dated = "<lido:eventDate><lido:displayDate>1923</lido:displayDate></lido:eventDate>"
    work = work_of(taken(alone("1", "A", event(TERMINOLOGY + kind, dated))))
    assert [each.kind for each in work.provenance] == [becomes]
    assert work.provenance[0].when.edtf == "1923"


def test_dates_without_words_go_by_their_days(taken):
    dated = (
        "<lido:eventDate><lido:date><lido:earliestDate>1880</lido:earliestDate>"
        "<lido:latestDate>1885-06-30</lido:latestDate></lido:date></lido:eventDate>"
    )
    made = work_of(taken(alone("1", "A", event("Production", dated)))).made
    assert (made.earliest.iso, made.latest.iso) == ("1880-01-01", "1885-06-30")


def test_a_file_of_many_gives_them_all_and_one_bad_one_does_not_stop_the_others(taken):
    bad = small("", "nameless").replace("<lido:titleWrap>", "<lido:titleWrap>")
    got = taken(wrapped(small("1", "A"), bad, small("3", "C")))
    assert [each.record.titles[0].text for each in got if isinstance(each, Arrival)] == [
        "A",
        "C",
    ]
    (refused,) = (each for each in got if isinstance(each, Refusal))
    assert "lidoRecID" in str(refused.error)
    assert "record 2" in str(refused.error)


def test_the_same_record_gives_the_same_ids_and_another_source_another(taken):
    first, second = taken(GERMAN), taken(GERMAN)
    assert [each.record for each in first] == [each.record for each in second]
    other = taken(
        GERMAN.replace('lido:source="Kunstsammlung Ahlenburg"', 'lido:source="Another"')
    )
    assert work_of(other).id != work_of(first).id


def test_a_foreign_record_is_known_when_it_comes_again_and_never_saved_over(tmp_path):
    source = tmp_path / "foreign.xml"
    with Studio.open("memory:") as studio:
        source.write_text(GERMAN)
        assert {each.outcome for each in studio.import_([source], who="x")} == {"new"}
        assert {each.outcome for each in studio.import_([source], who="x")} == {"same"}
        source.write_text(GERMAN.replace("Ebbe bei", "Flut bei"))
        outcomes = {
            each.document_id[:5]: each.outcome for each in studio.import_([source], who="x")
        }
        assert outcomes == {"party": "same", "work/": "different"}


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ('<?xml version="1.0"?><!DOCTYPE l [<!ENTITY a "b">]>' + GERMAN.partition("?>")[2], "DOCTYPE"),
        (GERMAN[:4000], "not well-formed"),
        (GERMAN.replace("DE-AHL/obj/1881", " "), "lidoRecID"),
        (wrapped(), "no LIDO record"),
        (b"\xff\xfe\x00", "XML"),
        (b"", "XML"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused_in_words(taken, content, said):
    got = taken(content)
    assert [type(each) for each in got] == [Refusal]
    assert said in str(got[0].error)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_damage_makes_more_than_a_refusal(tmp_path_factory, data):
    """Elements swapped, emptied, doubled: every record comes in or is refused, and nothing is raised."""
    import random

    from lxml import etree

    chance = random.Random(data.draw(st.integers(0, 10**6)))
    tree = etree.fromstring(GERMAN.encode())
    every = [each for each in tree.iter() if isinstance(each.tag, str)]
    for _ in range(chance.randint(1, 6)):
        one, other = chance.sample(every[1:], 2)
        which = chance.choice(["text", "gone", "twice", "strange"])
        if which == "text":
            one.text = chance.choice(["", "9999-99-99", "-", "0", "x" * 300, other.text or ""])
        elif which == "gone" and one.getparent() is not None:
            one.getparent().remove(one)
        elif which == "twice" and one.getparent() is not None:
            one.addnext(etree.fromstring(etree.tostring(one)))
        else:
            one.tag = other.tag
    source = tmp_path_factory.mktemp("d") / "damaged.xml"
    source.write_bytes(etree.tostring(tree))
    for each in arrivals(source, Receiver()):
        assert isinstance(each, Arrival | Refusal)


def test_a_file_larger_than_a_record_may_be_is_read_record_by_record(tmp_path, monkeypatch):
    """Memory stays that of one record, and what is kept beside each is that record alone."""
    source = tmp_path / "many.xml"
    filler = "w" * 20_000
    with source.open("w") as file:
        file.write(wrapped().replace("</lido:lidoWrap>\n", ""))
        for number in range(1200):
            file.write(small(str(number), f"Title {number} {filler}"))
        file.write("</lido:lidoWrap>\n")
    assert source.stat().st_size > 24_000_000
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    tracemalloc.start()
    found = 0
    for each in arrivals(source, Receiver(scratch=scratch)):
        assert isinstance(each, Arrival)
        assert each.source.parent == scratch / "many.xml"
        assert each.source.stat().st_size < 30_000
        found += 1
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert found == 1200
    assert most < 60_000_000


def test_the_words_of_the_table_lead_to_terms():
    words = table("lido.toml")
    for group, rows in words["translated"].items():
        for word, key in rows.items():
            assert known(key), key
            assert of_word(word, group) in (key, of_word(word, group)), word
    for key in words["extents"].values():
        assert known(key)
    for row in words["taken"].values():
        assert known(row["kind"])
        assert known(row["role"])
    assert set(words["provenance"].values()) <= set(words["events"])
    assert all(known(key) for key in words["provenance"])
    assert all(known(key) for key in words["paintings"]["groups"])
