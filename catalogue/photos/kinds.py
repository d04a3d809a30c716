"""Which kind of picture a file is, by its content; its name counts for nothing."""

from __future__ import annotations

from catalogue.errors import BadPicture
from catalogue.photos import boxes, jpeg, png, tiff, webp

JPEG, PNG, TIFF, WEBP, HEIC = (
    "image/jpeg",
    "image/png",
    "image/tiff",
    "image/webp",
    "image/heic",
)

_SAVE_AS = "save it as PNG, TIFF or JPEG in a picture editor and add that"

# What people do bring, and what to do about it. (where, signature, what it is, remedy)
_NOT_TAKEN_IN = (
    (0, b"GIF8", "a GIF", _SAVE_AS),
    (0, b"BM", "a BMP", _SAVE_AS),
    (0, b"8BPS", "a layered editor's file", _SAVE_AS),
    (0, b"\x00\x00\x00\x0cjP  ", "a JPEG 2000", _SAVE_AS),
    (0, b"\xff\x0a", "a JPEG XL", _SAVE_AS),
    (0, b"\x00\x00\x00\x0cJXL ", "a JPEG XL", _SAVE_AS),
    (4, b"ftypavi", "an AVIF", _SAVE_AS),
    (4, b"ftyp", "a film clip", "save one frame of it as a picture and add that"),
    (0, b"%PDF", "a PDF", "add it as a paper, or save its page as a picture"),
    (0, b"PK\x03\x04", "an archive or an office document", "unpack it and add the pictures"),
)
_SVG_WITHIN = 4096  # bytes; a comment or a document type may stand before the drawing


def kind(content: bytes) -> str:
    """The media type of a picture that can be shown: JPEG, PNG, TIFF, WebP or HEIC.

    Raises `BadPicture`, saying what the file is where that can be told.
    """
    if not content:
        raise BadPicture(
            "the file is empty", remedy="copy it again from the camera or the card"
        )
    if content.startswith(jpeg.SIGNATURE):
        return JPEG
    if content.startswith(png.SIGNATURE):
        return PNG
    if webp.is_webp(content):
        return WEBP
    if boxes.brand(content) in boxes.HEIC_BRANDS:
        return HEIC
    if tiff.is_tiff(content):
        return TIFF
    raise _refusal(content)


def _refusal(content: bytes) -> BadPicture:
    for at, signature, what, remedy in _NOT_TAKEN_IN:
        if content[at : at + len(signature)] == signature:
            return BadPicture(f"the file is {what}, which is not taken in", remedy=remedy)
    if b"<svg" in content[:_SVG_WITHIN].lower():
        return BadPicture(
            "the file is an SVG drawing, which can carry programs and is not taken in",
            remedy="export it as PNG and add that",
        )
    whole = (jpeg.SIGNATURE, png.SIGNATURE, b"RIFF")
    if any(signature.startswith(content) for signature in whole):
        return BadPicture(
            f"the file is cut off: only {len(content)} bytes are here",
            remedy="copy it again from the camera or the card",
        )
    return BadPicture(
        "the file is not a picture",
        remedy="add a JPEG, PNG, TIFF, WebP, HEIC or camera raw file",
    )
