"""The words of vocab/dates.toml, read once and made ready for looking up."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue import places


@cache
def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return tomllib.loads((places.folder("vocab") / "dates.toml").read_text("utf-8"))


def plain(text: str) -> str:
    """A wording as it is looked up: no capitals, single blanks."""
    return " ".join(text.casefold().split())


def any_of(words: Iterable[str]) -> str:
    """A pattern for any of these words, the longest first; blanks may be any white space.

    >>> any_of(["n.d.", "undated"])
    '(?:undated|n\\\\.d\\\\.)'
    """
    longest_first = sorted(words, key=len, reverse=True)
    return (
        "(?:" + "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first) + ")"
    )


def listed(name: str) -> str:
    """A pattern for the words of one list of the table."""
    return any_of(table()[name])


@cache
def numbers(name: str) -> dict[str, int]:
    """Word → number, of a table of lists by number: months, seasons, ordinals.

    >>> numbers("months")["avril"]
    4
    """
    return {plain(word): int(n) for n, words in table()[name].items() for word in words}


@cache
def entries(name: str) -> dict[str, dict[str, Any]]:
    """Word → entry, of a table of entries with names: parts, periods, refusals."""
    return {plain(word): entry for entry in table()[name] for word in entry["names"]}


@cache
def division(number: int) -> tuple[int, int] | None:
    """First and last month of one of EDTF's divisions of a year, None where there is none."""
    months = table()["divisions"].get(str(number))
    return (months[0], months[1]) if months else None
