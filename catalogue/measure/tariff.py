"""Currencies, their units and the years of both, as vocab/money.toml has them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import chain
from types import MappingProxyType
from typing import Any

from catalogue import places


@dataclass(frozen=True, slots=True)
class Use:
    """The first and the last day of a money or of a way of writing it; None is open.

    `margin_years` is how long the habit went on after the last day.
    """

    not_before: date | None = None
    not_after: date | None = None
    margin_years: int = 0

    def __and__(self, other: Use) -> Use:
        """The days that lie in both; the margin is that of whichever ends first."""
        starts = [each for each in (self.not_before, other.not_before) if each]
        ends = [each for each in (self, other) if each.not_after]
        first = min(
            ends,
            key=lambda each: (each.not_after or date.max, -each.margin_years),
            default=None,
        )
        return Use(
            max(starts, default=None),
            first.not_after if first else None,
            first.margin_years if first else max(self.margin_years, other.margin_years),
        )

    def __or__(self, other: Use) -> Use:
        """From the start of the one that began first to the end of the one that ended last."""
        starts = [each for each in (self.not_before, other.not_before) if each]
        ends = [each for each in (self.not_after, other.not_after) if each]
        return Use(
            min(starts) if len(starts) == 2 else None,
            max(ends) if len(ends) == 2 else None,
            max(self.margin_years, other.margin_years),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """One unit and the words for it; `value` is in the main unit of each currency it may mean.

    `doubtful`: so short that it may mean something else. `by_points`: what else it may mean where
    points set off the thousands. `only_with`: read so only behind an amount in that other unit.
    """

    name: str
    means: tuple[str, ...]
    value: Fraction
    words: tuple[str, ...]
    use: Use
    before: bool
    behind: bool
    as_written: bool = False
    glued: bool = False
    doubtful: bool = False
    odd_hundredths: bool = False
    at_most: int | None = None
    by_points: tuple[str, ...] = ()
    only_with: str | None = None


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("money.toml")


def _use(row: Mapping[str, Any]) -> Use:
    return Use(row.get("not_before"), row.get("not_after"), row.get("margin_years", 0))


@cache
def currency_use(key: str) -> Use:
    """The days of a currency.

    >>> currency_use("reichsmark").not_after.isoformat()
    '1948-06-20'
    """
    return _use(table()["currency"][key])


@cache
def way_use(key: str) -> Use:
    """The days of a way of writing sterling: "lsd", "decimal", "farthing" ..."""
    return _use(table()["way"][key])


@cache
def per_euro(key: str) -> Decimal | None:
    """How many of a currency one euro was fixed at, None where it never was."""
    rate = table()["currency"][key].get("per_euro")
    return Decimal(rate) if rate else None


def _units() -> Iterator[Unit]:
    for row in table()["unit"]:
        use = _use(row)
        yield Unit(
            name=row["name"],
            means=tuple(row["means"]),
            value=Fraction(row["value"]),
            words=tuple(row["words"]),
            use=use & way_use(row["way"]) if "way" in row else use,
            before=row.get("where") != "behind",
            behind=row.get("where") != "before",
            as_written=row.get("as_written", False),
            glued=row.get("glued", False),
            doubtful=row.get("doubtful", False),
            odd_hundredths=row.get("odd_hundredths", False),
            at_most=row.get("at_most"),
            by_points=tuple(row.get("by_points", ())),
            only_with=row.get("only_with"),
        )


@cache
def _by_word() -> tuple[Mapping[str, tuple[Unit, ...]], Mapping[str, tuple[Unit, ...]]]:
    """Word → units: as written, and without capitals."""
    exact: dict[str, tuple[Unit, ...]] = {}
    loose: dict[str, tuple[Unit, ...]] = {}
    for unit in _units():
        for word in unit.words:
            words, key = (exact, word) if unit.as_written else (loose, word.lower())
            words[key] = (*words.get(key, ()), unit)
    return MappingProxyType(exact), MappingProxyType(loose)


def units_of(word: str) -> tuple[Unit, ...]:
    """The units that a word may stand for, () where it is none.

    >>> [unit.name for unit in units_of("GNS.")]
    ['guinea']
    >>> [unit.name for unit in units_of("pence")]
    ['penny', 'new penny']
    """
    exact, loose = _by_word()
    return exact.get(word, ()) or loose.get(word.lower(), ())


@cache
def _lengths() -> Mapping[tuple[int, str], tuple[int, ...]]:
    """Place and letter → how long the words are that have this letter there, the longest first."""
    found = defaultdict[tuple[int, str], set[int]](set)
    for word in chain(*_by_word()):
        for place in (0, -1):
            found[place, word[place].lower()].add(len(word))
    return MappingProxyType({key: tuple(sorted(each)[::-1]) for key, each in found.items()})


def lengths(letter: str, *, last: bool = False) -> tuple[int, ...]:
    """How long a word for a unit may be that begins with this letter, or that ends with it.

    >>> lengths("£"), lengths("¢", last=True)
    ((6, 4, 1), (1,))
    """
    return _lengths().get((-1 if last else 0, letter.lower()), ())


@cache
def words(name: str) -> frozenset[str]:
    """One list of words of the table, without capitals."""
    return frozenset(word.lower() for word in table()[name])


@cache
def times() -> Mapping[str, int]:
    """Word → how many of one: thousand, million ..."""
    named = table()["times"].items()
    return MappingProxyType({word: int(number) for number, words in named for word in words})
