"""The boxes of an ISO base media file (ISO/IEC 14496-12): HEIC, and one kind of camera raw."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.photos.parts import cut_off, damaged

HEIC_BRANDS = frozenset(
    (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1")
)
RAW_BRAND = b"crx "


def brand(content: bytes) -> bytes:
    """The brand that the file says it is of; b"" when it has no boxes."""
    return content[8:12] if content[4:8] == b"ftyp" else b""


def boxes(
    content: bytes, at: int = 0, until: int | None = None
) -> Iterator[tuple[bytes, int, int]]:
    """(name, where its content begins, where it ends) of every box in a row.

    A box that reaches beyond `until` means that the file is cut off: a decoder may fill in
    what is missing with grey and say nothing.
    """
    until = len(content) if until is None else until
    while at < until:
        if at + 8 > until:
            raise cut_off("the last box is not whole")
        size, begin = int.from_bytes(content[at : at + 4], "big"), at + 8
        if size == 1:
            size, begin = int.from_bytes(content[begin : begin + 8], "big"), begin + 8
        end = at + size if size else until
        if end < begin:
            raise damaged(f"a box is smaller than its own head (byte {at:,})")
        if end > until:
            raise cut_off(f"{until:,} of {end:,} bytes are here")
        yield content[at + 4 : at + 8], begin, end
        at = end
