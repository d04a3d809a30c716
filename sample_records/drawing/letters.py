"""Letters as ink: the set runs drawn into masks, one for each ink, with their strokes and devices."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from drawing.devices import device
from drawing.layout import Set
from drawing.texture import Rng
from drawing.typefaces import font

Area = tuple[float, float, float, float]
ENCLOSED = "0469ABDOPQRabdegopqß8&"
"""Letters whose inside would fall out of a stencil: they are bridged."""


@dataclass(slots=True)
class Written:
    """The masks of one thing, by technique and medium, and where its text is, or is lost."""

    masks: dict[tuple[str, str], Image.Image] = field(default_factory=dict)
    lost: list[tuple[Area, Set]] = field(default_factory=list)
    kept: list[Area] = field(default_factory=list)


def written(
    sets: list[Set], width: int, height: int, at: tuple[float, float], rng: Rng
) -> Written:
    """Every run drawn into the mask of its ink; `at` is where the set rectangle begins."""
    result = Written()
    for each in sets:
        x, baseline = each.x + at[0], each.baseline + at[1]
        box = (x, baseline - 0.8 * each.size, x + each.width, baseline + 0.25 * each.size)
        if each.run.gap == "lost":
            result.lost.append((box, each))
            continue
        result.kept.append(box)
        key = (each.run.technique, each.run.medium)
        mask = result.masks.setdefault(key, Image.new("L", (width, height)))
        _draw(mask, each, x, baseline, box, rng)
    return result


def _draw(mask: Image.Image, each: Set, x: float, baseline: float, box: Area, rng: Rng) -> None:
    run, pen = each.run, ImageDraw.Draw(mask)
    stroke = max(1, round(each.size * 0.045))
    if run.gap == "illegible":
        _rubbed(mask, box, each.size, rng)
    elif run.ruled:
        _dots(pen, x, baseline, each.width, stroke)
    elif run.device:
        side = max(8, round(each.size * 1.15))
        ImageDraw.Draw(mask).bitmap(
            (round(x), round(baseline - 0.92 * side)), device(run.device, side), fill=235
        )
    elif run.technique in ("typed", "stencilled"):
        _one_by_one(mask, each, x, baseline, rng)
    else:
        _solid(mask, each, x, baseline)
    if run.struck:
        middle = baseline - 0.26 * each.size
        tilt = 0.06 * each.size
        pen.line(
            (x - stroke, middle + tilt, x + each.width, middle - tilt),
            fill=235,
            width=stroke * 2,
        )
    if run.underlined:
        pen.line((x, baseline + 0.14 * each.size, x + each.width, baseline + 0.12 * each.size),
                 fill=225, width=stroke)  # fmt: skip


def _solid(mask: Image.Image, each: Set, x: float, baseline: float) -> None:
    """Letters in one go: print, stamps, and hands whose letters are joined."""
    fill = round(255 * each.run.strength)
    ImageDraw.Draw(mask).text(
        (x, baseline), each.run.text, fill=fill, font=font(each.face, each.size), anchor="ls",
        stroke_width=1 if each.run.over else 0,
    )  # fmt: skip


def _one_by_one(mask: Image.Image, each: Set, x: float, baseline: float, rng: Rng) -> None:
    """Typewriter and stencil: each letter struck or dabbed for itself, never quite alike."""
    face, pen = font(each.face, each.size), ImageDraw.Draw(mask)
    for letter in each.run.text:
        drop, force = rng.normal(0, 0.012) * each.size, rng.uniform(0.62, 1.0)
        step = float(face.getlength(letter))
        if each.run.technique == "typed":
            fill = round(255 * force * each.run.strength)
            pen.text((x, baseline + drop), letter, fill=fill, font=face, anchor="ls")
        else:
            pen.text(
                (x, baseline),
                letter,
                fill=round(255 * each.run.strength),
                font=face,
                anchor="ls",
            )
            if letter in ENCLOSED:
                bridge = max(1, round(each.size * 0.055))
                pen.rectangle(
                    (x + step / 2 - bridge, baseline - each.size, x + step / 2, baseline + 4),
                    fill=0,
                )
        x += step


def _dots(
    pen: ImageDraw.ImageDraw, x: float, baseline: float, width: float, stroke: int
) -> None:
    """The dotted line of a form that nobody filled in."""
    step = stroke * 3.4
    for number in range(int(width / step)):
        left = x + number * step
        pen.ellipse((left, baseline - stroke, left + stroke, baseline), fill=190)


def _rubbed(mask: Image.Image, box: Area, size: int, rng: Rng) -> None:
    """Strokes of a pen that were rubbed until nobody can read them."""
    left, top, right, bottom = box
    layer = Image.new("L", mask.size)
    pen = ImageDraw.Draw(layer)
    count = max(6, int((right - left) / size * 12))
    xs = np.sort(rng.uniform(left, right, count))
    ys = rng.uniform(top + 0.25 * size, bottom - 0.2 * size, count)
    points = [(float(x), float(y)) for x, y in zip(xs, ys, strict=True)]
    pen.line(points, fill=150, width=max(1, size // 16), joint="curve")
    smeared = layer.filter(ImageFilter.GaussianBlur(size * 0.05))
    mask.paste(ImageChops.lighter(mask, smeared))
