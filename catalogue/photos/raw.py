"""Camera raw: kept untouched, recognised by what is in the file, shown by the preview in it.

Raw sensor data is not developed here: that is a judgement, made with the conservator's own
tools and added as a photo of its own. Where the formats lie open (TIFF/EP ISO 12234-2, DNG 1.7)
their tags decide; RAF after libopenraw.freedesktop.org/formats/raf, CR3 after the published
description at github.com/lclevy/canon_cr3.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from catalogue.errors import BadPicture
from catalogue.photos import boxes, jpeg, tiff
from catalogue.photos.parts import cut_off
from catalogue.photos.tiff import Directory, Tag, Tiff

RAF_SIGNATURE = b"FUJIFILMCCD-RAW "
_RAF_JPEG, _RAF_SENSOR = 84, 100  # each an offset and a length, 4 bytes, big-endian

_CR2_MARK = b"CR\x02"
_CR3_METADATA = bytes.fromhex("85c0b687820f11e08111f4ce462b6a48")
_SENSOR_COLOURS = (32803, 34892)  # colour filter array (TIFF/EP), linear raw (DNG)
_SENSOR_COMPRESSIONS = (32767, 32769, 32770, 34713, 65535)  # makers' own, in their raws only
_RW2_PREVIEW = 0x2E
_MOST_CANDIDATES = 256  # a camera writes two or three previews; chance adds a few lookalikes

# The media types of the freedesktop.org shared MIME database, told apart by the camera's maker.
_BY_MAKER = (
    ("NIKON", "image/x-nikon-nef"),
    ("SONY", "image/x-sony-arw"),
    ("PENTAX", "image/x-pentax-pef"),
    ("RICOH", "image/x-pentax-pef"),
    ("SAMSUNG", "image/x-samsung-srw"),
)


@dataclass(frozen=True, slots=True)
class Raw:
    """What a camera raw shows of itself.

    `preview` is its largest embedded JPEG; `orientation` is the raw's own (None: not said),
    which holds where the preview says none.
    """

    media_type: str
    preview: bytes
    orientation: int | None
    taken: datetime | None


def recognise(content: bytes) -> Raw | None:
    """The raw that `content` is, or None when it is none.

    Raises `BadPicture` when it is cut off, or holds no preview that can be shown.
    """
    if content.startswith(RAF_SIGNATURE):
        return _raf(content)
    if boxes.brand(content) == boxes.RAW_BRAND:
        return _cr3(content)
    if tiff.is_tiff(content):
        return _tiff_based(content)
    return None


def _raf(content: bytes) -> Raw:
    for place in (_RAF_JPEG, _RAF_SENSOR):
        begin, length = (
            int.from_bytes(content[at : at + 4], "big") for at in (place, place + 4)
        )
        if len(content) < max(place + 8, begin + length):
            raise cut_off("the sensor's data or the preview is not whole")
    preview_at = int.from_bytes(content[_RAF_JPEG : _RAF_JPEG + 4], "big")
    return Raw("image/x-fuji-raf", _largest(content, [preview_at]), None, None)


def _cr3(content: bytes) -> Raw:
    metadata: dict[bytes, bytes] = {}
    for name, begin, end in boxes.boxes(content):
        if name != b"moov":
            continue
        for inner, inner_begin, inner_end in boxes.boxes(content, begin, end):
            if inner == b"uuid" and content[inner_begin : inner_begin + 16] == _CR3_METADATA:
                for part, at, until in boxes.boxes(content, inner_begin + 16, inner_end):
                    metadata.setdefault(part, content[at:until])
    basics, exif = metadata.get(b"CMT1", b""), metadata.get(b"CMT2", b"")
    return Raw(
        "image/x-canon-cr3",
        _largest(content, _starts(content)),
        tiff.orientation(tiff.directories(basics)),
        tiff.taken(exif, tiff.directories(exif)),
    )


def _tiff_based(content: bytes) -> Raw | None:
    found = tiff.directories(content)
    everything = (*found.pages, *found.below)
    media_type = _media_type(content, found, everything)
    if not media_type:
        return None
    if found.magic == tiff.PLAIN:
        _demand_whole(content, everything)
    sensor = {
        offset
        for directory in everything
        if _is_sensor(directory)
        for tag in (Tag.STRIP_OFFSETS, Tag.TILE_OFFSETS)
        for offset in tiff.numbers(directory, tag)
    }
    named = [at for directory in everything for at in _previews(content, directory)]
    # Some makers name a thumbnail and keep the preview where only they know; so every JPEG in
    # the file counts, except those that are tiles of the sensor's data.
    unnamed = [at for at in _starts(content) if at not in sensor]
    return Raw(
        media_type,
        _largest(content, {*named, *unnamed}),
        tiff.orientation(found),
        tiff.taken(content, found),
    )


def _media_type(content: bytes, found: Tiff, everything: tuple[Directory, ...]) -> str:
    """The raw's media type; "" when the file is an ordinary TIFF."""
    if found.magic == tiff.RW2:
        return "image/x-panasonic-rw2"
    if found.magic not in (tiff.PLAIN, tiff.BIG):
        return "image/x-olympus-orf"
    if content[8:11] == _CR2_MARK:
        return "image/x-canon-cr2"
    if any(Tag.DNG_VERSION in directory for directory in everything):
        return "image/x-adobe-dng"
    if not any(_is_sensor(directory) for directory in everything):
        return ""
    maker = next((tiff.text(page, Tag.MAKE).upper() for page in found.pages), "")
    return next((kind for start, kind in _BY_MAKER if maker.startswith(start)), "image/x-dcraw")


