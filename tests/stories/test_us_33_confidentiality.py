"""US-33, confidentiality: what leaves is listed, pictures lose what a camera wrote, every export is put down.

The story is that of the trade sheet, section 1.8, with its red list (6.4) and the rules R4, R10, R13, R14
of 6.5. The studio knows its members by name and has no roles yet that would see less than others; no alias
stands for a client, for no client's name is on any export or on the papers of a work.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace

import pytest
from made_records import ARTIST, CLIENT, WHO
from photos.photo_files import MAKER, exif, scene
from PIL import Image, ImageStat

from catalogue.errors import BadSetting
from catalogue.record import (
    Attribution,
    Evidence,
    Inscription,
    Party,
    PartyName,
    PartyRole,
    ProvenanceEvent,
    Region,
    Transcript,
    Work,
)

RED_LIST = {
    "Mrs Quillan": "a client's name",
    "quillan@post.example": "an e-mail",
    "rack 3": "a storage place",
    "12 gns.": "a price paid",
    "The client argues.": "a private note",
    "Passport of the seller": "a paper of identity",
    "back.jpg": "the name of a file",
    "Half in advance.": "what was agreed about money",
}
SECRET_NAME = "Skerrow at home.jpg"


def everything_in(folder):
    """Every byte that left, files within files too."""
    found = b""
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            content = path.read_bytes()
            found += str(path.relative_to(folder)).encode() + content
            if content[:2] == b"PK":
                with zipfile.ZipFile(io.BytesIO(content)) as within:
                    found += b"".join(
                        each.encode() + within.read(each) for each in within.namelist()
                    )
    return found


@pytest.mark.parametrize("profile", ["public", "sale", "loan", "owner"])
@pytest.mark.parametrize("secret", RED_LIST, ids=RED_LIST.values())
def test_the_red_list_stays_in_the_house(studio, tmp_path, profile, secret):
    studio.export("full-graph", profile, tmp_path, ["2026-041"], who=WHO)
    assert secret.encode() not in everything_in(tmp_path)


def picture():
    with io.BytesIO() as file:
        scene(240, 160).save(file, "JPEG", exif=exif(1).tobytes(), comment=b"Skerrow's house")
        return file.getvalue()


@pytest.fixture
def living(empty_studio):
    """A painting by somebody living, whose address stands on its back, with a photograph of that."""
    artist = Party(
        kind="person", names=(PartyName(text="Ada Skerrow"),), roles=("role/artist",)
    )
    work = Work(attributions=(Attribution(artist=artist.document),))
    for record in (artist, work):
        empty_studio.save(record, who=WHO)
    photo = empty_studio.taken_in(
        picture(), name=SECRET_NAME, view="view/whole", face="face/back"
    )
    kept = empty_studio.add_photos(
        empty_studio.work(work.document), [(photo, picture())], who=WHO
    )
    mark = Inscription(
        kind="inscription/inscription", face="face/back",
        regions=(Region(photo=kept.record.photos[0].id, corners=((0, 0), (120, 0), (120, 160), (0, 160))),),
        transcripts=(Transcript(markup="A. Skerrow 1988|6 Chandler's Row", preferred=True),),
    )  # fmt: skip
    events = (
        ProvenanceEvent(
            order=1, kind="provenance/gift", evidence=(Evidence(kind="evidence/none-cited"),),
            parties=(PartyRole(written="Tom Ashlar", role="capacity/owner"),),
        ),
    )  # fmt: skip
    changed = replace(kept.record, inscriptions=(mark,), provenance=events)
    empty_studio.save(changed, who=WHO, read=kept)
    return empty_studio


@pytest.mark.parametrize("profile", ["public", "sale", "loan"])
def test_an_address_of_somebody_living_leaves_neither_in_words_nor_in_the_picture(
    living, tmp_path, profile
):
    living.export("parcel", profile, tmp_path, who=WHO)
    left = everything_in(tmp_path)
    assert b"Chandler" not in left
    assert b"[address withheld]" in left
    for trace in (MAKER.encode(), b"Skerrow's house", SECRET_NAME.encode(), b"GPS"):
        assert trace not in left
    (parcel,) = tmp_path.glob("*.zip")
    with zipfile.ZipFile(parcel) as held:
        (name,) = (
            each for each in held.namelist() if "/pictures/" in each and each[-3:] == "jpg"
        )
        with Image.open(io.BytesIO(held.read(name))) as shown:
            assert not shown.getexif()
            covered = ImageStat.Stat(shown.crop((10, 10, 100, 140))).stddev
            seen = ImageStat.Stat(shown.crop((140, 10, 230, 140))).stddev
    assert max(covered) < 2 < max(seen)


def test_what_is_withheld_is_said_where_it_would_stand(living, tmp_path):
    living.export("full-graph", "sale", tmp_path, who=WHO)
    (path,) = tmp_path.glob("work-*.json")
    left = path.read_text("utf-8")
    assert '"A. Skerrow 1988|[--- :address withheld]"' in left
    assert '"private collection (name withheld)"' in left
    assert "Ashlar" not in left


def test_every_export_is_put_down_with_who_when_for_whom_and_what(studio, tmp_path):
    studio.export(
        "tei", "sale", tmp_path, ["2026-041"], who="Nell", recipient="Hollis & Trewin"
    )
    (line,) = studio.exports()
    assert (line.who, line.recipient, line.profile, line.format) == (
        "Nell", "Hollis & Trewin", "sale", "tei",
    )  # fmt: skip
    assert line.at
    assert len(line.digest) == 64


def test_for_an_authority_nothing_leaves_without_a_reason(studio, tmp_path):
    with pytest.raises(BadSetting, match="reason"):
        studio.export("full-graph", "authority", tmp_path / "no", ["2026-041"], who=WHO)
    assert not (tmp_path / "no").exists()
    assert studio.exports() == ()
    studio.export(
        "full-graph", "authority", tmp_path, ["2026-041"], who=WHO, recipient="The harbour police",
        reason="Their letter of 3 March 2026, file 118",
    )  # fmt: skip
    left = everything_in(tmp_path).decode()
    for told in (CLIENT.name(), ARTIST.name(), "the client's aunt", "Passport of the seller"):
        assert told in left
    for kept in ("quillan@post.example", "rack 3", "12 gns.", "The client argues."):
        assert kept not in left
    assert studio.exports()[0].reason.startswith("Their letter")
