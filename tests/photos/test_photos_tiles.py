"""Tiles: put together again they are the photograph, upright; whole levels or none; one decode for many."""

from __future__ import annotations

import hashlib
import io
import os
import shutil
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from multiprocessing import get_context

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from photo_files import (
    AS_HELD,
    CORNERS,
    HEIGHT,
    MAKER,
    WIDTH,
    corners,
    exif,
    kept_in,
    photo,
    png_of_one_shade,
    profile,
    saved,
    scene,
)
from PIL import Image, ImageChops, ImageOps

from catalogue.errors import BadPicture, BadSetting, CannotSave, Damaged, NotOnFile
from catalogue.photos import Tiles, cutting
from catalogue.photos.tiles import prepare, tile, tiles


@pytest.fixture
def keep(tmp_path):
    """Keep `content` as an original; (its path, its digest, the cache)."""
    return partial(kept_in, tmp_path)


def level(kept, number, way="plain"):
    """A whole level, put together again of its tiles."""
    there = tiles(*kept[:2])
    whole = Image.new("RGB", there.size(number))
    for (x, y), (left, top, width, height) in there.boxes(number).items():
        with Image.open(tile(*kept, way, (number, x, y))) as part:
            assert part.size == (width, height)
            assert part.format == "JPEG"
            whole.paste(part, (left, top))
    return whole


def apart(one, other):
    """How far two pictures differ on average, of 255."""
    difference = ImageChops.difference(one.convert("RGB"), other.convert("RGB"))
    return float(np.asarray(difference).mean())


@given(st.integers(1, 20_000), st.integers(1, 20_000))
def test_the_tiles_of_a_level_cover_it_once(width, height):
    there = Tiles(width=width, height=height)
    assert max(there.size(there.levels - 1)) <= 512
    assert there.levels == 1 or max(there.size(there.levels - 2)) > 512
    for number in range(there.levels):
        boxes = there.boxes(number).values()
        assert sum(each[2] * each[3] for each in boxes) == np.prod(there.size(number))
        assert all(0 < each[2] <= 512 and 0 < each[3] <= 512 for each in boxes)


@pytest.mark.parametrize("orientation", AS_HELD)
def test_tiles_put_together_are_the_photograph_as_it_is_seen(keep, orientation):
    # outside check: Pillow's ImageOps.exif_transpose and its own halving, `reduce`
    held = AS_HELD[orientation]
    large = scene(2901, 1307)
    stored = large if held is None else large.transpose(held)
    kept = keep(saved(stored, "JPEG", quality=95, exif=exif(orientation)))
    with Image.open(kept[0]) as original:
        expected = ImageOps.exif_transpose(original).convert("RGB")
    assert tiles(*kept[:2]).levels == 4
    assert apart(level(kept, 0), expected) < 1
    for number in (1, 2, 3):
        seen = level(kept, number)
        assert seen.size == expected.reduce(2**number).size
        assert apart(seen, expected.reduce(2**number)) < 3
        assert corners(seen) == CORNERS


def test_a_tile_tells_nothing_but_its_colours(keep):
    kept = keep(photo(6, comment=b"a private note"))
    content = tile(*kept, "plain", (0, 0, 0)).read_bytes()
    for secret in (b"Exif", MAKER.encode(), b"a private note", b"http://ns.adobe.com/xap"):
        assert secret in kept[0].read_bytes() or secret.startswith(b"http")
        assert secret not in content
    assert Image.open(io.BytesIO(content)).info["icc_profile"] == profile()


