"""Typefaces and hands, found in the font packages of the `demo` extra.

The files are found, not imported: nothing of those packages runs.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


@dataclass(frozen=True, slots=True)
class Face:
    """A font file within a package, and the weight to use where it has several."""

    package: str
    file: str
    weight: int | None = None


FACES: dict[str, Face] = {
    # Print: what a jobbing printer had in the case, from fat faces to grotesques.
    "baskerville": Face("fontpkg_libre_baskerville", "LibreBaskerville[wght].ttf", 400),
    "baskerville italic": Face(
        "fontpkg_libre_baskerville", "LibreBaskerville-Italic[wght].ttf", 400
    ),
    "bodoni": Face("fontpkg_bodoni_moda", "BodoniModa[opsz,wght].ttf", 600),
    "garamond": Face("fontpkg_cormorant_garamond", "CormorantGaramond[wght].ttf", 600),
    "fat": Face("fontpkg_abril_fatface", "AbrilFatface-Regular.ttf"),
    "slab": Face("fontpkg_alfa_slab_one", "AlfaSlabOne-Regular.ttf"),
    "grotesque": Face("fontpkg_oswald", "Oswald[wght].ttf", 400),
    "geometric": Face("fontpkg_josefin_sans", "JosefinSans[wght].ttf", 500),
    "typewriter": Face("fontpkg_ibm_plex_mono", "IBMPlexMono-Regular.ttf"),
    # Hands.
    "copperplate": Face("fontpkg_great_vibes", "GreatVibes-Regular.ttf"),
    "clerk": Face("fontpkg_dancing_script", "DancingScript[wght].ttf", 400),
    "broad nib": Face("fontpkg_satisfy", "Satisfy-Regular.ttf"),
    "brush": Face("fontpkg_yellowtail", "Yellowtail-Regular.ttf"),
    "quick": Face("fontpkg_zeyada", "Zeyada.ttf"),
    "round": Face("fontpkg_caveat", "Caveat[wght].ttf", 500),
    "schoolroom": Face("fontpkg_kalam", "Kalam-Light.ttf"),
    "upright": Face("fontpkg_shadows_into_light", "ShadowsIntoLight.ttf"),
}


@cache
def font(name: str, size: int) -> Font:
    """A face in a size in pixels. Says so loudly, and takes a plain one, if its package is missing."""
    face = FACES[name]
    path = _file(face)
    if path is None:
        _warn(face.package)
        return ImageFont.load_default(size)
    found = ImageFont.truetype(path, size)
    if face.weight is not None:
        found.set_variation_by_axes(
            [
                float(face.weight if axis["name"] == b"Weight" else axis["default"] or 0)
                for axis in found.get_variation_axes()
            ]
        )
    return found


def _file(face: Face) -> Path | None:
    spec = find_spec(face.package)
    folders = list(spec.submodule_search_locations or ()) if spec else []
    return next(
        (path for folder in folders if (path := Path(folder) / "files" / face.file).is_file()),
        None,
    )


@cache
def _warn(package: str) -> None:
    print(
        f"WARNING: the font package {package.replace('_', '-')} is not installed; the pictures "
        "will look wrong. Install the project's demo extra: pip install '.[demo]'",
        file=sys.stderr,
    )
