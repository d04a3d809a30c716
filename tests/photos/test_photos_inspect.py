"""What is taken in as a photograph, what it says of itself, and what is refused and why."""

from __future__ import annotations

import hashlib
import struct
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from photo_files import (
    HEIGHT,
    WIDTH,
    exif,
    photo,
    png_chunk,
    png_of_one_shade,
    saved,
    scene,
)
from PIL import ExifTags, Image, ImageFile

from catalogue.errors import BadPicture
from catalogue.photos import crop, inspect
from catalogue.photos.tiff import Tag

KINDS = {
    "JPEG": "image/jpeg",
    "PNG": "image/png",
    "TIFF": "image/tiff",
    "WEBP": "image/webp",
    "HEIC": "image/heic",
}
PLAIN_WEBP = {lossless: saved(scene(), "WEBP", lossless=lossless) for lossless in (True, False)}
PHOTOS = {kind: photo(6, kind) for kind in KINDS} | {
    "progressive JPEG": photo(6, "JPEG", progressive=True),
    "lossless WebP": photo(6, "WEBP", lossless=True),
    "packed TIFF": photo(6, "TIFF", compression="tiff_lzw"),
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_of_each_kind_is_known_by_its_content(kind):
    facts = inspect(PHOTOS[kind], name="back.bin")
    assert facts.media_type == KINDS[kind]
    assert (facts.width, facts.height) == (WIDTH, HEIGHT)
    assert facts.taken == datetime(2024, 3, 5, 14, 7, 9)
    assert facts.sha256 == hashlib.sha256(PHOTOS[kind]).hexdigest()
    assert facts.size_bytes == len(PHOTOS[kind])
    assert not facts.is_raw
    assert facts.notes == ()


@pytest.mark.parametrize("orientation", range(1, 9))
def test_width_and_height_are_as_a_person_sees_them(orientation):
    facts = inspect(photo(orientation), name="back.jpg")
    assert (facts.width, facts.height) == (WIDTH, HEIGHT)


@pytest.mark.parametrize("lossless", [True, False])
def test_a_webp_without_any_metadata_says_its_size_in_its_pixels(lossless):
    content = PLAIN_WEBP[lossless]
    assert content[12:16] == (b"VP8L" if lossless else b"VP8 ")
    assert inspect(content, name="back.webp").width == WIDTH
    with pytest.raises(BadPicture, match="240 × 160"):
        inspect(content, name="back.webp", limit_megapixels=0.01)


def test_a_png_named_jpg_is_a_png():
    assert inspect(PHOTOS["PNG"], name="back.jpg").media_type == "image/png"


@pytest.mark.parametrize("taken", ["0000:00:00 00:00:00", "    :  :     :  :  ", "soon", ""])
def test_a_clock_that_was_never_set_tells_no_time(taken):
    content = saved(scene(), "JPEG", exif=exif(1, taken))
    assert inspect(content, name="back.jpg").taken is None


def test_the_tag_numbers_are_those_of_the_reference_library():
    # outside check: Pillow's tables of EXIF 2.32 and DNG tags
    for tag, name in {
        Tag.ORIENTATION: "Orientation",
        Tag.MAKE: "Make",
        Tag.EXIF: "ExifOffset",
        Tag.TAKEN: "DateTimeOriginal",
        Tag.DIGITISED: "DateTimeDigitized",
        Tag.PHOTOMETRIC: "PhotometricInterpretation",
        Tag.STRIP_OFFSETS: "StripOffsets",
        Tag.STRIP_LENGTHS: "StripByteCounts",
        Tag.TILE_OFFSETS: "TileOffsets",
        Tag.TILE_LENGTHS: "TileByteCounts",
        Tag.SUBDIRECTORIES: "SubIFDs",
        Tag.JPEG_OFFSET: "JpegIFOffset",
        Tag.JPEG_LENGTH: "JpegIFByteCount",
        Tag.KIND_OF_PAGE: "NewSubfileType",
        Tag.COMPRESSION: "Compression",
        Tag.DNG_VERSION: "DNGVersion",
    }.items():
        assert ExifTags.Base[name] == tag


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "the file is empty"),
        (b"Dear Sir, on the back of the picture ...", "the file is not a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", "an SVG drawing"),
        (b"<?xml version='1.0'?><!-- a label -->\n<svg width='1'/>", "an SVG drawing"),
        (saved(scene(), "GIF"), "a GIF"),
        (saved(scene(), "BMP"), "a BMP"),
        (b"%PDF-1.7 ...", "a PDF"),
        (b"PK\x03\x04....", "an archive"),
        (b"\x00\x00\x00\x1cftypavif....", "an AVIF"),
        (b"\x00\x00\x00\x18ftypmp42....", "a film clip"),
        (b"\xff\xd8", "only 2 bytes"),
        (b"\x89PNG\r\n\x1a\n", "the end mark of the picture is missing"),
        (b"\x89PNG\r\n\x1a\n" + png_chunk(b"IEND", b""), "how large it is"),
        (b"RIFF\x04\x00\x00\x00WEBP", "how large it is"),
        (b"II*\x00\x08\x00\x00\x00", "damaged"),
        (b"\xff\xd8\xff\xd9", "damaged"),
    ],
)
def test_what_is_not_a_picture_is_refused_with_a_reason_and_a_remedy(content, reason):
    with pytest.raises(BadPicture) as refused:
        inspect(content, name="back.jpg")
    assert reason in str(refused.value)
    assert str(refused.value).startswith("back.jpg: ")
    assert refused.value.remedy


