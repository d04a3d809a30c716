"""A photograph's file looked at: what it is, how large, when it was taken; and is it whole?"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime

from catalogue.errors import BadPicture
from catalogue.photos import kinds
from catalogue.photos.names import clean_name
from catalogue.photos.source import LIMIT_MEGAPIXELS, decoding, opened, take_apart


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureFacts:
    """What a photograph's file says of itself, every pixel of it decoded once.

    `width` and `height` are in pixels, upright as a person sees it; of a camera raw, those of
    its preview. `taken` is by the camera's own clock, with a zone only where the camera says so.
    `notes` tell a person what is not shown.
    """

    media_type: str
    width: int
    height: int
    sha256: str
    taken: datetime | None
    is_raw: bool
    size_bytes: int
    notes: tuple[str, ...] = ()


def inspect(
    content: bytes, *, name: str, limit_megapixels: float = LIMIT_MEGAPIXELS
) -> PictureFacts:
    """The facts of the photograph in `content`, which came as a file called `name`.

    Raises `BadPicture`, with the reason and what to do, for anything that is not a whole
    picture within the limit, and for a name that is not a plain file name.

    >>> inspect(b"Dear Sir, the back of the picture", name="back.jpg")
    Traceback (most recent call last):
    catalogue.errors.BadPicture: back.jpg: the file is not a picture
      add a JPEG, PNG, TIFF, WebP, HEIC or camera raw file
    """
    clean_name(name)
    try:
        source = take_apart(content)
        with opened(source, limit_megapixels) as image, decoding():
            frames = getattr(image, "n_frames", 1) if source.shown_as == kinds.HEIC else 1
            image.load()
            width, height = image.size
    except BadPicture as refused:
        raise BadPicture(f"{name}: {refused.args[0]}", remedy=refused.remedy) from refused
    if source.orientation >= 5:
        width, height = height, width
    notes = source.notes
    if frames > 1:
        notes += (f"{frames} pictures in one file; the main one is shown",)
    if source.is_raw:
        notes += (f"camera raw, shown by its preview of {width} × {height} pixels",)
    return PictureFacts(
        media_type=source.media_type,
        width=width,
        height=height,
        sha256=hashlib.sha256(content).hexdigest(),
        taken=source.taken,
        is_raw=source.is_raw,
        size_bytes=len(content),
        notes=notes,
    )


def size_in_pixels(
    content: bytes, *, limit_megapixels: float = LIMIT_MEGAPIXELS
) -> tuple[int, int]:
    """How wide and how high a picture lies in its file, from its header alone.

    Raises `BadPicture` for what is none.
    """
    with opened(take_apart(content), limit_megapixels) as image:
        width, height = image.size
    return width, height
