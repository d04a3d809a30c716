"""The words of vocab/names.toml, read once and made ready for looking up."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from typing import Any

from catalogue import places
from catalogue.measure.words import any_of


@cache
def table() -> dict[str, Any]:
    """The whole table as it stands in the file."""
    return tomllib.loads((places.folder("vocab") / "names.toml").read_text("utf-8"))


def whole(words: Iterable[str]) -> str:
    """A pattern for any of these words where it ends: at no letter or figure, or behind a sign.

    >>> re.match(whole(["attr.", "d'"]), "d'Ada").group(), re.match(whole(["van"]), "vanity")
    ("d'", None)
    """
    return rf"{either_apostrophe(any_of(words))}(?:(?<=['’?\])./*†])|(?!\w))"


def either_apostrophe(pattern: str) -> str:
    """The pattern with a straight or a curly apostrophe where it has a straight one."""
    return pattern.replace("'", "['’]")


@cache
def listed(name: str) -> str:
    """A pattern for any whole word of one list of the table."""
    return whole(table()[name])


@cache
def pattern(name: str, *, capitals_matter: bool = False) -> re.Pattern[str]:
    """The compiled pattern for any whole word of one list of the table."""
    return re.compile(listed(name), re.NOFLAG if capitals_matter else re.IGNORECASE)
