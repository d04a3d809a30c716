"""What each way of writing leaves behind: its colour, how evenly it covers, how it took the ground."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image

from drawing.texture import Colour, Rng, Tones, clouds, mottle

COLOURS: dict[str, Colour] = {
    "violet": (88, 50, 130), "purple": (88, 50, 130), "red": (164, 44, 36), "blue": (40, 70, 140),
    "green": (46, 96, 66), "white": (232, 228, 214), "black": (28, 25, 24), "brown": (78, 48, 28),
    "grey": (92, 90, 88), "yellow": (206, 170, 60), "faded": (122, 92, 62),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Ink:
    """`cover` at its thickest; `patchy` and `speckled` take away from it; `catches` on thread tops."""

    colour: Colour
    cover: float = 0.9
    patchy: float = 0.1
    speckled: float = 0.1
    catches: float = 0.25
    soft: float = 0.0
    wobble: float = 0.0


MATERIALS: dict[str, Ink] = {
    "ink": Ink((58, 38, 28), cover=0.92, patchy=0.34, speckled=0.2, catches=0.55, soft=0.25, wobble=1.0),
    "pencil": Ink((70, 68, 70), cover=0.72, patchy=0.2, speckled=0.4, catches=0.6, wobble=1.0),
    "chalk": Ink((226, 222, 208), cover=0.85, patchy=0.3, speckled=0.5, catches=1.0, wobble=1.6),
    "crayon": Ink((40, 70, 140), cover=0.88, patchy=0.2, speckled=0.35, catches=0.8, wobble=1.4),
    "charcoal": Ink((44, 42, 42), cover=0.7, patchy=0.4, speckled=0.4, catches=0.8, wobble=1.4),
    "paint": Ink((34, 28, 26), cover=0.97, patchy=0.06, speckled=0.02, catches=0.1, wobble=1.2),
    "ball-point": Ink((36, 48, 120), cover=0.9, patchy=0.1, wobble=0.8),
    "felt-tip": Ink((26, 24, 30), cover=0.94, patchy=0.05, catches=0.2, wobble=0.8),
    "printed": Ink((30, 27, 26), cover=0.88, patchy=0.14, speckled=0.12, catches=0.1),
    "typed": Ink((44, 40, 52), cover=0.85, patchy=0.3, speckled=0.2, catches=0.1),
    "stamped": Ink((88, 50, 130), cover=0.78, patchy=0.6, speckled=0.45, catches=0.5),
    "stencilled": Ink((26, 24, 24), cover=0.93, patchy=0.12, speckled=0.1, catches=0.3, soft=0.8),
    "branded": Ink((46, 26, 14), cover=0.92, patchy=0.25, speckled=0.1, catches=0.1, soft=1.2),
    "scratched": Ink((210, 190, 160), cover=0.6, patchy=0.3, catches=0.2, wobble=1.2),
}  # fmt: skip
WORDS = {
    "biro": "ball-point",
    "oil": "paint",
    "brush": "paint",
    "pen": "ink",
    "charcoal": "charcoal",
}


def ink_for(technique: str, medium: str, techniques: tuple[str, ...]) -> Ink:
    """The ink of a run: what the markup says of it ("blue chalk"), else what the record lists."""
    words = medium.replace("-", " ").split() or _listed(technique, techniques)
    material = "ink" if technique == "handwritten" else technique
    for word in words:
        if word in MATERIALS or word in WORDS:
            material = WORDS.get(word, word)
    if "ball" in words:
        material = "ball-point"
    if "felt" in words:
        material = "felt-tip"
    found = MATERIALS[material]
    colour = next((COLOURS[word] for word in words if word in COLOURS), found.colour)
    return Ink(
        colour,
        found.cover,
        found.patchy,
        found.speckled,
        found.catches,
        found.soft,
        found.wobble,
    )


def _listed(technique: str, techniques: tuple[str, ...]) -> list[str]:
    if technique != "handwritten":
        return []
    names = [each.partition("/")[2] for each in techniques]
    return [name for name in names if name in MATERIALS or name in WORDS or name == "oil-paint"]


def laid(mask: Tones, ink: Ink, rng: Rng) -> Tones:
    """How thickly the ink lies where `mask` has letters: uneven, speckled, never quite full."""
    height, width = mask.shape
    thick = np.full_like(mask, ink.cover)
    thick *= 1 - ink.patchy * np.clip(mottle(rng, width, height, height / 2.5) + 0.15, 0, 1)
    if ink.speckled:
        specks = clouds(rng, width, height, 3.2) + 0.6 * rng.standard_normal(mask.shape)
        thick *= 1 - np.clip(specks - 0.9, 0, 1) * min(1.0, 2 * ink.speckled)
    return (mask * thick).astype(np.float32)


def wobbled(mask: Image.Image, strength: float, letter: float, rng: Rng) -> Image.Image:
    """The same letters less even: shifted up, down and sideways as a hand would."""
    if not strength:
        return mask
    height, width = mask.shape if isinstance(mask, np.ndarray) else (mask.height, mask.width)
    drift = clouds(rng, width, 2, letter * 1.7)[0] * letter * 0.085 * strength
    lean = clouds(rng, height, 2, letter * 1.1)[0] * letter * 0.05 * strength
    rows = np.clip(np.arange(height)[:, None] + drift[None, :], 0, height - 1).astype(int)
    columns = np.clip(np.arange(width)[None, :] + lean[:, None], 0, width - 1).astype(int)
    return Image.fromarray(np.asarray(mask)[rows, columns])
