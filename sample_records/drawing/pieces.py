"""One inscription as a thing to lay down: a label with its print, a stamp, a line of chalk, a seal."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from catalogue.record import Inscription
from catalogue.terms import within
from drawing.dressing import Wear
from drawing.inks import ink_for, laid, wobbled
from drawing.layout import Style, set_lines
from drawing.lettering import Line, lines
from drawing.letters import Area, Written, written
from drawing.papers import PAPERS, Sheet, shaped, sheet, skinned, torn
from drawing.texture import Rng, as_mask, clouds, tones_of

FINER = 2
"""Pieces are drawn this much larger than they are laid down, for clean edges once turned."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A picture with its mask. `paper` has an edge that casts a shadow; ink `catches` on threads."""

    picture: Image.Image
    mask: Image.Image
    paper: bool
    catches: float = 0.0
    thickness: float = 0.3


def is_paper(inscription: Inscription) -> bool:
    """Whether it is a label or a plaque, not writing on the surface itself."""
    return within(inscription.kind, "inscription/label", "inscription/plaque")


def default_technique(inscription: Inscription) -> str:
    """The markup's name for how it was made, where the markup itself names none."""
    names = {each.partition("/")[2] for each in inscription.techniques}
    for technique, wanted in (
        ("stencilled", {"stencilled"}), ("branded", {"branded"}), ("stamped", {"stamped"}),
        ("typed", {"typed"}), ("printed", {"printed", "letterpress", "lithographed", "engraved"}),
    ):  # fmt: skip
        if names & wanted and not (technique == "stamped" and names & {"typed", "printed"}):
            return technique
    return "handwritten"


def piece(inscription: Inscription, wear: Wear, width: int, height: int, rng: Rng) -> Piece:
    """What the preferred reading of an inscription looks like in a rectangle of so many pixels."""
    transcript = inscription.preferred()
    set_in = (
        lines(transcript.reading().tree, default_technique(inscription)) if transcript else []
    )
    wide, high = max(8, width * FINER), max(8, height * FINER)
    if inscription.kind == "inscription/seal":
        return _seal(set_in, _style(inscription, wear), min(wide, high), (wide, high), rng)
    inner = _inner(inscription, wear, wide, high)
    sets = set_lines(
        set_in,
        _style(inscription, wear),
        round(inner[2]),
        round(inner[3]),
        _pad(inscription, high),
    )
    letters = written(sets, wide, high, (inner[0], inner[1]), rng)
    _frame(letters, inscription, wear, wide, high)
    if is_paper(inscription):
        return _label(letters, inscription, wear, wide, high, rng)
    picture = Image.new("RGBA", (wide, high))
    catches = _ink_on(picture, letters, inscription, wear, rng)
    mask = picture.getchannel("A")
    return Piece(picture.convert("RGB"), mask, paper=False, catches=catches)


def _style(inscription: Inscription, wear: Wear) -> Style:
    centred = is_paper(inscription) or default_technique(inscription) in ("stamped", "branded")
    return Style(wear.heading, wear.body, wear.hands, centred)


def _pad(inscription: Inscription, high: int) -> float:
    return 0.07 * high if is_paper(inscription) else 0.03 * high


def _inner(inscription: Inscription, wear: Wear, wide: int, high: int) -> Area:
    """Left, top, width and height of what the text has to itself."""
    across, down = {"oval": (0.70, 0.62), "ring": (0.68, 0.58), "box": (0.9, 0.82)}.get(
        wear.frame, (1.0, 1.0)
    )
    if is_paper(inscription) and wear.frame in ("single", "double"):
        across, down = 0.93, 0.92
    return (wide * (1 - across) / 2, high * (1 - down) / 2, wide * across, high * down)