def test_the_name_is_looked_at_first():
    with pytest.raises(BadPicture, match="carries a path"):
        inspect(PHOTOS["JPEG"], name="../back.jpg")


@given(st.data())
def test_a_file_cut_off_anywhere_is_refused(data):
    kind = data.draw(st.sampled_from(sorted(PHOTOS.keys() - {"TIFF", "packed TIFF"})))
    length = data.draw(st.integers(0, len(PHOTOS[kind]) - 1))
    with pytest.raises(BadPicture):
        inspect(PHOTOS[kind][:length], name="back.jpg")


@settings(deadline=None)
@given(st.sampled_from(["TIFF", "packed TIFF"]), st.floats(0, 1, exclude_max=True))
def test_a_tiff_cut_off_anywhere_is_refused_or_shown_whole(tmp_path_factory, kind, share):
    # a TIFF may end in what is not about its pixels, so its last bytes can be missed by nobody
    content = PHOTOS[kind][: int(share * len(PHOTOS[kind]))]
    try:
        inspect(content, name="back.tif")
    except BadPicture:
        return
    folder = tmp_path_factory.mktemp("cut")
    (folder / "cut.tif").write_bytes(content)
    (folder / "whole.tif").write_bytes(PHOTOS[kind])
    box = (0, 0, WIDTH, HEIGHT)
    assert crop(folder / "cut.tif", box) == crop(folder / "whole.tif", box)


def test_no_one_lets_pillow_fill_in_what_is_missing():
    assert ImageFile.LOAD_TRUNCATED_IMAGES is False


@settings(deadline=None)
@given(
    st.sampled_from(sorted(PHOTOS)),
    st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), max_size=6),
)
def test_a_damaged_file_is_taken_in_or_refused_but_never_breaks_the_tool(kind, changes):
    content = bytearray(PHOTOS[kind])
    for share, byte in changes:
        # the first 1000 bytes hold nearly all the structure there is to break
        content[int(share * min(1000, len(content)))] = byte
    try:
        facts = inspect(bytes(content), name="back.jpg", limit_megapixels=1)
    except BadPicture:
        return
    assert facts.width * facts.height <= 1_000_000


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"\xff\xd8\xff\xe0\x00\x04ab\x00\x00", "no marker where one is due"),
        (b"\xff\xd8\xff\xe0\x00\x04ab\xff\xd8", "begins inside another"),
        (b"\xff\xd8\xff\xff\xff\xe0\x00\x01", "longer than what is left"),
        (PHOTOS["PNG"][:33] + png_chunk(b"CgBI", b"") + PHOTOS["PNG"][33:], "not standard"),
        (b"RIFF\x0c\x00\x00\x00WEBPVP8X\xff\x00\x00\x00", "reaches over the end"),
        (PHOTOS["HEIC"] + b"\x00\x00\x00\x04free", "smaller than its own head"),
        (PHOTOS["HEIC"] + b"\x00\x00", "last box is not whole"),
        (PHOTOS["HEIC"] + b"\x00\x00\x00\x01free" + b"\xff" * 8, "bytes are here"),
    ],
)
def test_a_file_whose_parts_do_not_fit_is_refused_with_what_is_wrong(content, reason):
    with pytest.raises(BadPicture, match=reason):
        inspect(content, name="back.jpg")


