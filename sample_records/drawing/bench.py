"""The picture while it is being built up: things are laid on it, each with its shadow and its relief."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

import numpy as np
from PIL import Image, ImageChops, ImageFilter

from drawing.geometry import Camera, Corners, Point
from drawing.grounds import table
from drawing.pieces import FINER, Piece
from drawing.texture import Rng, Tones, as_mask, tones_of


@dataclass(slots=True)
class Bench:
    """An upright picture of a face, larger than the photograph so that it can be turned a little.

    `relief` keeps how high things stand (for raking light), `papers` where paper is (for
    ultraviolet), `shades` what keeps light from coming through (for transmitted light).
    """

    picture: Image.Image
    relief: Image.Image
    papers: Image.Image
    shades: Image.Image
    camera: Camera

    @property
    def per_mm(self) -> float:
        """Pixels in a millimetre."""
        return 1 / self.camera.mm_per_pixel

    def at(self, x_mm: float, y_mm: float) -> Point:
        """The pixel of a point of the face, before the picture is turned."""
        return (
            self.picture.width / 2 + (x_mm - self.camera.face_width_mm / 2) * self.per_mm,
            self.picture.height / 2 + (y_mm - self.camera.face_height_mm / 2) * self.per_mm,
        )

    def box(self, x: float, y: float, width: float, height: float) -> tuple[int, int, int, int]:
        """A box of the face in whole pixels."""
        left, top = self.at(x, y)
        right, bottom = self.at(x + width, y + height)
        return (round(left), round(top), round(right), round(bottom))

    def put(
        self, picture: Image.Image, at: tuple[int, int], mask: Image.Image | None = None
    ) -> None:
        """Something upright, as it is: its left and top pixel."""
        self.picture.paste(picture, at, mask)

    def lay(self, piece: Piece, corners: Corners) -> None:
        """A piece so that its corners come to lie at these points of the face (mm)."""
        points = [self.at(*corner) for corner in corners]
        margin = 8 + 0.8 * self.per_mm * piece.thickness
        left = floor(min(x for x, _ in points) - margin)
        top = floor(min(y for _, y in points) - margin)
        right = ceil(max(x for x, _ in points) + margin)
        bottom = ceil(max(y for _, y in points) + margin)
        size = (right - left, bottom - top)
        resample = Image.Resampling.BICUBIC
        # Shrunk beforehand: an affine transform picks pixels and would lose fine strokes.
        small = tuple(max(1, side // FINER) for side in piece.picture.size)
        shrunk = piece.picture.resize((small[0], small[1]), Image.Resampling.BOX)
        thin = piece.mask.resize((small[0], small[1]), Image.Resampling.BOX)
        data = _affine(points, (left, top), (small[0], small[1]))
        picture = shrunk.transform(size, Image.Transform.AFFINE, data, resample)
        mask = thin.transform(size, Image.Transform.AFFINE, data, resample)
        if piece.paper:
            self._shadow(mask, left, top, piece.thickness)
            self.relief.paste(round(40 * piece.thickness), (left, top), mask)
            self.papers.paste(255, (left, top), mask)
            self._shade(mask, left, top, 0.5)
        elif piece.catches:
            mask = self._caught(mask, left, top, piece.catches)
            self._shade(mask, left, top, 0.75)
        self.picture.paste(picture, (left, top), mask)

    def _shadow(self, mask: Image.Image, left: int, top: int, thickness: float) -> None:
        away = max(1, round(0.35 * thickness * self.per_mm))
        soft = mask.filter(ImageFilter.GaussianBlur(max(1.0, 0.3 * thickness * self.per_mm)))
        darker = soft.point(lambda tone: round(tone * 0.42))
        self.picture.paste((20, 14, 8), (left + away, top + away), darker)

    def _shade(self, mask: Image.Image, left: int, top: int, how_much: float) -> None:
        held = mask.point(lambda tone: round(tone * how_much))
        area = (left, top, left + mask.width, top + mask.height)
        self.shades.paste(ImageChops.lighter(self.shades.crop(area), held), (left, top))

    def _caught(self, mask: Image.Image, left: int, top: int, catches: float) -> Image.Image:
        """Dry colour stays on the tops of the threads and hardly reaches between them."""
        area = (left, top, left + mask.width, top + mask.height)
        ground = tones_of(self.picture.crop(area).convert("L"))
        level = tones_of(
            as_mask(ground).filter(ImageFilter.GaussianBlur(max(2.0, 2.2 * self.per_mm)))
        )
        tops: Tones = np.clip(0.62 + (ground - level) * 7.0, 0.12, 1.25).astype(np.float32)
        return as_mask(tones_of(mask) * (1 - catches + catches * tops))


TURNING_ROOM = 1.06
"""How much larger than the photograph the upright picture is drawn."""


def empty_bench(camera: Camera, rng: Rng) -> Bench:
    """The table with nothing on it yet."""
    size = (round(camera.width * TURNING_ROOM), round(camera.height * TURNING_ROOM))
    relief, papers, shades = (Image.new("L", size) for _ in range(3))
    return Bench(table(rng, *size), relief, papers, shades, camera)


def _affine(points: list[Point], origin: Point, size: tuple[int, int]) -> tuple[float, ...]:
    """From pixels of the result to pixels of a piece whose corners come to lie at `points`."""
    (x0, y0), (x1, y1), _, (x3, y3) = points
    ax, ay, bx, by = x1 - x0, y1 - y0, x3 - x0, y3 - y0
    turn = ax * by - ay * bx
    a, b = size[0] * by / turn, -size[0] * bx / turn
    d, e = -size[1] * ay / turn, size[1] * ax / turn
    dx, dy = origin[0] - x0, origin[1] - y0
    return (a, b, a * dx + b * dy, d, e, d * dx + e * dy)