def test_a_very_large_profile_stays_home_and_its_colours_do_not(keep):
    # a profile padded behind its end, which readers take for what its head says; from memory
    padded = profile() + bytes(20_000)
    kept = keep(saved(scene(), "JPEG", quality=95, icc_profile=padded))
    made = Image.open(tile(*kept, "plain", (0, 0, 0)))
    assert "icc_profile" not in made.info
    assert corners(made) == CORNERS


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "WEBP", "HEIC"])
def test_the_other_kinds_have_tiles_too(keep, kind):
    assert corners(level(keep(photo(6, kind)), 0)) == CORNERS


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGBA", "I;16", "I", "CMYK", "F", "LAB"])
def test_every_way_to_store_colours_can_be_shown_in_every_way(keep, mode):
    if mode in ("I;16", "I", "F"):
        source = scene(mode="L").convert("F").point(lambda v: v * 257 + 0)
        source = source.convert("I").convert("I;16") if mode == "I;16" else source.convert(mode)
    else:
        source = scene().convert(mode) if mode != "LAB" else Image.new("LAB", (WIDTH, HEIGHT))
    kept = keep(saved(source, "TIFF"))
    for way in tiles(*kept[:2]).ways:
        assert level(kept, 0, way.key).size == (WIDTH, HEIGHT)
    if mode in ("P", "RGBA", "CMYK"):
        assert corners(level(kept, 0)) == CORNERS
    if mode == "I;16":
        # outside check: Pillow's own grey of the same scene
        assert apart(level(kept, 0), scene(mode="L")) < 3


def test_white_paper_lies_under_what_shows_through(keep):
    picture = scene(mode="RGBA")
    picture.putalpha(0)
    seen = level(keep(saved(picture, "PNG")), 0)
    assert seen.getextrema() == ((255, 255),) * 3


@pytest.mark.parametrize("size", [(1, 1), (1, 513), (5000, 1), (512, 512), (513, 512)])
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_the_smallest_and_narrowest_pictures_have_tiles_in_every_way(keep, size, kind):
    kept = keep(
        saved(
            Image.new("RGB", size, (90, 60, 30)),
            kind,
            **({"quality": 95} if kind == "JPEG" else {}),
        )
    )
    there = tiles(*kept[:2])
    for way in there.ways:
        for number in range(there.levels):
            level(kept, number, way.key)
    assert apart(level(kept, 0), Image.new("RGB", size, (90, 60, 30))) < 2


def test_small_levels_come_without_the_large_ones_and_one_by_one_as_all_at_once(keep, tmp_path):
    content = saved(scene(5300, 3000), "JPEG", quality=90)
    kept = keep(content)
    tile(*kept, "plain", (4, 0, 0))
    folder = tile(*kept, "plain", (4, 0, 0)).parents[1]
    assert sorted(each.name for each in folder.iterdir()) == ["2", "3", "4"]
    tile(*kept, "plain", (0, 0, 0))
    assert sorted(each.name for each in folder.iterdir()) == ["0", "1", "2", "3", "4"]
    other = (*kept[:2], tmp_path / "other")
    prepare(*other)
    for each in folder.rglob("*.jpg"):
        assert (
            tmp_path / "other" / each.relative_to(kept[2])
        ).read_bytes() == each.read_bytes()


def test_twelve_tiles_asked_for_at_once_cost_one_decode(keep, monkeypatch):
    decoded = []

    def counted(*given_):
        decoded.append(given_[1])
        return upright(*given_)

    upright = cutting.upright
    monkeypatch.setattr(cutting, "upright", counted)
    kept = keep(saved(scene(2000, 1500), "JPEG"))
    wanted = [(0, x, y) for x in range(4) for y in range(3)]
    with ThreadPoolExecutor(12) as pool:
        found = list(pool.map(lambda place: tile(*kept, "plain", place), wanted))
    assert all(each.is_file() for each in found)
    assert decoded == [0]


def ask(kept):
    return hashlib.sha256(tile(*kept, "decorrelated", (0, 0, 0)).read_bytes()).hexdigest()


def test_several_processes_agree_and_leave_nothing_half_made(keep):
    kept = keep(saved(scene(900, 700), "JPEG"))
    with get_context("spawn").Pool(3) as pool:
        assert len(set(pool.map(ask, [kept] * 6))) == 1
    assert not [*kept[2].rglob(".making-*")]


@pytest.mark.parametrize("harm", ["cut off", "gone", "empty"])
def test_a_tile_that_is_not_whole_is_made_again(keep, harm):
    kept = keep(saved(scene(900, 700), "JPEG"))
    made = tile(*kept, "plain", (0, 1, 1))
    content = made.read_bytes()
    if harm == "gone":
        made.unlink()
    else:
        made.write_bytes(content[:-30] if harm == "cut off" else b"")
    assert tile(*kept, "plain", (0, 1, 1)).read_bytes() == content


