"""Photographs as a camera writes them: each with the moment it was taken, and no two alike."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

ORIGINAL, FRACTION, OFFSET = 36867, 37521, 36881
"""Exif tags DateTimeOriginal, SubSecTimeOriginal, OffsetTimeOriginal (CIPA DC-008 Exif 2.32, from memory)."""


def shot(
    taken: str = "", colour: str = "#8a744c", *, fraction="", offset="", size=(60, 40)
) -> bytes:
    """A small JPEG; `taken` is written as Exif does, "2026:03:02 09:00:00", "" for a camera that says nothing."""
    exif = Image.Exif()
    inner = exif.get_ifd(34665)
    for tag, said in ((ORIGINAL, taken), (FRACTION, fraction), (OFFSET, offset)):
        if said:
            inner[tag] = said
    file = io.BytesIO()
    Image.new("RGB", size, colour).save(file, "JPEG", exif=exif)
    return file.getvalue()


def lay(folder: Path, files: dict[str, bytes]) -> Path:
    """A card with these files on it."""
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return folder
