"""Sending records out and taking them in again: the same record, never saved over."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from made_records import ARTIST, WHO, changed_title, full_work
from PIL import Image

from catalogue.errors import BadSetting, CannotSave
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write
from catalogue.record import (
    Attribution,
    Party,
    PartyName,
    Photo,
    Reference,
    Relation,
    Title,
    Work,
)
from catalogue.studio import Studio


def outcomes(told):
    return sorted(each.outcome for each in told)


@pytest.mark.parametrize("base", [None, "https://backs.example/studio"])
def test_the_full_graph_comes_back_whole(studio, tmp_path, base):
    studio.set_base(base)
    sent = studio.export("full-graph", "full", tmp_path / "out")
    assert sent.documents == 4
    with Studio.open("memory:") as other:
        other.set_base(base)
        assert outcomes(other.import_([tmp_path / "out"], who=WHO)) == ["new"] * 4
        for head in studio.ledger.heads():
            assert other.document(head.document) == studio.document(head.document)
        assert outcomes(other.import_([tmp_path / "out"], who=WHO)) == ["same"] * 4


def test_what_was_sent_under_a_base_is_known_in_a_studio_without_one(studio, tmp_path):
    studio.set_base("https://backs.example/")
    studio.export("full-graph", "full", tmp_path / "out")
    with Studio.open("memory:") as other:
        assert outcomes(other.import_([tmp_path / "out"], who=WHO)) == ["new"] * 4
        for head in studio.ledger.heads():
            assert other.document(head.document) == studio.document(head.document)


def test_what_was_sent_before_there_was_a_base_is_known_again(studio, tmp_path):
    studio.export("full-graph", "full", tmp_path / "out")
    studio.set_base("https://backs.example/")
    assert outcomes(studio.import_([tmp_path / "out"], who=WHO)) == ["same"] * 4


def test_an_import_never_saves_over(studio, tmp_path):
    kept = studio.work("2026-041")
    changed = to_jsonld(changed_title(kept.record, "Something else"))
    (tmp_path / "a.json").write_bytes(write(changed))
    (told,) = studio.import_([tmp_path / "a.json"], who=WHO)
    assert told.outcome == "different"
    assert "it has another title" in told.said
    assert studio.work("2026-041").record == kept.record


def test_what_an_import_says_beyond_is_added_on_request_alone(studio, tmp_path):
    kept = studio.work("2026-041")
    more = Title(text="Ebb Tide", kind="title/descriptive")
    theirs = replace(changed_title(kept.record, "Something else"), medium="Tempera")
    theirs = replace(theirs, titles=(*theirs.titles, more))
    (tmp_path / "a.json").write_bytes(write(to_jsonld(theirs)))
    (told,) = studio.import_([tmp_path / "a.json"], who=WHO, add=True)
    assert told.outcome == "added"
    now = studio.work("2026-041").record
    assert more in now.titles
    assert (now.title(), now.medium) == ("Low Water", "Oil on canvas")
    (again,) = studio.import_([tmp_path / "a.json"], who=WHO, add=True)
    assert again.outcome == "same"


def test_what_a_profile_left_out_is_not_read_as_deleted(studio, tmp_path):
    before = studio.work("2026-041").record
    studio.export("full-graph", "public", tmp_path / "out")
    assert "new" not in outcomes(studio.import_([tmp_path / "out"], who=WHO))
    assert studio.work("2026-041").record == before


def test_a_taken_number_is_replaced_and_said(studio, tmp_path):
    other = replace(full_work(), notes=())
    (tmp_path / "a.json").write_bytes(write(to_jsonld(other)))
    assert other.id != studio.work("2026-041").record.id
    (told,) = studio.import_([tmp_path / "a.json"], who=WHO)
    assert told.outcome == "new"
    assert any("2026-041 is taken" in said for said in told.said)
    assert studio.read(told.document_id).record.number != "2026-041"


def test_another_institutions_record_is_kept_as_it_came(studio, tmp_path):
    foreign = {
        "@context": "https://linked.art/ns/v1/linked-art.json",
        "id": "https://museum.example/object/77",
        "type": "HumanMadeObject",
        "_label": "The Salt Pans",
        "classified_as": [{"id": "http://vocab.getty.edu/aat/300033618", "type": "Type"}],
        "museum_shelf": "R 12",
    }
    text = json.dumps(foreign, indent=3).encode()
    (tmp_path / "theirs.json").write_bytes(text)
    (told,) = studio.import_([tmp_path / "theirs.json"], who=WHO)
    assert told.said == ("kept, not understood: museum_shelf",)
    record = studio.read(told.document_id).record
    assert isinstance(record, Reference)
    assert (record.address, record.labels) == (foreign["id"], ("The Salt Pans",))
    assert studio.document(told.document_id) == foreign
    source = studio.ledger.read(told.document_id).source
    assert studio.ledger.read_file(source) == text, "the bytes of the file are kept beside it"


BAD = {
    "not-json.json": (b"{", "not JSON"),
    "a-list-of-numbers.json": (b"[1]", "one JSON object"),
    "a-remote-context.json": (
        b'{"@context": "https://elsewhere.example/c.json", "id": "https://x.example/1"}',
        "dorse never fetches one",
    ),
    "no-id.json": (b'{"type": "Person"}', "no id"),
    "deep.json": (
        b'{"id": "https://x.example/1", "a":' + b"[" * 500 + b"]" * 500 + b"}",
        "deeper",
    ),
    "a-number-for-a-name.json": (
        b'{"id": "https://x.example/p", "type": "Person", "identified_by": [{"type": "Name", "content": 3}]}',
        "",
    ),
}


def test_bad_files_are_refused_one_by_one_and_the_good_ones_taken_in(empty_studio, tmp_path):
    for name, (content, _) in BAD.items():
        (tmp_path / name).write_bytes(content)
    (tmp_path / "good.json").write_bytes(write(to_jsonld(ARTIST)))
    told = {
        each.source.rpartition("/")[2]: each
        for each in empty_studio.import_([tmp_path], who=WHO)
    }
    assert told["good.json"].outcome == "new"
    for name, (_, says) in BAD.items():
        if says:
            assert told[name].outcome == "refused", name
            assert says in told[name].said[0]
    assert not empty_studio.verify().faults


def test_pictures_beside_the_records_come_along_byte_for_byte(empty_studio, tmp_path):
    Image.new("RGB", (60, 40), "linen").save(tmp_path / "back.jpg")
    work = replace(
        full_work(),
        inscriptions=(),
        papers=(),
        photos=(Photo(file_name="back.jpg"), Photo(file_name="gone.jpg")),
    )
    (tmp_path / "w.json").write_bytes(write(to_jsonld(work)))
    (told,) = empty_studio.import_([tmp_path / "w.json"], who=WHO)
    assert told.said == ("the picture gone.jpg did not come along",)
    photos = {photo.file_name: photo for photo in empty_studio.work("2026-041").record.photos}
    back = photos["back.jpg"]
    assert (back.width, back.height, back.media_type) == (60, 40, "image/jpeg")
    assert empty_studio.ledger.read_file(back.sha256) == (tmp_path / "back.jpg").read_bytes()
    assert empty_studio.picture(back.sha256, "thumb").exists()


def test_exports_are_the_same_byte_for_byte(studio, tmp_path):
    for name in ("linked-art", "full-graph"):
        for profile in ("public", "owner", "full"):
            first, second = tmp_path / f"1{name}{profile}", tmp_path / f"2{name}{profile}"
            studio.export(name, profile, first)
            studio.export(name, profile, second)
            assert [path.name for path in sorted(first.iterdir())] == [
                path.name for path in sorted(second.iterdir())
            ]
            for path in first.iterdir():
                assert path.read_bytes() == (second / path.name).read_bytes()
                assert path.suffix == ".json"


def test_no_confidential_word_is_in_any_file_that_leaves(studio, tmp_path):
    for name in ("linked-art", "full-graph"):
        studio.export(name, "public", tmp_path / name)
        sent = b"".join(path.read_bytes() for path in (tmp_path / name).iterdir())
        for secret in (b"Quillan", b"The client argues", b"rack 3", b"see file", b"Nell"):
            assert secret not in sent


@pytest.mark.parametrize("name", ["linked-art", "full-graph"])
@pytest.mark.parametrize("profile", ["public", "owner", "full"])
def test_a_party_that_is_not_on_file_stops_no_export(empty_studio, tmp_path, name, profile):
    empty_studio.save(full_work(), who=WHO)
    sent = empty_studio.export(name, profile, tmp_path)
    assert sent.documents == 1
    own = empty_studio.work("2026-041").record.id
    assert "Low Water" in (tmp_path / f"work-{own}.json").read_text("utf-8")


def test_the_base_is_a_web_address_whenever_it_is_set(studio):
    with pytest.raises(BadSetting, match="not a web address"):
        studio.set_base("backs.example")
    assert studio.base is None


def test_an_unknown_format_or_profile_writes_nothing(studio, tmp_path):
    for name, profile in (("mystery", "public"), ("linked-art", "press")):
        with pytest.raises(BadSetting, match="choose one of"):
            studio.export(name, profile, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_file_in_the_way_is_an_error_in_words(studio, tmp_path):
    (tmp_path / "out").write_text("x")
    with pytest.raises(BadSetting, match="is a file"):
        studio.export("linked-art", "public", tmp_path / "out")
    (tmp_path / "deep").mkdir()
    (tmp_path / "deep" / f"work-{full_work().id}.json").mkdir()
    other = studio.work("2026-041").record.id
    (tmp_path / "deep" / f"work-{other}.json").mkdir(exist_ok=True)
    with pytest.raises(CannotSave, match="a folder is in the way"):
        studio.export("linked-art", "public", tmp_path / "deep")


def test_a_name_that_stays_home_is_not_said_by_whoever_refers_to_it(empty_studio, tmp_path):
    secret = "The picture nobody speaks of"
    hidden = Work(
        titles=(Title(text=secret, kind="title/given", visibility="visibility/studio"),)
    )
    told = PartyName(text="A. Painter", preferred=True)
    other = PartyName(text="Born otherwise", visibility="visibility/studio")
    painter = Party(kind="person", names=(other, told), roles=("role/artist",))
    open_one = Work(
        titles=(Title(text="Mole at evening", kind="title/given"),),
        attributions=(Attribution(artist=painter.document, preferred=True),),
        relations=(Relation(kind="relation/pendant-of", to=hidden.document),),
    )
    for record in (painter, hidden, open_one):
        empty_studio.save(record, who=WHO)
    for format_name in ("linked-art", "full-graph"):
        out = tmp_path / format_name
        empty_studio.export(format_name, "public", out)
        sent = "".join(path.read_text("utf-8") for path in out.rglob("*") if path.is_file())
        assert "Mole at evening" in sent
        assert "A. Painter" in sent
        assert secret not in sent
        assert "Born otherwise" not in sent


def test_what_an_import_would_add_is_called_by_its_word(tmp_path):
    painter = Party(kind="person", names=(PartyName(text="Ada Penhale", preferred=True),))
    other = replace(painter, names=(*painter.names, PartyName(text="A. Penhale")))
    for name, party in (("a.json", painter), ("b.json", other)):
        (tmp_path / name).write_text(json.dumps(to_jsonld(party)))
    with Studio.init(tmp_path / "studio") as studio:
        list(studio.import_([tmp_path / "a.json"], who="Nell"))
        (told,) = studio.import_([tmp_path / "b.json"], who="Nell")
    assert told.outcome == "different"
    assert "it adds name" in told.said
