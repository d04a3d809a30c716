"""The sentences of this room that a person reads, from vocab/markup_signs.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from catalogue import places


@dataclass(frozen=True, slots=True)
class FaultSentence:
    """What is said about one kind of fault; `{sign}` and `{partner}` are filled in."""

    message: str
    remedy: str
    literal: bool


def _vocabulary() -> Mapping[str, Any]:
    return places.table("markup_signs.toml")


@cache
def fault_sentence(key: str) -> FaultSentence:
    """The sentence of the fault `key`."""
    return FaultSentence(**_vocabulary()["fault"][key])


@cache
def fault_keys() -> tuple[str, ...]:
    """The kinds of fault that there are."""
    return tuple(_vocabulary()["fault"])


@cache
def spoken(key: str) -> str:
    """What a screen reader says for the sign `key`, with places to fill in."""
    return str(_vocabulary()["spoken"][key])


@cache
def meaning(key: str) -> str:
    """What the sign `key` means, for the help card."""
    return str(_vocabulary()["meaning"][key])


def is_withheld(cause: str | None) -> bool:
    """Whether the cause of a gap says that letters were left out on purpose.

    >>> is_withheld("address withheld"), is_withheld("torn"), is_withheld(None)
    (True, False, False)
    """
    return cause is not None and cause.split()[-1:] == [_vocabulary()["withheld"]]


@cache
def editors_words() -> frozenset[str]:
    """Words that people put in brackets as remarks, and that would be read as restored text."""
    return frozenset(_vocabulary()["editors_words"])


@cache
def editors_phrases() -> tuple[str, ...]:
    """How such remarks begin when more words follow."""
    return tuple(_vocabulary()["editors_phrases"])


@cache
def agreement(name: str) -> float:
    """The greatest error rate at which two readings count as "agree" or as "minor"."""
    return float(_vocabulary()["agreement"][name])


@cache
def snippets() -> tuple[Mapping[str, Any], ...]:
    """What the keyboard types at the desk, row by row."""
    return tuple(_vocabulary()["snippet"])
