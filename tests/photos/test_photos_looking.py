"""Ways of looking: each held to a reference of its own, without seams, and the same at every level."""

from __future__ import annotations

import hashlib
import tomllib

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lit_backs import back, photographed
from photo_files import saved, scene
from PIL import Image, ImageCms

from catalogue.errors import BadSetting
from catalogue.photos import looking
from catalogue.photos.tiles import tile, tiles
from catalogue.photos.ways import STEPS, Way, _way, ways
from catalogue.places import folder

STRETCH = {"spread": 40, "gain": 60}


def label(seed=3):
    """Brown ink that has faded to almost the brown of its paper, on 200 x 300 pixels."""
    chance = np.random.default_rng(seed)
    paper = np.array([168, 140, 104]) + chance.normal(0, 4, (200, 300, 1)) * [1, 0.9, 0.8]
    written = np.zeros((200, 300), np.uint8)
    cv2.putText(written, "Lot 38", (40, 120), cv2.FONT_HERSHEY_SIMPLEX, 2, 255, 5)
    ink = (written > 128)[:, :, None]
    picture = np.where(ink, paper + np.array([-5, 3, 6]), paper) + chance.normal(
        0, 1, (200, 300, 3)
    )
    return np.clip(picture, 0, 255).astype(np.uint8), ink[:, :, 0]


def test_local_contrast_is_that_of_the_reference_library_on_the_whole_picture():
    # outside check: OpenCV's CLAHE on the whole lightness, without our bands
    picture = np.asarray(scene(3000, 2000)).copy()
    ours = looking.local_contrast(picture.copy(), picture, {"clip_limit": 3.0, "windows": 8})
    lab = cv2.cvtColor(picture, cv2.COLOR_RGB2LAB)
    lab[:, :, 0] = cv2.createCLAHE(3.0, (8, 5)).apply(np.ascontiguousarray(lab[:, :, 0]))
    assert np.array_equal(ours, cv2.cvtColor(lab, cv2.COLOR_LAB2RGB))


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 1000), st.floats(10, 60))
def test_after_the_stretch_no_colour_depends_on_another_and_all_are_equally_strong(
    seed, spread
):
    # outside check: numpy's own covariance of the sample after the stretch is the one that was asked for
    chance = np.random.default_rng(seed)
    mixed = chance.normal(size=(3, 3)) * 8
    sample = np.clip(128 + chance.normal(size=(60, 80, 3)) @ mixed, 0, 255).astype(np.uint8)
    change = looking.stretch_of_colours(sample, spread, 1e6).astype(np.float64)
    stretched = sample.reshape(-1, 3).astype(np.float64) @ change[:, :3].T + change[:, 3]
    np.testing.assert_allclose(
        np.cov(stretched, rowvar=False, ddof=0), spread**2 * np.eye(3), atol=0.02 * spread**2
    )
    np.testing.assert_allclose(stretched.mean(axis=0), 127.5, atol=0.1)


def test_a_picture_of_one_colour_and_one_without_colours_can_be_stretched():
    one = np.full((50, 60, 3), 90, np.uint8)
    assert np.ptp(looking.decorrelate(one.copy(), one, STRETCH)) == 0
    grey = np.repeat(np.asarray(scene(mode="L"))[:, :, None], 3, axis=2).copy()
    assert looking.decorrelate(grey.copy(), grey, STRETCH).shape == grey.shape
    light = np.asarray(scene(mode="L")).copy()
    assert looking.decorrelate(light.copy(), light, STRETCH).shape == light.shape


def test_faded_ink_stands_out_once_its_colours_are_pulled_apart():
    picture, ink = label()
    seen = looking.decorrelate(picture.copy(), picture, {"spread": 48, "gain": 12}).astype(
        float
    )

    def apart(shown):
        """How far ink and paper lie apart, in the spread of the paper, along the line between them."""
        line = shown[ink].mean(axis=0) - shown[~ink].mean(axis=0)
        along = shown @ (line / np.linalg.norm(line))
        return abs(along[ink].mean() - along[~ink].mean())

    assert apart(seen) > 4 * apart(picture.astype(float))


def test_uneven_light_is_evened_out_and_writing_is_kept():
    even, writing = label()
    down, across = np.mgrid[0:200, 0:300] / 300
    shade = (0.45 + 0.5 * across + 0.1 * down)[:, :, None]
    seen = looking.flatten(
        (even * shade).astype(np.uint8), (even * shade).astype(np.uint8), {"reach": 0.2}
    )
    paper = np.where(writing, np.nan, seen.mean(axis=2))
    columns = np.nanmean(paper, axis=0)
    before = (even * shade).mean(axis=(0, 2))
    assert np.ptp(before) / before.mean() > 0.6
    assert np.ptp(columns[10:-10]) / columns.mean() < 0.15


