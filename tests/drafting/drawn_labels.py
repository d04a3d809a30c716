"""Printed labels drawn for the drafts: clean, aged, and bad, as the trial of the engine had them.

The states are those of our own trial sheet (frontend-and-packaging, section 6): aged paper with noise and
shade, turned by -2.5 degrees; faded ink, stains and noise, turned by 6 degrees; JPEG at 82.
"""

from __future__ import annotations

import io

import numpy as np
from drawing.typefaces import font
from PIL import Image, ImageDraw, ImageFilter

GERMAN = (
    "Kunsthandlung Aurelius Brandtner",
    "Gemälde alter und neuer Meister",
    "Dresden, Prager Straße 14",
    "Telephon 21843",
    "Nr. 412 Künstler: Hollmann",
    "Titel: Weiden am Fluß",
)
ENGLISH = (
    "HARKWICK & SON, Fine Art Dealers",
    "14 Tanner Street, London, W.1",
    "Stock No. 2217 (framed)",
    "Price 12 gns / 3 May 1931",
)
STATES = {
    # the turn in degrees, how dark the ink is, noise, stains
    "clean": (0.0, 20, 0, 0),
    "aged": (-2.5, 45, 7, 2),
    "bad": (6.0, 105, 12, 5),
}


def label(
    text: tuple[str, ...], state: str, face: str = "baskerville", size: int = 34
) -> bytes:
    """A photograph of a label of these lines, as a JPEG."""
    turn, ink, noise, stains = STATES[state]
    chance = np.random.default_rng(11)
    width, height = 820, 70 + round(1.55 * size * len(text))
    paper = Image.new("L", (width, height), 232)
    pen = ImageDraw.Draw(paper)
    pen.rectangle((8, 8, width - 9, height - 9), outline=ink, width=2)
    for number, line in enumerate(text):
        pen.text((40, 34 + number * 1.55 * size), line, fill=ink, font=font(face, size))
    wood = Image.new("L", (width + 160, height + 160), 120)
    turned = paper.convert("L").rotate(turn, Image.Resampling.BICUBIC, expand=True)
    cover = Image.new("L", paper.size, 255).rotate(turn, Image.Resampling.BICUBIC, expand=True)
    at = ((wood.width - turned.width) // 2, (wood.height - turned.height) // 2)
    wood.paste(turned, at, cover)
    pixels = np.asarray(wood, dtype=np.float64)
    if state != "clean":
        pixels *= np.linspace(1.0, 0.8, wood.width)[None, :]
    for _ in range(stains):
        blot = Image.new("L", wood.size)
        x, y = chance.integers(100, wood.width - 200), chance.integers(80, wood.height - 120)
        ImageDraw.Draw(blot).ellipse((x, y, x + 150, y + 90), fill=60)
        pixels -= 0.6 * np.asarray(blot.filter(ImageFilter.GaussianBlur(14)), dtype=np.float64)
    pixels += chance.normal(0, noise, pixels.shape) if noise else 0
    file = io.BytesIO()
    Image.fromarray(np.clip(pixels, 0, 255).astype(np.uint8)).convert("RGB").save(
        file, "JPEG", quality=82
    )
    return file.getvalue()


def corners_of(
    text: tuple[str, ...], state: str, size: int = 34
) -> tuple[tuple[float, float], ...]:
    """Where the label lies on its photograph, clockwise from where the text begins."""
    turn = np.radians(STATES[state][0])
    width, height = 820, 70 + round(1.55 * size * len(text))
    with Image.open(io.BytesIO(label(text, state, size=size))) as picture:
        middle = np.array(picture.size) / 2
    across = np.array([np.cos(turn), -np.sin(turn)]) * width / 2
    down = np.array([np.sin(turn), np.cos(turn)]) * height / 2
    four = (-across - down, across - down, across + down, -across + down)
    return tuple((float(x), float(y)) for x, y in (middle + each for each in four))
