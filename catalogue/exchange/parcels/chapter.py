"""A chapter about a painting on the page of a parcel: a heading and what is said under it.

What a record tells is written as chapters, their shape is in templates/parcel_work.html; so the words
and the look of the page can be changed apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from catalogue import places
from catalogue.exchange.outgoing import UNNAMED, Sender
from catalogue.terms import label


@dataclass(frozen=True, slots=True)
class Chapter:
    """One chapter: facts by name, then sentences, points of a list, and what stands in smaller letters."""

    heading: str
    facts: tuple[tuple[str, str], ...] = ()
    says: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    small: tuple[str, ...] = ()


def words(of: str) -> dict[str, Any]:
    """The sentences of one part of the page (vocab/parcel.toml)."""
    said: dict[str, Any] = places.table("parcel.toml")[of]
    return said


def joined(parts: Iterable[str], between: str = ", ") -> str:
    """What there is of some texts, with something between.

    >>> joined(["Low Water", "", "1887"])
    'Low Water, 1887'
    """
    return between.join(filter(None, parts))


def capital(text: str) -> str:
    """A text that begins a line with a capital letter."""
    return text[:1].upper() + text[1:]


def labels(keys: Iterable[str]) -> str:
    """Terms by their labels, separated by commas."""
    return ", ".join(map(label, keys))


def named(sender: Sender, party: str | None) -> str:
    """What somebody is called, "" for nobody and for one whose name may not leave."""
    name = sender.labels(party)[1] if party else ""
    return "" if name == UNNAMED else name
