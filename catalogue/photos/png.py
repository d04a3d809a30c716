"""The chunks of a PNG (W3C PNG, third edition): length, name, data, checksum."""

from __future__ import annotations

import zlib
from collections.abc import Iterator

from catalogue.photos.parts import Parts, cut_off, damaged

SIGNATURE = b"\x89PNG\r\n\x1a\n"

# Pixels, and what their colours and proportions mean. All else (eXIf, texts, times, the further
# frames of an animation, private chunks) is left out.
_KEPT = frozenset((b"IHDR PLTE IDAT IEND tRNS cHRM gAMA iCCP sBIT sRGB cICP bKGD pHYs").split())


def chunks(content: bytes) -> Iterator[tuple[bytes, int, int]]:
    """(name, begin, end) of every chunk up to the end mark, each with its checksum proved."""
    at = len(SIGNATURE)
    while True:
        if at + 12 > len(content):
            raise cut_off("the end mark of the picture is missing")
        length = int.from_bytes(content[at : at + 4], "big")
        end = at + 12 + length
        if end > len(content):
            raise cut_off("a part is longer than what is left of it")
        name = content[at + 4 : at + 8]
        # a view, so that a checksum costs no copy
        if zlib.crc32(memoryview(content)[at + 4 : end - 4]) != int.from_bytes(
            content[end - 4 : end], "big"
        ):
            raise damaged(f"the checksum of a part does not agree (byte {at:,})")
        yield name, at, end
        if name == b"IEND":
            return
        at = end


def take_apart(content: bytes) -> Parts:
    """The PNG's pixels apart from its metadata, and its first frame apart from an animation."""
    kept, exif, size, frames = [SIGNATURE], b"", (0, 0), 1
    for name, begin, end in chunks(content):
        data = content[begin + 8 : end - 4]
        if name == b"IHDR":
            size = int.from_bytes(data[:4], "big"), int.from_bytes(data[4:8], "big")
        elif name == b"eXIf":
            exif = data
        elif name == b"acTL":
            frames = int.from_bytes(data[:4], "big")
        if name in _KEPT:
            kept.append(content[begin:end])
        elif name[:1].isupper():
            raise damaged(f"it cannot be read without a part that is not standard ({name!r})")
    if size == (0, 0):
        raise damaged("it does not say how large it is")
    notes = (f"an animation of {frames} frames; the first is shown",) if frames > 1 else ()
    return Parts(b"".join(kept), exif, size, notes)
