"""An original for sending out: the same picture, without where and by what it was taken."""

from __future__ import annotations

import io

from PIL.Image import Image
from PIL.JpegImagePlugin import JpegImageFile, get_sampling

from catalogue.photos import kinds
from catalogue.photos.render import turn
from catalogue.photos.source import LIMIT_MEGAPIXELS, Source, decoding, opened, take_apart


def strip(content: bytes, *, limit_megapixels: float = LIMIT_MEGAPIXELS) -> bytes:
    """The picture in `content` with its ICC profile and no other metadata.

    An upright JPEG, PNG or WebP keeps its pixels byte for byte: only the parts about them are
    left out. One that EXIF says to turn is turned and encoded anew, JPEG with the tables it
    had. TIFF is saved anew without loss (more than 8 bits a colour become 8; one page), HEIC
    becomes a JPEG, and of a camera raw its preview leaves, never the raw.
    """
    source = take_apart(content)
    if source.orientation == 1 and _is_parted(source):
        return source.pixels
    with opened(source, limit_megapixels) as image, decoding():
        image.load()
        plain = turn(image, source.orientation)
        plain.info = {
            key: image.info[key] for key in ("icc_profile", "transparency") if key in image.info
        }
        saved = io.BytesIO()
        _save(plain, saved, source, image)
    return saved.getvalue()


def _is_parted(source: Source) -> bool:
    """Whether `source.pixels` already holds one picture and nothing else."""
    if source.shown_as == kinds.WEBP:
        return not source.notes  # an animation's frames are still in it
    return source.shown_as in (kinds.JPEG, kinds.PNG)


def _save(plain: Image, saved: io.BytesIO, source: Source, image: Image) -> None:
    profile = plain.info.get("icc_profile")
    if isinstance(image, JpegImageFile):
        plain.save(
            saved,
            "JPEG",
            qtables=image.quantization,
            subsampling=get_sampling(image),
            icc_profile=profile,
        )
    elif source.shown_as == kinds.PNG:
        plain.save(saved, "PNG", icc_profile=profile)
    elif source.shown_as == kinds.WEBP:
        plain.save(saved, "WEBP", lossless=True, exact=True, icc_profile=profile)
    elif source.shown_as == kinds.TIFF:
        plain.save(saved, "TIFF", compression="tiff_deflate", icc_profile=profile)
    else:
        plain.convert("RGB").save(saved, "JPEG", quality=95, subsampling=0, icc_profile=profile)
