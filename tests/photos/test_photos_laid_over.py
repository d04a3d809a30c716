"""Two photographs laid on each other: held to the plane by which one of them was made of the other."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from lit_backs import HEIGHT, WIDTH, back, furthest_px, moved, photographed
from photo_files import kept_in, saved
from PIL import Image

from catalogue.errors import BadPicture
from catalogue.photos.laid_over import laid_over

NEARLY = [(12, 9), (WIDTH - 20, 4), (WIDTH - 6, HEIGHT - 14), (3, HEIGHT - 8)]
ASKEW = [(60, 10), (WIDTH - 60, 60), (WIDTH - 90, HEIGHT - 10), (20, HEIGHT - 70)]
FURTHER = [(250, 190), (640, 180), (655, 460), (240, 475)]


@pytest.fixture
def keep(tmp_path):
    def kept(pixels, **how):
        content = saved(Image.fromarray(pixels), "JPEG", quality=92, **how)
        return kept_in(tmp_path, content)[:2]

    return kept


# outside check: the plane is cv2's own, made before; the brief asks for 1 % of the side
@pytest.mark.parametrize(
    ("corners", "raking"),
    [(NEARLY, False), (ASKEW, False), (FURTHER, False), (NEARLY, True), (ASKEW, True)],
    ids=["nearly", "askew", "further", "nearly, raking light", "askew, raking light"],
)
def test_a_second_photo_lies_where_it_was_taken(keep, tmp_path, corners, raking):
    it = back(7)
    second, plane = moved(photographed(it, 2, raking=raking), corners)
    lies = laid_over(keep(photographed(it, 1)), keep(second), tmp_path / "cache")
    assert furthest_px(lies.matrix, plane, (WIDTH, HEIGHT)) < 0.01 * WIDTH
    assert lies.sure > 0.5
    assert "agree" in lies.says


def test_planes_are_told_in_pixels_of_the_photographs_upright(keep, tmp_path):
    it = back(7)
    second, plane = moved(photographed(it, 2), NEARLY)
    large = cv2.resize(photographed(it, 1), None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC)
    stored = np.ascontiguousarray(np.rot90(second))  # as a camera held upright stores it (6)
    written = Image.Exif()
    written[274] = 6
    lies = laid_over(keep(large), keep(stored, exif=written), tmp_path / "cache")
    expected = np.diag([3.0, 3.0, 1.0]) @ plane
    assert furthest_px(lies.matrix, expected, (3 * WIDTH, 3 * HEIGHT)) < 0.01 * 3 * WIDTH


def test_what_was_found_is_kept_and_told_again(keep, tmp_path):
    it = back(7)
    one, other = keep(photographed(it, 1)), keep(moved(photographed(it, 2), NEARLY)[0])
    first = laid_over(one, other, tmp_path / "cache")
    one[0].unlink()
    assert laid_over(one, other, tmp_path / "cache") == first
    assert laid_over(other, other, tmp_path / "cache").matrix == (1, 0, 0, 0, 1, 0, 0, 0, 1)


@pytest.mark.parametrize("seed", range(20, 24))
def test_two_other_backs_are_refused(keep, tmp_path, seed):
    one = keep(photographed(back(seed), 1))
    other = keep(photographed(back(seed + 50), 2, raking=bool(seed % 2)))
    with pytest.raises(BadPicture, match="too few places on them agree"):
        laid_over(one, other, tmp_path / "cache")
    with pytest.raises(BadPicture, match="too few places on them agree"):  # as it was kept
        laid_over(one, other, tmp_path / "cache")


def test_a_mirrored_photo_is_refused_as_such(keep, tmp_path):
    it = back(7)
    one, other = keep(photographed(it, 1)), keep(cv2.flip(photographed(it, 2), 1))
    with pytest.raises(BadPicture, match="mirrored"):
        laid_over(one, other, tmp_path / "cache")


def test_a_detail_lies_on_the_whole_but_not_one_too_near(keep, tmp_path):
    it = back(7)
    whole, second = photographed(it, 1), photographed(it, 2)
    wide = 320
    detail = cv2.resize(
        second[150:410, 250:570], None, fx=2.5, fy=2.5, interpolation=cv2.INTER_CUBIC
    )
    lies = laid_over(keep(whole), keep(detail), tmp_path / "cache")
    expected = np.array([[1 / 2.5, 0, 250], [0, 1 / 2.5, 150], [0, 0, 1]])
    assert furthest_px(lies.matrix, expected, (WIDTH, HEIGHT)) < 0.01 * wide
    near = cv2.resize(second[150:410, 250:570], None, fx=6, fy=6, interpolation=cv2.INTER_CUBIC)
    with pytest.raises(
        BadPicture, match=r"one shows things (5\.9|6\.0|6\.1) times as large, the limit is 4"
    ):
        laid_over(keep(whole), keep(near), tmp_path / "cache")


@pytest.mark.parametrize("size", [(1, 1), (1, 400), (30, 20)])
def test_a_picture_without_anything_on_it_is_refused(keep, tmp_path, size):
    plain = keep(np.full(size, 128, np.uint8))
    for one, other in (
        (plain, keep(photographed(back(7), 1))),
        (keep(photographed(back(7), 1)), plain),
    ):
        with pytest.raises(BadPicture, match="too few places"):
            laid_over(one, other, tmp_path / "cache")
