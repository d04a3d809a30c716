"""Camera raw: known by what is in it, shown by its preview, and otherwise left alone.

The files are built here after the open formats (TIFF/EP, DNG) and published descriptions of
the others (named in catalogue/photos/raw.py); none comes out of a real camera.
"""

from __future__ import annotations

import hashlib
import io
import struct
from datetime import datetime

import pytest
from photo_files import (
    CORNERS,
    box,
    corners,
    exif,
    photo,
    saved,
    scene,
    tiff_directory,
    tiff_raw,
)
from PIL import Image

from catalogue.errors import BadPicture
from catalogue.photos import RECIPES, crop, derivative, inspect, strip

LARGE = saved(scene(480, 320), "JPEG")
SMALL = saved(scene(120, 80), "JPEG")


def raf(preview):
    head = b"FUJIFILMCCD-RAW 0201FF000000".ljust(84, b"\x00")
    sensor = bytes(2048)
    begin = 160
    places = struct.pack(">6L", begin, len(preview), 0, 0, begin + len(preview), len(sensor))
    return (head + places).ljust(begin, b"\x00") + preview + sensor


def cr3(preview, small=SMALL, orientation=1):
    def in_tiff(tags):
        return b"II*\x00\x08\x00\x00\x00" + tiff_directory(tags, 8)

    metadata = box(
        b"uuid",
        bytes.fromhex("85c0b687820f11e08111f4ce462b6a48"),
        box(b"CMT1", in_tiff({274: (orientation,)})),
        box(b"CMT2", in_tiff({36867: b"2023:09:30 08:00:00\x00"})),
        box(b"THMB", bytes(16), small),
    )
    return (
        box(b"ftyp", b"crx \x00\x00\x00\x01crx isom")
        + box(b"moov", metadata)
        + box(b"mdat", preview, b"\xff\xd8\xff\x01sensor" * 40)
    )


RAWS = {
    "image/x-adobe-dng": tiff_raw(main={50706: b"\x01\x04\x00\x00"}, previews=[SMALL, LARGE]),
    "image/x-nikon-nef": tiff_raw(main={271: b"NIKON CORP.\x00"}, previews=[SMALL, LARGE]),
    "image/x-sony-arw": tiff_raw(
        main={271: b"SONY\x00"}, sensor={262: (1,), 259: (32767,)}, previews=[LARGE, SMALL]
    ),
    "image/x-pentax-pef": tiff_raw(main={271: b"PENTAX\x00"}, previews=[LARGE], named=False),
    "image/x-canon-cr2": tiff_raw(mark=b"CR\x02\x00", previews=[LARGE, SMALL]),
    "image/x-olympus-orf": tiff_raw(magic=b"IIRO", previews=[SMALL, LARGE], named=False),
    "image/x-panasonic-rw2": tiff_raw(magic=b"IIU\x00", main={0x2E: LARGE}),
    "image/x-dcraw": tiff_raw(main={271: b"Nocturne\x00"}, previews=[LARGE]),
    "image/x-fuji-raf": raf(LARGE),
    "image/x-canon-cr3": cr3(LARGE),
}


@pytest.mark.parametrize("media_type", RAWS)
def test_a_raw_is_known_by_its_content_and_shown_by_its_largest_preview(media_type, tmp_path):
    content = RAWS[media_type]
    facts = inspect(content, name="back.tif")
    assert facts.is_raw
    assert facts.media_type == media_type
    assert (facts.width, facts.height) == (480, 320)
    assert facts.sha256 == hashlib.sha256(content).hexdigest()
    assert facts.notes == ("camera raw, shown by its preview of 480 × 320 pixels",)
    original = tmp_path / "original"
    original.write_bytes(content)
    shown = derivative(original, facts.sha256, tmp_path / "cache", RECIPES["thumb"])
    with Image.open(shown) as picture:
        assert picture.size == (320, 213)
        assert corners(picture) == CORNERS
    assert original.read_bytes() == content


def test_a_raw_with_the_ending_of_another_kind_is_still_a_raw():
    assert inspect(RAWS["image/x-sony-arw"], name="back.jpg").is_raw


def test_an_ordinary_tiff_is_no_raw_whoever_made_it():
    content = saved(scene(), "TIFF", tiffinfo={271: "NIKON CORPORATION"})
    assert not inspect(content, name="scan.nef").is_raw


