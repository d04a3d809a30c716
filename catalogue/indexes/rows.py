"""Words in a row, or near each other: joined by where they stand in the text of an entry.

A place is one number: the entry times `STRIDE`, and the place of the word in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

STRIDE = 1 << 21
"""More words than any text has; places of two entries are never near each other."""

Places = NDArray[np.int64]


def in_a_row(steps: Sequence[Places]) -> NDArray[Any]:
    """The entries where a word of each step follows one of the step before.

    >>> a, b = np.array([3, 10]), np.array([4, 20])
    >>> in_a_row([a, b]).tolist()
    [0]
    """
    begun = steps[0]
    for number, step in enumerate(steps[1:], 1):
        begun = begun[_among(begun + number, step)]
    return np.unique(begun // STRIDE)


def near(steps: Sequence[Places], apart: int, same: Sequence[int]) -> NDArray[Any]:
    """The entries where a word of each step stands within so many words, in any order.

    `same` says of each step how many steps before it sought the same: the same word is then
    wanted so many times.

    >>> near([np.array([3, 50]), np.array([5])], 2, [0, 0]).tolist()
    [0]
    >>> near([np.array([3])] * 2, 5, [0, 1]).tolist()
    []
    """
    starts = np.unique(np.concatenate(steps))
    for step, before in zip(steps, same, strict=True):
        at = np.searchsorted(step, starts) + before
        there = at < len(step)
        starts, at = starts[there], at[there]
        starts = starts[step[at] - starts <= apart]
    return np.unique(starts // STRIDE)


def _among(wanted: Places, step: Places) -> NDArray[np.bool_]:
    if not len(step):
        return np.zeros(len(wanted), bool)
    at = np.minimum(np.searchsorted(step, wanted), len(step) - 1)
    return np.asarray(step[at] == wanted)