def test_a_channel_is_that_channel():
    # outside check: Pillow's getchannel
    picture = scene(700, 500)
    pixels = np.asarray(picture).copy()
    for shares, name in (([1, 0, 0], "R"), ([0, 1, 0], "G"), ([0, 0, 1], "B")):
        seen = looking.mix(pixels, pixels, {"shares": shares})
        assert np.array_equal(seen, np.asarray(picture.getchannel(name)))


def test_stretched_the_lightest_is_white_and_the_darkest_black():
    dim = (np.asarray(scene()) // 3 + 40).astype(np.uint8)
    seen = looking.stretch(dim, dim, {"percent": 1})
    assert (seen.min(), seen.max()) == (0, 255)


@pytest.mark.parametrize(
    "way", [each for each in ways() if each.is_derivative], ids=lambda each: each.key
)
def test_no_seam_between_tiles_and_the_same_at_every_level(tmp_path, way):
    content = saved(
        Image.fromarray(cv2.resize(photographed(back(5), 1), (3000, 2200))).convert("RGB"),
        "JPEG",
        quality=95,
    )
    original = tmp_path / "original"
    original.write_bytes(content)
    kept = original, hashlib.sha256(content).hexdigest(), tmp_path / "cache"
    there = tiles(*kept[:2])

    def level(number):
        whole = np.zeros(there.size(number)[::-1], np.float32)
        for (x, y), (left, top, width, height) in there.boxes(number).items():
            with Image.open(tile(*kept, way.key, (number, x, y))) as part:
                whole[top : top + height, left : left + width] = np.asarray(part.convert("L"))
        return whole

    quick, large = level(1), level(0)
    halved = cv2.resize(large, there.size(1), interpolation=cv2.INTER_AREA)
    assert abs(halved - quick).mean() < 4  # the large one was made of another decode
    steps = abs(np.diff(large, axis=1)).mean(axis=0)
    at_seams = steps[511 : 3000 - 1 : 512]
    assert at_seams.mean() < 1.3 * np.median(steps) + 1.5


def test_the_profile_goes_along_with_colours_and_not_with_a_grey(tmp_path):
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    content = saved(scene(), "JPEG", icc_profile=profile)
    original = tmp_path / "original"
    original.write_bytes(content)
    kept = original, hashlib.sha256(content).hexdigest(), tmp_path / "cache"
    for way, goes in (("decorrelated", True), ("blue", False)):
        with Image.open(tile(*kept, way, (0, 0, 0))) as made:
            assert ("icc_profile" in made.info) is goes


def test_every_way_says_what_it_does_that_it_is_a_derivative_and_where_it_comes_from():
    rows = tomllib.loads((folder("vocab") / "ways_of_looking.toml").read_text("utf-8"))["way"]
    assert [each.key for each in ways()] == ["plain", *(each["key"] for each in rows)]
    assert all(each["source"] and each["label"] and each["says"] for each in rows)
    plain, *others = ways()
    assert not plain.is_derivative
    assert "erivative" not in plain.says
    assert all(
        "A derivative" in each.says and "not a photograph of the object" in each.says
        for each in others
    )
    assert {step["do"] for each in others for step in each.steps} <= set(STEPS)


def test_other_figures_are_other_files():
    def made_by(limit):
        step = {"do": "local contrast", "clip_limit": limit, "windows": 8}
        return Way(key="near", label="", says="", steps=(step,)).made_by

    assert made_by(2.0) == made_by(2.0) != made_by(3.0)


@pytest.mark.parametrize(
    "row",
    [
        {"key": "../up", "step": []},
        {"key": "plain", "step": []},
        {"key": "soft", "step": [{"do": "sharpen"}]},
        {"key": "soft", "step": [{"do": "flatten"}]},
        {"key": "soft", "step": [{"do": "flatten", "reach": "far"}]},
        {"key": "soft", "step": [{"do": "flatten", "reach": 0}]},
        {"key": "soft", "step": [{"do": "mix", "shares": [1, 0]}]},
        {"key": "soft", "step": []},
    ],
)
def test_a_row_that_is_amiss_is_told_to_the_curator(row):
    with pytest.raises(BadSetting, match=r"vocab/ways_of_looking\.toml"):
        _way({"label": "", "says": "", **row}, "A derivative")
