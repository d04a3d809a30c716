"""Backs of paintings made here to be photographed: wood and canvas, labels with writing, in two kinds of light."""

from __future__ import annotations

import cv2
import numpy as np

WIDTH, HEIGHT = 900, 660
LETTERS = list("abcdefghiklmnopqrstuvwxyzABDEGHKLMN 123456789")


def back(seed):
    """What a back is like: how light it is at each place, and how high it stands."""
    chance = np.random.default_rng(seed)

    def grain(across, down):
        rough = chance.normal(size=(HEIGHT // down + 2, WIDTH // across + 2))
        return cv2.resize(
            rough.astype(np.float32), (WIDTH, HEIGHT), interpolation=cv2.INTER_CUBIC
        )

    light = 0.45 + 0.05 * grain(120, 5) + 0.03 * grain(36, 3)
    high = 2 * grain(5, 5) + 6 * grain(60, 8)
    bar = int(WIDTH * chance.uniform(0.05, 0.09))
    inside = np.s_[bar:-bar, bar:-bar]
    light[inside] = (0.62 + 0.03 * grain(3, 3) + 0.02 * grain(40, 40))[inside]
    high[inside] = (-20 + 1.2 * grain(2, 2) + 3 * grain(80, 80))[inside]
    for _ in range(3):
        label = np.full((130, 240), 217, np.uint8)
        for line in range(3):
            words = "".join(chance.choice(LETTERS, 12))
            cv2.putText(
                label,
                words,
                (8, 35 + 35 * line),
                cv2.FONT_HERSHEY_SIMPLEX,
                0.8,
                50,
                2,
                cv2.LINE_AA,
            )
        askew = cv2.getRotationMatrix2D((120, 65), chance.uniform(-12, 12), 1)
        askew[:, 2] += (chance.integers(bar, WIDTH - 300), chance.integers(bar, HEIGHT - 190))
        glued = cv2.warpAffine(label / 255, askew, (WIDTH, HEIGHT), borderValue=-1)
        light, high = np.where(glued > 0, glued, light), np.where(glued > 0, 8 + high / 2, high)
    return light.astype(np.float32), high.astype(np.float32)


def photographed(back, seed, raking=False):
    """The back in even light from in front, or in light along its surface that makes every step a shadow."""
    light, high = back
    chance = np.random.default_rng(seed)
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH].astype(np.float32) / WIDTH
    if raking:
        slope = cv2.Sobel(high, cv2.CV_32F, 1, 0) / 8 + cv2.Sobel(high, cv2.CV_32F, 0, 1) / 16
        shown = light * np.clip(0.45 + 0.2 * slope, 0.02, 2) * (1.3 - 0.6 * across)
    else:
        shown = light * (1 + 0.15 * (down - 0.3))
    shown = shown + chance.normal(0, 0.01, shown.shape)
    return (np.clip(shown, 0, 1) * 255).astype(np.uint8)


def moved(picture, corners):
    """The picture as another stand of the camera shows it, and the plane from there back to here.

    `corners` are where the four corners of the picture come to lie, clockwise from the top left, counted
    from the corner of the picture.
    """
    height, width = picture.shape[:2]
    four = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    there = cv2.getPerspectiveTransform(four, np.array(corners, np.float32))
    middle = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    seen = cv2.warpPerspective(
        picture, np.linalg.inv(middle) @ there @ middle, (width, height), borderValue=60
    )
    return seen, np.linalg.inv(there)


def furthest_px(matrix, plane, size):
    """How far apart two planes put what both photographs show, at the worst, in pixels."""
    width, height = size
    grid = np.array(
        [[[width * x / 8, height * y / 8] for x in range(9) for y in range(9)]], np.float64
    )
    there = cv2.perspectiveTransform(grid, np.linalg.inv(plane))
    shown = ((there >= 0) & (there <= size)).all(axis=2)[0]
    back_here = cv2.perspectiveTransform(there, np.array(matrix, np.float64).reshape(3, 3))
    return float(np.linalg.norm(back_here - grid, axis=2)[0][shown].max())
