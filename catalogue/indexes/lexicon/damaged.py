"""Damaged words in a table, letter under letter, so that a word is laid against all of them at once.

Those whose length is known lie in one table of numbers; the few of unknown length are laid one by one,
once their first and last letters fit.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

from catalogue.indexes.lexicon import shapes
from catalogue.indexes.lexicon.shapes import ANY, MAYBE, ONE, shape_of

Rows = NDArray[np.uint32]
Shared = NDArray[np.int32]

LONGEST = 40
"""Letters of a damaged word that is laid in the table."""

_NEVER = -10_000
_OPEN = ord(ONE)


class Damaged:
    """Damaged words as patterns, and which of them may be the same word as a shape.

    >>> held = Damaged(["c.{2}itt", "cab.*", ".{2}bour"])
    >>> sorted(held.as_shape("cubitt")), sorted(held.as_shape("harbour"))
    ([('c.{2}itt', 4)], [])
    >>> sorted(held.as_shape(shape_of("ca.*")))
    [('.{2}bour', 0), ('c.{2}itt', 1), ('cab.*', 2)]
    """

    def __init__(self, patterns: Iterable[str]) -> None:
        fixed: list[tuple[str, str]] = []
        self._loose: dict[str, list[tuple[str, str]]] = {}
        self._odd: list[re.Pattern[str]] = []
        for pattern in patterns:
            shape = shape_of(pattern)
            if shape is None:
                self._add_odd(pattern)
            elif shapes.is_fixed(shape) and len(shape) <= LONGEST:
                fixed.append((pattern, shape))
            else:
                self._loose.setdefault(shapes.head(shape)[:1], []).append((pattern, shape))
        fixed.sort(key=lambda each: len(each[1]))
        self._patterns = [pattern for pattern, _ in fixed]
        self._lengths = np.array([len(shape) for _, shape in fixed], np.int32)
        width = int(self._lengths.max(initial=0))
        self._rows = np.zeros((width + 1, len(fixed)), np.uint32)
        for length in np.unique(self._lengths).tolist():
            among = slice(*np.searchsorted(self._lengths, [length, length + 1]).tolist())
            joined = "".join(shape for _, shape in fixed[among])
            letters = np.frombuffer(joined.encode("utf-32-le", "replace"), np.uint32)
            self._rows[:length, among] = letters.reshape(-1, length).T

    def _add_odd(self, pattern: str) -> None:
        """One of no shape of ours, which only something brought in from elsewhere has."""
        try:
            self._odd.append(re.compile(pattern, re.DOTALL))
        except re.error:
            return

    def as_shape(self, shape: str) -> Iterator[tuple[str, int]]:
        """The damaged words that may be the same word, and how many letters they share.

        A whole word is a shape without open letters.
        """
        if shapes.is_fixed(shape):
            yield from self._under(shape)
        else:
            yield from self._about(shape)
        begins, ends = shapes.head(shape), shapes.tail(shape)[::-1]
        for pattern, other in self._loose_near(begins):
            if _meet(begins, shapes.head(other)) and _meet(ends, shapes.tail(other)[::-1]):
                shared = shapes.agreement(shape, other)
                if shared >= 0:
                    yield pattern, shared
        if shapes.letters(shape) == len(shape):
            yield from ((each.pattern, 2) for each in self._odd if each.fullmatch(shape))

    def _under(self, shape: str) -> Iterator[tuple[str, int]]:
        """Those of the same length: every letter is the same, or open in one of them."""
        among = slice(*np.searchsorted(self._lengths, [len(shape), len(shape) + 1]).tolist())
        rows = self._rows[: len(shape), among]
        if not rows.size:
            return
        letters = np.array([[ord(sign)] for sign in shape], np.uint32)
        same = rows == letters
        fits = np.flatnonzero((same | (rows == _OPEN) | (letters == _OPEN)).all(axis=0))
        shared = (same[:, fits] & (rows[:, fits] != _OPEN)).sum(axis=0)
        for at, count in zip(fits.tolist(), shared.tolist(), strict=True):
            yield self._patterns[among.start + at], count

    def _about(self, shape: str) -> Iterator[tuple[str, int]]:
        """Those that a shape of unknown length may be, all laid at once."""
        places = self._with_ends(shape)
        if not len(places):
            return
        width = int(self._lengths[places].max())
        shared = _agreements(self._rows[: width + 1, places], shape)
        for at in np.flatnonzero(shared >= 0).tolist():
            yield self._patterns[places[at]], int(shared[at])

    def _with_ends(self, shape: str) -> NDArray[np.int64]:
        """The places of those whose length and first and last letters may be those of the shape."""
        least = sum(sign not in (MAYBE, ANY) for sign in shape)
        fits = self._lengths >= least
        if ANY not in shape:
            fits &= self._lengths <= len(shape)
        for place, letter in enumerate(shapes.head(shape)[: len(self._rows)]):
            row = self._rows[place]
            fits &= (row == ord(letter)) | (row == _OPEN)
        places = np.flatnonzero(fits)
        for back, letter in enumerate(shapes.tail(shape)[::-1], 1):
            last = self._rows[self._lengths[places] - back, places]
            places = places[(last == ord(letter)) | (last == _OPEN)]
        return places

    def _loose_near(self, begins: str) -> Iterator[tuple[str, str]]:
        if not begins:
            for each in self._loose.values():
                yield from each
            return
        yield from self._loose.get(begins[0], ())
        yield from self._loose.get("", ())


def _agreements(rows: Rows, shape: str) -> Shared:
    """By column, how many letters it has in common with a shape, as `shapes.agreement` says.

    A column holds a word of open and known letters, and nothing (0) after its end.
    """
    width, count = rows.shape
    ended = rows == 0
    open_here = rows == _OPEN
    never = np.full(count, _NEVER, np.int32)
    below = [np.where(ended[j], 0, _NEVER).astype(np.int32) for j in range(width)]
    for sign in reversed(shape):
        here = [never] * width
        for j in range(width - 1, -1, -1):
            after = below[j + 1] if j + 1 < width else never
            if sign == ANY:
                more = here[j + 1] if j + 1 < width else never
                here[j] = np.maximum(below[j], np.where(ended[j], _NEVER, more))
            elif sign == MAYBE:
                here[j] = np.maximum(below[j], np.where(ended[j], _NEVER, after))
            elif sign == ONE:
                here[j] = np.where(ended[j], _NEVER, after)
            else:
                same = rows[j] == ord(sign)
                here[j] = np.where(same | open_here[j], after + same, _NEVER)
        below = here
    return below[0]


def _meet(one: str, other: str) -> bool:
    return one.startswith(other) or other.startswith(one)
