"""Parcels coming in: what goes out comes back; bags made by another program; what is refused, in words."""

from __future__ import annotations

import zipfile
from dataclasses import replace

import bagit
import pytest
from parcels import (
    LETTER,
    WHO,
    camera_picture,
    contents,
    house,
    in_folder,
    sent,
    with_pictures,
    zipped,
)

from catalogue.record import (
    Evidence,
    Party,
    PartyName,
    PartyRole,
    ProvenanceEvent,
    Release,
    Work,
)
from catalogue.record.common import digest_of
from catalogue.studio import Studio

PROFILES = ("public", "sale", "full")
NOW = "2026-03-06T10:00:00Z"


@pytest.fixture(scope="module")
def studio():
    with house(notes_released=True) as opened:
        yield opened


@pytest.fixture(scope="module")
def parcels(studio, tmp_path_factory):
    return {each: sent(studio, each, tmp_path_factory.mktemp(each)) for each in PROFILES}


@pytest.fixture
def other():
    with Studio.open("memory:") as opened:
        opened.set_letterhead(["The Bench at Harrow Lane"])
        yield opened


def taken_in(studio, *parcels, **how):
    return list(studio.import_(parcels, who=WHO, **how))


def outcomes(told):
    return [each.outcome for each in told]


def release_all(studio):
    """Release every note that is on file, as a person would."""
    for kept in list(studio.all(Work)):
        notes = tuple(
            replace(note, released=Release(by=WHO, at=NOW, digest=digest_of(note.text)))
            for note in kept.record.notes
        )
        if notes:
            studio.save(replace(kept.record, notes=notes), who=WHO, read=kept)


# --- there and back ----------------------------------------------------------------------------


def test_a_whole_parcel_restores_an_empty_studio(parcels, other, tmp_path):
    told = taken_in(other, parcels["full"])
    assert set(outcomes(told)) == {"new"}
    assert not [each.said for each in told if each.said]
    assert sent(other, "full", tmp_path).read_bytes() == parcels["full"].read_bytes()
    work = with_pictures(other)
    assert other.original(work.photos[0]).read_bytes() == camera_picture()
    assert other.original(work.papers[0]).read_bytes() == LETTER
    assert not other.verify().faults


@pytest.mark.parametrize("profile", ["public", "sale"])
def test_there_and_back_is_the_same_parcel_but_for_texts_that_nobody_here_released(
    parcels, other, tmp_path, profile
):
    """What a stranger may publish was released by its own people, not by ours: a text waits for that."""
    assert set(outcomes(taken_in(other, parcels[profile]))) == {"new"}
    without = contents(sent(other, profile, tmp_path / "before"))
    assert b"The label was uncovered" not in b"".join(without.values())
    release_all(other)
    assert (
        sent(other, profile, tmp_path / "after").read_bytes() == parcels[profile].read_bytes()
    )


@pytest.mark.parametrize("profile", PROFILES)
def test_with_an_address_of_its_own_it_is_the_same_as_well(studio, other, tmp_path, profile):
    base = "https://backs.example/"
    try:
        studio.set_base(base)
        parcel = sent(studio, profile, tmp_path / "there")
    finally:
        studio.set_base(None)
    other.set_base(base)
    taken_in(other, parcel)
    if profile != "full":
        release_all(other)
    assert sent(other, profile, tmp_path / "back").read_bytes() == parcel.read_bytes()


@pytest.mark.parametrize("profile", PROFILES)
def test_twice_is_the_same(parcels, other, profile):
    taken_in(other, parcels[profile])
    before = other.ledger.last()
    assert set(outcomes(taken_in(other, parcels[profile]))) == {"same"}
    assert other.ledger.last() == before


def test_the_sender_knows_its_own_parcel(studio, parcels):
    assert set(outcomes(taken_in(studio, parcels["full"]))) == {"same"}


@pytest.mark.parametrize("add", [False, True])
def test_what_was_left_out_is_never_deleted(parcels, tmp_path, add):
    with house() as studio:
        before = {each.document_id: each.record for each in studio.all(Work)}
        told = taken_in(studio, sent(studio, "public", tmp_path), add=add)
        assert "new" not in outcomes(told)
        assert {each.document_id: each.record for each in studio.all(Work)} == before


def test_copies_are_shown_where_the_originals_are_elsewhere(parcels, other):
    told = taken_in(other, parcels["public"])
    assert any("the originals are elsewhere" in said for each in told for said in each.said)
    photo = with_pictures(other).photos[0]
    assert not other.ledger.has_file(photo.sha256)
    assert other.picture(photo.sha256, "thumb").is_file()
    assert not other.verify().faults


def test_it_says_by_which_list_it_left(parcels, other):
    told = taken_in(other, parcels["sale"])
    assert "by the list “sale”" in told[0].said[0]
    assert str(parcels["sale"]) in told[0].source


