"""From a file taken apart to the picture that a recipe asks for, and to its bytes."""

from __future__ import annotations

import io
from collections.abc import Mapping
from contextlib import suppress
from math import ceil
from types import MappingProxyType
from typing import TypeGuard

from PIL import ImageCms, ImageDraw, ImageFont
from PIL.Image import Image, Resampling, Transpose, new
from PIL.JpegImagePlugin import JpegImageFile

from catalogue.errors import BadPicture
from catalogue.photos.recipes import Box, Outline, Recipe
from catalogue.photos.source import Source, decoding, opened

_MARGIN_PX = 16  # two blocks of JPEG: half of it lies outside of what is covered
_SMALL_PX = 64  # below this, JPEG's blocks of 8 pixels would smear a letter
_JPEG_LONGEST_PX = 65_500  # the most that libjpeg writes

# How EXIF's orientations turn what is stored into what is seen (EXIF 2.32, tag 274).
TURNS: Mapping[int, Transpose] = MappingProxyType(
    {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
)


def render(source: Source, recipe: Recipe, limit_megapixels: float) -> Image:
    """The picture by the recipe: upright, cropped, small enough, in colours that can be saved.

    Cropped and made smaller before it is turned, so that only the small picture is copied.
    """
    with opened(source, limit_megapixels) as image, decoding():
        stored = image.size
        turned = source.orientation >= 5
        upright = (stored[1], stored[0]) if turned else stored
        box = _within(recipe.box or (0, 0, *upright), upright)
        size = _fitted(box[2:], recipe.longest_px)
        if isinstance(image, JpegImageFile) and size != box[2:]:
            # libjpeg decodes to 1/2, 1/4 or 1/8 for a fraction of the time and memory; half as
            # large again as what is wanted loses less than the encoding of the picture does
            shrink = 1.5 * size[0] / box[2]
            image.draft(None, (ceil(stored[0] * shrink), ceil(stored[1] * shrink)))
        image.load()
        shown = savable(image)
        scale_x, scale_y = shown.width / stored[0], shown.height / stored[1]
        left, top, right, bottom = stored_edges(box, source.orientation, stored)
        shown = shown.resize(
            (size[1], size[0]) if turned else size,
            # a box of whole pixels at its own size is cut out, not computed; `crop` would
            # consult Pillow's global limit
            Resampling.NEAREST if size == box[2:] else Resampling.LANCZOS,
            box=(left * scale_x, top * scale_y, right * scale_x, bottom * scale_y),
            reducing_gap=3.0,
        )
        shown = turn(shown, source.orientation)
    if recipe.covered:
        shown = _covered(shown, recipe.covered, box)
    profile = image.info.get("icc_profile")
    shown.info = {"icc_profile": profile} if profile_fits(profile, image, shown) else {}
    return _mirrored(shown) if recipe.mirrored else shown


def _within(box: Box, size: tuple[int, int]) -> Box:
    x, y, width, height = box
    width, height = min(x + width, size[0]) - x, min(y + height, size[1]) - y
    if width < 1 or height < 1:
        raise BadPicture(
            f"the box at {x}, {y} lies outside the picture of {size[0]} × {size[1]} pixels",
            remedy="draw the region again on this picture",
        )
    return x, y, width, height


def _fitted(size: tuple[int, int], longest_px: int | None) -> tuple[int, int]:
    """`size` made to fit `longest_px` with its proportions kept; never larger.

    >>> _fitted((4000, 3000), 320)
    (320, 240)
    """
    if longest_px is None or max(size) <= longest_px:
        return size
    width, height = (max(1, round(side * longest_px / max(size))) for side in size)
    return width, height


def stored_edges(box: Box, orientation: int, stored: tuple[int, int]) -> Box:
    """Left, top, right, bottom of an upright `box` in the picture as it is stored.

    What is seen at the top left of a photo taken upright (6) is stored at the bottom left:

    >>> stored_edges((0, 0, 10, 20), 6, stored=(120, 80))
    (0, 70, 20, 80)
    """
    x, y, width, height = box
    left, top, right, bottom = x, y, x + width, y + height
    if orientation >= 5:
        left, top, right, bottom = top, left, bottom, right
    if orientation in (2, 3, 7, 8):
        left, right = stored[0] - right, stored[0] - left
    if orientation in (3, 4, 6, 7):
        top, bottom = stored[1] - bottom, stored[1] - top
    return left, top, right, bottom


def turn(image: Image, orientation: int) -> Image:
    """`image` as a person sees it, a plain picture in memory."""
    how = TURNS.get(orientation)
    return image.copy() if how is None else image.transpose(how)


def savable(image: Image) -> Image:
    """`image` in grey (L), colours (RGB) or colours with transparency (RGBA), 8 bits each."""
    mode = image.mode
    if mode in ("RGB", "L", "RGBA"):
        return image.convert("RGBA") if "transparency" in image.info else image
    if mode.startswith("I;16"):
        # `convert("L")` would show everything above 255 as white
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if mode in ("I", "F"):
        darkest, lightest = (float(end) for end in image.getextrema())  # type: ignore[arg-type]
        span = 255 / (lightest - darkest or 1)
        return (
            image.convert("F").point(lambda value: value * span - darkest * span).convert("L")
        )
    if mode in ("LA", "PA", "La", "RGBa") or "transparency" in image.info:
        return image.convert("RGBA")
    if mode == "1":
        return image.convert("L")
    if mode == "CMYK" and image.info.get("icc_profile"):
        return _from_ink(image)
    return image.convert("RGB")


def _from_ink(image: Image) -> Image:
    """A CMYK picture in sRGB by its own profile; by rule of thumb when that can't be used."""
    ink = io.BytesIO(image.info["icc_profile"])
    with suppress(ImageCms.PyCMSError, OSError):
        converted = ImageCms.profileToProfile(
            image,
            ImageCms.ImageCmsProfile(ink),
            ImageCms.createProfile("sRGB"),
            outputMode="RGB",
        )
        if converted is not None:
            return converted
    return image.convert("RGB")


def profile_fits(profile: object, before: Image, after: Image) -> TypeGuard[bytes]:
    """Whether the original's ICC profile still speaks of the picture's colours.

    Bytes 16 to 20 of a profile name its colour space (ICC.1:2022, 7.2.6).
    """
    if not isinstance(profile, bytes) or before.mode in ("CMYK", "LAB"):
        return False
    return profile[16:20] == (b"GRAY" if after.mode == "L" else b"RGB ")


def _covered(picture: Image, outlines: tuple[Outline, ...], box: Box) -> Image:
    """`picture`, which shows `box` of the original, with these areas of the original painted over.

    A plain grey, for blurred letters can be guessed at; a little more than the area, for a smaller
    picture mixes its pixels, and the encoding again, with those beside them.
    """
    scale_x, scale_y = picture.width / box[2], picture.height / box[3]
    greys: dict[str, tuple[int, ...] | int] = {"L": 128, "RGBA": (128, 128, 128, 255)}
    grey = greys.get(picture.mode, (128, 128, 128))
    draw = ImageDraw.Draw(picture)
    for outline in outlines:
        corners = [((x - box[0]) * scale_x, (y - box[1]) * scale_y) for x, y in outline]
        draw.polygon(corners, fill=grey)
        draw.line(
            [*corners, corners[0], corners[1]], fill=grey, width=_MARGIN_PX, joint="curve"
        )
    return picture


def _mirrored(picture: Image) -> Image:
    """`picture` mirrored, with the word MIRRORED in its lower right corner.

    Where the word is wider than the picture, a grey margin makes room: it is never left out.
    """
    flipped = picture.transpose(Transpose.FLIP_LEFT_RIGHT)
    font = ImageFont.load_default(size=max(12, max(picture.size) // 32))
    left, top, right, bottom = font.getbbox("MIRRORED")
    pad = ceil((bottom - top) / 3)
    width, height = ceil(right - left) + 2 * pad, ceil(bottom - top) + 2 * pad
    if flipped.width < width or flipped.height < height:
        room = new(
            flipped.mode, (max(width, flipped.width), max(height, flipped.height)), "grey"
        )
        room.paste(flipped, (0, 0))
        room.info = dict(flipped.info)
        flipped = room
    draw = ImageDraw.Draw(flipped)
    corner = flipped.width - width, flipped.height - height
    draw.rectangle((*corner, flipped.width, flipped.height), fill="black")
    draw.text(
        (corner[0] + pad - left, corner[1] + pad - top), "MIRRORED", font=font, fill="white"
    )
    return flipped


def encode(picture: Image, recipe: Recipe) -> tuple[str, bytes]:
    """(file ending, bytes): PNG where something shows through, or the picture is small."""
    saved = io.BytesIO()
    see_through = picture.mode == "RGBA" and picture.getchannel("A").getextrema() != (255, 255)
    profile = picture.info.get("icc_profile")
    if see_through or max(picture.size) < _SMALL_PX or max(picture.size) > _JPEG_LONGEST_PX:
        picture.save(saved, "PNG", icc_profile=profile)
        return ".png", saved.getvalue()
    flat = picture.convert("RGB") if picture.mode == "RGBA" else picture
    # colours at full resolution (4:4:4): red ink on brown paper keeps its edges
    flat.save(saved, "JPEG", quality=recipe.quality, subsampling=0, icc_profile=profile)
    return ".jpg", saved.getvalue()
