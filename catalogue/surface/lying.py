"""What lies on which strip: on a tacking margin, on a bar, or hidden behind one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from catalogue.surface.bars import Strip
from catalogue.surface.covering import cover
from catalogue.surface.shapes import Place


@dataclass(frozen=True, slots=True)
class Lying:
    """That a place lies on a strip, or behind it: `fraction` of it, more than 0, 1 for all of it."""

    name: str
    fraction: float


def lying_on(place: Place, strips: Iterable[Strip]) -> tuple[Lying, ...]:
    """The strips that a place lies on, with how much of it, the most first; none touched only.

    For an inscription on the canvas's back they are the bars that hide it, `covered_fraction` being
    how much of it they hide together; for one on the stretcher they are the bars that bear it.

    >>> from catalogue.surface import Box, Edges, Sheet, Stretcher
    >>> bars = Stretcher(bars=Edges.all_round(45)).strips(Sheet(610, 500))
    >>> lying_on(Box(535, 120, 60, 40), bars)
    (Lying(name='right bar', fraction=0.5),)
    """
    found = [
        Lying(strip.name, covered.fraction)
        for strip in strips
        if (covered := cover(strip.box, place, 0)).fraction
    ]
    return tuple(sorted(found, key=lambda each: (-each.fraction, each.name)))
