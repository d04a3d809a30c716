"""What is made from an original: upright, small enough, telling nothing but the picture."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from multiprocessing import get_context

import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo_files import (
    AS_HELD,
    BLUE,
    CORNERS,
    GREEN,
    HEIGHT,
    MAKER,
    RED,
    WIDTH,
    YELLOW,
    corners,
    exif,
    kept_in,
    photo,
    profile,
    saved,
    scene,
)
from PIL import Image, ImageChops, ImageOps

from catalogue.errors import BadPicture, BadSetting, CannotSave, Damaged, NotOnFile
from catalogue.photos import RECIPES, Recipe, crop, derivative
from catalogue.photos.render import TURNS, stored_edges

SECRETS = (
    b"Exif",
    MAKER.encode(),
    b"http://ns.adobe.com/xap",
    b"a private note",
)


@pytest.fixture
def keep(tmp_path):
    """Keep `content` as an original; (its path, its digest, the cache)."""
    return partial(kept_in, tmp_path)


def looked_at(path_or_bytes):
    file = io.BytesIO(path_or_bytes) if isinstance(path_or_bytes, bytes) else path_or_bytes
    with Image.open(file) as picture:
        picture.load()
        return picture


def tells_nothing(content):
    picture = looked_at(content)
    return (
        not any(secret in content for secret in SECRETS)
        and not dict(picture.getexif())
        and not picture.getexif().get_ifd(34853)
        and "comment" not in picture.info
    )


@pytest.mark.parametrize("orientation", AS_HELD)
@pytest.mark.parametrize("recipe", RECIPES)
def test_every_standard_derivative_is_upright_and_tells_nothing(keep, orientation, recipe):
    content = photo(orientation, comment=b"a private note")
    made = derivative(*keep(content), RECIPES[recipe])
    assert made.suffix == ".jpg"
    assert looked_at(made).size == (WIDTH, HEIGHT)
    assert corners(looked_at(made)) == CORNERS
    assert tells_nothing(made.read_bytes())
    assert not tells_nothing(content)


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "WEBP", "HEIC"])
def test_the_other_kinds_are_upright_and_tell_nothing_either(keep, kind):
    made = derivative(*keep(photo(6, kind)), RECIPES["thumb"])
    assert corners(looked_at(made)) == CORNERS
    assert tells_nothing(made.read_bytes())


@pytest.mark.parametrize("orientation", range(1, 9))
def test_turning_agrees_with_the_reference_library(orientation):
    # outside check: Pillow's ImageOps.exif_transpose
    stored = scene()
    content = saved(stored, "PNG", exif=exif(orientation))
    expected = ImageOps.exif_transpose(looked_at(content))
    how = TURNS.get(orientation)
    ours = stored if how is None else stored.transpose(how)
    assert ours.size == expected.size
    assert ImageChops.difference(ours, expected.convert("RGB")).getbbox() is None


@given(st.data(), st.sampled_from(sorted(AS_HELD)))
def test_a_box_cut_before_turning_is_the_box_cut_after_turning(data, orientation):
    x, y = data.draw(st.integers(0, WIDTH - 1)), data.draw(st.integers(0, HEIGHT - 1))
    width, height = data.draw(st.integers(1, WIDTH - x)), data.draw(st.integers(1, HEIGHT - y))
    held = AS_HELD[orientation]
    stored = scene() if held is None else scene().transpose(held)
    cut = stored.crop(stored_edges((x, y, width, height), orientation, stored.size))
    turned = cut if held is None else cut.transpose(TURNS[orientation])
    assert turned.tobytes() == scene().crop((x, y, x + width, y + height)).tobytes()


@pytest.mark.parametrize(
    ("longest", "size"),
    [(320, (320, 240)), (100, (100, 75)), (1999, (1999, 1499)), (2000, (2000, 1500))],
)
def test_the_longer_side_is_bounded_and_never_enlarged(keep, longest, size):
    content = saved(scene(2000, 1500), "JPEG")
    assert looked_at(derivative(*keep(content), Recipe(longest_px=longest))).size == size
    large = derivative(*keep(photo(6)), Recipe(longest_px=5000))
    assert looked_at(large).size == (WIDTH, HEIGHT)


def test_a_picture_decoded_small_looks_like_one_made_small(keep):
    # outside check: Pillow's own full decode and Lanczos, against our shrink-on-load
    content = saved(scene(2000, 1500), "JPEG", quality=95)
    made = looked_at(derivative(*keep(content), Recipe(longest_px=200, quality=95)))
    expected = looked_at(content).resize((200, 150), Image.Resampling.LANCZOS)
    worst = max(high for _, high in ImageChops.difference(made, expected).getextrema())
    assert worst < 48  # at the corners' hard edges; half a pixel's shift would give over 100


@pytest.mark.parametrize(
    ("box", "colour"),
    [
        ((0, 0, 60, 40), RED),
        ((180, 0, 60, 40), GREEN),
        ((0, 120, 60, 40), BLUE),
        ((180, 120, 60, 40), YELLOW),
    ],
)
@pytest.mark.parametrize("orientation", [1, 6, 7])
def test_a_region_is_cut_from_the_picture_as_it_is_seen(keep, box, colour, orientation):
    original, digest, cache = keep(photo(orientation, quality=95, subsampling=0))
    for picture in (
        looked_at(crop(original, box)),
        looked_at(derivative(original, digest, cache, Recipe(box=box, quality=95))),
    ):
        assert picture.size == (60, 40)
        for low, high in ImageChops.difference(
            picture.convert("RGB"), Image.new("RGB", (60, 40), colour)
        ).getextrema():
            assert high - low < 40


def test_a_region_of_a_png_keeps_every_pixel(keep):
    original, _, _ = keep(saved(scene(), "PNG"))
    shown = looked_at(crop(original, (50, 30, 40, 50)))
    assert shown.format == "PNG"  # small
    assert shown.tobytes() == scene().crop((50, 30, 90, 80)).tobytes()


def test_a_region_can_be_made_smaller_and_tells_nothing(keep):
    original, _, _ = keep(photo(6))
    region = crop(original, (0, 0, 200, 100), longest_px=100)
    assert looked_at(region).size == (100, 50)
    assert tells_nothing(region)


def test_a_region_over_the_edge_shows_what_there_is(keep):
    original, _, _ = keep(photo(6))
    assert looked_at(crop(original, (WIDTH - 70, HEIGHT - 90, 500, 500))).size == (70, 90)


def test_a_region_outside_the_picture_is_refused(keep):
    original, _, _ = keep(photo(6))
    with pytest.raises(BadPicture, match="lies outside the picture of 240 × 160"):
        crop(original, (WIDTH, 0, 10, 10))


def test_the_colour_profile_goes_along_where_it_still_fits(keep):
    made = derivative(*keep(photo(6)), RECIPES["full"])
    assert looked_at(made).info["icc_profile"] == profile()
    grey = saved(scene(mode="L"), "JPEG", icc_profile=profile())  # a profile for colours
    assert "icc_profile" not in looked_at(derivative(*keep(grey), RECIPES["full"])).info


@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGBA", "I;16", "I", "CMYK", "F", "LAB"])
def test_every_way_to_store_colours_can_be_shown(keep, mode):
    if mode in ("I;16", "I", "F"):
        source = scene(mode="L").convert("F").point(lambda v: v * 257 + 0)
        source = source.convert("I").convert("I;16") if mode == "I;16" else source.convert(mode)
    else:
        source = scene().convert(mode) if mode != "LAB" else Image.new("LAB", (WIDTH, HEIGHT))
    made = looked_at(derivative(*keep(saved(source, "TIFF")), Recipe(quality=95)))
    assert made.mode in ("L", "RGB")
    if mode in ("L", "I;16", "I", "F"):
        # outside check: Pillow's own grey of the same scene; 16 bits must not show as white,
        # and where no white is agreed upon (32 bits), the lightest is shown as white
        grey = scene(mode="L")
        expected = ImageOps.autocontrast(grey) if mode in ("I", "F") else grey
        assert ImageChops.difference(made.convert("L"), expected).getextrema()[1] < 40


@pytest.mark.parametrize("unusable", [profile(), b"no profile at all"])
def test_an_ink_picture_with_an_unusable_profile_is_shown_by_rule_of_thumb(keep, unusable):
    content = saved(scene(mode="CMYK"), "JPEG", icc_profile=unusable)
    made = looked_at(derivative(*keep(content), RECIPES["full"]))
    assert corners(made) == CORNERS
    assert "icc_profile" not in made.info


def test_what_shows_through_stays_so(keep):
    picture = scene(mode="RGBA")
    picture.putalpha(Image.linear_gradient("L").resize(picture.size))
    made = derivative(*keep(saved(picture, "PNG")), RECIPES["thumb"])
    assert made.suffix == ".png"
    assert looked_at(made).mode == "RGBA"


def test_a_mirrored_picture_is_mirrored_and_says_so(keep):
    content = saved(scene(1200, 800), "JPEG", quality=95)
    plain = looked_at(derivative(*keep(content), Recipe(quality=95)))
    mirrored = looked_at(derivative(*keep(content), Recipe(quality=95, mirrored=True)))
    assert mirrored.size == plain.size
    assert corners(mirrored)[:3] == (GREEN, RED, YELLOW)
    flipped = plain.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    changed = ImageChops.difference(mirrored, flipped).point(lambda v: 255 * (v > 60)).getbbox()
    left, top, right, bottom = changed
    assert (right, bottom) == mirrored.size  # the word stands in the lower right corner
    assert left > 600
    assert top > 700
    word = mirrored.crop(changed).convert("L")
    light = sum(word.histogram()[200:]) / (word.width * word.height)
    assert 0.1 < light < 0.5  # white letters on black


@pytest.mark.parametrize("mode", ["RGB", "L", "RGBA"])
def test_the_word_is_there_however_small_the_picture(keep, mode):
    content = saved(scene(20, 10, mode=mode), "PNG")
    mirrored = looked_at(derivative(*keep(content), Recipe(mirrored=True)))
    assert mirrored.width > 50
    assert mirrored.convert("L").getextrema() == (0, 255)


def test_asked_twice_the_same_file_answers_and_made_anew_it_has_the_same_bytes(keep):
    original, digest, cache = keep(photo(6))
    first = derivative(original, digest, cache, RECIPES["thumb"])
    bytes_before, made_at = first.read_bytes(), first.stat().st_mtime_ns
    assert derivative(original, digest, cache, RECIPES["thumb"]) == first
    assert first.stat().st_mtime_ns == made_at
    first.unlink()
    assert derivative(original, digest, cache, RECIPES["thumb"]).read_bytes() == bytes_before


def test_each_recipe_has_a_file_of_its_own(keep):
    kept = keep(photo(6))
    recipes = [
        *RECIPES.values(),
        Recipe(mirrored=True),
        Recipe(box=(0, 0, 70, 70)),
        Recipe(box=(0, 0, 70, 71)),
        Recipe(quality=70),
    ]
    assert len({derivative(*kept, recipe) for recipe in recipes}) == len(recipes)


def test_many_threads_at_once_all_get_a_whole_file(keep):
    original, digest, cache = keep(saved(scene(1200, 800), "JPEG"))

    def asked(_):
        return derivative(original, digest, cache, RECIPES["screen"]).read_bytes()

    with ThreadPoolExecutor(8) as threads:
        answers = set(threads.map(asked, range(24)))
    assert len(answers) == 1
    assert looked_at(answers.pop()).size == (1200, 800)
    assert [path.name for path in cache.rglob(".making-*")] == []


def made_in_a_process(kept):
    return derivative(*kept, RECIPES["screen"]).read_bytes()


def test_two_processes_at_once_both_get_a_whole_file(keep):
    kept = keep(saved(scene(1200, 800), "JPEG"))
    with get_context("spawn").Pool(2) as processes:
        first, second = processes.map(made_in_a_process, [kept, kept], chunksize=1)
    assert first == second
    assert looked_at(first).size == (1200, 800)


def test_an_original_that_changed_is_not_shown(keep):
    original, digest, cache = keep(photo(6))
    original.write_bytes(photo(1))
    with pytest.raises(Damaged, match="not the file that was taken in"):
        derivative(original, digest, cache, RECIPES["thumb"])
    assert not cache.exists()


def test_an_original_that_is_gone_is_said(keep):
    original, digest, cache = keep(photo(6))
    original.unlink()
    with pytest.raises(NotOnFile, match="cannot be read"):
        derivative(original, digest, cache, RECIPES["thumb"])


def test_a_cache_that_cannot_be_written_is_said_and_leaves_nothing(keep, tmp_path):
    original, digest, _ = keep(photo(6))
    blocked = tmp_path / "a file"
    blocked.write_bytes(b"")
    with pytest.raises(CannotSave, match="cannot be saved"):
        derivative(original, digest, blocked, RECIPES["thumb"])


def test_a_name_taken_by_a_folder_leaves_no_half_made_file(keep):
    original, digest, cache = keep(photo(6))
    taken = cache / digest[:2] / f"{digest}-{RECIPES['thumb'].key}.jpg"
    taken.mkdir(parents=True)
    with pytest.raises(CannotSave):
        derivative(original, digest, cache, RECIPES["thumb"])
    assert list(taken.parent.iterdir()) == [taken]


@pytest.mark.parametrize("digest", ["", "../../etc/passwd", "A" * 64, "0" * 63])
def test_only_a_digest_can_name_a_derivative(tmp_path, digest):
    with pytest.raises(BadSetting, match="not a SHA-256 digest"):
        derivative(tmp_path / "x", digest, tmp_path, RECIPES["thumb"])


@pytest.mark.parametrize(
    "wrong",
    [
        {"longest_px": 0},
        {"quality": 0},
        {"quality": 100},
        {"box": (-1, 0, 5, 5)},
        {"box": (0, 0, 0, 5)},
    ],
)
def test_a_recipe_that_makes_no_picture_is_refused(wrong):
    with pytest.raises(BadSetting):
        Recipe(**wrong)


def test_the_limit_holds_for_derivatives_too(keep):
    with pytest.raises(BadPicture, match="too large"):
        derivative(*keep(photo(6)), RECIPES["thumb"], limit_megapixels=0.02)


# --- areas that are painted over ----------------------------------------------------------------

TOP_RIGHT = (
    (WIDTH * 0.75, 0),
    (WIDTH, 0),
    (WIDTH, HEIGHT * 0.25),
    (WIDTH * 0.75, HEIGHT * 0.25),
)


@pytest.mark.parametrize("orientation", sorted(AS_HELD))
@pytest.mark.parametrize("longest_px", [None, 90])
def test_a_covered_area_is_grey_and_nothing_else_is(keep, orientation, longest_px):
    recipe = Recipe(longest_px=longest_px, covered=(TOP_RIGHT,))
    with Image.open(derivative(*keep(photo(orientation)), recipe)) as picture:
        shown = picture.convert("RGB")
    scale = shown.width / WIDTH
    for x in range(round(WIDTH * 0.75 * scale) + 1, shown.width):
        for y in range(round(HEIGHT * 0.25 * scale) - 1):
            assert all(abs(each - 128) < 8 for each in shown.getpixel((x, y)))
    assert corners(shown)[0] == RED
    assert corners(shown)[2:] == (BLUE, YELLOW)


def test_covered_areas_move_with_the_part_that_is_shown(keep):
    part = (WIDTH // 2, 0, WIDTH // 2, HEIGHT // 2)
    with Image.open(
        derivative(*keep(photo(6)), Recipe(box=part, covered=(TOP_RIGHT,)))
    ) as seen:
        shown = seen.convert("RGB")
    assert all(abs(each - 128) < 8 for each in shown.getpixel((shown.width - 3, 3)))
    assert shown.getpixel((3, shown.height - 3)) != (128, 128, 128)


def test_covered_and_plain_copies_do_not_pass_for_each_other(keep):
    kept = keep(photo(1))
    plain = derivative(*kept, Recipe(longest_px=90))
    covered = derivative(*kept, Recipe(longest_px=90, covered=(TOP_RIGHT,)))
    assert plain != covered
    assert plain.read_bytes() != covered.read_bytes()


def test_two_corners_are_no_area():
    with pytest.raises(BadSetting, match="three corners"):
        Recipe(covered=(((0, 0), (1, 1)),))
