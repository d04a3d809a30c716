"""The chunks of a WebP (RFC 9649): a RIFF list of name, length, data, padded to even length."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.photos.parts import Parts, cut_off, damaged

_EXIF_FLAG, _XMP_FLAG = 0x08, 0x04
_KEPT = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ICCP", b"ANIM", b"ANMF"))


def is_webp(content: bytes) -> bool:
    """Whether `content` begins as a WebP does."""
    return content[:4] == b"RIFF" and content[8:12] == b"WEBP"


def chunks(content: bytes) -> Iterator[tuple[bytes, bytes]]:
    """(name, data) of every chunk."""
    whole = 8 + int.from_bytes(content[4:8], "little")
    if whole > len(content):
        raise cut_off(f"{len(content):,} of {whole:,} bytes are here")
    at = 12
    while at + 8 <= whole:
        end = at + 8 + int.from_bytes(content[at + 4 : at + 8], "little")
        if end > whole:
            raise damaged(f"a part reaches over the end (byte {at:,})")
        yield content[at : at + 4], content[at + 8 : end]
        at = end + end % 2


def take_apart(content: bytes) -> Parts:
    """The WebP's pixels apart from its metadata."""
    kept: list[bytes] = []
    exif, size, frames = b"", (0, 0), 0
    for name, data in chunks(content):
        size = _size(name, data) if size == (0, 0) else size
        if name == b"EXIF" and not exif:
            exif = data.removeprefix(b"Exif\x00\x00")
        if name == b"VP8X":
            data = bytes([data[0] & ~(_EXIF_FLAG | _XMP_FLAG)]) + data[1:] if data else data
        frames += name == b"ANMF"
        if name in _KEPT:
            kept.append(
                name + len(data).to_bytes(4, "little") + data + b"\x00" * (len(data) % 2)
            )
    if size == (0, 0):
        raise damaged("it does not say how large it is")
    body = b"WEBP" + b"".join(kept)
    notes = (f"an animation of {frames} frames; the first is shown",) if frames > 1 else ()
    return Parts(b"RIFF" + len(body).to_bytes(4, "little") + body, exif, size, notes)


def _size(name: bytes, data: bytes) -> tuple[int, int]:
    """(width, height) where this chunk says it.

    Read here because the decoder claims the memory of the whole canvas as soon as it is made.
    """
    if name == b"VP8X" and len(data) >= 10:
        return (
            int.from_bytes(data[4:7], "little") + 1,
            int.from_bytes(data[7:10], "little") + 1,
        )
    if name == b"VP8 " and len(data) >= 10:
        return (
            int.from_bytes(data[6:8], "little") & 0x3FFF,
            int.from_bytes(data[8:10], "little") & 0x3FFF,
        )
    if name == b"VP8L" and len(data) >= 5:
        bits = int.from_bytes(data[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return 0, 0
