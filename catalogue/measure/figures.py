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

_GROUPS: Final = re.compile(
    r"(?P<whole>[1-9][0-9]{0,2}(?P<sign>[., '])[0-9]{3}(?:(?P=sign)[0-9]{3})*)"
    r"(?:(?!(?P=sign))[.,](?P<part>[0-9]+))?"
)
_PLAIN: Final = re.compile(r"(?=.)(?P<whole>[0-9]*)(?:[.,](?P<part>[0-9]+))?")
_MIXED: Final = re.compile(r"(?:(?P<whole>.*) )?(?P<above>[0-9]+)/(?P<below>[0-9]+)")


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
    grouped = _GROUPS.fullmatch(text)
    if grouped and (thousands or _can_only_be_groups(grouped)):
        by_points = grouped["sign"] == "."
        return _exact(re.sub(r"\D", "", grouped["whole"]), grouped["part"], by_points)
    plain = _PLAIN.fullmatch(text)
    return _exact(plain["whole"], plain["part"]) if plain else None


def _can_only_be_groups(m: re.Match[str]) -> bool:
    """Whether the sign can be no decimal one: it comes twice, another follows, or it is none of both."""
    return bool(m["part"] or m["sign"] not in ".," or m["whole"].count(m["sign"]) > 1)


def _exact(whole: str, part: str | None, by_points: bool = False) -> Figure:
    """A whole number with the figures behind its decimal sign."""
    return Figure(
        Fraction(f"{whole or 0}.{part or 0}"), Fraction(1, 10 ** len(part or "")), by_points
    )


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
    m = _MIXED.fullmatch(text)
    ones = figure(m["whole"], thousands=True) if m and m["whole"] else _exact("0", None)
    if m is None or ones is None or ones.step < 1:
        return None
    above, below = int(m["above"]), int(m["below"])
    step = Fraction(1, below or 1)
    return Figure(ones.value + above * step, step) if 0 < above < below else None
