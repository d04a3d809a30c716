"""The camera: turns the picture a little askew, and lights it as the record says."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageFilter

from drawing.bench import Bench
from drawing.texture import Rng, Tones, clouds, grain, tones_of


def photograph(bench: Bench, light: str, rng: Rng) -> Image.Image:
    """The finished photograph, in the pixels that its camera has."""
    lit = _LIGHTS.get(light, _normal)(bench, rng)
    camera = bench.camera
    resample = Image.Resampling.BICUBIC if camera.skew else Image.Resampling.NEAREST
    askew = lit.rotate(-camera.skew, resample) if camera.skew else lit
    left, top = (askew.width - camera.width) // 2, (askew.height - camera.height) // 2
    return askew.crop((left, top, left + camera.width, top + camera.height))


def _developed(tones: Tones, picture: Image.Image, rng: Rng) -> Image.Image:
    """The picture times the light on it, with the noise of a sensor."""
    width, height = picture.size
    lit = np.asarray(picture, dtype=np.float32) * tones[..., None]
    lit += 2.2 * grain(rng, width, height)[..., None]
    return Image.fromarray(np.clip(lit, 0, 255).astype(np.uint8))


def _falloff(width: int, height: int, depth: float) -> Tones:
    y = np.linspace(-1, 1, height, dtype=np.float32)[:, None] ** 2
    x = np.linspace(-1, 1, width, dtype=np.float32)[None, :] ** 2
    return (1.06 - depth * (0.6 * x + 0.5 * y)).astype(np.float32)


def _normal(bench: Bench, rng: Rng) -> Image.Image:
    """Two lamps, the left one nearer: a little darker towards the right and the corners."""
    width, height = bench.picture.size
    tones = _falloff(width, height, 0.22)
    tones *= np.linspace(1.05, 0.94, width, dtype=np.float32)[None, :]
    return _developed(tones, bench.picture, rng)


def _raking(bench: Bench, rng: Rng) -> Image.Image:
    """One lamp from the left, nearly level with the surface: bulges, threads and edges stand out."""
    width, height = bench.picture.size
    relief = tones_of(bench.relief.filter(ImageFilter.GaussianBlur(2)))
    bulge = clouds(rng, width, height, width / 3) + 0.3 * clouds(rng, width, height, width / 8)
    slope = np.diff(relief, axis=1, prepend=relief[:, :1]) * 9
    slope += np.diff(bulge, axis=1, prepend=bulge[:, :1]) * width / 26 * (relief < 0.2)
    grey = tones_of(bench.picture.convert("L"))
    slope += np.diff(grey, axis=1, prepend=grey[:, :1]) * 1.2
    tones = np.linspace(1.12, 0.5, width, dtype=np.float32)[None, :] * (
        0.80 + np.clip(slope, -0.42, 0.5)
    )
    return _developed(tones.astype(np.float32), bench.picture, rng)


def _ultraviolet(bench: Bench, rng: Rng) -> Image.Image:
    """Paper and paste glow, wood and cloth hardly do, iron-gall ink stays black."""
    width, height = bench.picture.size
    grey = tones_of(bench.picture.convert("L"))
    paper = tones_of(bench.papers)
    glow = np.clip((grey - 0.22) * 1.5, 0, 1) ** 1.6
    dull = glow * (1 - paper)
    blue = np.stack(
        [
            150 * dull + 120 * glow * paper,
            160 * dull + 152 * glow * paper,
            330 * dull + 240 * glow * paper,
        ],
        axis=-1,
    )
    blue += 10 * np.array([0.5, 0.5, 1.6], dtype=np.float32)
    blue *= _falloff(width, height, 0.4)[..., None]
    blue += 3.0 * grain(rng, width, height)[..., None]
    return Image.fromarray(np.clip(blue, 0, 255).astype(np.uint8))


def _transmitted(bench: Bench, rng: Rng) -> Image.Image:
    """A lamp behind the picture: bars are black, cloth glows, what was written beneath it shows."""
    width, height = bench.picture.size
    grey = tones_of(bench.picture.convert("L"))
    through = np.clip(1 - tones_of(bench.shades), 0, 1)
    face = bench.box(0, 0, bench.camera.face_width_mm, bench.camera.face_height_mm)
    inside = np.zeros((height, width), dtype=np.float32)
    inside[max(0, face[1]) : face[3], max(0, face[0]) : face[2]] = 1
    glow = inside * through * (0.55 + 0.6 * grey) * _falloff(width, height, 0.5)
    warm = np.stack([250 * glow, 176 * glow, 84 * glow], axis=-1)
    warm += 12 + 2.5 * grain(rng, width, height)[..., None]
    return Image.fromarray(np.clip(warm, 0, 255).astype(np.uint8))


_LIGHTS = {
    "light/raking": _raking,
    "light/ultraviolet": _ultraviolet,
    "light/transmitted": _transmitted,
}
