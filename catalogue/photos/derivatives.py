"""Pictures made from an untouched original, for screens and documents: upright, small, cropped.

None carries EXIF, GPS or any other metadata; only the ICC profile goes along, because without
it the colours are wrong. They can be thrown away at any time: what is asked for again is made
again, to the same bytes.
"""

from __future__ import annotations

import hashlib
import os
import re
from pathlib import Path
from tempfile import NamedTemporaryFile

from catalogue.errors import BadSetting, CannotSave, Damaged, NotOnFile
from catalogue.photos.recipes import Box, Recipe
from catalogue.photos.render import encode, render
from catalogue.photos.source import LIMIT_MEGAPIXELS, take_apart

_SHA256 = re.compile("[0-9a-f]{64}")


def derivative(
    original: Path,
    sha256: str,
    cache: Path,
    recipe: Recipe,
    *,
    limit_megapixels: float = LIMIT_MEGAPIXELS,
) -> Path:
    """The file in `cache` that shows `original` by `recipe`, made now if it isn't there yet.

    `sha256` is the original's digest, and half the derivative's name. Two threads or processes
    that ask at once may both make it, each in a file of its own that is then renamed, so
    nobody ever sees half a picture. Raises `Damaged` when the original no longer has its
    digest, `BadPicture` when it can't be shown, `CannotSave` when the disk refuses.
    """
    if not _SHA256.fullmatch(sha256):
        raise BadSetting(f"{sha256[:80]!r} is not a SHA-256 digest in lower case")
    stem = cache / sha256[:2] / f"{sha256}-{recipe.key}"
    for suffix in (".jpg", ".png"):
        made = stem.with_name(stem.name + suffix)
        if made.is_file():
            return made
    content = read_original(original)
    if hashlib.sha256(content).hexdigest() != sha256:
        raise Damaged(
            f"{original.name}: the original is not the file that was taken in",
            remedy="run `dorse verify`, and bring the file back from a backup",
        )
    suffix, picture = encode(render(take_apart(content), recipe, limit_megapixels), recipe)
    made = stem.with_name(stem.name + suffix)
    write_whole(made, picture)
    return made


def crop(
    original: Path,
    box: Box,
    *,
    longest_px: int | None = None,
    quality: int = 92,
    limit_megapixels: float = LIMIT_MEGAPIXELS,
) -> bytes:
    """The part of `original` inside `box`, as a JPEG (a PNG where small or see-through).

    A box that reaches over the edge shows what there is; one that is wholly outside is refused.
    """
    recipe = Recipe(longest_px=longest_px, box=box, quality=quality)
    return shown(read_original(original), recipe, limit_megapixels=limit_megapixels)[1]


def shown(
    content: bytes, recipe: Recipe, *, limit_megapixels: float = LIMIT_MEGAPIXELS
) -> tuple[str, bytes]:
    """(file ending, bytes) of the picture in `content` by a recipe, not kept in any cache."""
    return encode(render(take_apart(content), recipe, limit_megapixels), recipe)


def read_original(original: Path) -> bytes:
    """The bytes of an original. Raises `NotOnFile`."""
    try:
        return original.read_bytes()
    except OSError as fault:
        raise NotOnFile(
            f"{original.name}: the original cannot be read ({fault.strerror})",
            remedy="run `dorse verify`, and bring the file back from a backup",
        ) from fault


def write_whole(made: Path, picture: bytes) -> None:
    """`picture` under the name `made`, whole or not at all."""
    try:
        made.parent.mkdir(parents=True, exist_ok=True)
        with NamedTemporaryFile(dir=made.parent, prefix=".making-", delete=False) as file:
            making = Path(file.name)
            try:
                file.write(picture)
                file.flush()
                # else a power cut could leave a name without its bytes in the cache for good
                os.fsync(file.fileno())
            except OSError:
                making.unlink(missing_ok=True)
                raise
        try:
            making.replace(made)
        except OSError:
            making.unlink(missing_ok=True)
            if (
                not made.is_file()
            ):  # Windows refuses while somebody reads the one made meanwhile
                raise
    except OSError as fault:
        raise CannotSave(
            f"{made.parent}: the picture cannot be saved ({fault.strerror})",
            remedy="free some space, or check who may write to this folder",
        ) from fault
