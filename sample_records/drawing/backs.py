"""A back, built up from below: table, support, stretcher, what lies on it, what is written on it."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from catalogue.record import Inscription, Photo, Work
from drawing.bench import Bench, empty_bench
from drawing.dressing import Dressing, Lying, Wear, wear_of
from drawing.geometry import Camera, extent, outline
from drawing.grounds import CLOTHS, WOODS, cloth, wood
from drawing.papers import tape
from drawing.pieces import FINER, Piece, piece
from drawing.sight import THERE, THROUGH_CLOTH, corners, loose, on_face, state_on
from drawing.stretcher import add_stretcher
from drawing.texture import Rng, as_mask, clouds, mottle, seeded


def back(work: Work, photo: Photo, camera: Camera, dressing: Dressing) -> Bench:
    """The back of a painting as it was on the day of the photo, still upright."""
    rng = seeded(work.id, "back")
    bench = empty_bench(camera, rng)
    _support(bench, dressing, rng)
    if dressing.bars:
        add_stretcher(bench, dressing, seeded(work.id, "stretcher"))
    day = photo.taken.iso if photo.taken else ""
    placed = on_face(work, photo)
    for lying in dressing.lying:
        if lying.what in ("stain", "patch", "worm") and lying.on(day):
            _lay_down(bench, lying, seeded(work.id, lying.place))
    through = photo.light in THROUGH_CLOTH
    for each in placed:
        if state_on(each, photo) == "state/covered" and _hidden_by_tape(
            each, dressing, through
        ):
            _write(bench, work, photo, each, dressing)
    for lying in dressing.lying:
        if "tape" in lying.what:
            gone = lying.until <= day
            if gone or lying.on(day):
                _lay_down(bench, lying, seeded(work.id, lying.place), gone=gone)
    for each in placed:
        state = state_on(each, photo)
        if state in THERE:
            _write(bench, work, photo, each, dressing)
        elif state in ("state/removed-kept", "state/removed-lost"):
            _trace(bench, each, dressing)
    return bench


def loose_label(work: Work, photo: Photo, camera: Camera, dressing: Dressing) -> Bench:
    """A label that was taken off, on grey card beside a scale of centimetres."""
    label = loose(work, photo, dressing)
    assert label is not None
    bench = empty_bench(camera, seeded(work.id, "card"))
    wide, high = camera.face_width_mm, camera.face_height_mm
    _write(bench, work, photo, label, dressing)
    pen = ImageDraw.Draw(bench.picture)
    for centimetre in range(int(wide // 10)):
        box = bench.box(centimetre * 10, high + 6, 10, 3)
        pen.rectangle(box, fill=(24, 24, 24) if centimetre % 2 == 0 else (232, 232, 228))
    return bench


def _support(bench: Bench, dressing: Dressing, rng: Rng) -> None:
    left, top, right, bottom = bench.box(
        0, 0, bench.camera.face_width_mm, bench.camera.face_height_mm
    )
    size = (right - left, bottom - top)
    if dressing.ground in CLOTHS:
        thread = max(1.2, dressing.thread_mm * bench.per_mm)
        ground = cloth(rng, *size, thread, CLOTHS[dressing.ground])
        bench.relief.paste(as_mask(0.10 + 0.06 * mottle(rng, *size, size[0] / 3)), (left, top))
    else:
        ground = wood(rng, *size, WOODS[dressing.ground], upright=size[1] > size[0])
        _bevel(ground, round(9 * bench.per_mm))
        bench.shades.paste(255, (left, top, right, bottom))
    full = Image.new("L", size, 255)
    cast = Image.new("L", bench.picture.size)
    cast.paste(full, (left + round(2.5 * bench.per_mm), top + round(3.5 * bench.per_mm)))
    cast = _blurred(cast, 2.6 * bench.per_mm).point(lambda tone: round(tone * 0.75))
    bench.picture.paste((12, 12, 12), (0, 0), cast)
    bench.put(ground, (left, top))


def _blurred(mask: Image.Image, radius: float) -> Image.Image:
    """A wide blur at a quarter of the size: nobody sees the difference, and it takes no time."""
    small = mask.resize(
        (max(1, mask.width // 4), max(1, mask.height // 4)), Image.Resampling.BOX
    )
    soft = small.filter(ImageFilter.GaussianBlur(max(0.6, radius / 4)))
    return soft.resize(mask.size, Image.Resampling.BILINEAR)


def _bevel(ground: Image.Image, depth: int) -> None:
    """A panel is planed thinner towards its edges: lighter on two sides, darker on the others."""
    width, height = ground.size
    sides = (
        ([(0, 0), (width, 0), (width - depth, depth), (depth, depth)], 255, 26),
        ([(0, 0), (depth, depth), (depth, height - depth), (0, height)], 255, 16),
        (
            [
                (0, height),
                (depth, height - depth),
                (width - depth, height - depth),
                (width, height),
            ],
            0,
            70,
        ),
        (
            [
                (width, 0),
                (width - depth, depth),
                (width - depth, height - depth),
                (width, height),
            ],
            0,
            52,
        ),
    )
    for points, tone, strength in sides:
        mask = Image.new("L", ground.size)
        ImageDraw.Draw(mask).polygon(points, fill=strength)
        ground.paste((tone, tone, tone), (0, 0), mask)


def _write(
    bench: Bench, work: Work, photo: Photo, inscription: Inscription, dressing: Dressing
) -> None:
    """One inscription in its place."""
    at = corners(work, photo, inscription, dressing)
    assert at is not None
    place = inscription.place
    assert place is not None
    wear = wear_of(dressing, inscription)
    if loose(work, photo, dressing):
        wide, high = bench.camera.face_width_mm, bench.camera.face_height_mm
    else:
        wide, high = extent(place, inscription.orientation + wear.askew)
    drawn = piece(
        inscription,
        wear if photo.light == "light/normal" else _revealed(wear),
        round(wide * bench.per_mm),
        round(high * bench.per_mm),
        seeded(inscription.id),
    )
    bench.lay(drawn, at)


def _revealed(wear: Wear) -> Wear:
    """Faded ink stands out again under other light."""
    return Wear(
        askew=wear.askew, heading=wear.heading, body=wear.body, hands=wear.hands, paper=wear.paper,
        frame=wear.frame, edges=wear.edges, age=wear.age, strength=1.0,
    )  # fmt: skip


def _hidden_by_tape(inscription: Inscription, dressing: Dressing, through: bool) -> bool:
    """Whether what is covered is drawn at all: under tape and paper yes, under a lining only if lit."""
    return (
        through or inscription.face != "face/back" or not dressing.ground.startswith("lining")
    )


def _lay_down(bench: Bench, lying: Lying, rng: Rng, *, gone: bool = False) -> None:
    """A stain, a patch or a strip of tape; of tape that has gone, the adhesive that it left."""
    at = outline(lying.place, lying.turn)
    wide, high = extent(lying.place, lying.turn)
    size = (
        max(8, round(wide * bench.per_mm * FINER)),
        max(8, round(high * bench.per_mm * FINER)),
    )
    if lying.what == "stain" or gone:
        bench.lay(_stain(rng, size, strip=gone), at)
    elif lying.what == "worm":
        bench.lay(_worm(rng, size), at)
    elif lying.what == "patch":
        thread = max(1.2, 0.6 * bench.per_mm) * FINER
        fabric = cloth(rng, *size, thread, CLOTHS["cotton"])
        shape = as_mask(1.0 - 0.06 * abs(clouds(rng, *size, size[1] / 6)))
        bench.lay(Piece(fabric, shape, paper=True, thickness=1.1), at)
    else:
        strip = tape(rng, *size, lying.what.partition(" ")[0])
        bench.lay(Piece(strip.picture, strip.shape, paper=True, thickness=0.5), at)


def _stain(rng: Rng, size: tuple[int, int], *, strip: bool) -> Piece:
    """A tide line of damp, or the brown even strip that old adhesive leaves."""
    width, height = size
    if strip:
        cover = 0.30 + 0.12 * mottle(rng, width, height, height)
        colour = (120, 78, 34)
    else:
        y, x = np.ogrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j]
        away = np.hypot(x, y) * 1.25 + 0.32 * mottle(rng, width, height, min(size) / 2.2)
        inside = np.clip((1 - away) * 12, 0, 1)
        cover = inside * (0.10 + 0.26 * np.exp(-(((1 - away) / 0.05) ** 2)) + 0.10 * away)
        colour = (92, 62, 34)
    return Piece(Image.new("RGB", size, colour), as_mask(cover), paper=False)


def _worm(rng: Rng, size: tuple[int, int]) -> Piece:
    """The holes that beetles left when they flew out."""
    mask = Image.new("L", size)
    pen = ImageDraw.Draw(mask)
    for x, y in rng.uniform(0.05, 0.95, (int(rng.integers(7, 14)), 2)):
        radius = min(size) * rng.uniform(0.012, 0.022)
        middle = (x * size[0], y * size[1])
        pen.ellipse(
            (middle[0] - radius, middle[1] - radius, middle[0] + radius, middle[1] + radius),
            fill=235,
        )
    return Piece(Image.new("RGB", size, (36, 22, 12)), mask, paper=False)


def _trace(bench: Bench, inscription: Inscription, dressing: Dressing) -> None:
    """Where a label was: the wood or cloth stayed paler, with a rim of old paste."""
    assert inscription.place is not None
    turn = inscription.orientation + wear_of(dressing, inscription).askew
    wide, high = extent(inscription.place, turn)
    size = (
        max(8, round(wide * bench.per_mm * FINER)),
        max(8, round(high * bench.per_mm * FINER)),
    )
    rng = seeded(inscription.id, "trace")
    cover = 0.22 + 0.16 * mottle(rng, *size, size[1] / 2)
    ghost = Piece(Image.new("RGB", size, (226, 204, 160)), as_mask(cover), paper=False)
    bench.lay(ghost, outline(inscription.place, turn))