# --- bags and zips of others -------------------------------------------------------------------


def _bag_of_bagit(studio, tmp_path, **how):
    """A bag that PyPI bagit made, around records of ours."""
    folder = tmp_path / "made-elsewhere"
    studio.export("full-graph", "public", folder, who=WHO)
    bagit.make_bag(str(folder), {"Contact-Name": "Somebody"}, **how)
    parcel = tmp_path / "bag.zip"
    with zipfile.ZipFile(parcel, "w", zipfile.ZIP_DEFLATED) as packed:
        for path in sorted(folder.rglob("*")):
            packed.write(path, path.relative_to(tmp_path))
    return parcel


@pytest.mark.parametrize("checksums", [["sha256"], ["md5"], ["sha1", "sha512"]])
def test_a_bag_by_another_program_is_read(studio, other, tmp_path, checksums):
    told = taken_in(other, _bag_of_bagit(studio, tmp_path, checksums=checksums))
    assert outcomes(told) == ["new"] * 3


def test_a_plain_zip_of_records_is_read_and_told(studio, other, tmp_path):
    studio.export("full-graph", "public", tmp_path / "plain", who=WHO)
    files = {f"some/{each.name}": each.read_bytes() for each in (tmp_path / "plain").iterdir()}
    told = taken_in(other, zipped(tmp_path / "plain.zip", {**files, "__MACOSX/x.json": b"?"}))
    assert outcomes(told) == ["new"] * 3
    assert "nobody can tell whether it is whole" in told[0].said[0]


def test_one_bad_record_does_not_stop_the_others(studio, other, tmp_path):
    studio.export("full-graph", "public", tmp_path / "plain", who=WHO)
    files = {each.name: each.read_bytes() for each in (tmp_path / "plain").iterdir()}
    told = taken_in(other, zipped(tmp_path / "some.zip", {**files, "bad.json": b"{"}))
    assert sorted(outcomes(told)) == ["new", "new", "new", "refused"]
    (refused,) = (each for each in told if each.outcome == "refused")
    assert refused.source.endswith("some.zip: bad.json")


def test_a_zip_within_a_zip_is_not_opened(parcels, other, tmp_path):
    outer = zipped(tmp_path / "outer.zip", {"inner.zip": parcels["public"].read_bytes()})
    (told,) = taken_in(other, outer)
    assert "a zip within a zip is not opened" in told.said[0]


# --- what is not whole -------------------------------------------------------------------------


def _changed(parcel, into, change):
    """The parcel with its files changed: `change` gets them by name and alters the dict."""
    with zipfile.ZipFile(parcel) as packed:
        files = {each: packed.read(each) for each in packed.namelist()}
    change(files)
    return zipped(into / "changed.zip", files)


def _of(files, ending):
    return next(each for each in files if each.endswith(ending))


def _flip(name):
    def change(files):
        found = _of(files, name)
        content = bytearray(files[found])
        content[len(content) // 2] ^= 1
        files[found] = bytes(content)

    return change


def _drop(name):
    return lambda files: files.pop(_of(files, name))


def _put(name, content=b"x"):
    return lambda files: files.update({name: content})


def _say(name, before, after):
    def change(files):
        found = _of(files, name)
        assert before in files[found]
        files[found] = files[found].replace(before, after)

    return change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_flip("index.html"), "not as it was sent: data/index.html"),
        (_flip(".jpg"), "not as it was sent: data/pictures/"),
        (_flip("/bag-info.txt"), "is not whole"),
        (_drop("index.html"), "missing, though listed: data/index.html"),
        (_put("parcel-public/data/more.txt"), "there, though in no list: data/more.txt"),
        (_put("parcel-public/fetch.txt", b"https://x.example/a 3 data/a"), "nothing is ever fetched"),
        (_drop("/manifest-sha256.txt"), "no list of digests that is understood"),
        (_say("bagit.txt", b"1.0", b"7.0"), "version '7.0' is not understood"),
        (_say("bagit.txt", b"UTF-8", b"UTF-7"), "read is only UTF-8"),
        (_say("/manifest-sha256.txt", b"  data/", b"  "), "missing, though listed: index.html"),
    ],
)  # fmt: skip
def test_what_is_not_whole_is_refused_and_nothing_of_it_is_kept(
    parcels, other, tmp_path, change, said
):
    (told,) = taken_in(other, _changed(parcels["public"], tmp_path, change))
    assert told.outcome == "refused"
    assert said in told.said[0]
    assert "changed.zip" in told.said[0]
    assert other.ledger.last()[0] == 0


