"""A photograph's file made ready for decoding, and its pixels decoded under guard.

Pillow keeps its guard against decompression bombs in a global (`Image.MAX_IMAGE_PIXELS`): one
number for the whole process, a mere warning up to twice that number, and no way to turn the
warning into an error for one call alone (`warnings.catch_warnings` is not safe with threads).
So no global is touched here. The reader for the kind found by `kinds.kind` is called itself,
which reads the header only and skips the global check; the size is held against the caller's
limit; only then are the pixels decoded. HEIC needs no registering either, for the same reason.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from PIL.Image import DecompressionBombError
from PIL.ImageFile import ImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.TiffImagePlugin import TiffImageFile
from PIL.WebPImagePlugin import WebPImageFile
from pillow_heif import HeifImageFile

from catalogue.errors import BadPicture
from catalogue.photos import boxes, jpeg, kinds, png, raw, tiff, webp
from catalogue.photos.parts import Parts, damaged
from catalogue.photos.tiff import Tag

LIMIT_MEGAPIXELS = 150.0

_TAKERS: dict[str, Callable[[bytes], Parts]] = {
    kinds.JPEG: jpeg.take_apart,
    kinds.PNG: png.take_apart,
    kinds.WEBP: webp.take_apart,
}
_READERS: dict[str, Callable[[io.BytesIO], ImageFile]] = {
    kinds.JPEG: JpegImageFile,
    kinds.PNG: PngImageFile,
    kinds.WEBP: WebPImageFile,
    kinds.TIFF: TiffImageFile,
    kinds.HEIC: HeifImageFile,
}

# What decoders raise on damaged files. `Warning` is among them for a process that turns
# warnings into errors; `AttributeError` and `AssertionError` for readers that trust a tag.
_DECODER_FAULTS = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    ArithmeticError,
    AttributeError,
    AssertionError,
    EOFError,
    RuntimeError,
    struct.error,
    zlib.error,
    DecompressionBombError,
    Warning,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A file made ready for decoding.

    `pixels` is a file of kind `shown_as` that holds the picture and, where that could be done
    without touching it, nothing else; `orientation` is how to turn it, as EXIF counts.
    """

    media_type: str
    shown_as: str
    pixels: bytes
    orientation: int
    size: tuple[int, int] | None
    taken: datetime | None
    is_raw: bool
    notes: tuple[str, ...]


def take_apart(content: bytes) -> Source:
    """`content` made ready for decoding; nothing is decoded yet.

    Raises `BadPicture` for what is not a picture or visibly not whole.
    """
    developed = raw.recognise(content)
    if developed is not None:
        shown = take_apart(developed.preview)
        said = shown.orientation if shown.orientation != 1 else developed.orientation
        return Source(
            media_type=developed.media_type,
            shown_as=shown.shown_as,
            pixels=shown.pixels,
            orientation=said or 1,
            size=shown.size,
            taken=developed.taken or shown.taken,
            is_raw=True,
            notes=(),
        )
    found = kinds.kind(content)
    if found == kinds.TIFF:
        return _tiff_source(content)
    if found == kinds.HEIC:
        return _heic_source(content)
    parts = _TAKERS[found](content)
    exif = tiff.directories(parts.exif)
    return Source(
        media_type=found,
        shown_as=found,
        pixels=parts.bare,
        orientation=tiff.orientation(exif) or 1,
        size=parts.size,
        taken=tiff.taken(parts.exif, exif),
        is_raw=False,
        notes=parts.notes,
    )


def _tiff_source(content: bytes) -> Source:
    """A TIFF goes to its reader whole, and that reader turns it upright itself."""
    found = tiff.directories(content)
    pages = sum(not (tiff.number(page, Tag.KIND_OF_PAGE) or 0) & 1 for page in found.pages)
    return Source(
        media_type=kinds.TIFF,
        shown_as=kinds.TIFF,
        pixels=content,
        orientation=1,
        size=None,
        taken=tiff.taken(content, found),
        is_raw=False,
        notes=(f"{pages} pages in one file; the first is shown",) if pages > 1 else (),
    )


def _heic_source(content: bytes) -> Source:
    """A HEIC says in its own boxes how to turn it, and its reader does so."""
    for _ in boxes.boxes(content):
        pass  # walked for its refusal of a file that is cut off
    with decoding(), _READERS[kinds.HEIC](io.BytesIO(content)) as image:
        exif = bytes(image.info.get("exif") or b"").removeprefix(jpeg.EXIF)
    return Source(
        media_type=kinds.HEIC,
        shown_as=kinds.HEIC,
        pixels=content,
        orientation=1,
        size=None,
        taken=tiff.taken(exif, tiff.directories(exif)),
        is_raw=False,
        notes=(),
    )


def opened(source: Source, limit_megapixels: float) -> ImageFile:
    """The picture with its header read and its size within the limit; no pixel decoded yet."""
    if source.size is not None:
        _demand_within(source.size, limit_megapixels)
    with decoding():
        image = _READERS[source.shown_as](io.BytesIO(source.pixels))
    _demand_within(image.size, limit_megapixels)
    return image


def _demand_within(size: tuple[int, int], limit_megapixels: float) -> None:
    width, height = size
    if width < 1 or height < 1:
        raise damaged("it says that it has no width or no height")
    if width * height > limit_megapixels * 1_000_000:
        raise BadPicture(
            f"the picture is too large: {width:,} × {height:,} pixels are "
            f"{width * height / 1_000_000:,.1f} megapixels, the limit is {limit_megapixels:g}",
            remedy="save a smaller copy and add that, or raise the studio's limit "
            "if you trust where the file comes from",
        )


@contextmanager
def decoding() -> Iterator[None]:
    """Whatever a decoder raises in here is told as a `BadPicture`."""
    try:
        yield
    except BadPicture:
        raise
    except MemoryError as fault:
        raise BadPicture(
            "the picture does not fit into this machine's memory",
            remedy="close other programs and try again, or save a smaller copy and add that",
        ) from fault
    except _DECODER_FAULTS as fault:
        raise damaged(f"{fault or type(fault).__name__}".splitlines()[0]) from fault
