"""Figures as people write them → exact numbers: fractions, decimal signs and grouped thousands.

Sizes and money are both built on these. A figure knows its step too: how fine its writer measured.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

_SLASH: Final = "/\N{FRACTION SLASH}"
_VULGAR: Final = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_RAISED: Final = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_LOWERED: Final = "₀₁₂₃₄₅₆₇₈₉"
_APART: Final = "'’\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}"

LETTER: Final = rf"[^\W\d_{_VULGAR}{_RAISED}{_LOWERED}]"
"""A letter and no figure of any sort: a regular expression takes ½ for a letter of a word."""

FRACTION: Final = (
    rf"(?:[{_VULGAR}]|[{_RAISED}]{{1,3}}[{_SLASH}][{_LOWERED}]{{1,3}}"
    rf"|[0-9]{{1,3}}[{_SLASH}][0-9]{{1,3}}(?![0-9]))"
)
"""A part of one, as a sign or as two figures with a slash; a group without a name."""

GROUPED: Final = rf"[0-9]{{1,3}}(?:[., {_APART}][0-9]{{3}}(?![0-9])){{1,4}}"
"""Thousands set off by a sign or a blank: 1,250 or 1 500."""

GROUPED_ONLY: Final = rf"[0-9]{{1,3}}(?:[{_APART}][0-9]{{3}}(?![0-9])){{1,4}}"
"""Thousands set off by what cannot be a decimal sign, nor stand between two figures: 1'250."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One number, exactly, and the smallest step that its writing can tell apart.

    `by_points` says that points set off its thousands, as in 1.250.
    """

    value: Fraction
    step: Fraction
    by_points: bool = False


@dataclass(frozen=True, slots=True)
class Refusal:
    """Letters that look like a size or an amount and cannot be one, and why."""

    written: str
    start: int
    end: int
    why: str


def figure(written: str, *, thousands: bool) -> Figure | None:
    """The number that is written, None where it is absurd (1/0, 25 17/16, 1,2,3).

    With `thousands`, one sign before exactly three figures sets off thousands; otherwise it is a
    decimal sign, whichever of the two it is.

    >>> figure("30 1/8", thousands=False)
    Figure(value=Fraction(241, 8), step=Fraction(1, 8), by_points=False)
    >>> figure("1.250", thousands=True).value, figure("1.250", thousands=False).value
    (Fraction(1250, 1), Fraction(5, 4))
    >>> figure("25 17/0", thousands=False) is None
    True
    """
    text = _spelt(written)
    if "/" in text:
        return _mixed(text)
    signs = re.findall(r"[^0-9]", text)
    if not signs:
        return Figure(Fraction(text), Fraction(1))
    whole, _, last = _parted(text)
    grouped_alone = len(set(signs)) == 1 and re.fullmatch(r"[0-9]{1,3}(?:\D[0-9]{3})+", text)
    if grouped_alone and (thousands or len(signs) > 1 or signs[0] not in ".,"):
        if text.startswith("0"):
            return None if len(signs) > 1 else _decimal(whole, last)
        return Figure(Fraction(re.sub(r"\D", "", text)), Fraction(1), signs[0] == ".")
    if signs[-1] not in ".,":
        return None
    if len(signs) == 1:
        return _decimal(whole, last)
    if len(set(signs[:-1])) > 1 or signs[-1] == signs[0]:
        return None
    if not re.fullmatch(r"[0-9]{1,3}(?:\D[0-9]{3})+", whole):
        return None
    return _decimal(re.sub(r"\D", "", whole), last, by_points=signs[0] == ".")


def _spelt(written: str) -> str:
    """Fraction signs as figures with a slash, set apart; other blanks made alike."""
    text = re.sub(
        rf"[{_VULGAR}]|[{_RAISED}]+[{_SLASH}][{_LOWERED}]+",
        lambda m: " " + unicodedata.normalize("NFKC", m[0]),
        written.strip(),
    )
    text = text.replace("\N{FRACTION SLASH}", "/").replace("’", "'")
    if "/" in text:
        text = re.sub(r"[\s-]+", " ", re.sub(r"\s*/\s*", "/", text))
    return re.sub(r"\s+", " ", text).strip()


def _mixed(text: str) -> Figure | None:
    """A whole number and a part of one; the part must be less than one."""
    whole, _, part = text.rpartition(" ")
    above, _, below = part.partition("/")
    ones = figure(whole, thousands=True) if whole else Figure(Fraction(0), Fraction(1))
    if ones is None or ones.value.denominator > 1 or not 0 < int(above) < int(below):
        return None
    step = Fraction(1, int(below))
    return Figure(ones.value + int(above) * step, step)


def _parted(text: str) -> tuple[str, str, str]:
    """What stands before the last sign, that sign, and what stands behind it."""
    m = re.search(r"\D(?=[0-9]*\Z)", text)
    assert m is not None
    return text[: m.start()], m[0], text[m.end() :]


def _decimal(whole: str, part: str, *, by_points: bool = False) -> Figure | None:
    if not part:
        return None
    return Figure(Fraction(f"{whole or 0}.{part}"), Fraction(1, 10 ** len(part)), by_points)
