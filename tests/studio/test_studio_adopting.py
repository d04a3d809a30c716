"""Somebody else's record made our own: as it came, found under its old address, known when it comes again."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from made_records import WHO

from catalogue.errors import BadData
from catalogue.record import Attribution, Party, Title, Work

# The shape is Linked Art's own (its model pages on objects, CC BY 4.0); the content is invented.
PANS = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/object/77",
    "type": "HumanMadeObject",
    "_label": "The Salt Pans",
    "classified_as": [
        {"id": "http://vocab.getty.edu/aat/300033618", "type": "Type", "_label": "Painting"}
    ],
    "identified_by": [
        {"type": "Name", "content": "The Salt Pans"},
        {"type": "Name", "content": "Evening on the Pans"},
        {"type": "Identifier", "content": "77.1"},
    ],
    "produced_by": {
        "type": "Production",
        "carried_out_by": [
            {"id": "https://museum.example/person/3", "type": "Person", "_label": "M. Orr"}
        ],
    },
    "member_of": [{"id": "https://museum.example/set/9", "type": "Set", "_label": "Room 9"}],
}
ORR = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/person/3",
    "type": "Person",
    "_label": "Maud Orr",
    "identified_by": [{"type": "Name", "content": "Maud Orr"}],
}
ROOM = {
    "@context": "https://linked.art/ns/v1/linked-art.json",
    "id": "https://museum.example/set/9",
    "type": "Set",
    "_label": "Room 9",
    "identified_by": [{"type": "Name", "content": "Room 9"}],
}


@pytest.fixture
def museum(empty_studio, tmp_path):
    """A studio into which three records of a museum were imported."""
    for number, document in enumerate((PANS, ORR, ROOM)):
        (tmp_path / f"{number}.json").write_text(json.dumps(document))
    told = list(empty_studio.import_([tmp_path], who=WHO))
    assert {each.outcome for each in told} == {"new"}
    return empty_studio


def adopted(studio, document=PANS):
    wanted = studio.named(document["id"]).document_id
    return studio.adopt(wanted, who=WHO, why="it came to us for cleaning")


def test_a_record_from_elsewhere_is_found_by_its_labels_and_its_address(museum):
    reference = museum.at(PANS["id"])
    assert reference.startswith("reference/")
    hits = museum.search(museum.query("salt pans")).hits
    assert [hit.document for hit in hits] == [reference]
    assert museum.name_of(PANS["id"]) == "Evening on the Pans", "the first of its labels"
    assert (
        museum.name_of("https://museum.example/object/78") == "https://museum.example/object/78"
    )


def test_it_becomes_a_work_with_a_number_and_stays_as_it_came(museum):
    reference = museum.at(PANS["id"])
    kept = adopted(museum)
    year = museum.today().year
    assert isinstance(kept.record, Work)
    assert kept.record.number == f"{year}-001"
    assert [title.text for title in kept.record.titles] == [
        "Evening on the Pans", "The Salt Pans"
    ]  # fmt: skip
    stored = museum.document(kept.document_id)
    assert stored["id"] == PANS["id"]
    assert stored["member_of"] == PANS["member_of"]
    assert museum.read(reference).document_id == kept.document_id
    assert museum.read(reference, 1).record.labels, "the record from elsewhere is still there"
    hits = museum.search(museum.query("salt pans")).hits
    assert [hit.document for hit in hits] == [kept.document_id]
    assert not museum.verify().faults


def test_it_can_be_worked_on_like_any_other(museum):
    kept = adopted(museum)
    more = replace(
        kept.record,
        medium="Oil on board",
        titles=(*kept.record.titles, Title(text="Pans at Dusk", kind="title/given")),
    )
    museum.save(more, who=WHO, read=kept)
    again = museum.work(kept.record.number).record
    assert again.medium == "Oil on board"
    assert len(again.titles) == 3
    assert museum.document(kept.document_id)["member_of"] == PANS["member_of"]


@pytest.mark.parametrize("add", [False, True])
def test_it_is_known_when_it_comes_again(museum, tmp_path, add):
    kept = adopted(museum)
    (told,) = museum.import_([tmp_path / "0.json"], who=WHO, add=add)
    assert (told.outcome, told.document_id) == ("same", kept.document_id)
    later = {
        **PANS,
        "identified_by": [*PANS["identified_by"], {"type": "Name", "content": "Pans"}],
    }
    (tmp_path / "0.json").write_text(json.dumps(later))
    (told,) = museum.import_([tmp_path / "0.json"], who=WHO, add=add)
    assert told.outcome == ("added" if add else "different")
    assert len(museum.work(kept.record.number).record.titles) == (3 if add else 2)
    assert museum.work(kept.record.number).record.number == kept.record.number


def test_a_person_from_elsewhere_becomes_one_of_ours_and_works_show_the_name(museum):
    work = adopted(museum)
    assert museum.name_of(work.record.attribution().artist) == "Maud Orr"
    museum.search(museum.query("pans"))
    person = adopted(museum, ORR)
    assert isinstance(person.record, Party)
    assert museum.party(person.record.id).record.name() == "Maud Orr"
    found = museum.search(museum.query(artist="maud orr")).hits
    assert work.document_id in {hit.document for hit in found}


def test_what_names_the_old_address_finds_the_work(museum):
    artist = ORR["id"]
    other = museum.save(
        Work(titles=(Title(text="Dusk", kind="title/given"),), attributions=(Attribution(artist=artist),)),
        who=WHO,
    )  # fmt: skip
    person = adopted(museum, ORR)
    assert museum.at(other.record.attributions[0].artist) is not None
    assert museum.read(museum.at(artist)).document_id == person.document_id


def test_what_is_no_object_and_no_person_stays_what_it_is(museum):
    with pytest.raises(BadData, match="Set: this can be no record"):
        adopted(museum, ROOM)
    kept = adopted(museum)
    with pytest.raises(BadData, match="one of our own already"):
        adopted(museum)
    with pytest.raises(BadData, match="needs a reason"):
        museum.adopt(museum.at(ORR["id"]), who=WHO, why=" ")
    assert museum.bench().works == 1
    assert kept.revision == 1


def test_making_it_our_own_is_undone_and_done_again(museum):
    reference = museum.at(PANS["id"])
    kept = adopted(museum)
    reference = f"reference/{kept.record.id}"
    museum.unmerge(reference, who=WHO, why="it went to another studio")
    assert museum.read(reference).record.labels[-1] == "The Salt Pans"
    assert museum.standing(kept.document_id).withdrawn is not None
    assert museum.at(PANS["id"]) == reference
    again = museum.adopt(reference, who=WHO, why="it came after all")
    assert again.record.number == kept.record.number
    assert museum.standing(kept.document_id).withdrawn is None
    assert museum.at(PANS["id"]) == kept.document_id