def test_what_a_crash_left_half_made_is_swept_away_and_what_is_being_made_is_not(keep):
    kept = keep(saved(scene(900, 700), "JPEG"))
    folder = tile(*kept, "plain", (0, 0, 0)).parents[1]
    old, fresh = folder / ".making-old", folder / ".making-fresh"
    for each in (old, fresh):
        each.mkdir()
        (each / "0-0.jpg").write_bytes(b"half")
    os.utime(old, (1, 1))
    shutil.rmtree(folder / "0")
    tile(*kept, "plain", (0, 0, 0))
    assert (old.exists(), fresh.exists()) == (False, True)


def test_everything_made_can_be_thrown_away(keep):
    kept = keep(saved(scene(900, 700), "JPEG"))
    first = tile(*kept, "local-contrast", (0, 0, 0)).read_bytes()
    shutil.rmtree(kept[2])
    assert tile(*kept, "local-contrast", (0, 0, 0)).read_bytes() == first


@pytest.mark.parametrize(
    "place", [(0, 2, 0), (0, 0, 2), (2, 0, 0), (0, -1, 0), (-1, 0, 0), (99, 0, 0)]
)
def test_a_tile_that_there_is_not_is_said(keep, place):
    kept = keep(saved(scene(900, 700), "JPEG"))
    with pytest.raises(
        NotOnFile, match="the photo has 900 × 700 pixels, in levels from 0 to 1"
    ):
        tile(*kept, "plain", place)
    assert not kept[2].exists()


def test_a_way_of_looking_that_there_is_not_is_said(keep):
    with pytest.raises(NotOnFile, match="there is no way of looking 'x-ray'"):
        tile(*keep(photo()), "x-ray", (0, 0, 0))


@pytest.mark.parametrize("digest", ["", "../../etc/passwd", "A" * 64, "0" * 63])
def test_only_a_digest_can_name_a_photograph(tmp_path, digest):
    with pytest.raises(BadSetting, match="not a SHA-256 digest"):
        tile(tmp_path / "x", digest, tmp_path, "plain", (0, 0, 0))


def test_a_picture_beyond_the_limit_is_never_decoded(keep):
    kept = keep(png_of_one_shade(30_000, 30_000))
    for asked in (
        lambda: tiles(*kept[:2]),
        lambda: tile(*kept, "plain", (6, 0, 0)),
        lambda: prepare(*kept),
    ):
        with pytest.raises(BadPicture, match="too large"):
            asked()
    with pytest.raises(BadPicture, match=r"the limit is 0\.02"):
        tile(*keep(photo()), "plain", (0, 0, 0), limit_megapixels=0.02)


@pytest.mark.parametrize("kept_bytes", [200, 2000])
def test_a_file_that_is_cut_off_is_said(keep, kept_bytes):
    kept = keep(saved(scene(900, 700), "JPEG")[:kept_bytes])
    with pytest.raises(BadPicture):
        tile(*kept, "plain", (0, 0, 0))


def test_an_original_that_was_changed_is_not_shown(keep):
    kept = keep(photo())
    kept[0].write_bytes(photo(1))
    with pytest.raises(Damaged, match="not the file that was taken in"):
        tile(*kept, "plain", (0, 0, 0))


def test_a_folder_that_cannot_be_written_is_said_and_leaves_nothing(keep, tmp_path):
    original, digest, _ = keep(photo())
    blocked = tmp_path / "a file"
    blocked.write_bytes(b"")
    with pytest.raises(CannotSave, match="cannot be saved"):
        tile(original, digest, blocked, "plain", (0, 0, 0))


@settings(max_examples=15, deadline=None)
@given(st.integers(1, 1200), st.integers(1, 900), st.sampled_from(sorted(AS_HELD)))
def test_any_size_turned_any_way_is_the_size_that_is_told(
    tmp_path_factory, width, height, orientation
):
    content = saved(Image.new("RGB", (width, height), "tan"), "JPEG", exif=exif(orientation))
    folder = tmp_path_factory.mktemp("tiles")
    original = folder / "original"
    original.write_bytes(content)
    kept = original, hashlib.sha256(content).hexdigest(), folder / "cache"
    there = tiles(*kept[:2])
    assert (there.width, there.height) == (
        (width, height) if orientation < 5 else (height, width)
    )
    for number in range(there.levels):
        level(kept, number)
