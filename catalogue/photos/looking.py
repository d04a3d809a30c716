"""What is done to a picture's pixels in a way of looking, whole level by whole level.

What a step must know of the whole picture (its colours, its light) it takes from a small sample of it,
the same one for every level, so that no seam shows between tiles and nothing changes as one zooms.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, TypeAlias

import cv2
import numpy as np

from catalogue.photos.upright import Pixels, bands

Figures: TypeAlias = Mapping[str, Any]
Matrix: TypeAlias = np.ndarray[Any, np.dtype[np.float32]]

_GROUND_PX = 512  # the ground under the strokes is found on a picture of this size
_SMALLEST_WINDOW = 16  # pixels; local contrast in smaller ones would be noise


def seen(pixels: Pixels, sample: Pixels, steps: tuple[Figures, ...]) -> Pixels:
    """The pixels after all the steps; `pixels` itself may be written over."""
    for each in steps:
        done = _STEPS[each["do"]]
        pixels, sample = done(pixels, sample, each), done(sample.copy(), sample, each)
    return pixels


def local_contrast(pixels: Pixels, sample: Pixels, how: Figures) -> Pixels:
    """Contrast limited adaptive histogram equalisation of the lightness (L of CIE L*a*b*)."""
    height, width = pixels.shape[:2]
    window = max(_SMALLEST_WINDOW, max(width, height) / how["windows"])
    grid = max(1, round(width / window)), max(1, round(height / window))
    clahe = cv2.createCLAHE(clipLimit=how["clip_limit"], tileGridSize=grid)
    if pixels.ndim == 2:
        return clahe.apply(pixels)  # type: ignore[return-value]
    for top, bottom in bands(height, width):
        pixels[top:bottom] = cv2.cvtColor(pixels[top:bottom], cv2.COLOR_RGB2LAB)
    lightness = clahe.apply(cv2.extractChannel(pixels, 0))
    cv2.insertChannel(lightness, pixels, 0)
    for top, bottom in bands(height, width):
        pixels[top:bottom] = cv2.cvtColor(pixels[top:bottom], cv2.COLOR_LAB2RGB)
    return pixels


def decorrelate(pixels: Pixels, sample: Pixels, how: Figures) -> Pixels:
    """The colours turned to their principal axes, each made equally strong, and turned back."""
    if pixels.ndim == 2:
        return stretch(pixels, sample, {"percent": 1})
    change = stretch_of_colours(sample, how["spread"], how["gain"])
    for top, bottom in bands(*pixels.shape[:2]):
        pixels[top:bottom] = cv2.transform(pixels[top:bottom], change)
    return pixels


def stretch_of_colours(sample: Pixels, spread: float, gain: float) -> Matrix:
    """Three rows of four numbers: what makes a colour's new red, green and blue of its old and of 1.

    After it the sample's colours lie about the middle grey with `spread` as their standard deviation in
    every direction, none depending on another; a direction drawn out by more than `gain` stops there.
    """
    colours = sample.reshape(-1, 3).astype(np.float64)
    mean = colours.mean(axis=0)
    strengths, axes = np.linalg.eigh(np.cov(colours, rowvar=False, ddof=0))
    drawn = np.minimum(gain, spread / np.sqrt(np.maximum(strengths, 1e-9)))
    turned = axes @ np.diag(drawn) @ axes.T
    moved = 127.5 - turned @ mean
    return np.hstack([turned, moved[:, None]]).astype(np.float32)


def flatten(pixels: Pixels, sample: Pixels, how: Figures) -> Pixels:
    """Every pixel divided by the light of its ground, times the mean light: colours keep their hue."""
    light = _ground(sample, how["reach"])
    evened = float(light.mean()) / np.maximum(light, 8)
    height, width = pixels.shape[:2]
    across, down = light.shape[1] / width, light.shape[0] / height
    for top, bottom in bands(height, width):
        # where each pixel of this band lies on the small picture of the ground, middle for middle
        place = np.array(
            [[across, 0, across / 2 - 0.5], [0, down, (top + 0.5) * down - 0.5]], np.float64
        )
        times = cv2.warpAffine(
            evened.astype(np.float32),
            place,
            (width, bottom - top),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        ).reshape(bottom - top, width)
        band = pixels[top:bottom]
        if band.ndim == 3:
            times = cv2.merge([times] * 3)
        pixels[top:bottom] = cv2.multiply(band, times, dtype=cv2.CV_8U).reshape(band.shape)
    return pixels


def _ground(sample: Pixels, reach: float) -> Matrix:
    """How light the ground is, small: strokes narrower than `reach` of the longer side are gone."""
    grey = sample if sample.ndim == 2 else cv2.cvtColor(sample, cv2.COLOR_RGB2GRAY)
    shrink = min(1.0, _GROUND_PX / max(grey.shape))
    size = max(1, round(grey.shape[1] * shrink)), max(1, round(grey.shape[0] * shrink))
    small = cv2.resize(grey, size, interpolation=cv2.INTER_AREA)
    odd = 2 * max(1, round(reach * max(size))) + 1
    # a median lets thin strokes go, whichever side of the ground they are on; then softly
    ground = cv2.medianBlur(small, min(odd, 255)).astype(np.float32)
    return cv2.GaussianBlur(  # type: ignore[return-value]
        ground, (0, 0), odd / 8, borderType=cv2.BORDER_REPLICATE
    )


def mix(pixels: Pixels, sample: Pixels, how: Figures) -> Pixels:
    """One grey of the three colours by their shares; a grey photograph stays as it is."""
    if pixels.ndim == 2:
        return pixels
    shares = np.array([how["shares"]], np.float32)
    grey: Pixels = np.empty(pixels.shape[:2], np.uint8)
    for top, bottom in bands(*pixels.shape[:2]):
        grey[top:bottom] = cv2.transform(pixels[top:bottom], shares).reshape(
            bottom - top, pixels.shape[1]
        )
    return grey


def stretch(pixels: Pixels, sample: Pixels, how: Figures) -> Pixels:
    """Darkest and lightest of the sample made black and white, all colours by the same measure."""
    darkest, lightest = np.percentile(sample, (how["percent"], 100 - how["percent"]))
    steps = (np.arange(256) - darkest) * (255 / max(1.0, lightest - darkest))
    return cv2.LUT(pixels, np.clip(np.rint(steps), 0, 255).astype(np.uint8))  # type: ignore[return-value]


_STEPS: Mapping[str, Callable[[Pixels, Pixels, Figures], Pixels]] = MappingProxyType(
    {
        "local contrast": local_contrast,
        "decorrelate": decorrelate,
        "flatten": flatten,
        "mix": mix,
        "stretch": stretch,
    }
)
