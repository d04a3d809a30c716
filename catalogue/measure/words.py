"""The words of vocab/dates.toml, read once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue.places import folder


@cache
def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return tomllib.loads((folder("vocab") / "dates.toml").read_text("utf-8"))


def any_of(words: Iterable[str]) -> str:
    """A pattern for any of these words, the longest first; blanks may be any white space.

    >>> any_of(["n.d.", "undated"])
    '(?:undated|n\\\\.d\\\\.)'
    """
    longest_first = sorted(words, key=len, reverse=True)
    return (
        "(?:" + "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first) + ")"
    )
