"""The stretcher: four bars with mitred corners, a cross bar, keys, tacks and folded canvas."""

from __future__ import annotations

from PIL import Image, ImageDraw, ImageFilter

from drawing.bench import Bench
from drawing.dressing import Dressing
from drawing.grounds import CLOTHS, WOODS, cloth, wood
from drawing.texture import Rng

Pixels = list[tuple[float, float]]


def add_stretcher(bench: Bench, dressing: Dressing, rng: Rng) -> None:
    """Bars, keys, folds and tacks over the canvas that is already there."""
    wide, high = bench.camera.face_width_mm, bench.camera.face_height_mm
    bar = dressing.bar_mm
    _shadow_of_bars(bench, dressing)
    if dressing.cross_mm:
        upper, lower = dressing.cross_mm - bar * 0.4, dressing.cross_mm + bar * 0.4
        _bar(
            bench,
            dressing,
            rng,
            [(bar, upper), (wide - bar, upper), (wide - bar, lower), (bar, lower)],
        )
    inset = (0, 0, wide, high)
    left, top, right, bottom = inset
    _bar(
        bench,
        dressing,
        rng,
        [(left, top), (right, top), (right - bar, top + bar), (left + bar, top + bar)],
    )
    _bar(
        bench,
        dressing,
        rng,
        [
            (left, bottom),
            (right, bottom),
            (right - bar, bottom - bar),
            (left + bar, bottom - bar),
        ],
    )
    _bar(
        bench,
        dressing,
        rng,
        [(left, top), (left + bar, top + bar), (left + bar, bottom - bar), (left, bottom)],
        upright=True,
    )
    _bar(
        bench,
        dressing,
        rng,
        [(right, top), (right, bottom), (right - bar, bottom - bar), (right - bar, top + bar)],
        upright=True,
    )
    _keys(bench, dressing, rng)
    if dressing.fold_mm:
        _folds(bench, dressing, rng)