def _frame(
    letters: Written, inscription: Inscription, wear: Wear, wide: int, high: int
) -> None:
    """The lines that a stamp or a printed label has around it."""
    if wear.frame == "none":
        return
    key = next((key for key in letters.masks if key[0] != "handwritten"), None)
    if key is None:
        return
    pen, stroke = ImageDraw.Draw(letters.masks[key]), max(2, round(high * 0.02))
    edge = stroke + (0.03 * high if is_paper(inscription) else 0)
    box = (edge, edge, wide - 1 - edge, high - 1 - edge)
    gap = stroke * 2.2
    within_box = (box[0] + gap, box[1] + gap, box[2] - gap, box[3] - gap)
    match wear.frame:
        case "oval" | "ring":
            pen.ellipse(box, outline=240, width=stroke)
            pen.ellipse(within_box, outline=220, width=max(1, stroke // 2))
        case "double":
            pen.rectangle(box, outline=230, width=stroke)
            pen.rectangle(within_box, outline=220, width=max(1, stroke // 3))
        case _:
            pen.rectangle(box, outline=230, width=max(1, stroke * 2 // 3))


def _ink_on(
    picture: Image.Image, letters: Written, inscription: Inscription, wear: Wear, rng: Rng
) -> float:
    """Lay every ink of the letters onto a picture; says how much they catch on threads."""
    catches = 0.0
    for (technique, medium), mask in letters.masks.items():
        ink = ink_for(technique, medium, inscription.techniques)
        letter = max(8.0, picture.height / 6)
        shaken = wobbled(mask, ink.wobble, letter, rng)
        if ink.soft:
            shaken = shaken.filter(ImageFilter.GaussianBlur(ink.soft * picture.height / 160))
        thick = laid(tones_of(shaken), ink, rng) * wear.strength
        layer = Image.new("RGBA", picture.size, (*ink.colour, 0))
        layer.putalpha(as_mask(thick))
        picture.alpha_composite(layer)
        catches = max(catches, ink.catches)
    return catches


def _label(
    letters: Written, inscription: Inscription, wear: Wear, wide: int, high: int, rng: Rng
) -> Piece:
    if inscription.kind == "inscription/plaque":
        paper = Sheet(
            Image.new("RGB", (wide, high), PAPERS["yellow"]), Image.new("L", (wide, high), 255)
        )
    else:
        paper = Sheet(
            sheet(rng, wide, high, wear.paper, wear.age), shaped(rng, wide, high, wear.edges)
        )
    inked = paper.picture.convert("RGBA")
    _ink_on(inked, letters, inscription, wear, rng)
    paper = Sheet(inked.convert("RGB"), paper.shape)
    ends = [area for area, each in letters.lost if each.last]
    for area, each in letters.lost:
        if not each.last:
            paper = skinned(paper, area, rng)
    if ends:
        paper = torn(paper, [*letters.kept, *ends], ends, rng)
    return Piece(paper.picture, paper.shape, paper=True, thickness=1.0)


def _seal(
    set_in: list[Line], style: Style, side: int, size: tuple[int, int], rng: Rng
) -> Piece:
    """Sealing wax with a matrix pressed into it: light from the upper left on a red disc."""
    inner = round(side * 0.52)
    sets = set_lines(set_in, style, inner, inner, 0)
    letters = written(sets, side, side, ((side - inner) / 2, (side - inner) / 2), rng)
    y, x = np.mgrid[0:side, 0:side].astype(np.float32) / side - 0.5
    away = np.hypot(x, y) * (1 + 0.10 * clouds(rng, side, side, side / 2.2))
    height = 0.35 * np.clip(1 - (away / 0.47) ** 6, 0, 1)
    height -= 0.16 * np.clip(1 - (away / 0.345) ** 14, 0, 1)
    for mask in letters.masks.values():
        height += 0.10 * tones_of(mask.filter(ImageFilter.GaussianBlur(side / 160)))
    height += 0.02 * clouds(rng, side, side, side / 14)
    slope = np.gradient(height)
    light = 1 - (slope[0] + slope[1]) * side * 0.055
    shine = np.clip(light - 1.35, 0, 1) * 90
    red = np.stack([140 * light + shine, 26 * light + shine, 24 * light + shine], axis=-1)
    disc = Image.fromarray(np.clip(red, 0, 255).astype(np.uint8))
    mask = as_mask(np.clip((0.47 - away) * side / 3, 0, 1))
    picture, whole = Image.new("RGB", size, (120, 24, 22)), Image.new("L", size)
    at = ((size[0] - side) // 2, (size[1] - side) // 2)
    picture.paste(disc, at)
    whole.paste(mask, at)
    return Piece(picture, whole, paper=True, thickness=3.0)
