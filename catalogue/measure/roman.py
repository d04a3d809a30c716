"""Numbers in roman figures."""

from __future__ import annotations

import re

_ROMAN = re.compile("m{0,3}(cm|cd|d?c{0,4})(xc|xl|l?x{0,4})(ix|iv|v?i{0,4})")
_VALUES = {"i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}


def roman_number(figures: str) -> int | None:
    """The number of small roman figures, None when they are none; iiii is taken as iv is.

    >>> roman_number("mdccclxxxvii"), roman_number("iiii"), roman_number("vx")
    (1887, 4, None)
    """
    if not figures or not _ROMAN.fullmatch(figures):
        return None
    values = [_VALUES[figure] for figure in figures]
    following = [*values[1:], 0]
    return sum(
        -value if value < after else value
        for value, after in zip(values, following, strict=True)
    )
