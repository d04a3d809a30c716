"""New works and photos: all that was chosen is taken in, or nothing, with a reason for each file."""

from __future__ import annotations

import io
import struct
import zlib
from dataclasses import replace

import pytest
from desk_studio import picture

from catalogue.record import Photo


def png_bomb() -> bytes:
    """A small file that would unpack to 900 million pixels."""

    def chunk(name, data):
        body = name + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    head = struct.pack(">IIBBBBB", 30_000, 30_000, 1, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 99))
        + chunk(b"IEND", b"")
    )


def new(desk, files=(), **fields):
    desk.begin()
    before = sum(1 for _ in desk.studio.ledger.heads())
    data = {"csrf_token": desk.token("/who"), "title": "The Weir", **fields}
    for row, content, name in files:
        data.setdefault(f"files-{row}", []).append((io.BytesIO(content), name))
    answer = desk.client.post("/work/new", data=data, content_type="multipart/form-data")
    return answer, sum(1 for _ in desk.studio.ledger.heads()) - before


def test_a_new_work_with_several_photos_is_one_change(desk):
    seq = desk.studio.ledger.last()[0]
    answer, added = new(
        desk,
        [(0, picture("#336"), "weir front.jpg"), (1, picture("#633"), "back.jpg"), (1, picture("#363", kind="PNG"), "back 2.png")],
        artist="after Ivo Brandreth", made="1884-1891",
        **{"view-1": "view/whole", "face-1": "face/back", "light-1": "light/raking", "face-0": "face/front"},
    )  # fmt: skip
    assert answer.status_code == 302
    assert added == 2
    work = desk.work(answer.headers["Location"].rpartition("/")[2])
    assert work.number.startswith(str(desk.studio.today().year))
    assert sorted((each.face, each.light) for each in work.photos) == [
        ("face/back", "light/raking"), ("face/back", "light/raking"), ("face/front", "light/normal"),
    ]  # fmt: skip
    assert work.attributions[0].qualifier == "qualifier/after"
    assert all(each.by == f"party/{desk.member}" for each in work.photos)
    assert desk.studio.ledger.last()[0] == seq + 1


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"Dear Sir", "letter.jpg", "not a picture"),
        (b"", "empty.jpg", "empty.jpg"),
        (picture()[:4000], "cut.jpg", "cut.jpg"),
        (png_bomb(), "bomb.png", "bomb.png"),
        (picture(), "../../back.jpg", "carries a path"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "drawn.svg", "drawn.svg"),
    ],
)
def test_a_file_that_is_no_photo_is_refused_and_nothing_is_half_saved(
    desk, content, name, said
):
    files = len(list(desk.studio.folder.glob("files/*/*")))
    answer, added = new(desk, [(0, picture("#123"), "good.jpg"), (1, content, name)])
    assert answer.status_code == 422
    assert said in answer.text
    assert "nothing was saved" in answer.text
    assert 'value="The Weir"' in answer.text
    assert added == 0
    assert len(list(desk.studio.folder.glob("files/*/*"))) == files


def test_every_file_that_is_refused_is_named(desk):
    answer, _ = new(desk, [(0, b"one", "one.jpg"), (1, b"two", "two.jpg")])
    assert "one.jpg" in answer.text
    assert "two.jpg" in answer.text


def test_a_work_needs_a_title_and_what_else_was_typed_stays(desk):
    answer, added = new(desk, title="  ", artist="Ivo Brandreth")
    assert answer.status_code == 422
    assert 'value="Ivo Brandreth"' in answer.text
    assert added == 0


def test_a_wrong_date_leaves_no_stranger_behind(desk):
    answer, added = new(desk, artist="Somebody New", made="whenever")
    assert answer.status_code == 422
    assert added == 0


def test_photos_are_added_to_a_work_byte_for_byte(desk):
    desk.begin()
    content = picture("#515")
    data = {
        "csrf_token": desk.token("/who"), "revision": desk.revision(desk.ferry),
        "files-1": (io.BytesIO(content), "ferry back.jpg"), "face-1": "face/back", "view-1": "view/whole",
    }  # fmt: skip
    answer = desk.client.post(
        f"/work/{desk.ferry}/photos", data=data, content_type="multipart/form-data"
    )
    assert answer.status_code == 302
    photo = desk.work(desk.ferry).photo("P1")
    assert desk.studio.ledger.read_file(photo.sha256) == content


def test_photographs_of_which_nobody_said_when_they_were_taken_are_named(desk):
    """They would count towards the set before treatment, if somebody said so on them."""
    desk.begin()
    kept = desk.studio.read(f"work/{desk.ferry}")
    unsaid = Photo(file_name="back.jpg", face="face/back")
    photos = (*(replace(each, stage="stage/incoming") for each in kept.record.photos), unsaid)
    desk.studio.save(replace(kept.record, photos=photos), who="Nell", read=kept)
    shown = desk.client.get(f"/work/{desk.ferry}/photos").text
    assert "nobody has said at which stage it was taken" in shown
    assert f'href="/work/{desk.ferry}/enter/photos/{unsaid.id}"' in shown


def test_no_file_chosen_is_said(desk):
    desk.begin()
    answer = desk.post(f"/work/{desk.ferry}/photos", revision=desk.revision(desk.ferry))
    assert answer.status_code == 422
    assert "no photo was chosen" in answer.text
