"""What a photograph's file is made of: its pixels, and what was written about them."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.errors import BadPicture


@dataclass(frozen=True, slots=True)
class Parts:
    """A file taken apart.

    `bare` is a whole file of the same kind with nothing in it but pixels and what their colours
    mean (the ICC profile); `exif` is the TIFF structure that the camera wrote beside them, b""
    for none; `size` is (width, height) as stored, before any turning; `notes` tell a person
    what of the file is not shown.
    """

    bare: bytes
    exif: bytes
    size: tuple[int, int]
    notes: tuple[str, ...] = ()


def cut_off(what: str) -> BadPicture:
    """The refusal of a file that ends too early."""
    return BadPicture(
        f"the file is cut off: {what}",
        remedy="copy it again from the camera or the card; the copy here is not whole",
    )


def damaged(what: str) -> BadPicture:
    """The refusal of a file that is whole in length but wrong inside."""
    return BadPicture(
        f"the file is damaged: {what}",
        remedy="copy it again from the camera or the card, or open it in a picture editor "
        "and save it anew",
    )
