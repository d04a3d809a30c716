"""Currencies that a text names without a sum: "Reichsmark", the "£" before a blank on a form."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from catalogue import places
from catalogue.measure.words import any_of, plain


@dataclass(frozen=True, slots=True)
class NamedCurrency:
    """A word or sign for money from `start` to `end`; `means` are the concepts that it may stand for."""

    written: str
    start: int
    end: int
    means: tuple[str, ...]


def find_currencies(text: str) -> tuple[NamedCurrency, ...]:
    """The words and signs in a text that can hardly be anything but a currency, in its order.

    >>> [(each.written, each.means) for each in find_currencies("Preis in RM:")]
    [('RM', ('currency/reichsmark',))]
    >>> find_currencies("chalk mark, Crown Gallery")
    ()
    """
    return tuple(
        NamedCurrency(m[0], m.start(), m.end(), _means()[_as_listed(m[0])])
        for m in _currency().finditer(text)
    )


@cache
def _means() -> dict[str, tuple[str, ...]]:
    return {
        plain(word) if word.islower() else " ".join(word.split()): tuple(
            f"currency/{name}" for name in row["means"]
        )
        for row in places.table("statements.toml")["currency"]
        for word in row["words"]
    }


def _as_listed(written: str) -> str:
    """A word as the table has it: as written if it is there so, else in small letters."""
    single = " ".join(written.split())
    return single if single in _means() else plain(written)


@cache
def _currency() -> re.Pattern[str]:
    small = [word for word in _means() if word.islower()]
    exact = [word for word in _means() if not word.islower()]
    # A word ends where its letters end; beside a sign any letter or figure may stand.
    closed = r"(?:(?<!\w)|(?!\w))"
    return re.compile(rf"(?:(?<!\w)|(?=[£€$]))(?:{any_of(exact)}|(?i:{any_of(small)})){closed}")
