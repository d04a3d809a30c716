"""Words of vocab/tei.toml: what other files call our signs, and what a person is told."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from catalogue import places


@cache
def table(name: str) -> Mapping[str, str]:
    """One table of vocab/tei.toml.

    >>> table("struck")["erasure"]
    'erased'
    """
    found: Mapping[str, str] = places.table("tei.toml")[name]
    return found


def became(key: str, words: str = "") -> str:
    """The sentence on what became of something, with what it says filled in."""
    return table("became")[key].format(words=words)