def _is_sensor(directory: Directory) -> bool:
    return (
        tiff.number(directory, Tag.PHOTOMETRIC) in _SENSOR_COLOURS
        or tiff.number(directory, Tag.COMPRESSION) in _SENSOR_COMPRESSIONS
    )


def _demand_whole(content: bytes, everything: tuple[Directory, ...]) -> None:
    """Refuse a raw that is cut off in its sensor data, though its preview may be whole."""
    pairs = (
        (Tag.STRIP_OFFSETS, Tag.STRIP_LENGTHS),
        (Tag.TILE_OFFSETS, Tag.TILE_LENGTHS),
        (Tag.JPEG_OFFSET, Tag.JPEG_LENGTH),
    )
    for directory in everything:
        for offsets, lengths in pairs:
            for begin, length in zip(
                tiff.numbers(directory, offsets), tiff.numbers(directory, lengths), strict=False
            ):
                if begin + length > len(content):
                    raise cut_off(f"{len(content):,} of {begin + length:,} bytes are here")


def _previews(content: bytes, directory: Directory) -> Iterator[int]:
    """Where this directory says that a JPEG begins."""
    yield from tiff.numbers(directory, Tag.JPEG_OFFSET)
    strips = tiff.numbers(directory, Tag.STRIP_OFFSETS)
    if len(strips) == 1 and not _is_sensor(directory):
        yield strips[0]
    inside = directory.get(_RW2_PREVIEW)
    if isinstance(inside, bytes) and inside.startswith(jpeg.SIGNATURE):
        yield content.index(inside)


def _starts(content: bytes) -> Iterator[int]:
    """Where a JPEG may begin; after a whole one, the search goes on behind its end."""
    at = -1
    for _ in range(_MOST_CANDIDATES):
        at = content.find(jpeg.SIGNATURE, at + 1)
        if at < 0:
            return
        yield at
        whole = jpeg.showable(content, at)
        at = whole[1] - 1 if whole else at


def _largest(content: bytes, places: Iterable[int]) -> bytes:
    """The largest whole JPEG that begins at one of `places`."""
    found = [(whole[0], at, whole[1]) for at in places if (whole := jpeg.showable(content, at))]
    if not found:
        raise BadPicture(
            "this camera raw holds no preview that can be shown",
            remedy="develop it to a TIFF or JPEG and add that; keep the raw as a paper",
        )
    _, begin, end = max(found, key=lambda each: (each[0], -each[1]))
    return content[begin:end]
