"""Perceptual hashes: held to the library imagehash, and to pictures of labels that were worn and turned."""

from __future__ import annotations

import random

import pytest
from PIL import Image, ImageDraw, ImageEnhance, ImageFilter, ImageFont

from catalogue.photos.likeness import apart, hashes, perceptual_hash, region_hashes, upright


def drawn(seed: int) -> Image.Image:
    """A printed label of our own: a rule round it, some lines of type, an ornament."""
    chance = random.Random(seed)
    picture = Image.new("RGB", (360, 220), (238, 228, 205))
    pen = ImageDraw.Draw(picture)
    if chance.random() < 0.6:
        pen.rectangle((8, 8, 351, 211), outline="black", width=chance.choice([2, 5]))
    top = 20
    for _ in range(chance.randint(3, 5)):
        size = chance.choice([16, 24, 34])
        letters = "".join(
            chance.choice("ABDEGHKMNORSTUW ") for _ in range(chance.randint(6, 16))
        )
        left = chance.choice([20, 60, 110])
        pen.text((left, top), letters, fill="black", font=ImageFont.load_default(size))
        top += size + 12
    x, y = chance.randint(20, 250), chance.randint(120, 160)
    pen.ellipse((x, y, x + 70, y + 40), fill="black" if chance.random() < 0.5 else "darkred")
    return picture


def worn(picture: Image.Image, chance: random.Random) -> Image.Image:
    """Another photograph of the label: other light, a stain, a lean of two degrees, blur."""
    ground = (238, 228, 205)
    found = picture.rotate(
        chance.uniform(-2, 2), fillcolor=ground, resample=Image.Resampling.BICUBIC
    )
    stain = Image.new("RGB", found.size, (150, 110, 60))
    mask = Image.new("L", found.size, 0)
    x, y = chance.randint(0, 250), chance.randint(0, 140)
    ImageDraw.Draw(mask).ellipse((x, y, x + 110, y + 80), fill=90)
    found.paste(stain, mask=mask.filter(ImageFilter.GaussianBlur(12)))
    shade = Image.linear_gradient("L").resize(found.size).point(lambda it: it // 3)
    found.paste(Image.new("RGB", found.size, "black"), mask=shade)
    return ImageEnhance.Brightness(found).enhance(chance.uniform(0.8, 1.2))


def test_without_evening_the_hash_is_that_of_the_library_imagehash():
    """Outside check: imagehash.phash (PyPI), the same 32 x 32 pixels and 8 x 8 waves."""
    imagehash = pytest.importorskip("imagehash")
    for seed in range(20):
        picture = drawn(seed)
        theirs = int(str(imagehash.phash(picture)), 16)
        assert perceptual_hash(picture, evened=False) == theirs


def test_the_same_label_photographed_again_is_nearer_than_any_other():
    chance = random.Random(1)
    labels = [drawn(seed) for seed in range(40)]
    first = [hashes(each) for each in labels]
    for number, picture in enumerate(labels):
        turned = worn(picture, chance).rotate(chance.choice([0, 90, 180, 270]), expand=True)
        again = perceptual_hash(turned)
        distances = [min(apart(again, each) for each in ways) for ways in first]
        assert min(range(40), key=distances.__getitem__) == number


def test_a_label_glued_askew_is_set_upright(tmp_path):
    label = drawn(3)
    photo = Image.new("RGB", (900, 900), (90, 80, 70))
    photo.paste(label.rotate(-90, expand=True), (300, 200))
    # clockwise from the top left as the text runs: turned right by 90 degrees
    corners = ((520, 200), (520, 560), (300, 560), (300, 200))
    assert apart(perceptual_hash(upright(photo, corners)), perceptual_hash(label)) <= 4
    file = tmp_path / "back.png"
    photo.save(file)
    made = region_hashes(file, "ab" * 32, corners, tmp_path / "derived")
    assert apart(made[0], perceptual_hash(label)) <= 6
    file.unlink()
    assert region_hashes(file, "ab" * 32, corners, tmp_path / "derived") == made
