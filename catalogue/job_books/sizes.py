"""Sizes in a job book: in one column, or height, width and depth each in its own."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from catalogue.exchange.books.mapping import Habits
from catalogue.job_books.entry import joined
from catalogue.job_books.told import said
from catalogue.measure import WrittenSize, outside, read_sizes, sizes_refused

_SAYS_WHICH: Final = re.compile(
    r"(?i)\b(h|w|b|l|ht|wd|height|width|high|wide|höhe|breite|hauteur|largeur)\b"
)
_FIGURE: Final = r"\d+(?:[.,]\d+)?(?:\s+\d+/\d+)?"
_ROW: Final = re.compile(
    rf"(?>{_FIGURE}(?:\s*[x×X*]\s*{_FIGURE}){{1,2}})(?![\d.,/]*\d)(?!\s*[x×X*\"'″a-zA-Z])"
)
"""Two or three figures with no unit behind them."""

_BARE: Final = re.compile(r"\d+(?:[.,]\d+)?(?:\s+\d+/\d+)?")
_ROUNDED: Final = 13
"""A size in inches and the same in centimetres differ by less than half an inch."""


@dataclass(frozen=True, slots=True)
class SizesRead:
    """The sizes of a text, each once; what is left of it; why there is none."""

    sizes: tuple[WrittenSize, ...]
    rest: str = ""
    why: str = ""


def read(text: str, habits: Habits) -> SizesRead:
    """The sizes that a cell names, height first unless the book's habit is another.

    >>> [(each.height_mm, each.width_mm) for each in read("24 x 20 in (61 x 51 cm)", Habits()).sizes]
    [(609.6, 508.0)]
    >>> read("63 x 76", Habits()).why
    'no unit is written: say unit = ... in the mapping'
    >>> [each.width_mm for each in read("63 x 76", Habits(unit="cm", sizes="width first")).sizes]
    [630.0]
    """
    read_from = _with_unit(text, habits.unit) if habits.unit else text
    found = read_sizes(read_from)
    if not found:
        words = said("row")
        bare = not habits.unit and read_sizes(f"{text.rstrip()} cm")
        refused = "; ".join(each.why for each in sizes_refused(text))
        return SizesRead((), text, refused or words["no_unit" if bare else "no_size"])
    rest = joined(outside(read_from, [each.said for each in found]))
    if read_from != text:
        rest = re.sub(rf"(?<=\d) {habits.unit}\b", "", rest)
    if habits.sizes == "width first" and not _SAYS_WHICH.search(text):
        found = tuple(_turned(each) for each in found)
    return SizesRead(_once(found), rest)


def in_columns(measures: dict[str, str], habits: Habits) -> SizesRead:
    """The size whose height, width and depth stand in columns of their own."""
    unit = habits.unit
    parts = []
    for name, letter in (("height", "h"), ("width", "w"), ("depth", "d")):
        text = measures.get(name, "").strip()
        if text:
            bare = _BARE.fullmatch(text)
            parts.append(f"{letter} {text} {unit}".rstrip() if bare else f"{letter} {text}")
    whole = " x ".join(parts)
    read_so = read(whole, replace(habits, sizes="height first"))
    if read_so.sizes or len(parts) != 1:
        return read_so
    return SizesRead((), "; ".join(measures.values()), read_so.why)


def _with_unit(text: str, unit: str) -> str:
    """The text with the unit of the book behind figures that have none.

    >>> _with_unit("20 x 15; framed 28 x 23", "cm"), _with_unit("24 x 20 in", "cm")
    ('20 x 15 cm; framed 28 x 23 cm', '24 x 20 in')
    """
    return _ROW.sub(lambda found: f"{found[0]} {unit}", text)


def _turned(size: WrittenSize) -> WrittenSize:
    if size.height_mm is None or size.width_mm is None:
        return size
    return replace(size, height_mm=size.width_mm, width_mm=size.height_mm)


def _once(found: tuple[WrittenSize, ...]) -> tuple[WrittenSize, ...]:
    """The sizes without those that only say another in another unit."""
    kept: list[WrittenSize] = []
    for size in found:
        if not any(_same(size, each) for each in kept):
            kept.append(size)
    return tuple(kept)


def _same(one: WrittenSize, other: WrittenSize) -> bool:
    return one.what == other.what and all(
        (a is None) is (b is None) and (a is None or b is None or abs(a - b) <= _ROUNDED)
        for a, b in (
            (one.height_mm, other.height_mm),
            (one.width_mm, other.width_mm),
            (one.diameter_mm, other.diameter_mm),
        )
    )