def _shadow_of_bars(bench: Bench, dressing: Dressing) -> None:
    """The bars stand up from the canvas: light from the upper left leaves two sides in shadow."""
    bar, per_mm = dressing.bar_mm, bench.per_mm
    camera = bench.camera
    left, top, right, bottom = bench.box(
        bar, bar, camera.face_width_mm - 2 * bar, camera.face_height_mm - 2 * bar
    )
    size = (right - left, bottom - top)
    lit = Image.new("L", (max(1, size[0] // 4), max(1, size[1] // 4)))
    pen = ImageDraw.Draw(lit)
    away = max(1, round(5 * per_mm / 4))
    pen.rectangle((away, away, lit.width - away // 3, lit.height - away // 3), fill=255)
    if dressing.cross_mm:
        middle, half = (dressing.cross_mm - bar) * per_mm / 4, bar * 0.4 * per_mm / 4
        pen.rectangle((0, middle - half, lit.width, middle + half + away), fill=0)
    soft = lit.filter(ImageFilter.GaussianBlur(max(0.8, 3.2 * per_mm / 4)))
    shade = soft.resize(size, Image.Resampling.BILINEAR).point(
        lambda tone: round((255 - tone) * 0.62)
    )
    bench.picture.paste((22, 15, 8), (left, top), shade)


def _bar(
    bench: Bench, dressing: Dressing, rng: Rng, corners: Pixels, *, upright: bool = False
) -> None:
    points = [bench.at(x, y) for x, y in corners]
    left, top = round(min(x for x, _ in points)), round(min(y for _, y in points))
    right, bottom = round(max(x for x, _ in points)), round(max(y for _, y in points))
    size = (max(2, right - left), max(2, bottom - top))
    colour = WOODS[dressing.bars]
    lighter = rng.uniform(0.92, 1.08)
    timber = wood(rng, *size, (min(255, round(colour[0] * lighter)), min(255, round(colour[1] * lighter)),
                  min(255, round(colour[2] * lighter))), upright=upright)  # fmt: skip
    local = [(x - left, y - top) for x, y in points]
    mask = Image.new("L", size)
    ImageDraw.Draw(mask).polygon(local, fill=255)
    bench.put(timber, (left, top), mask)
    bench.relief.paste(120, (left, top), mask)
    bench.shades.paste(255, (left, top), mask)
    pen = ImageDraw.Draw(bench.picture)
    line = max(1, round(0.35 * bench.per_mm))
    pen.line([*points, points[0]], fill=(78, 55, 34), width=line, joint="curve")


def _keys(bench: Bench, dressing: Dressing, rng: Rng) -> None:
    """Two wedges in each corner, in slots that cross the mitre; some are missing, as ever."""
    bar = dressing.bar_mm
    wide, high = bench.camera.face_width_mm, bench.camera.face_height_mm
    pen = ImageDraw.Draw(bench.picture)
    for x, y, sx, sy in (
        (bar, bar, 1, 1),
        (wide - bar, bar, -1, 1),
        (bar, high - bar, 1, -1),
        (wide - bar, high - bar, -1, -1),
    ):
        for upright in (False, True):
            if rng.random() < 0.15:
                continue
            reach, thick = rng.uniform(17, 24), rng.uniform(5, 8)
            a, b = (reach, -thick) if not upright else (-thick, reach)
            shape = (
                [
                    (x, y - sy * 1),
                    (x + sx * a, y - sy * 1),
                    (x + sx * a * 0.92, y + sy * b),
                    (x, y + sy * b * 0.35),
                ]
                if not upright
                else [
                    (x - sx * 1, y),
                    (x - sx * 1, y + sy * b),
                    (x + sx * a, y + sy * b * 0.92),
                    (x + sx * a * 0.35, y),
                ]
            )
            points = [bench.at(px, py) for px, py in shape]
            tone = round(rng.uniform(112, 150))
            cast = [(px + bench.per_mm, py + 1.4 * bench.per_mm) for px, py in points]
            pen.polygon(cast, fill=(50, 34, 20))
            pen.polygon(
                points,
                fill=(tone, round(tone * 0.78), round(tone * 0.52)),
                outline=(70, 46, 26),
            )


def _folds(bench: Bench, dressing: Dressing, rng: Rng) -> None:
    """The canvas turned over onto the bars, with a frayed edge, and the tacks that hold it."""
    wide, high, fold = bench.camera.face_width_mm, bench.camera.face_height_mm, dressing.fold_mm
    for x, y, w, h in (
        (0, 0, wide, fold),
        (0, high - fold, wide, fold),
        (0, 0, fold, high),
        (wide - fold, 0, fold, high),
    ):
        left, top, right, bottom = bench.box(x, y, w, h)
        size = (right - left, bottom - top)
        thread = max(1.2, dressing.thread_mm * bench.per_mm)
        strip = cloth(
            rng,
            *size,
            thread,
            CLOTHS["dark linen" if dressing.ground not in CLOTHS else dressing.ground],
        )
        mask = _frayed(rng, size, lying=w > h, inner_last=(x, y) == (0, 0))
        shadow = mask.filter(ImageFilter.GaussianBlur(max(1.0, 0.7 * bench.per_mm)))
        bench.picture.paste((30, 20, 12), (left + round(0.6 * bench.per_mm), top + round(0.8 * bench.per_mm)),
                            shadow.point(lambda tone: round(tone * 0.5)))  # fmt: skip
        bench.put(strip, (left, top), mask)
    _tacks(bench, dressing, rng)


def _frayed(rng: Rng, size: tuple[int, int], *, lying: bool, inner_last: bool) -> Image.Image:
    """A strip whose inner edge was cut by hand and has lost threads."""
    width, height = size
    long, short = (width, height) if lying else (height, width)
    depth = short - rng.uniform(0.02, 0.22, long // 3 + 2) * short
    points = [
        (0.0, 0.0),
        *((index * 3.0, float(far)) for index, far in enumerate(depth)),
        (float(long), 0.0),
    ]
    mask = Image.new("L", (long, short))
    ImageDraw.Draw(mask).polygon(points, fill=255)
    if not lying:
        mask = mask.transpose(Image.Transpose.TRANSPOSE)
    if inner_last:
        return mask
    flip = Image.Transpose.FLIP_TOP_BOTTOM if lying else Image.Transpose.FLIP_LEFT_RIGHT
    return mask.transpose(flip)


def _tacks(bench: Bench, dressing: Dressing, rng: Rng) -> None:
    wide, high = bench.camera.face_width_mm, bench.camera.face_height_mm
    inset = dressing.fold_mm * 0.45
    places = [
        (step * dressing.tack_mm + rng.uniform(-6, 6), edge)
        for step in range(1, int(wide / dressing.tack_mm) + 1)
        for edge in (inset, high - inset)
    ] + [
        (edge, step * dressing.tack_mm + rng.uniform(-6, 6))
        for step in range(1, int(high / dressing.tack_mm) + 1)
        for edge in (inset, wide - inset)
    ]
    pen = ImageDraw.Draw(bench.picture, "RGBA")
    for x, y in places:
        if not (0 < x < wide and 0 < y < high):
            continue
        px, py = bench.at(x, y)
        radius = rng.uniform(2.1, 2.8) * bench.per_mm
        for spread, alpha in ((2.2, 34), (1.6, 50)):
            far = radius * spread
            pen.ellipse((px - far, py - far, px + far, py + far), fill=(110, 56, 20, alpha))
        pen.ellipse(
            (px - radius + 2, py - radius + 3, px + radius + 3, py + radius + 4),
            fill=(18, 12, 8, 150),
        )
        pen.ellipse(
            (px - radius, py - radius, px + radius, py + radius), fill=(66, 54, 46, 255)
        )
        pen.ellipse(
            (px - 0.55 * radius, py - 0.6 * radius, px + 0.1 * radius, py),
            fill=(128, 112, 98, 190),
        )
