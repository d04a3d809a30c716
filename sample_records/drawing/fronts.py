"""A front, painted: a quick sketch in flat colours, then brush strokes over it, large ones first."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from catalogue.record import Photo, Work
from drawing.bench import Bench, empty_bench
from drawing.dressing import Dressing, wear_of
from drawing.geometry import Camera, extent
from drawing.pieces import piece
from drawing.sight import THERE, corners, on_face, state_on
from drawing.sketches import sketch
from drawing.texture import Rng, Tones, clouds, mottle, seeded, tones_of

SKETCHED = 1200
"""Width in pixels in which the composition is sketched and painted; the photograph enlarges it."""


def front(work: Work, photo: Photo, camera: Camera, dressing: Dressing) -> Bench:
    """The painted side of a painting, still upright, with what is signed on it."""
    rng = seeded(work.id, "front")
    bench = empty_bench(camera, rng)
    size = bench.picture.size
    left, top, right, bottom = bench.box(0, 0, camera.face_width_mm, camera.face_height_mm)
    painted = _painting(dressing, (right - left, bottom - top), bench.per_mm, rng)
    shadow = Image.new("L", size)
    away = round(2.5 * bench.per_mm)
    shadow.paste(190, (left + away, top + away, right + away, bottom + away))
    small = shadow.resize((size[0] // 4, size[1] // 4)).filter(
        ImageFilter.GaussianBlur(bench.per_mm)
    )
    bench.picture.paste((10, 10, 10), (0, 0), small.resize(size))
    bench.put(painted, (left, top))
    for each in on_face(work, photo):
        at = corners(work, photo, each, dressing)
        if each.place and at and state_on(each, photo) in THERE:
            wear = wear_of(dressing, each)
            wide, high = extent(each.place, each.orientation + wear.askew)
            pixels = (round(wide * bench.per_mm), round(high * bench.per_mm))
            bench.lay(piece(each, wear, *pixels, seeded(each.id)), at)
    return bench


def _painting(
    dressing: Dressing, size: tuple[int, int], per_mm: float, rng: Rng
) -> Image.Image:
    small = (SKETCHED, max(8, round(SKETCHED * size[1] / size[0])))
    flat = sketch(dressing.front, small, rng)
    strokes, thick = _stroked(flat, rng)
    painted = strokes.filter(ImageFilter.GaussianBlur(0.9)).resize(
        size, Image.Resampling.BICUBIC
    )
    return _surface(painted, thick, per_mm, rng)


def _stroked(flat: Image.Image, rng: Rng) -> tuple[Image.Image, Image.Image]:
    """The sketch gone over with brushes; also how thick the paint came to lie."""
    painted = flat.filter(ImageFilter.GaussianBlur(7))
    thick = Image.new("L", flat.size, 90)
    colours = np.asarray(flat, dtype=np.float32)
    grey = tones_of(flat.convert("L").filter(ImageFilter.GaussianBlur(4)))
    down, across = (np.asarray(slope) for slope in np.gradient(grey))
    edges = np.hypot(down, across)
    for brush, count in ((40, 900), (22, 2600), (12, 5600), (6, 7000)):
        xs = rng.uniform(0, flat.width - 1, count)
        ys = rng.uniform(0, flat.height - 1, count)
        for x, y in zip(xs, ys, strict=True):
            row, column = int(y), int(x)
            edge = edges[row, column]
            if brush < 14 and edge < 0.004 and rng.random() < 0.75:
                continue  # small brushes go where there is something to say
            turn = (
                np.arctan2(across[row, column], -down[row, column])
                if edge > 0.004
                else rng.normal(0, 0.35)
            )
            _stroke(painted, thick, (x, y), float(turn), brush, colours[row, column], rng)
    return painted, thick


def _stroke(
    painted: Image.Image, thick: Image.Image, at: tuple[float, float], turn: float,
    brush: int, colour: Tones, rng: Rng,
) -> None:  # fmt: skip
    """One stroke of a flat brush: three bands of bristles that carry slightly different paint."""
    length = brush * rng.uniform(1.2, 2.6)
    dx, dy = np.cos(turn) * length / 2, np.sin(turn) * length / 2
    nx, ny = -np.sin(turn), np.cos(turn)
    pen, relief = ImageDraw.Draw(painted), ImageDraw.Draw(thick)
    base = colour + rng.normal(0, 7) + rng.normal(0, 2.2, 3)
    for band in range(-1, 2):
        away = band * brush * 0.3
        x, y = at[0] + nx * away, at[1] + ny * away
        shade = np.clip(base + rng.normal(0, 4), 0, 255)
        fill = (int(shade[0]), int(shade[1]), int(shade[2]))
        wide = max(1, round(brush * 0.42))
        line = (x - dx, y - dy, x + dx * rng.uniform(0.8, 1.1), y + dy * rng.uniform(0.8, 1.1))
        pen.line(line, fill=fill, width=wide)
        relief.line(line, fill=int(rng.uniform(60, 200)), width=wide)


def _surface(painted: Image.Image, thick: Image.Image, per_mm: float, rng: Rng) -> Image.Image:
    """Impasto that catches the light, cracks, a varnish that has yellowed and holds some dust."""
    width, height = painted.size
    soft = thick.filter(ImageFilter.GaussianBlur(0.8))
    relief = tones_of(soft.resize(painted.size, Image.Resampling.BICUBIC))
    weave = np.sin(np.arange(width) * 2 * np.pi / max(2.2, 0.8 * per_mm))[None, :]
    weave = weave * np.sin(np.arange(height) * 2 * np.pi / max(2.2, 0.8 * per_mm))[:, None]
    slope = np.diff(relief, axis=0, prepend=relief[:1]) + np.diff(
        relief, axis=1, prepend=relief[:, :1]
    )
    tones = (
        1
        + 0.42 * slope * per_mm / 3
        + 0.018 * weave
        - 0.05 * np.clip(mottle(rng, width, height, width / 3), 0, 1)
    )
    tones -= 0.17 * _cracks(rng, width, height, per_mm)
    lit = np.asarray(painted, dtype=np.float32) * tones[..., None].astype(np.float32)
    lit = lit * np.array([1.0, 0.965, 0.86], dtype=np.float32) + np.array(
        [7, 5, 2], dtype=np.float32
    )
    return Image.fromarray(np.clip(lit, 0, 255).astype(np.uint8))


def _cracks(rng: Rng, width: int, height: int, per_mm: float) -> Tones:
    """A net of fine age cracks, denser here and there: where two soft noises cross zero."""
    size = max(12.0, 16 * per_mm)
    first = clouds(rng, width, height, size) + 0.4 * clouds(rng, width, height, size / 3)
    second = clouds(rng, width, height, size * 0.8) + 0.4 * clouds(rng, width, height, size / 3)
    thin = 0.016
    net = np.maximum(np.exp(-((first / thin) ** 2)), np.exp(-((second / thin) ** 2)))
    where = np.clip(0.55 + mottle(rng, width, height, width / 3), 0, 1)
    return np.asarray(net * where, dtype=np.float32)
