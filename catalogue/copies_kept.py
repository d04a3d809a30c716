"""Copies of photographs: those that leave, and those that came in a parcel in place of an original.

A photograph that came along as a copy keeps in the record the digest of its original, which lies elsewhere;
the copy is kept beside it under a name of its own, shown where the original would be, and sent on as it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from catalogue.errors import BadPicture, NotOnFile
from catalogue.exchange.parcels.pictures import settings
from catalogue.ledger import Ledger, OpenChange
from catalogue.photos import Outline, Recipe, derivative, inspect, strip
from catalogue.record import Photo

_NAMED = "copy of "
_LARGEST = 64_000_000


def kept_copy(change: OpenChange, path: Path) -> str:
    """Keep the copy of a photograph that came along, without camera data if it has any; its digest.

    Raises `BadPicture` where it is none, or larger than any copy is.
    """
    size = path.stat().st_size
    if size > _LARGEST:
        raise BadPicture(
            f"a copy of {size // 1_000_000} MB; at most {_LARGEST // 1_000_000} MB are taken",
            remedy="ask the sender for a smaller one, or for the photograph itself",
        )
    content = strip(path.read_bytes())
    facts = inspect(content, name=path.name)
    return change.keep_file(content, name=path.name, media_type=facts.media_type)


def note_copies(ledger: Ledger, copies: Mapping[str, str]) -> None:
    """Remember which files (by digest) are the copies of which photographs (by `key_of`)."""
    for key, sha256 in sorted(copies.items()):
        ledger.set_setting(_NAMED + key, sha256)


def key_of(photo: Photo) -> str:
    """What the copy of a photograph is remembered by: its original's digest, or else its own id."""
    return photo.sha256 or photo.id


def copy_of(ledger: Ledger, key: str) -> str | None:
    """The digest of the copy that came along of a photograph, None where none did."""
    return ledger.setting(_NAMED + key)


def leaving(
    ledger: Ledger,
    photo: Photo,
    cache: Path,
    covered: tuple[Outline, ...] = (),
    longest_px: int | None = None,
) -> Path | None:
    """A copy of a photograph that may leave, with areas painted over; None where there is no file.

    `longest_px` bounds its longer side, None as vocab/parcel.toml says.
    """
    how = settings()
    longest = longest_px or how["longest_px"]
    recipe = Recipe(longest_px=longest, quality=how["quality"], covered=covered)
    try:
        if photo.sha256 is not None and ledger.has_file(photo.sha256):
            return derivative(ledger.file(photo.sha256), photo.sha256, cache, recipe)
        sha256 = copy_of(ledger, key_of(photo))
        if sha256 is None:
            return None
        return _of_copy(ledger, sha256, photo, cache, recipe)
    except (NotOnFile, BadPicture):
        return None


def _of_copy(ledger: Ledger, sha256: str, photo: Photo, cache: Path, recipe: Recipe) -> Path:
    """A copy that came along as it came; made anew only where it must be smaller or painted over."""
    content = ledger.read_file(sha256)
    facts = inspect(content, name="copy")
    longest = recipe.longest_px
    if recipe.covered or (longest and max(facts.width, facts.height) > longest):
        scale = facts.width / (photo.width or facts.width)
        areas = tuple(tuple((x * scale, y * scale) for x, y in each) for each in recipe.covered)
        smaller = Recipe(longest_px=longest, quality=recipe.quality, covered=areas)
        return derivative(ledger.file(sha256), sha256, cache, smaller)
    ending = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
    name = f"{sha256}-as-it-came{ending.get(facts.media_type, '')}"
    path = cache / sha256[:2] / name
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return path
