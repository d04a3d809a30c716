"""The directories of a TIFF (TIFF 6.0): what EXIF, scans and most camera raws are written in.

Read here rather than by Pillow because most of what is asked of them is not about pixels:
which way up the camera was, when the photo was taken, where a raw keeps its preview.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from enum import IntEnum
from typing import Literal, TypeAlias

ByteOrder: TypeAlias = Literal["little", "big"]
Directory: TypeAlias = Mapping[int, "tuple[int, ...] | bytes"]

PLAIN, BIG, RW2 = 42, 43, 0x55
MAGICS = (PLAIN, BIG, RW2, 0x4F52, 0x5352)  # the last two: ORF, "RO" and "RS"

_MOST_DIRECTORIES = 256  # a scan of a report may have many pages; a loop would have no end
_NUMBERS = {1: "B", 3: "H", 4: "L", 6: "b", 8: "h", 9: "l", 13: "L"}
_TEXTS = (2, 7)


class Tag(IntEnum):
    """The tags that are looked at, with their numbers in TIFF 6.0, EXIF 2.32 and DNG 1.7."""

    KIND_OF_PAGE = 254
    COMPRESSION = 259
    PHOTOMETRIC = 262
    MAKE = 271
    STRIP_OFFSETS = 273
    ORIENTATION = 274
    STRIP_LENGTHS = 279
    TILE_OFFSETS = 324
    TILE_LENGTHS = 325
    SUBDIRECTORIES = 330
    JPEG_OFFSET = 513
    JPEG_LENGTH = 514
    EXIF = 34665
    TAKEN = 36867
    DIGITISED = 36868
    TAKEN_OFFSET = 36881
    DIGITISED_OFFSET = 36882
    TAKEN_FRACTION = 37521
    DIGITISED_FRACTION = 37522
    DNG_VERSION = 50706


@dataclass(frozen=True, slots=True)
class Tiff:
    """The directories of one TIFF: `pages` in their chain, then those hung `below` them."""

    magic: int
    order: ByteOrder
    pages: tuple[Directory, ...]
    below: tuple[Directory, ...]


def is_tiff(content: bytes) -> bool:
    """Whether `content` begins as a TIFF, or a camera's variant of one, does."""
    return _magic(content) in MAGICS


def _order(content: bytes) -> ByteOrder | None:
    return {b"II": "little", b"MM": "big"}.get(content[:2])  # type: ignore[return-value]


def _magic(content: bytes) -> int:
    order = _order(content)
    return int.from_bytes(content[2:4], order) if order else 0


def directories(content: bytes) -> Tiff:
    """Every directory that can be read; what points outside the file is left out.

    A BigTIFF keeps its pointers elsewhere and is read by Pillow alone: no pages here.
    """
    order, magic = _order(content) or "little", _magic(content)
    if magic not in MAGICS or magic == BIG:
        return Tiff(magic, order, (), ())
    seen: set[int] = set()
    pages: list[Directory] = []
    below: list[Directory] = []
    pages_due, below_due = [int.from_bytes(content[4:8], order)], list[int]()
    while (pages_due or below_due) and len(seen) < _MOST_DIRECTORIES:
        due, found = (pages_due, pages) if pages_due else (below_due, below)
        at = due.pop(0)
        if at in seen or not 8 <= at <= len(content) - 6:
            continue
        seen.add(at)
        directory, following = _directory(content, order, at)
        found.append(directory)
        due.append(following)
        below_due.extend(numbers(directory, Tag.SUBDIRECTORIES))
    return Tiff(magic, order, tuple(pages), tuple(below))


def _directory(content: bytes, order: ByteOrder, at: int) -> tuple[Directory, int]:
    """The directory at `at`, and where the next in its chain begins."""
    count = int.from_bytes(content[at : at + 2], order)
    tags: dict[int, tuple[int, ...] | bytes] = {}
    mark = "<" if order == "little" else ">"
    for entry in range(at + 2, min(at + 2 + 12 * count, len(content) - 11), 12):
        tag, kind, length = struct.unpack_from(f"{mark}HHL", content, entry)
        letter = "s" if kind in _TEXTS else _NUMBERS.get(kind)
        if letter is None:
            continue
        size = length * struct.calcsize(f"{mark}{letter}")
        begin = entry + 8
        if size > 4:
            (begin,) = struct.unpack_from(f"{mark}L", content, begin)
        if begin + size > len(content):
            continue
        values = struct.unpack_from(f"{mark}{length}{letter}", content, begin)
        tags[tag] = values[0] if kind in _TEXTS else values
    end = at + 2 + 12 * count
    return tags, int.from_bytes(content[end : end + 4], order)


def numbers(directory: Directory, tag: int) -> tuple[int, ...]:
    """The numbers under `tag`; none when it is absent or holds text."""
    value = directory.get(tag, ())
    return value if isinstance(value, tuple) else ()


def number(directory: Directory, tag: int) -> int | None:
    """The first number under `tag`."""
    return next(iter(numbers(directory, tag)), None)


def text(directory: Directory, tag: int) -> str:
    """The text under `tag`, "" for none."""
    value = directory.get(tag, b"")
    return (
        value.split(b"\x00")[0].decode("ascii", "replace").strip()
        if isinstance(value, bytes)
        else ""
    )


def orientation(tiff: Tiff) -> int | None:
    """1 to 8 as EXIF counts them (6: turn by 90 degrees clockwise to see it upright)."""
    said = number(tiff.pages[0], Tag.ORIENTATION) if tiff.pages else None
    return said if said is not None and 1 <= said <= 8 else None


_TIMES = (
    (Tag.TAKEN, Tag.TAKEN_FRACTION, Tag.TAKEN_OFFSET),
    (Tag.DIGITISED, Tag.DIGITISED_FRACTION, Tag.DIGITISED_OFFSET),
)
_OFFSET = re.compile(r"([+-])(\d\d):([0-5]\d)")


def taken(content: bytes, tiff: Tiff) -> datetime | None:
    """When the shutter fell by the camera's own clock, to the fraction that it says; None: not said.

    It carries a zone only where the camera says how far its clock is from universal time.
    """
    for page in tiff.pages[:1]:
        at = number(page, Tag.EXIF)
        if at is not None and 8 <= at <= len(content) - 6:
            page = {**page, **_directory(content, tiff.order, at)[0]}
        for tag, fraction, offset in _TIMES:
            try:
                said = datetime.strptime(text(page, tag), "%Y:%m:%d %H:%M:%S")
            except ValueError:
                continue  # "0000:00:00 00:00:00" and blanks mean that the clock was never set
            return said.replace(
                microsecond=_microseconds(text(page, fraction)),
                tzinfo=_zone(text(page, offset)),
            )
    return None


def _microseconds(digits: str) -> int:
    """What stands behind the second's point: "5" is half a second.

    >>> _microseconds("5"), _microseconds("073"), _microseconds(" "), _microseconds("12345678")
    (500000, 73000, 0, 123456)
    """
    return int(digits[:6].ljust(6, "0")) if digits.isascii() and digits.isdigit() else 0


def _zone(said: str) -> timezone | None:
    found = _OFFSET.fullmatch(said)
    if found is None or int(found[2]) > 14:
        return None
    ahead = timedelta(hours=int(found[2]), minutes=int(found[3]))
    return timezone(-ahead if found[1] == "-" else ahead)
