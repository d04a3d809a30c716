"""Every photograph that these tests look at, made here: four coloured corners on grey paper."""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from collections.abc import Iterable
from functools import cache
from typing import TypeAlias

import pillow_heif
from PIL import Image, ImageCms, ImageDraw

WIDTH, HEIGHT = 240, 160
RED, GREEN, BLUE, YELLOW = (200, 30, 30), (30, 160, 60), (30, 60, 190), (220, 200, 40)
CORNERS = (RED, GREEN, BLUE, YELLOW)  # top left, top right, bottom left, bottom right

MAKER = "Nocturne Optical"

Tags: TypeAlias = dict[int, "tuple[int, ...] | bytes"]

# EXIF's orientation, and the turn that a camera held that way makes of an upright scene
AS_HELD = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_90,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_270,
}


def scene(width: int = WIDTH, height: int = HEIGHT, mode: str = "RGB") -> Image.Image:
    """An upright picture whose corners can be told apart."""
    picture = Image.radial_gradient("L").resize((width, height)).convert("RGB")
    draw = ImageDraw.Draw(picture)
    across, down = width // 4, height // 4
    for colour, x, y in zip(
        CORNERS,
        (0, width - across, 0, width - across),
        (0, 0, height - down, height - down),
        strict=True,
    ):
        draw.rectangle((x, y, x + across - 1, y + down - 1), fill=colour)
    return picture.convert(mode)


def corners(picture: Image.Image) -> tuple[tuple[int, ...], ...]:
    """The four corners of `picture`, each as the nearest of the four colours."""
    shown = picture.convert("RGB")
    right, bottom = shown.width - 4, shown.height - 4

    def nearest(x: int, y: int) -> tuple[int, ...]:
        seen = shown.getpixel((x, y))

        def distance(colour: tuple[int, ...]) -> int:
            return sum((a - b) ** 2 for a, b in zip(colour, seen, strict=True))

        return min(CORNERS, key=distance)

    return nearest(3, 3), nearest(right, 3), nearest(3, bottom), nearest(right, bottom)


def exif(orientation: int = 1, taken: str = "2024:03:05 14:07:09") -> Image.Exif:
    """What a camera writes: which way up, when, by what maker, and where in the world."""
    written = Image.Exif()
    written[274] = orientation
    written[271] = MAKER
    written.get_ifd(34665)[36867] = taken
    gps = written.get_ifd(34853)
    gps[1], gps[2] = "N", (51.0, 30.0, 0.0)
    gps[29] = "2024:03:05"
    return written


@cache  # it carries the second in which it was made
def profile() -> bytes:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def saved(picture: Image.Image, kind: str, **how: object) -> bytes:
    file = io.BytesIO()
    picture.save(file, kind, **how)
    return file.getvalue()


def photo(orientation: int = 6, kind: str = "JPEG", **how: object) -> bytes:
    """A photo of the scene by a camera held so that EXIF says `orientation`, GPS and all."""
    held = AS_HELD[orientation]
    stored = scene() if held is None else scene().transpose(held)
    if kind == "HEIC":
        file = io.BytesIO()
        pillow_heif.from_pillow(stored).save(file, exif=exif(orientation).tobytes(), **how)
        return file.getvalue()
    # Pillow writes the deeper directories (time, place) of a TIFF from bytes, when not packed
    written = exif(orientation) if "compression" in how else exif(orientation).tobytes()
    return saved(stored, kind, exif=written, icc_profile=profile(), **how)


def png_chunk(name: bytes, data: bytes) -> bytes:
    body = name + data
    return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))


def png_of_one_shade(width: int, height: int) -> bytes:
    """A black PNG of 1 bit a pixel, packed small, without ever being whole in memory."""
    packer = zlib.compressobj(9)
    rows = b"\x00" * (1 + (width + 7) // 8) * 100
    packed = b"".join([packer.compress(rows) for _ in range(height // 100)] + [packer.flush()])
    return (
        b"\x89PNG\r\n\x1a\n"
        + png_chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0))
        + png_chunk(b"IDAT", packed)
        + png_chunk(b"IEND", b"")
    )


def tiff_directory(tags: Tags, at: int, following: int = 0) -> bytes:
    """One little-endian directory to lie at `at`, its longer values behind it."""
    entries, values = b"", b""
    behind = at + 2 + 12 * len(tags) + 4
    for tag, value in sorted(tags.items()):
        if isinstance(value, bytes):
            kind, count, packed = (2 if tag == 271 else 7), len(value), value
        else:
            kind, count, packed = 4, len(value), struct.pack(f"<{len(value)}L", *value)
        if len(packed) > 4:
            place = struct.pack("<L", behind + len(values))
            values += packed
        else:
            place = packed.ljust(4, b"\x00")
        entries += struct.pack("<HHL", tag, kind, count) + place
    return struct.pack("<H", len(tags)) + entries + struct.pack("<L", following) + values


def tiff_raw(
    *,
    main: Tags | None = None,
    sensor: Tags | None = None,
    previews: Iterable[bytes] = (),
    named: bool = True,
    magic: bytes = b"II*\x00",
    mark: bytes = b"",
) -> bytes:
    """A camera raw as TIFF/EP lays it out: sensor and previews in directories below the first.

    With `named` false the previews lie in the file without a tag that tells where.
    """
    head = magic + b"\x00\x00\x00\x00" + mark.ljust(8, b"\x00")
    body, below = head, []
    offsets = []
    for preview in previews:
        offsets.append((len(body), len(preview)))
        body += preview
    sensor_at, data = len(body), bytes(range(256)) * 8
    body += data
    of_sensor: Tags = {262: (32803,), 259: (1,), 273: (sensor_at,), 279: (len(data),)}
    directories: list[Tags] = [of_sensor | (sensor or {})]
    if named:
        directories += [{254: (1,), 513: (at,), 514: (length,)} for at, length in offsets]
    for tags in directories:
        below.append(len(body))
        body += tiff_directory(tags, len(body))
    first = len(body)
    body += tiff_directory({330: tuple(below), **(main or {})}, first)
    return body[:4] + struct.pack("<L", first) + body[8:]


def box(name: bytes, *parts: bytes) -> bytes:
    body = b"".join(parts)
    return struct.pack(">I", 8 + len(body)) + name + body


def kept_in(folder, content):
    """`content` kept as an original in a folder: its path, its digest, and the cache beside it."""
    digest = hashlib.sha256(content).hexdigest()
    original = folder / digest
    original.write_bytes(content)
    return original, digest, folder / "cache"
