"""Sizes as people write them → millimetres: which measure each figure is, and of what.

Height comes first unless the words say otherwise; a third figure is the depth. A figure without a
unit takes the one that follows it; where no unit is written nothing is guessed. Words and signs are
in vocab/sizes.toml. A size given twice, in inches and in centimetres, is two sizes, as written.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from catalogue import places
from catalogue.measure.words import any_of, plain

_ORDER = ("height", "width", "depth")
_LARGEST_MM = 100_000
_NEAR = 80
"""So far from a size, in letters, a word may stand that says what it is of."""
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenSize:
    """One size found in a text: its measures in mm, what was measured, and where it stands.

    `what` is a name of the group "size" in vocab/terms, None where the text doesn't say. `written`
    is the text from `start` to `end`.
    """

    what: str | None
    height_mm: float | None = None
    width_mm: float | None = None
    depth_mm: float | None = None
    diameter_mm: float | None = None
    written: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class _Figure:
    """One number as written, with the unit and the word for a measure that stand with it."""

    feet: str | None
    number: str
    unit: str | None
    word: str | None
    start: int
    end: int

    @property
    def measure(self) -> str | None:
        return _words("measure")[plain(self.word)] if self.word else None

    def mm(self, unit: str) -> Fraction:
        inches = Fraction(self.feet) * 12 if self.feet else 0
        return (inches + _number(self.number, unit)) * Fraction(_table()["millimetres"][unit])


def read_sizes(text: str) -> tuple[WrittenSize, ...]:
    """The sizes in a text, in its order; an empty tuple when there is none to be sure of.

    >>> [(size.height_mm, size.width_mm) for size in read_sizes("63,5 × 76,2 cm")]
    [(635.0, 762.0)]
    >>> [size.what for size in read_sizes("24 x 20 in.; framed 30 1/4 x 26 in.")]
    [None, 'framed']
    """
    found: list[WrittenSize] = []
    rows = list(_rows(text))
    before = 0
    for place, row in enumerate(rows):
        start, end = row[0].start, row[-1].end
        until = rows[place + 1][0].start if place + 1 < len(rows) else len(text)
        lead = text[max(before, start - _NEAR) : start]
        tail = text[end : min(until, end + _NEAR)]
        before = end
        measures = _measures(row, _order(lead) or _order(tail))
        if measures is None:
            continue
        what = _what_before(lead) or _what_behind(text[end : end + _NEAR])
        if what is None and found and lead.strip() in ("(", "[", "=", "/"):
            what = found[-1].what
        found.append(
            WrittenSize(what=what, written=text[start:end], start=start, end=end, **measures)
        )
    return tuple(found)


def _rows(text: str) -> Iterator[list[_Figure]]:
    """Figures that stand together with signs for "by" between them, each with its unit."""
    row: list[_Figure] = []
    for m in _figure().finditer(text):
        unit = "in" if m["feet"] else _words("unit")[plain(m["unit"])] if m["unit"] else None
        word = m["lead"] or m["bracketed"] or m["trail"]
        start = m.start()
        if m["lead"] and _ends_an_order().search(text, max(start - 20, 0), start):
            # In "W x H: 50 x 61 cm" the H does not belong to the 50.
            word, start = (
                m["bracketed"] or m["trail"],
                m.start("feet" if m["feet"] else "number"),
            )
        figure = _Figure(m["feet"], m["odd"] or m["number"], unit, word, start, m.end())
        between = text[row[-1].end : start] if row else ""
        if row and not _joins(between, row[-1], figure, len(row)):
            yield row
            row = []
        row.append(figure)
    if row:
        yield row


def _joins(between: str, last: _Figure, figure: _Figure, so_far: int) -> bool:
    if so_far >= len(_ORDER):
        return False
    if re.fullmatch(r"\s*(?:[x×X*✕]|by|par|mal|per)\s*", between):
        return True
    named = last.measure and figure.measure and last.measure != figure.measure
    return bool(named and re.fullmatch(r"\s*(?:[,;/]|and|und|et)?\s*", between))


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((places.folder("vocab") / "sizes.toml").read_text("utf-8"))


@cache
def _words(name: str) -> dict[str, str]:
    """Word → key, of one table of lists."""
    return {plain(word): key for key, words in _table()[name].items() for word in words}


@cache
def _figure() -> re.Pattern[str]:
    """A number with what may stand around it: "H. 61 cm", "25 3/8 in. high", "2 ft 3 in"."""
    measure, unit = any_of(_words("measure")), any_of(_words("unit"))
    feet, inches = any_of(_table()["unit"]["ft"]), any_of(_table()["unit"]["in"])
    vulgar = "".join(_VULGAR)
    mixed = rf"[0-9]+[ -][0-9]{{1,2}}/[0-9]{{1,3}}|[0-9]+ ?[{vulgar}]|[{vulgar}]|[0-9]+/[0-9]+"
    number = rf"{mixed}|[0-9]+(?:[.,'][0-9]+)*"
    # A unit ends where its letters end: "cm" is not the beginning of a word.
    closed = r"(?![^\W\d_])"
    return re.compile(
        rf"(?:(?<![\w.,/])|(?<=[0-9][xX]))(?:\(?(?P<lead>{measure})\)?(?:\s?[.:=]\s?|\s?))?"
        rf"(?:(?P<feet>[0-9]+)\s?{feet}\s?(?P<odd>{number})\s?{inches}"
        rf"|(?P<number>{number})(?:\s?(?P<unit>{unit}){closed})?)(?![0-9])"
        rf"(?:\s?(?:\((?P<bracketed>{measure})\)|(?P<trail>{measure})(?!\w|\s?[0-9]|\s*[x×*]\s*{measure})))?",
        re.IGNORECASE,
    )


def _number(text: str, unit: str | None) -> Fraction:
    for sign, spelt in _VULGAR.items():
        text = text.replace(sign, f" {spelt}")
    if "/" in text:
        whole, _, part = text.replace("-", " ").strip().rpartition(" ")
        above, below = part.split("/")
        return Fraction(int(whole or 0)) + (
            Fraction(int(above), int(below)) if int(below) else 0
        )
    grouped = re.fullmatch(r"[0-9]{1,3}(?:[,.'][0-9]{3})+", text)
    if grouped and (unit == "mm" or "'" in text or len(re.findall("[,.']", text)) > 1):
        return Fraction(re.sub("[,.']", "", text))
    return (
        Fraction(re.sub("[,']", ".", text))
        if len(re.findall("[,.']", text)) < 2
        else Fraction(0)
    )


def _measures(row: list[_Figure], order: list[str] | None) -> dict[str, float] | None:
    """Millimetres by measure, None where the row is no size that one can be sure of."""
    units: list[str | None] = [figure.unit for figure in row]
    for place in range(len(row) - 2, -1, -1):
        units[place] = units[place] or units[place + 1]
    if len(row) == 1 and (row[0].measure is None or _unclear(row[0].word)):
        return None
    names = [figure.measure for figure in row]
    free = [each for each in order or _ORDER if each not in names]
    names = [name or (free.pop(0) if free else None) for name in names]
    if None in names or len(set(names)) < len(names):
        return None
    found: dict[str, float] = {}
    for name, unit, figure in zip(names, units, row, strict=True):
        mm = figure.mm(unit) if unit else 0
        if not 0 < mm <= _LARGEST_MM:
            return None
        found[f"{name}_mm"] = round(float(mm), 2)
    return found


@cache
def _ends_an_order() -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){any_of(_words('measure'))}\s*[x×*]\s*\Z", re.IGNORECASE)


def _unclear(word: str | None) -> bool:
    return word is not None and plain(word) in _table()["unclear_alone"]


def _order(text: str) -> list[str] | None:
    """The order that words such as "H x W" or "(B x H)" give, None where there are none."""
    word = any_of(_words("measure"))
    by = r"\s*[x×*]\s*"
    m = re.search(rf"(?<!\w)({word}){by}({word})(?:{by}({word}))?(?!\w)", text, re.IGNORECASE)
    return [_words("measure")[plain(each)] for each in m.groups() if each] if m else None


@cache
def _what() -> tuple[re.Pattern[str], re.Pattern[str]]:
    words = any_of(_words("what"))
    tail = r"(?:\s+(?:size|measures|dimensions))?"
    before = re.compile(rf"(?:^|.*\W)({words}){tail}\s*[:,(=-]*\s*", re.IGNORECASE | re.DOTALL)
    behind = re.compile(rf"\s*[,(]?\s*({words})\s*(?:[).;,]|$).*", re.IGNORECASE | re.DOTALL)
    return before, behind


def _what_before(text: str) -> str | None:
    m = _what()[0].fullmatch(text)
    return _words("what")[plain(m[1])] if m else None


def _what_behind(text: str) -> str | None:
    m = _what()[1].fullmatch(text)
    return _words("what")[plain(m[1])] if m else None
