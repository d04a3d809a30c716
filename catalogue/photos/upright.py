"""A photograph's pixels, upright, at full size or halved: what tiles and ways of looking are made of.

An array of rows, 8 bits a colour: three colours (red, green, blue), or one for a grey photograph.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import suppress
from typing import Any, TypeAlias

import cv2
import numpy as np
from PIL import Image, ImageCms
from PIL.JpegImagePlugin import JpegImageFile

from catalogue.photos.levels import halved
from catalogue.photos.render import profile_fits, savable, stored_edges, turn
from catalogue.photos.source import Source, decoding, opened

Pixels: TypeAlias = np.ndarray[Any, np.dtype[np.uint8]]

_BAND_PIXELS = (
    4_000_000  # so many are worked on at once, so that memory holds one picture, not three
)
_SMALL_PROFILE = (
    16_384  # bytes: a larger one would weigh more than the tile that it goes along with
)


def size_upright(source: Source, limit_megapixels: float) -> tuple[int, int]:
    """Width and height as a person sees it, from the header alone."""
    with opened(source, limit_megapixels) as image:
        width, height = image.size
    return (height, width) if source.orientation >= 5 else (width, height)


def can_be_halved(source: Source) -> bool:
    """Whether a small picture of it can be had without decoding it at full size: JPEG alone."""
    return source.shown_as == "image/jpeg"


def upright(
    source: Source, times_halved: int, limit_megapixels: float
) -> tuple[Pixels, bytes | None]:
    """The pixels, halved so many times, and the ICC profile that speaks of their colours.

    Of a JPEG libjpeg decodes down to an eighth. A turned photograph whose sides aren't even may then
    lie less than one of its small pixels aside, which no eye sees and no measure is taken from.
    """
    with opened(source, limit_megapixels) as image, decoding():
        stored = image.size
        had = 0
        if isinstance(image, JpegImageFile):
            had = min(times_halved, 3)
            image.draft(None, (max(1, stored[0] >> had), max(1, stored[1] >> had)))
        image.load()
        shown = savable(image)
        while had and shown.size != halved(stored, had):
            had -= 1  # too small a picture to be decoded that small
        profile = image.info.get("icc_profile")
        if not profile_fits(profile, image, shown):
            profile = None
        elif len(profile) > _SMALL_PROFILE:
            shown, profile = _in_common_colours(shown, profile), None
        pixels = _rows(shown, source.orientation)
    for _ in range(times_halved - had):
        pixels = half(pixels)
    return pixels, profile


def _in_common_colours(picture: Image.Image, profile: bytes) -> Image.Image:
    """The picture in sRGB; as it is where its profile cannot be used."""
    with suppress(ImageCms.PyCMSError, OSError):
        converted = ImageCms.profileToProfile(
            picture.convert("RGB"),
            ImageCms.ImageCmsProfile(io.BytesIO(profile)),
            ImageCms.createProfile("sRGB"),
        )
        if converted is not None:
            return converted
    return picture


def _rows(picture: Image.Image, orientation: int) -> Pixels:
    """The picture turned upright, as an array; white paper lies under what shows through.

    Band by band: a picture of 50 megapixels takes 200 MB in Pillow, turned 200 more.
    """
    width, height = picture.size if orientation < 5 else picture.size[::-1]
    grey = picture.mode == "L"
    pixels: Pixels = np.empty((height, width) if grey else (height, width, 3), np.uint8)
    for top, bottom in bands(height, width):
        box = stored_edges((0, top, width, bottom - top), orientation, picture.size)
        size = box[2] - box[0], box[3] - box[1]
        # not `crop`, which would consult Pillow's global limit
        band = turn(picture.resize(size, Image.Resampling.NEAREST, box=box), orientation)
        if band.mode == "RGBA":
            paper = Image.new("RGBA", band.size, "white")
            band = Image.alpha_composite(paper, band).convert("RGB")
        pixels[top:bottom] = np.asarray(band)
    return pixels


def bands(height: int, width: int) -> Iterator[tuple[int, int]]:
    """First row and the row behind the last, of bands from the top to the bottom.

    >>> list(bands(3000, 4000))
    [(0, 1000), (1000, 2000), (2000, 3000)]
    """
    rows = max(1, _BAND_PIXELS // width)
    for top in range(0, height, rows):
        yield top, min(height, top + rows)


def half(pixels: Pixels) -> Pixels:
    """Half as large, rounded up, each pixel the mean of four; an odd edge stands for its neighbour."""
    height, width = pixels.shape[:2]
    if height % 2 or width % 2:
        pixels = cv2.copyMakeBorder(  # type: ignore[assignment]
            pixels, 0, height % 2, 0, width % 2, cv2.BORDER_REPLICATE
        )
    size = -(-width // 2), -(-height // 2)
    return cv2.resize(pixels, size, interpolation=cv2.INTER_AREA)  # type: ignore[return-value]