def test_bagit_refuses_what_we_refuse(parcels, tmp_path):
    """The same flipped byte, the same missing and the same strange file, by PyPI bagit."""
    for place, change in enumerate(
        (_flip("index.html"), _drop("index.html"), _put("parcel-public/data/more.txt"))
    ):
        into = tmp_path / str(place)
        into.mkdir()
        bag = in_folder(_changed(parcels["public"], into, change), into / "out")
        with pytest.raises(bagit.BagValidationError):
            bagit.Bag(str(bag)).validate()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("../../out.json", b"{}", "leads out of the folder"),
        ("/etc/out.json", b"{}", "leads out of the folder"),
        ("bomb.json", b" " * 300_000_000, "swells"),
    ],
)
def test_what_would_do_harm_is_refused(other, tmp_path, name, content, said):
    (told,) = taken_in(other, zipped(tmp_path / "bad.zip", {name: content}))
    assert told.outcome == "refused"
    assert said in told.said[0]


def test_a_link_is_refused(other, tmp_path):
    with zipfile.ZipFile(tmp_path / "link.zip", "w") as packed:
        link = zipfile.ZipInfo("records.json")
        link.external_attr = 0o120777 << 16
        packed.writestr(link, "/etc/passwd")
    (told,) = taken_in(other, tmp_path / "link.zip")
    assert "link to another file" in told.said[0]


def test_a_file_and_a_folder_of_one_name_are_refused(other, tmp_path):
    (told,) = taken_in(other, zipped(tmp_path / "odd.zip", {"a": b"{}", "a/b.json": b"{}"}))
    assert told.outcome == "refused"


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 not really", b"Hello", b"\x00" * 1000])
def test_what_is_no_zip_is_refused_in_words(other, tmp_path, content):
    (tmp_path / "no.zip").write_bytes(content)
    (told,) = taken_in(other, tmp_path / "no.zip")
    assert told.outcome == "refused"
    assert "no.zip" in told.said[0]


def test_a_zip_that_is_cut_off_is_refused(parcels, other, tmp_path):
    whole = parcels["full"].read_bytes()
    (tmp_path / "cut.zip").write_bytes(whole[: len(whole) // 2])
    (told,) = taken_in(other, tmp_path / "cut.zip")
    assert told.outcome == "refused"


def test_a_picture_under_a_wrong_digest_is_not_kept(parcels, other, tmp_path):
    """Its manifest is right, so the bag is whole; but the file is not the one that the record names."""
    bag = in_folder(parcels["full"], tmp_path / "bag")
    original = next((bag / "data" / "originals").glob("*.jpg"))
    original.write_bytes(camera_picture(orientation=3))
    made = bagit.Bag(str(bag))
    made.save(manifests=True)
    files = {
        str(each.relative_to(bag.parent)): each.read_bytes()
        for each in sorted(bag.rglob("*"))
        if each.is_file()
    }
    told = taken_in(other, zipped(tmp_path / "wrong.zip", files))
    assert set(outcomes(told)) == {"new"}
    photo = with_pictures(other).photos[0]
    assert not other.ledger.has_file(photo.sha256)


def test_a_private_collection_of_our_own_making_is_not_added_to_whom_it_stands_for(
    empty_studio, tmp_path
):
    owner = Party(
        kind="person",
        names=(PartyName(text="Eustacia Trelawney"),),
        visibility="visibility/studio",
    )
    told_by_her = Evidence(kind="evidence/oral", text="told by her")
    work = Work(
        provenance=(
            ProvenanceEvent(
                order=1,
                kind="provenance/gift",
                parties=(PartyRole(role="capacity/owner", party=owner.document),),
                evidence=(told_by_her,),
            ),
            ProvenanceEvent(order=2, kind="provenance/sale", evidence=(told_by_her,)),
        )
    )
    for record in (owner, work):
        empty_studio.save(record, who=WHO)
    before = empty_studio.work(work.document).record
    parcel = sent(empty_studio, "public", tmp_path)
    assert b"private collection" in b"".join(contents(parcel).values())
    assert b"Trelawney" not in b"".join(contents(parcel).values())
    assert outcomes(taken_in(empty_studio, parcel, add=True)) == ["same"]
    assert empty_studio.work(work.document).record == before


def test_originals_that_come_later_are_kept(parcels, other):
    """First the copies, for a sale; then everything: the record is not saved over, its files are kept."""
    taken_in(other, parcels["sale"])
    before = with_pictures(other)
    told = taken_in(other, parcels["full"])
    (of_work,) = (each for each in told if each.document_id == before.document)
    assert of_work.outcome == "different"
    assert "2 of its files came along, and are kept" in of_work.said
    assert with_pictures(other) == before
    assert other.original(before.photos[0]).read_bytes() == camera_picture()
    assert not other.verify().faults
    taken_in(other, parcels["full"])
    last = other.ledger.last()
    taken_in(other, parcels["full"])
    assert other.ledger.last() == last
