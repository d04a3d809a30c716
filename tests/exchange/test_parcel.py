"""Parcels going out: held to two other programs (PyPI bagit, PyPI rocrate), and to what must not leave."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from html.parser import HTMLParser
from uuid import uuid4

import bagit
import pytest
from parcels import (
    LETTER,
    MAKER,
    PRIVATE_NAME,
    SERIAL,
    WHO,
    camera_picture,
    contents,
    house,
    in_folder,
    sent,
    with_pictures,
)
from photos.photo_files import saved, scene
from PIL import Image
from rocrate.rocrate import ROCrate

from catalogue.errors import Damaged
from catalogue.exchange.parcels.bag import escaped, unescaped
from catalogue.exchange.parcels.crate import NAME as CRATE
from catalogue.exchange.parcels.parcel import last_day
from catalogue.exchange.parcels.pictures import chosen
from catalogue.linked.text import parse
from catalogue.measure import Day, read_date
from catalogue.record import (
    Attribution,
    Inscription,
    Item,
    Job,
    Loan,
    Part,
    Party,
    PartyName,
    Photo,
    Region,
    Transcript,
    Work,
)

PROFILES = ("public", "sale", "full")


@pytest.fixture(scope="module")
def studio():
    with house() as opened:
        yield opened


@pytest.fixture(scope="module")
def parcels(studio, tmp_path_factory):
    """A parcel of the whole studio under each list."""
    return {each: sent(studio, each, tmp_path_factory.mktemp(each)) for each in PROFILES}


# --- what other programs say -------------------------------------------------------------------


@pytest.mark.parametrize("profile", PROFILES)
def test_bagit_finds_it_whole(parcels, tmp_path, profile):
    """PyPI bagit 1.9 (the Library of Congress's own) validates, digests and all."""
    bag = bagit.Bag(str(in_folder(parcels[profile], tmp_path)))
    bag.validate()
    assert bag.info["Parcel-Profile"] == profile
    assert bag.info["Source-Organization"] == "The Bench at Harrow Lane"
    assert bag.info["Bagging-Date"] == "2026-03-05"


def test_bagit_catches_a_flipped_byte(parcels, tmp_path):
    bag = in_folder(parcels["public"], tmp_path)
    page = bag / "data" / "index.html"
    content = bytearray(page.read_bytes())
    content[100] ^= 1
    page.write_bytes(content)
    with pytest.raises(bagit.BagValidationError):
        bagit.Bag(str(bag)).validate()


@pytest.mark.parametrize("profile", PROFILES)
def test_rocrate_reads_every_file(parcels, tmp_path, profile):
    """PyPI rocrate 0.16 reads the metadata; it names every file of the payload, and no other."""
    data = in_folder(parcels[profile], tmp_path) / "data"
    crate = ROCrate(str(data))
    named = {each.id for each in crate.data_entities}
    there = {str(each.relative_to(data)) for each in data.rglob("*") if each.is_file()}
    assert named == there - {CRATE}
    assert crate.root_dataset["datePublished"]
    for each in crate.data_entities:
        assert (data / each.id).stat().st_size == int(each["contentSize"])


def test_the_metadata_is_of_ro_crate_1_1(parcels):
    """RO-Crate 1.1, "RO-Crate Metadata Document": descriptor, root, everything named from the root."""
    graph = {
        each["@id"]: each
        for each in parse(contents(parcels["public"])["data/" + CRATE])["@graph"]
    }
    assert graph[CRATE]["conformsTo"] == {"@id": "https://w3id.org/ro/crate/1.1"}
    assert graph[CRATE]["about"] == {"@id": "./"}
    root = graph["./"]
    assert {each["@id"] for each in root["hasPart"]} == set(graph) - {CRATE, "./"}
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", root["datePublished"])


@pytest.mark.parametrize("profile", PROFILES)
def test_pillow_finds_nothing_but_the_picture(parcels, profile):
    held = contents(parcels[profile])
    pictures = {
        name: held[name] for name in held if re.match(r"data/(pictures|small)/.*jpg", name)
    }
    assert len(pictures) == 4
    for content in pictures.values():
        with Image.open(io.BytesIO(content)) as picture:
            assert not picture.getexif()
            assert set(picture.info) <= {
                "icc_profile", "jfif", "jfif_version", "jfif_unit", "jfif_density",
            }  # fmt: skip


# --- what must not leave -----------------------------------------------------------------------

PLANTED = (
    SERIAL.encode(), MAKER.encode(), b"a private note", b"GPS", PRIVATE_NAME.encode(),
    b"Trelawney", b"01736 555 0147", b"Bought as a wreck", LETTER[5:], b"letter.pdf",
)  # fmt: skip


@pytest.mark.parametrize("profile", ["public", "sale"])
def test_nothing_planted_leaves(parcels, profile):
    held = contents(parcels[profile])
    for name, content in held.items():
        for each in PLANTED:
            assert each not in content, name
            assert each.decode("latin-1") not in name
    assert not [name for name in held if name.startswith(("data/originals", "data/papers"))]
    # What lies between the files as well; three letters stand in any packed megabyte by chance.
    whole = parcels[profile].read_bytes()
    assert not [each for each in PLANTED if len(each) > 6 and each in whole]


def test_the_control_the_same_things_do_leave_with_everything(parcels):
    """Else the test above could not fail."""
    held = contents(parcels["full"])
    everything = b"".join(held.values())
    for each in (SERIAL.encode(), MAKER.encode(), b"Trelawney", b"Bought as a wreck", LETTER):
        assert each in everything
    assert camera_picture() in held.values()


def test_the_control_what_is_public_does_leave(parcels):
    page = contents(parcels["public"])["data/index.html"].decode()
    for each in ("Low Water", "Ada Penhale", "c. 1896", "45.7 cm high × 61 cm wide", "A Stile"):
        assert each in page
    assert "Harrow &amp; Sons" in page


# --- the same parcel, always -------------------------------------------------------------------


@pytest.mark.parametrize("profile", PROFILES)
def test_the_same_records_give_the_same_bytes(studio, parcels, tmp_path, profile):
    assert sent(studio, profile, tmp_path).read_bytes() == parcels[profile].read_bytes()


def test_the_order_in_which_works_are_named_makes_no_difference(studio, tmp_path):
    works = [each.document_id for each in studio.all(Work)]
    there = sent(studio, "public", tmp_path / "there", works)
    back = sent(studio, "public", tmp_path / "back", works[::-1])
    assert len(works) > 1
    assert there.read_bytes() == back.read_bytes()


def test_linked_art_is_one_file_whatever_the_number_of_paintings(parcels):
    held = contents(parcels["full"])
    name = "data/linked-art/records.linked-art.jsonld"
    assert [each for each in held if each.startswith("data/linked-art/")] == [name]
    titles = {each.get("_label") for each in parse(held[name])["@graph"]}
    assert {"Low Water", "A Stile"} <= titles


def test_names_are_in_order_and_times_are_fixed(parcels):
    with zipfile.ZipFile(parcels["full"]) as packed:
        entries = packed.infolist()
    payload = [each.filename for each in entries if "/data/" in each.filename]
    assert payload == sorted(payload)
    assert {each.date_time for each in entries} == {(1980, 1, 1, 0, 0, 0)}
    assert {each.create_system for each in entries} == {3}


def test_no_file_is_in_it_twice(parcels):
    with zipfile.ZipFile(parcels["full"]) as packed:
        names = packed.namelist()
        pictures = [packed.read(each) for each in names if each.endswith((".jpg", ".png"))]
    assert len(set(names)) == len(names)
    assert len(set(pictures)) == len(pictures)


def test_one_work_alone(studio, tmp_path):
    held = contents(sent(studio, "public", tmp_path, [with_pictures(studio).number]))
    page = held["data/index.html"].decode()
    assert "<title>Low Water, Ada Penhale</title>" in page
    assert "A Stile" not in page


def test_a_studio_without_records_sends_an_empty_parcel(empty_studio, tmp_path):
    held = contents(sent(empty_studio, "public", tmp_path))
    assert "No painting" in held["data/index.html"].decode()


def test_a_damaged_original_stops_the_parcel(tmp_path):
    with house() as studio:
        studio.original(with_pictures(studio).photos[0]).write_bytes(b"no picture any more")
        with pytest.raises(Damaged, match="not the file that was taken in"):
            sent(studio, "public", tmp_path / "damaged")


def test_a_picture_that_never_came_is_told_on_the_page(empty_studio, tmp_path):
    photo = Photo(sha256="ab" * 32, width=300, height=200, view="view/whole")
    empty_studio.save(Work(photos=(photo,)), who=WHO)
    page = contents(sent(empty_studio, "public", tmp_path))["data/index.html"].decode()
    assert "1 of its photographs did not come along" in page


@pytest.mark.parametrize("name", ["plain.txt", "50% off.txt", "two\nlines", "100%0A", "a\r%0d"])
def test_names_survive_a_manifest(name):
    """RFC 8493, 2.1.3: only line ends and the sign of percent are written by number."""
    assert unescaped(escaped(name)) == name
    assert "\n" not in escaped(name)


# --- the page ----------------------------------------------------------------------------------


class _Page(HTMLParser):
    """What a page refers to, how its headings follow each other, its pictures without words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.headings: list[int] = []
        self.tags: set[str] = set()
        self.without_words = 0
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        self.tags.add(tag)
        self.addresses += [given[key] for key in ("href", "src") if key in given]
        if re.fullmatch(r"h\d", tag):
            self.headings.append(int(tag[1]))
        self.without_words += tag == "img" and not given.get("alt")


@pytest.mark.parametrize("profile", PROFILES)
def test_the_page_refers_to_what_is_there_and_to_nothing_else(parcels, profile):
    held = contents(parcels[profile])
    text = held["data/index.html"].decode()
    page = _Page(text)
    anchors = set(re.findall(r' id="([^"]+)"', text))
    for address in page.addresses:
        known = address[1:] in anchors if address.startswith("#") else f"data/{address}" in held
        assert known, address
    assert "script" not in page.tags
    assert "http" not in text.replace("http-equiv", "")


@pytest.mark.parametrize("profile", PROFILES)
def test_the_page_can_be_heard(parcels, profile):
    """WCAG 2.2, 1.1.1 and 1.3.1: every picture has words, no heading skips a level."""
    page = _Page(contents(parcels[profile])["data/index.html"].decode())
    assert page.without_words == 0
    assert page.headings[0] == 1
    steps = [
        after - before for before, after in zip(page.headings, page.headings[1:], strict=False)
    ]
    assert max(steps) == 1


def test_the_page_says_what_left_and_what_it_does_not_prove(parcels):
    page = contents(parcels["sale"])["data/index.html"].decode()
    assert "the list “sale”" in page
    assert "does not mean that it is not known" in page
    assert "certifies title or authenticity" in page
    confidential = contents(parcels["full"])["data/index.html"].decode()
    assert "confidential" in confidential
    assert "lead" in confidential.lower()


def test_where_an_address_stays_home_the_copies_are_painted_over(empty_studio, tmp_path):
    """Trade sheet 6.5, R4: the address of somebody who may be living is covered on the picture too."""
    artist = Party(
        kind="person", names=(PartyName(text="Una Trevarrick"),), began=read_date("1981")
    )
    empty_studio.save(artist, who=WHO)
    work = Work(attributions=(Attribution(artist=artist.document, preferred=True),))
    empty_studio.save(work, who=WHO)
    content = saved(scene(), "JPEG", quality=95)
    photo = empty_studio.taken_in(content, name="back.jpg", view="view/whole", face="face/back")
    kept = empty_studio.add_photos(
        empty_studio.work(work.document), [(photo, content)], who=WHO
    )
    label = Inscription(
        kind="inscription/address",
        face="face/back",
        regions=(Region(photo=photo.id, corners=((0, 0), (60, 0), (60, 40), (0, 40))),),
        transcripts=(Transcript(markup="14 Bruton Street, London", preferred=True),),
    )
    empty_studio.save(replace(kept.record, inscriptions=(label,)), who=WHO, read=kept)
    for profile, covered in (("public", True), ("full", False)):
        held = contents(sent(empty_studio, profile, tmp_path / profile))
        for name in (each for each in held if re.match(r"data/(pictures|small)/.*jpg", each)):
            with Image.open(io.BytesIO(held[name])) as picture:
                seen = picture.convert("RGB").getpixel((20, 10))
            assert (max(seen) - min(seen) < 20) is covered, (profile, name)


# --- which photographs come along --------------------------------------------------------------


@pytest.mark.parametrize(
    ("which", "come"),
    [
        (["all"], ["whole.jpg", "label.jpg", "tear.jpg", "other.jpg"]),
        (["whole"], ["whole.jpg"]),
        (["inscriptions"], ["label.jpg"]),
        (["whole", "values"], ["whole.jpg", "tear.jpg"]),
        ([], []),
    ],
)
def test_a_studio_chooses_which_photographs_come_along(which, come):
    part = Part(kind="part/stretcher")
    photos = {
        name: Photo(file_name=f"{name}.jpg", view=f"view/{view}", about=about, number=f"P{place}")
        for place, (name, view, about) in enumerate(
            [("whole", "whole", ()), ("label", "detail", ()), ("tear", "detail", (part.id,)),
             ("other", "detail", ())], 1,
        )
    }  # fmt: skip
    work = Work(
        parts=(part,),
        photos=tuple(photos.values()),
        inscriptions=(
            Inscription(
                kind="inscription/label",
                face="face/back",
                regions=(Region(photo=photos["label"].id, corners=((0, 0), (9, 0), (9, 9))),),
            ),
        ),
    )
    assert [each.file_name for each in chosen(work, which)] == come


def test_the_day_of_a_parcel_is_the_last_that_somebody_worked_not_one_that_is_planned():
    work = f"work/{uuid4()}"
    item = Item(work=work, came=Day(2026, 1, 5), due=Day(2027, 1, 5))
    loan = Loan(work=work, began=Day(2027, 2, 1), ended=Day(2027, 5, 1))
    job = Job(reason="reason/loan", items=(item,), loans=(loan,))
    assert last_day(job) == "2026-01-05"
    assert last_day(Work()) == ""
