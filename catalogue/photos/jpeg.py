"""The segments of a JPEG (ITU-T T.81, annex B): marker, length, payload; scans between them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from catalogue.errors import BadPicture
from catalogue.photos.parts import Parts, cut_off, damaged

SIGNATURE = b"\xff\xd8\xff"
EXIF = b"Exif\x00\x00"

_START, _END, _SCAN, _COMMENT, _APP0, _APP15 = 0xD8, 0xD9, 0xDA, 0xFE, 0xE0, 0xEF
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_SHOWABLE_FRAMES = (0xC0, 0xC1, 0xC2)  # baseline, extended, progressive; a raw's own data is C3

# Application segments without which the colours would be wrong; whatever else a camera, a phone
# or an editor wrote (EXIF, GPS, XMP, IPTC, thumbnails, a second picture) is left out.
_KEPT = {0xE0: b"JFIF\x00", 0xE2: b"ICC_PROFILE\x00", 0xEE: b"Adobe"}

# In a scan FF is followed by 00 (a stuffed byte), D0-D7 (a restart) or FF (fill), else it ends.
_NEXT_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Segment:
    """One segment: `begin` is its marker's FF, `end` the first byte after it (and its scan)."""

    marker: int
    begin: int
    payload: int
    end: int


def segments(content: bytes, at: int = 0) -> Iterator[Segment]:
    """Every segment of the JPEG that starts at `at`, its end mark last.

    Raises `BadPicture` when the file ends, or stops being a JPEG, before the end mark.
    """
    at += 2
    while True:
        begin, marker, payload = _marker(content, at)
        if marker == _END:
            yield Segment(marker, begin, payload, payload)
            return
        if marker == _START:
            raise damaged("one picture begins inside another")
        end = payload + int.from_bytes(content[payload : payload + 2], "big")
        if end < payload + 2 or end > len(content):
            raise cut_off("a segment is longer than what is left of it")
        if marker == _SCAN:
            after = _NEXT_MARKER.search(content, end)
            if after is None:
                raise cut_off("the end mark of the picture is missing")
            end = after.start()
        yield Segment(marker, begin, payload, end)
        at = end


def _marker(content: bytes, at: int) -> tuple[int, int, int]:
    """(where the marker at `at` begins, the marker, where its payload begins)."""
    begin = at
    while content[at : at + 2] == b"\xff\xff":
        at += 1
    if at + 2 > len(content):
        raise cut_off("the end mark of the picture is missing")
    if content[at] != 0xFF:
        raise damaged(f"no marker where one is due (byte {at:,})")
    return begin, content[at + 1], at + 2


def take_apart(content: bytes) -> Parts:
    """The JPEG's pixels apart from its metadata; the scans stay byte for byte as they were.

    What follows the end mark (a second picture, a film clip) is left out too, and noted.
    """
    kept, exif, size, end = [content[:2]], b"", (0, 0), 2
    for segment in segments(content):
        payload = content[segment.payload + 2 : segment.end]
        if segment.marker in _FRAMES and size == (0, 0):
            size = _size(payload)
        if segment.marker == 0xE1 and payload.startswith(EXIF) and not exif:
            exif = payload[len(EXIF) :]
        if _is_kept(segment.marker, payload):
            kept.append(content[segment.begin : segment.end])
        end = segment.end
    more = SIGNATURE in content[end:]
    notes = ("the file holds more than one picture; the first is shown",) if more else ()
    return Parts(b"".join(kept), exif, size, notes)


def _is_kept(marker: int, payload: bytes) -> bool:
    if _APP0 <= marker <= _APP15:
        return payload.startswith(_KEPT.get(marker, b"?")) and marker in _KEPT
    return marker != _COMMENT


def _size(payload: bytes) -> tuple[int, int]:
    return int.from_bytes(payload[3:5], "big"), int.from_bytes(payload[1:3], "big")


def showable(content: bytes, at: int) -> tuple[int, int] | None:
    """(pixels, end) of the whole, showable JPEG that starts at `at`, or None."""
    if content[at : at + 3] != SIGNATURE:
        return None
    pixels = 0
    try:
        for segment in segments(content, at):
            if segment.marker in _FRAMES:
                if segment.marker not in _SHOWABLE_FRAMES:
                    return None
                width, height = _size(content[segment.payload + 2 : segment.end])
                pixels = width * height
            end = segment.end
    except BadPicture:
        return None
    return (pixels, end) if pixels else None