def test_a_changed_pixel_in_a_png_is_noticed():
    content = bytearray(PHOTOS["PNG"])
    content[content.index(b"IDAT") + 200] ^= 1
    with pytest.raises(BadPicture, match="checksum"):
        inspect(bytes(content), name="back.png")


def test_a_decompression_bomb_is_refused_by_its_header():
    bomb = png_of_one_shade(30_000, 30_000)
    assert len(bomb) < 150_000
    with pytest.raises(BadPicture, match=r"30,000 × 30,000 pixels are 900\.0 megapixels"):
        inspect(bomb, name="back.png")


@pytest.mark.parametrize("kind", KINDS)
def test_a_picture_barely_over_the_limit_is_refused_too(kind):
    # Pillow itself only warns up to twice its limit
    megapixels = WIDTH * HEIGHT / 1_000_000
    assert inspect(PHOTOS[kind], name="back.jpg", limit_megapixels=megapixels)
    with pytest.raises(BadPicture, match="too large"):
        inspect(PHOTOS[kind], name="back.jpg", limit_megapixels=megapixels * 0.999)
    with pytest.raises(BadPicture, match="too large"):
        inspect(PHOTOS[kind], name="back.jpg", limit_megapixels=megapixels / 1.5)


def test_the_limit_is_ours_and_not_pillows():
    before = Image.MAX_IMAGE_PIXELS
    # at 92 megapixels Pillow's own guard would warn, and here a warning is an error
    facts = inspect(png_of_one_shade(10_000, 9_200), name="back.png")
    assert (facts.width, facts.height) == (10_000, 9_200)
    assert before == Image.MAX_IMAGE_PIXELS


def test_a_webp_that_claims_a_huge_canvas_is_refused_before_its_memory_is_claimed():
    head = b"VP8X" + struct.pack("<I", 10) + b"\x10\x00\x00\x00" + b"\xfe\x3f\x00" * 2
    body = b"WEBP" + head
    with pytest.raises(BadPicture, match="16,383 × 16,383"):
        inspect(b"RIFF" + struct.pack("<I", len(body)) + body, name="back.webp")


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "TIFF"])
def test_of_several_pictures_in_a_file_the_first_is_shown_and_it_is_said(kind):
    content = saved(
        scene(), kind, save_all=True, append_images=[scene().rotate(90), scene().rotate(180)]
    )
    (note,) = inspect(content, name="backs.bin").notes
    assert note.startswith(("an animation of 3 frames", "3 pages"))
    assert "the first is shown" in note


def test_a_second_picture_behind_a_jpeg_is_said():
    (note,) = inspect(PHOTOS["JPEG"] * 2, name="back.jpg").notes
    assert "more than one picture" in note


@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA", "LA", "I;16", "CMYK", "F"])
def test_every_way_to_store_colours_is_taken_in(mode):
    kind = "TIFF" if mode in ("CMYK", "F") else "PNG"
    source = scene(mode="L").convert("F") if mode == "F" else None
    if mode == "I;16":
        source = scene(mode="L").convert("I").point(lambda v: v * 257).convert("I;16")
    content = saved(source or scene(mode=mode), kind)
    assert inspect(content, name="back.png").width == WIDTH
