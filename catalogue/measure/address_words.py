"""The words of vocab/addresses.toml, read once and made ready for looking up."""

from __future__ import annotations

from functools import cache
from typing import Any

from catalogue import places
from catalogue.measure.words import any_of, plain


def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return places.table("addresses.toml")


@cache
def towns() -> dict[str, str]:
    """Town, without capitals → country; a name of two towns belongs to the country listed first."""
    found: dict[str, str] = {}
    for country, names in table()["towns"].items():
        for name in names:
            found.setdefault(plain(name), country)
    return found


@cache
def countries() -> frozenset[str]:
    """The names of countries, without capitals."""
    return frozenset(plain(name) for name in table()["countries"]["names"])


@cache
def also_words() -> frozenset[str]:
    """The towns that are words or family names as well, without capitals."""
    return frozenset(plain(name) for name in table()["also_words"]["towns"])


@cache
def first_names() -> frozenset[str]:
    """The towns and countries that are first names as well, without capitals."""
    return frozenset(plain(name) for name in table()["also_words"]["first_names"])


@cache
def any_town() -> str:
    """A pattern for any town or country, as listed or in capitals."""
    names = {name for names in table()["towns"].values() for name in names}
    names |= set(table()["countries"]["names"])
    return any_of({*names, *(name.upper() for name in names)})


def is_place(text: str) -> bool:
    """Whether a text is a town or a country of the lists, and nothing else.

    >>> is_place("Bath"), is_place("Bath Penhale")
    (True, False)
    """
    said = plain(text)
    return said in towns() or said in countries()
