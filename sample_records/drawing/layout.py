"""Setting lines into a rectangle: sizes, centring, and the box that each run gets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from drawing.lettering import PRINT, Line, Run
from drawing.typefaces import font

TRIAL = 100
"""The size in which everything is measured first."""


@dataclass(frozen=True, slots=True)
class Style:
    """Which faces a thing is set in: its first printed line, the rest of its print, its hands."""

    heading: str
    body: str
    hands: tuple[str, ...]
    centred: bool
    rank: float = 1.5

    def face(self, run: Run, *, first: bool) -> str:
        """The face of one run."""
        if run.technique == "typed":
            return "typewriter"
        if run.technique in PRINT:
            return self.heading if first else self.body
        return self.hands[(run.writer - 1) % len(self.hands)]


@dataclass(frozen=True, slots=True)
class Set:
    """A run in its place: left edge and baseline in pixels, its face, size and width."""

    run: Run
    face: str
    size: int
    x: float
    baseline: float
    width: float
    first: bool
    last: bool


@cache
def fullness(face: str) -> float:
    """How much larger a hand has to be set than print for its small letters to be as tall.

    Capitals of a script soar; set in the size of the print beside them they would be lost.
    """
    _, top, _, bottom = font(face, TRIAL).getbbox("x", anchor="ls")
    return min(1.75, max(1.0, 0.47 * TRIAL / max(1.0, bottom - top)))


def width_of(run: Run, face: str) -> float:
    """How wide a run is at the trial size."""
    if run.device:
        return TRIAL * 1.25
    return float(font(face, TRIAL).getlength(run.text)) * run.size * _size_in(run, face)


def _size_in(run: Run, face: str) -> float:
    return 1.0 if run.technique in PRINT else fullness(face)


def set_lines(
    lines: list[Line], style: Style, width: int, height: int, pad: float
) -> list[Set]:
    """Every run in its place within a rectangle of so many pixels, as large as it will go."""
    heading = next(
        (index for index, line in enumerate(lines) if line and line[0].technique in PRINT), -1
    )
    ranks = [
        style.rank if index == heading and len(lines) > 2 else 1.0
        for index in range(len(lines))
    ]
    measured = [
        _advance(line, style, first=index == heading) for index, line in enumerate(lines)
    ]
    leading = [1.22 * rank if line else 0.45 for line, rank in zip(lines, ranks, strict=True)]
    inner_width, inner_height = width - 2 * pad, height - 2 * pad
    # The heading may be narrower than its rank wants, and so may one long line.
    scale = inner_height / (sum(leading) * TRIAL)
    body = [wide for wide, rank in zip(measured, ranks, strict=True) if rank == 1.0]
    scale = min(scale, inner_width / max([*body, 1.0]))
    placed: list[Set] = []
    used = sum(leading) * TRIAL * scale
    top = pad + (inner_height - used) / 2
    for index, line in enumerate(lines):
        size = scale * ranks[index]
        if measured[index] * size > inner_width:
            size = inner_width / measured[index]
        baseline = top + (leading[index] - 0.36 * ranks[index]) * TRIAL * scale
        placed += _set_line(line, style, index == heading, size, baseline, width, pad)
        top += leading[index] * TRIAL * scale
    return placed


def _advance(line: Line, style: Style, *, first: bool) -> float:
    return sum(width_of(run, style.face(run, first=first)) for run in line if not run.over)


def _set_line(
    line: Line, style: Style, first: bool, size: float, baseline: float, width: int, pad: float
) -> list[Set]:
    total = _advance(line, style, first=first) * size
    purely_print = all(run.technique in PRINT for run in line)
    x = (width - total) / 2 if style.centred and purely_print else pad
    placed: list[Set] = []
    for index, run in enumerate(line):
        face = style.face(run, first=first)
        wide = width_of(run, face) * size
        if run.over and placed:  # written over what was struck out, in its place
            x = placed[-1].x
        placed.append(
            Set(
                run,
                face,
                max(4, round(TRIAL * size * run.size * _size_in(run, face))),
                x,
                baseline - run.rise * TRIAL * size,
                wide,
                index == 0,
                index == len(line) - 1,
            )
        )
        x += wide
    return placed
