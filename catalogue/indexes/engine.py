"""What an engine of words must be able to do: hold entries, find statements by a tree, count facets.

Two engines do: the one in `words.py` (always there) and the one of `dorse[large]`. Both are given the
same analysed entries and the same trees, and find the same works.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from catalogue.indexes.entry import Entry
from catalogue.indexes.tree import Tree


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """Which part of an answer is wanted, in which order, with which facets counted.

    `order` is "best", "number", "newest" (last touched first), "made" or "own" (earliest day first);
    works that tie follow their numbers as people count. `facets` are fields of facts.
    """

    first: int = 0
    limit: int = 20
    order: str = "best"
    facets: tuple[str, ...] = ()
    statements: int = 50
    """So many statements of one work are shown at most, best first."""
    wholes: bool = False
    """A work of which every statement was found is shown as a whole alone."""


@dataclass(frozen=True, slots=True)
class Found:
    """The works of one page, each with its statements and their scores, best first.

    `total` counts works on all pages; with `exact` False there are at least so many. `facets` gives,
    by field and value, how many of these works have it.
    """

    works: tuple[tuple[str, tuple[tuple[float, Entry], ...]], ...] = ()
    total: int = 0
    exact: bool = True
    facets: Mapping[str, Sequence[tuple[str, int]]] = field(default_factory=dict)
    undated: int = 0
    """Works that only an `InTime` left out, because nothing is known of their date."""


class Snapshot(Protocol):
    """The index at one commit, with what was saved since; it does not change while it is held."""

    @property
    def cursor(self) -> int:
        """The last change that is in it."""
        ...

    def find(self, tree: Tree, page: Page) -> Found:
        """One page of what a tree finds."""
        ...