@pytest.mark.parametrize(
    "content",
    [
        tiff_raw(main={274: (6,)}, previews=[saved(scene(160, 240), "JPEG")]),
        cr3(saved(scene(160, 240), "JPEG"), orientation=6),
    ],
)
def test_a_preview_that_says_nothing_is_turned_as_its_raw_says(content):
    facts = inspect(content, name="back.dng")
    assert (facts.width, facts.height) == (240, 160)


def test_a_preview_that_says_how_to_turn_it_is_believed(tmp_path):
    original = tmp_path / "original"
    original.write_bytes(raf(photo(6)))
    facts = inspect(original.read_bytes(), name="back.raf")
    assert (facts.width, facts.height) == (240, 160)
    assert facts.taken == datetime(2024, 3, 5, 14, 7, 9)
    with Image.open(io.BytesIO(crop(original, (0, 0, 240, 160)))) as picture:
        assert corners(picture) == CORNERS


def test_a_raw_tells_when_it_was_taken():
    assert inspect(RAWS["image/x-canon-cr3"], name="a.cr3").taken == datetime(2023, 9, 30, 8)


def test_a_preview_that_no_tag_names_counts_when_it_is_larger():
    # 37500 is the maker's own note, where some keep it
    content = tiff_raw(main={37500: b"maker's" + LARGE}, previews=[SMALL])
    assert inspect(content, name="back.pef").width == 480


def test_tiles_of_the_sensor_are_not_taken_for_previews():
    # lossy DNG keeps the sensor's data as JPEG tiles; here one larger than the preview
    tile = saved(scene(600, 600), "JPEG")
    content = tiff_raw(
        main={50706: b"\x01\x06\x00\x00"},
        sensor={262: (34892,), 259: (34892,), 273: (16,), 279: (len(tile),)},
        previews=[tile, SMALL],
        named=False,
    )
    assert inspect(content, name="back.dng").width == 120


def test_a_raw_without_a_preview_is_refused_with_a_way_out():
    with pytest.raises(BadPicture, match="holds no preview") as refused:
        inspect(tiff_raw(main={50706: b"\x01\x04\x00\x00"}), name="back.dng")
    assert "develop it" in refused.value.remedy


@pytest.mark.parametrize("media_type", ["image/x-fuji-raf", "image/x-canon-cr3"])
@pytest.mark.parametrize("missing", [1, 100, 1000])
def test_a_raw_cut_off_in_its_sensor_data_is_refused_though_its_preview_is_whole(
    media_type, missing
):
    with pytest.raises(BadPicture):
        inspect(RAWS[media_type][: -missing or None], name="back.raw")


def test_a_tiff_based_raw_whose_sensor_data_lies_beyond_the_end_is_refused():
    content = tiff_raw(previews=[LARGE], sensor={273: (10_000,), 279: (1_000_000,)})
    with pytest.raises(BadPicture, match="1,010,000 bytes are here"):
        inspect(content, name="back.dng")


def test_a_preview_over_the_limit_is_refused():
    with pytest.raises(BadPicture, match="too large"):
        inspect(RAWS["image/x-fuji-raf"], name="back.raf", limit_megapixels=0.1)


def test_only_the_preview_of_a_raw_leaves_and_without_its_exif():
    leaving = strip(raf(saved(scene(), "JPEG", exif=exif())))
    assert leaving.startswith(b"\xff\xd8\xff")
    assert b"Exif" not in leaving


def test_a_directory_that_points_at_itself_comes_to_an_end():
    directory = tiff_directory({330: (8,), 271: b"x\x00"}, 8, following=8)
    loop = b"II*\x00\x08\x00\x00\x00" + directory
    with pytest.raises(BadPicture):
        inspect(loop, name="back.tif")


def test_a_bomb_is_no_less_a_bomb_inside_a_raw():
    bomb = bytearray(LARGE)
    frame = bomb.index(b"\xff\xc0")
    bomb[frame + 5 : frame + 9] = struct.pack(">HH", 30_000, 30_000)
    with pytest.raises(BadPicture, match="30,000 × 30,000"):
        inspect(tiff_raw(previews=[SMALL, bytes(bomb)]), name="back.dng")
