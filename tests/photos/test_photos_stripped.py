"""What leaves the house: the same picture, and nothing about where and by what it was taken."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_files import (
    AS_HELD,
    CORNERS,
    HEIGHT,
    MAKER,
    WIDTH,
    corners,
    exif,
    photo,
    png_chunk,
    profile,
    saved,
    scene,
)
from PIL import Image, ImageOps
from PIL.PngImagePlugin import PngInfo

from catalogue.errors import BadPicture
from catalogue.photos import inspect, strip

XMP = b"<x:xmpmeta><exif:GPSLatitude>51,30N</exif:GPSLatitude></x:xmpmeta>"
IPTC = b"\xff\xed\x00\x20Photoshop 3.0\x008BIM".ljust(34, b"\x00")


def looked_at(content):
    with Image.open(io.BytesIO(content)) as picture:
        picture.load()
        return picture


def tells_nothing(content):
    picture = looked_at(content)
    secrets = (b"Exif", MAKER.encode(), b"GPSLatitude", b"Photoshop 3.0", b"a private note")
    return not any(secret in content for secret in secrets) and not picture.getexif()


def test_an_upright_jpeg_keeps_its_pixels_and_profile_without_being_encoded_again():
    content = photo(1, xmp=XMP, comment=b"a private note", progressive=True)
    content = content[:2] + IPTC + content[2:]
    leaving = strip(content)
    assert not tells_nothing(content)
    assert tells_nothing(leaving)
    assert looked_at(leaving).tobytes() == looked_at(content).tobytes()
    assert looked_at(leaving).info["icc_profile"] == profile()
    assert content.endswith(leaving[-2000:])  # the scans, byte for byte


def test_a_turned_jpeg_is_made_upright_with_the_tables_it_had():
    content = photo(6, quality=71, subsampling=1)
    leaving = strip(content)
    assert tells_nothing(leaving)
    assert looked_at(leaving).size == (WIDTH, HEIGHT)
    assert corners(looked_at(leaving)) == CORNERS
    assert looked_at(leaving).quantization == looked_at(content).quantization
    assert looked_at(leaving).layer == looked_at(content).layer
    assert looked_at(leaving).info["icc_profile"] == profile()


def test_an_ink_jpeg_keeps_the_mark_that_says_how_its_colours_are_meant():
    content = saved(scene(mode="CMYK"), "JPEG", exif=exif())
    assert looked_at(strip(content)).tobytes() == looked_at(content).tobytes()


@pytest.mark.parametrize("orientation", [1, 6])
@pytest.mark.parametrize("mode", ["1", "L", "P", "RGB", "RGBA", "I;16"])
def test_a_png_keeps_every_pixel_at_its_own_depth(mode, orientation):
    picture = scene(mode="L").convert("I").point(lambda v: v * 257 + 3).convert("I;16")
    picture = picture if mode == "I;16" else scene(mode=mode)
    texts = PngInfo()
    texts.add_text("Comment", "a private note")
    texts.add_itxt("XML:com.adobe.xmp", XMP.decode(), zip=False)
    content = saved(picture, "PNG", exif=exif(orientation), pnginfo=texts)
    leaving = strip(content)
    assert tells_nothing(leaving)
    assert looked_at(leaving).mode == looked_at(content).mode
    # outside check: Pillow's ImageOps.exif_transpose
    expected = ImageOps.exif_transpose(looked_at(content))
    assert looked_at(leaving).tobytes() == expected.tobytes()


@pytest.mark.parametrize("orientation", [1, 6])
@pytest.mark.parametrize("lossless", [True, False])
def test_a_webp_keeps_every_pixel(orientation, lossless):
    content = photo(orientation, "WEBP", xmp=XMP, lossless=lossless)
    leaving = strip(content)
    assert tells_nothing(leaving)
    assert looked_at(leaving).info["icc_profile"] == profile()
    expected = ImageOps.exif_transpose(looked_at(content))
    assert looked_at(leaving).convert("RGB").tobytes() == expected.convert("RGB").tobytes()


def test_a_tiff_keeps_every_pixel_and_loses_its_other_tags():
    written = exif(6)
    written[700], written[270] = XMP, "a private note"
    content = saved(scene().transpose(AS_HELD[6]), "TIFF", exif=written.tobytes())
    leaving = strip(content)
    assert leaving[:2] in (b"II", b"MM")
    assert tells_nothing_but_its_layout(leaving)
    assert looked_at(leaving).tobytes() == scene().tobytes()


def tells_nothing_but_its_layout(content):
    kept = set(looked_at(content).tag_v2)
    return kept <= {256, 257, 258, 259, 262, 273, 277, 278, 279, 284, 34675} and not any(
        secret in content for secret in (MAKER.encode(), b"GPSLatitude", b"a private note")
    )


def test_a_heic_leaves_as_a_jpeg_that_everybody_can_open():
    leaving = strip(photo(6, "HEIC"))
    assert inspect(leaving, name="x.jpg").media_type == "image/jpeg"
    assert tells_nothing(leaving)
    assert corners(looked_at(leaving)) == CORNERS


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "TIFF"])
def test_of_an_animation_or_a_stack_of_pages_the_first_leaves(kind):
    content = saved(scene(), kind, save_all=True, append_images=[scene().rotate(180)] * 2)
    leaving = strip(content)
    assert getattr(looked_at(leaving), "n_frames", 1) == 1
    assert corners(looked_at(leaving)) == CORNERS


def test_what_hangs_behind_a_jpeg_stays_home():
    hidden = b"ftypmp42 a film clip with a place in it"
    assert hidden not in strip(photo(1) + hidden)


def test_a_private_part_of_a_png_stays_home():
    content = saved(scene(), "PNG")
    content = content[:33] + png_chunk(b"prVt", b"a private note") + content[33:]
    assert tells_nothing(strip(content))


@given(st.sampled_from(["JPEG", "PNG", "WEBP", "TIFF", "HEIC"]), st.integers(1, 8))
def test_stripped_twice_is_stripped_once(kind, orientation):
    once = strip(photo(orientation, kind))
    assert inspect(once, name="x").taken is None
    assert strip(once) == once


def test_what_is_no_picture_cannot_leave_as_one():
    with pytest.raises(BadPicture, match="not a picture"):
        strip(b"a letter")
